"""The round as it is printed: its look, and every piece that appears when it is true."""

from datetime import date

import pytest

from soakbook.cli.paper import Page
from soakbook.cli.round_page import write_round
from tests.cli.reports import CALL, ROUND, Report, a_round, call, planting, resting
from tests.cli.wet_morning import wet_morning
from tests.cli.words import amiss

WET_MORNING = """\
THE ROUND                                                   Thursday 15 May 2031
The Corrody, Marl Hatherby                       gauge at 06:30: 15.6 mm, gentle

3 beds to soak: 115 L, about 25 min in all. You have 2 h.
Feel one first, where it says so: if it is moist, leave and say so.

 1  CHAPEL WALL      17 L    5 min in all, tap A; or 2 cans
    6 climbing roses 2 L, 9 s each; 5 clematis and wall shrubs 1 L, 4 s
    ball wanting, bed holding                      felt Tue: ball dry, bed moist
    Of 15.6 mm in the gauge 3.0 reached the soil; a ball catches little of that.
    On the ball, slowly; the bed needs none.           Last safe morning: Fri 16

 2  INFIRMARY SHADE  28 L    7½ min in all, tap B; or 3 cans
    28 hydrangeas and ferns 1 L, 5 s each
    ball wanting, bed holding                                not felt for 9 days
    Feel one first. Of 15.6 mm in the gauge next to nothing reached the soil:
    the tree and the mulch kept it. On the ball, slowly; the bed needs none.
    Last safe morning: Fri 16

 3  SCHOOLROOM BED   70 L    7 cans, 12 min in all, rose on; a can does 20
    140 perennials and grasses ½ L each
    ball drying, bed holding                                felt Wed: ball moist
    Living in their balls: by the reckoning the ball runs short before the next
    visit. On the ball, slowly; the bed needs none.    Last safe morning: Fri 16

Not today
  Dole Bed               HELD BACK              Too wet: the soil round the
                         balls is fuller than it can keep (12 mm went in). More
                         water now takes the roots' air. Felt Tue: ball dry, bed
                         moist.
  Warden's Long Border   leave until Fri 16     11.6 mm reached the bed.
  Bakehouse Bank         leave until Fri 16     10.1 mm reached the bed.
  Orchard Ride hedge     leave until Tue 20     Bare root; bed holding.
  Well Court             leave until 2 June     Ball and bed holding.

Bakehouse Bank: No word from yesterday, when 50 L were called for. If done:
    leave it until Sat 17. If not: it can wait by the reckoning. Tell me, as
      soakbook soak bank 50l --at yesterday
      soakbook left bank "no time" --at yesterday
Tomorrow, if all this is done, likely 4 beds, 200 L.

One question, when you pass. In Dole Bed, does water still stand in a 30 cm hole
after a day?
    soakbook bed dole --hole standing | gone | 20mm/h"""


MORNING = date(2031, 5, 15)


def printed(report: Report, width: int = 80) -> str:
    page = Page(width)
    write_round(page, report)
    return str(page)


def printed_call(**changes: object) -> list[str]:
    """The lines of the one bed of a round."""
    page = printed(a_round(calls=[call(**changes)], tomorrow=None))
    return page.split("\n\n")[2].splitlines()


def totals(**changes: object) -> Report:
    return {**ROUND["totals"], **changes}


def test_the_wet_morning_looks_like_this() -> None:
    assert printed(wet_morning()) == WET_MORNING


@pytest.mark.parametrize("width", [60, 64, 72, 80])
def test_nothing_is_amiss_on_any_paper(width: int) -> None:
    assert amiss(printed(wet_morning(), width), width) == []


def test_names_of_beds_are_bold_and_nothing_else_in_them() -> None:
    page = Page(80)
    write_round(page, wet_morning())
    bold = [line.text.split("  ")[0].strip() for line in page.lines if line.bold]
    assert bold == ["THE ROUND", "1", "2", "3", "Not today"]


