"""The specimen garden's round after its wet evening, written by hand."""

from tests.cli.reports import FELT, Report, a_round, call, planting, resting

ROSES = planting()
CLEMATIS = planting(planting="clematis and wall shrubs", count=5, litres_each=1.0, seconds_each=4)
FERNS = planting(planting="hydrangeas and ferns", count=28, litres_each=1.0, seconds_each=5)
GRASSES = planting(
    planting="perennials and grasses",
    count=140,
    stage="settling",
    litres_each=0.5,
    seconds_each=None,
)
WHIPS = planting(
    planting="hornbeam whips",
    count=120,
    ball_fraction=None,
    ball_state=None,
    bare_root=True,
    litres_each=0.0,
    seconds_each=None,
    verdict="leave",
)
TO_SOAK = [
    call(plantings=[ROSES, CLEMATIS]),
    call(
        order=2,
        bed="infirm",
        name="Infirmary Shade",
        feel_first=True,
        felt={**FELT, "ball": "moist", "bed": "moist", "at": "2031-05-06", "by": "Tom"},
        days_since_felt=9,
        litres=28.0,
        minutes=2.5,
        minutes_on_foot=7.5,
        cans=3,
        tap="B",
        reason="Of 15.6 mm in the gauge next to nothing reached the soil: the tree and the "
        "mulch kept it. On the ball, slowly; the bed needs none.",
        plantings=[FERNS],
    ),
    call(
        order=3,
        bed="school",
        name="Schoolroom Bed",
        ball_state="drying",
        felt={**FELT, "ball": "moist", "bed": None, "at": "2031-05-14", "by": None},
        days_since_felt=1,
        litres=70.0,
        minutes=None,
        minutes_on_foot=12.0,
        cans=7,
        means="cans",
        rose_on=True,
        plants_a_can=20,
        reason="Living in their balls: by the reckoning the ball runs short before the next "
        "visit. On the ball, slowly; the bed needs none.",
        plantings=[GRASSES],
    ),
]
TO_LEAVE = [
    resting(
        bed="dole",
        name="Dole Bed",
        verdict="held_back",
        bed_state="sodden",
        reason="Too wet: the soil round the balls is fuller than it can keep (12 mm went in). "
        "More water now takes the roots' air.",
    ),
    resting(bed="warden", name="Warden's Long Border"),
    resting(bed="bank", name="Bakehouse Bank", reason="10.1 mm reached the bed."),
    resting(
        bed="ride",
        name="Orchard Ride hedge",
        ball_state=None,
        ball_fraction=None,
        wanted_on="2031-05-20",
        reason="Bare root; bed holding.",
        plantings=[WHIPS],
    ),
    resting(
        bed="wellct",
        name="Well Court",
        wanted_on="2031-06-02",
        reason="Ball and bed holding.",
    ),
]
TOTALS = {
    "calls": 3,
    "litres": 115.0,
    "minutes": 4.0,
    "minutes_on_foot": 25.0,
    "cans": 7,
    "hours_available": 2.0,
    "dropped": 0,
}
QUESTION = {
    "about": "hole",
    "bed": "dole",
    "ask": "In Dole Bed, does water still stand in a 30 cm hole after a day?",
    "answer": "soakbook bed dole --hole standing | gone | 20mm/h",
}
NO_WORD = {
    "kind": "no_word",
    "bed": "bank",
    "say": "No word from yesterday, when 50 L were called for. If done: leave it until Sat 17. If "
    "not: it can wait by the reckoning. Tell me, as\n  soakbook soak bank 50l --at yesterday\n"
    '  soakbook left bank "no time" --at yesterday',
    "names": ["Bakehouse Bank"],
}


def wet_morning() -> Report:
    """The morning after a wet evening: three beds to soak, five to leave."""
    return a_round(
        people=["Ann", "Tom"],
        calls=[*TO_SOAK, *TO_LEAVE],
        totals=TOTALS,
        findings=[NO_WORD],
        question=QUESTION,
    )