def test_a_long_name_pushes_on_and_wraps() -> None:
    long = "The Border Along The Old Bowling Green And The Summer House"
    lines = printed_call(name=long)
    assert lines[0] == f" 1  {long.upper()}  17 L    5 min"
    assert lines[1] == "    in all, tap A; or 2 cans"
    page = printed(a_round(garden="Corrody " * 9, calls=[resting(name=long)]))
    assert amiss(page) == []
    assert f"  {long} leave until" in page


def test_eight_plantings_wrap_below_each_other() -> None:
    many = [planting(planting=f"roses of sort {number}", count=number) for number in range(2, 10)]
    lines = printed_call(plantings=many)
    doses = [line for line in lines if "roses of sort" in line]
    assert len(doses) == 3
    assert doses[0].startswith("    2 roses of sort 2 2 L, 9 s each; 3 roses of sort 3 2 L, 9 s;")
    assert all(line.startswith("    ") for line in doses)


def test_those_taken_along_come_last_and_the_usual_is_marked() -> None:
    lines = printed_call(
        plantings=[
            planting(planting="ferns", while_there=True, litres_each=1.5, seconds_each=6),
            planting(usual=True, litres_each=7.0, seconds_each=135),
        ]
    )
    assert lines[1] == (
        "    6 climbing roses 7 L, 2 min 15 s each (your usual); while you are there 6"
    )
    assert lines[2] == "    ferns 1½ L, 6 s"


def test_a_planting_with_no_time_is_not_dosed_but_named() -> None:
    lines = printed_call(
        dropped=True,
        plantings=[planting(), planting(planting="perennials", count=1200, dropped=True)],
    )
    assert lines[1] == "    6 climbing roses 2 L, 9 s each"
    text = " ".join(line.strip() for line in lines)
    assert "No time today for 1,200 perennials (last safe morning: Fri 16). Of 15.6" in text


@pytest.mark.parametrize(
    ("changes", "head"),
    [
        ({"cans": 7}, " 1  CHAPEL WALL      17 L    5 min in all, tap A"),
        (
            {"means": "drip", "minutes": 40.0},
            " 1  CHAPEL WALL      17 L    drip, tap A open for 40 min",
        ),
        (
            {"means": "drip", "minutes": None},
            " 1  CHAPEL WALL      17 L    drip, tap A",
        ),
        (
            {"means": "barrow", "litres": 420.0, "tanks": 7, "minutes_on_foot": 135.0},
            " 1  CHAPEL WALL      420 L   7 barrow tanks, 2 h 15 in all",
        ),
        (
            {"means": "barrow", "litres": 420.0, "minutes_on_foot": 135.0},
            " 1  CHAPEL WALL      420 L   by barrow, 2 h 15 in all",
        ),
        ({"means": "cans", "cans": 1}, " 1  CHAPEL WALL      17 L    1 can, 5 min in all"),
        ({"means": "none"}, " 1  CHAPEL WALL      17 L    nothing to give it with today"),
        (
            {"dose_kind": "rescue"},
            " 1  CHAPEL WALL      17 L, a rescue  5 min in all, tap A; or 2 cans",
        ),
        (
            {"dose_kind": "re_wet", "verdict": "held_back"},
            " 1  CHAPEL WALL      17 L to re-wet the balls  5 min in all, tap A; or 2 cans",
        ),
        (
            {
                "dose_kind": "re_wet",
                "verdict": "held_back",
                "plantings": [planting(planting="The Maple", count=1)],
            },
            " 1  CHAPEL WALL      17 L to re-wet the ball  5 min in all, tap A; or 2 cans",
        ),
        (
            {"dose_kind": "water_in"},
            " 1  CHAPEL WALL      17 L to water in  5 min in all, tap A; or 2 cans",
        ),
        ({"verdict": "feel", "litres": 0.0, "order": 12}, "12  CHAPEL WALL      go and feel"),
    ],
)
def test_the_head_says_how_it_is_given(changes: Report, head: str) -> None:
    assert printed_call(**changes)[0] == head


def test_what_was_given_already_is_said_before_the_rest() -> None:
    given = {
        "given_today_l": 8.0,
        "given_today_by": "Ann",
        "given_today_at": "2031-05-15T07:40:00+01:00",
    }
    assert "    Already given today 8 L, Ann 07:40: this is what remains." in printed_call(**given)
    nobody = given | {"given_today_by": None, "given_today_at": "2031-05-15"}
    assert "    Already given today 8 L: this is what remains." in printed_call(**nobody)
    done = printed(a_round(calls=[resting(**given)]))
    assert "  Chapel Wall            given today 8 L        Ann 07:40" in done.splitlines()


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({"ball_state": None}, "    bed holding"),
        (
            {"ball_state": None, "plantings": [planting(bare_root=True)]},
            "    bare root, bed holding",
        ),
    ],
)
def test_a_bed_without_balls(changes: Report, line: str) -> None:
    lines = printed_call(**changes)
    assert any(one.startswith(f"{line}  ") for one in lines)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"felt": None, "days_since_felt": None}, "not felt yet"),
        ({"days_since_felt": 8}, "not felt for 8 days"),
        (
            {"felt": {"ball": None, "bed": "sour", "at": "2031-05-15", "by": None}},
            "felt today: bed sour",
        ),
        (
            {
                "felt": {"ball": "wet", "bed": None, "at": "2031-05-08", "by": None},
                "days_since_felt": 7,
            },
            "felt 8 May: ball wet",
        ),
    ],
)
def test_the_last_feel_stands_beside_the_reckoned(changes: Report, words: str) -> None:
    assert any(line.endswith(f"  {words}") for line in printed_call(**changes))


def test_the_last_safe_morning_may_be_today_or_not_known() -> None:
    feel = printed_call(verdict="feel", litres=0.0)
    assert not any("Last safe" in line for line in feel)
    assert printed_call(last_safe="2031-05-15")[-1].endswith("Last safe morning: today")
    assert printed_call(last_safe=None)[-1].endswith("  Not to be put off")
    wet = printed_call(last_safe=None, verdict="held_back", dose_kind="re_wet")
    assert not any("Last safe" in line or "put off" in line for line in wet)


@pytest.mark.parametrize(
    ("changes", "row"),
    [
        ({"verdict": "laid_by"}, "  Chapel Wall            laid by                Why."),
        ({"verdict": "rain"}, "  Chapel Wall            wait for the rain      Why."),
        ({"wanted_on": None}, "  Chapel Wall            leave a fortnight      Why."),
        (
            {"verdict": "held_back", "felt": {**CALL["felt"], "ball": None}},
            "  Chapel Wall            HELD BACK              Why. Felt Tue: bed moist.",
        ),
        ({"feel_first": True}, "  Chapel Wall            leave until Fri 16     Why. Feel one."),
        (
            {"verdict": "soak", "dropped": True},
            "  Chapel Wall            no time for it today   Why. Last safe morning: Sat 17.",
        ),
        (
            {"verdict": "soak", "dropped": True, "last_safe": None},
            "  Chapel Wall            no time for it today   Why. Not to be put off.",
        ),
    ],
)
def test_beds_nobody_goes_to_are_listed_still(changes: Report, row: str) -> None:
    page = printed(a_round(calls=[resting(reason="Why.", **changes)]))
    assert row in page.splitlines()


@pytest.mark.parametrize(
    ("calls", "changes", "sentence"),
    [
        (
            [resting(days_since_felt=3), resting(name="Well Court", days_since_felt=12)],
            {},
            "Nothing to water. Feel one: Well Court, 12 days without. Gauge and go home.",
        ),
        (
            [resting(days_since_felt=3), resting(name="Well Court", days_since_felt=None)],
            {},
            "Nothing to water. Feel one: Well Court, not felt yet. Gauge and go home.",
        ),
        ([resting(days_since_felt=0)], {}, "Nothing to water. Gauge and go home."),
        (
            [call(verdict="feel", litres=0.0)],
            {},
            "Nothing to water; 1 bed to feel.",
        ),
        (
            [call(), call(verdict="feel", litres=0.0)],
            {"hours_available": 1.5},
            "1 bed to soak, 1 to feel: 17 L, about 5 min in all. You have 1 h 30.",
        ),
        (
            [resting(dropped=True)],
            {"dropped": 2, "hours_available": 0.0},
            "No time for 2 plantings that want water.",
        ),
        (
            [resting(dropped=True)],
            {"dropped": 1, "hours_available": 0.0},
            "No time for 1 planting that wants water.",
        ),
        ([], {}, "The book has no plants that stand in the ground on this day: `soakbook bed -h`"),
        ([call()], {"hours_available": 0.0}, "1 bed to soak: 17 L, about 5 min in all."),
    ],
)
def test_the_sum_of_the_morning(calls: list[Report], changes: Report, sentence: str) -> None:
    page = printed(a_round(calls=calls, totals=totals(**changes)))
    assert page.splitlines()[3] == sentence


def unreckoned(*names: str) -> Report:
    bed = "bed" if len(names) == 1 else None
    kind = "not_reckoned" if bed else "no_weather"
    return {"kind": kind, "bed": bed, "say": "The book has no weather.", "names": [*names]}


def test_a_book_without_weather_says_that_and_which_beds_to_feel() -> None:
    finding = unreckoned("Chapel Wall", "Dole Bed")
    page = printed(a_round(calls=[], findings=[finding], tomorrow=None, gauge=None))
    assert page.splitlines()[1:] == [
        "The Corrody, Marl Hatherby",
        "",
        "Nothing can be said of any bed yet. Feel Chapel Wall and Dole Bed: water what is",
        "dry.",
        "",
        "The book has no weather.",
    ]


def test_a_finding_of_a_bed_not_on_the_round_goes_by_its_name() -> None:
    page = printed(a_round(findings=[unreckoned("Orchard Ride")]))
    assert "Orchard Ride: The book has no weather." in page.splitlines()


@pytest.mark.parametrize(
    ("calls", "sum_line"),
    [
        ([call()], "1 bed to soak: 17 L, about 5 min in all. You have 2 h."),
        ([resting()], "Nothing to water elsewhere."),
        ([call(litres=0.0)], "Nothing to water elsewhere; 1 bed to feel."),
    ],
)
def test_beds_nobody_can_reckon_are_to_be_felt_whatever_the_others_want(
    calls: list[Report], sum_line: str
) -> None:
    """Of Chapel Wall, which has a call, only a part of the plants is not reckoned."""
    beds = [unreckoned("Orchard Ride"), unreckoned("Orchard Ride"), unreckoned("Chapel Wall")]
    lines = printed(a_round(calls=calls, findings=beds)).splitlines()
    told = "Nothing can be said of Orchard Ride and part of Chapel Wall: feel them, and"
    place = lines.index(told)
    assert lines[place + 1] == "water what is dry."
    assert sum_line in (lines[place - 1], lines[place + 2])
    assert not any("go home" in line for line in lines)


def test_a_gauge_read_the_evening_before_says_so() -> None:
    gauge = {**ROUND["gauge"], "kind": None, "read_at": "2031-05-14T18:05:00+01:00"}
    head = printed(a_round(gauge=gauge)).splitlines()[1]
    assert head.endswith("gauge Wed at 18:05: 15.6 mm")


def test_tomorrow_may_ask_for_nothing_or_not_be_known() -> None:
    tomorrow = {"day": "2031-05-16", "calls": 0, "litres": 0.0}
    assert "Tomorrow, if all this is done, likely nothing." in printed(a_round(tomorrow=tomorrow))
    nothing_to_do = a_round(calls=[resting()], tomorrow=tomorrow)
    assert "Tomorrow likely nothing." in printed(nothing_to_do)
    assert "Tomorrow" not in printed(a_round(tomorrow=None))


def test_all_who_made_the_weather_are_named_in_one_block_at_the_foot() -> None:
    lines = ["Weather data by Open-Meteo.com.", "Data from MET Norway."]
    found = printed(a_round(weather=a_round()["weather"] | {"credits": lines}))
    assert found.endswith("\n\nWeather data by Open-Meteo.com.\nData from MET Norway.")
