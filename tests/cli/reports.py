"""Reports written by hand: a bed, a round, a why, and what `make` changes in them."""

from collections.abc import Callable
from copy import deepcopy
from typing import Any

Report = dict[str, Any]
Make = Callable[..., Report]

BAND = {"p10": 0.3, "p50": 0.4, "p90": 0.5}

PLANTING: Report = {
    "planting": "climbing roses",
    "kind": "shrub",
    "count": 6,
    "stage": "knitting",
    "stage_until": "2031-06-14",
    "ball_fraction": BAND,
    "bed_fraction": BAND,
    "ball_state": "wanting",
    "bed_state": "holding",
    "verdict": "soak",
    "litres_each": 2.0,
    "seconds_each": 9,
    "while_there": False,
    "dropped": False,
    "usual": False,
    "bare_root": False,
    "share_due": 0.9,
    "wanted_on": "2031-05-15",
    "last_safe": "2031-05-16",
}
FELT: Report = {
    "ball": "dry",
    "bed": "moist",
    "at": "2031-05-13T07:30:00+01:00",
    "by": "Ann",
    "unsure": False,
    "squared": [
        {
            "planting_uid": "roses",
            "store": "ball",
            "felt": "dry",
            "expected_fraction": 0.6,
            "now_fraction": 0.52,
            "expected_state": "drying",
            "now_state": "drying",
        }
    ],
    "say": "Reckoned then: ball drying. I have moved the ball down a third of the way.",
}

CALL: Report = {
    "order": 1,
    "bed": "chapel",
    "name": "Chapel Wall",
    "verdict": "soak",
    "feel_first": False,
    "dose_kind": "soak",
    "ball_state": "wanting",
    "bed_state": "holding",
    "ball_fraction": BAND,
    "bed_fraction": BAND,
    "felt": FELT,
    "litres": 17.0,
    "given_today_l": 0.0,
    "given_today_by": None,
    "given_today_at": None,
    "minutes": 1.5,
    "minutes_on_foot": 5.0,
    "cans": 2,
    "tanks": None,
    "means": "hose",
    "rose_on": False,
    "plants_a_can": None,
    "pours": 1,
    "pour_wait_min": None,
    "pour_meanwhile": None,
    "tap": "A",
    "aim": "ball",
    "wanted_on": "2031-05-15",
    "last_safe": "2031-05-16",
    "dropped": False,
    "days_since_felt": 2,
    "days_since_water": 3,
    "rain_reached_mm": 3.0,
    "reason": "Of 15.6 mm in the gauge 3.0 reached the soil; a ball catches little of that. "
    "On the ball, slowly; the bed needs none.",
    "plantings": [PLANTING],
}
RESTING: Report = {
    "order": None,
    "verdict": "leave",
    "dose_kind": None,
    "ball_state": "holding",
    "litres": 0.0,
    "minutes": None,
    "minutes_on_foot": 0.0,
    "cans": None,
    "aim": None,
    "wanted_on": "2031-05-16",
    "last_safe": "2031-05-17",
    "reason": "11.6 mm reached the bed.",
    "plantings": [PLANTING | {"litres_each": 0.0, "seconds_each": None, "verdict": "leave"}],
}
ROUND: Report = {
    "schema": "soakbook.round/1",
    "garden": "The Corrody, Marl Hatherby",
    "morning": "2031-05-15",
    "people": ["Ann"],
    "weather": {
        "measured_to": "2031-05-14",
        "forecast_to": None,
        "age_days": 1,
        "sources": ["shed"],
        "credits": [],
    },
    "gauge": {
        "rain_mm": 15.6,
        "kind": "gentle",
        "began_at": "2031-05-14T17:00:00+01:00",
        "read_at": "2031-05-15T06:30:00+01:00",
    },
    "calls": [CALL],
    "totals": {
        "calls": 1,
        "litres": 17.0,
        "minutes": 1.5,
        "minutes_on_foot": 5.0,
        "cans": 0,
        "hours_available": 2.0,
        "dropped": 0,
    },
    "tomorrow": {"day": "2031-05-16", "calls": 4, "litres": 200.0},
    "week": None,
    "findings": [],
    "question": None,
}
BALL_SUMS: Report = {
    "holds_at_most_l": 1.2,
    "yesterday_l": 0.7,
    "given_l": 0.0,
    "rain_l": 0.15,
    "gone_l": 0.3,
    "from_bed_l": -0.05,
    "felt_l": 0.0,
    "morning_l": 0.5,
    "tonight_l": 0.2,
    "water_below_l": 0.5,
}
BED_SUMS: Report = {
    "holds_at_most_l": 24.0,
    "yesterday_l": 18.0,
    "gained_l": 3.6,
    "gone_l": 0.9,
    "felt_l": 0.0,
    "morning_l": 20.7,
    "tonight_l": 19.9,
    "reach_holds_at_most_l": 6.0,
    "reach_morning_l": 4.6,
    "reach_water_below_l": 2.3,
}
PLANTING_WHY: Report = {
    "planting": "climbing roses",
    "kind": "shrub",
    "count": 6,
    "verdict": "soak",
    "share_due": 0.9,
    "ball": BALL_SUMS,
    "bed": BED_SUMS,
    "dose": {
        "ball_lacks_l": 0.7,
        "ring_lacks_l": 0.1,
        "needed_at_nozzle_l": {"p10": 1.1, "p50": 1.3, "p90": 1.6},
        "least_l": 1.9,
        "usual_l": 7.0,
        "usual_last_on": "2031-05-06",
        "said_l": 2.0,
        "pours": 1,
    },
    "roots": {
        "stage": "knitting",
        "root_reach_cm": 3.0,
        "next_stage": "rooting_out",
        "next_stage_on": "2031-06-14",
        "ball_share_fraction": 0.9,
    },
    "symbols": [
        {
            "symbol": "TAW ball",
            "name": "total available water of the ball",
            "value": 1.2,
            "unit": "L",
            "equation": "(14), FAO eq 82",
        },
        {
            "symbol": "De bowl",
            "name": "skin depletion, watered part",
            "value": 3.4567,
            "unit": "mm",
            "equation": "(24), FAO eq 77",
        },
        {
            "symbol": "Ks",
            "name": "stress coefficient yesterday",
            "value": 1.0,
            "unit": "-",
            "equation": "FAO eq 84",
        },
    ],
}
WHY: Report = {
    "schema": "soakbook.why/1",
    "garden": "The Corrody, Marl Hatherby",
    "morning": "2031-05-15",
    "bed": "chapel",
    "name": "Chapel Wall",
    "verdict": "soak",
    "litres": 17.0,
    "rain": {
        "gauge_mm": 15.6,
        "told": "in the gauge",
        "kind": "gentle",
        "share_fraction": 0.45,
        "came_mm": 7.0,
        "mulch_drank_mm": 4.0,
        "ran_off_mm": 0.0,
        "soil_mm": 3.0,
        "balls_caught_l": [0.15],
    },
    "plantings": [PLANTING_WHY],
    "felt": FELT,
    "least_known": "How much of the rain reaches Chapel Wall?",
    "say": [
        "Roots crossing the edge of the ball: by the reckoning the ball runs short before the next "
        "visit. On the ball, slowly; the bed needs none.",
        "Where the rain went: 15.6 mm in the gauge; 7.0 came to the bed (its share, south wall "
        "foot: 0.45); the mulch drank 4.0; 3.0 mm went into the soil. The balls caught 0.15 L of "
        "it: that is all their own width takes.",
        "Felt 2 days ago: ball dry and bed moist. Reckoned this morning: ball wanting, bed holding.",
    ],
    "credits": [],
}


def maker(whole: Report) -> Make:
    def make(**changes: Any) -> Report:
        unknown = changes.keys() - whole.keys()
        assert not unknown, f"no such key of the report: {unknown}"
        return {**deepcopy(whole), **changes}

    return make


TOLD: Report = {
    "schema": "soakbook.told/1",
    "what": "soak",
    "bed": "chapel",
    "say": ["17 L, 1½ min of tap A.", "Wanted again about Sat 17."],
    "changed": {"litres": 17.0},
}


planting = maker(PLANTING)
"""A planting of a bed to soak."""
call = maker(CALL)
"""A bed to soak."""
resting = maker({**CALL, **RESTING})
"""A bed nobody goes to."""
a_round = maker(ROUND)
"""A round of one bed."""
planting_why = maker(PLANTING_WHY)
"""The sums of one planting."""
a_why = maker(WHY)
"""The sums of one bed."""

BEDS: Report = {
    "schema": "soakbook.beds/1",
    "garden": "The Corrody, Marl Hatherby",
    "beds": [
        {
            "bed": "chapel",
            "name": "Chapel Wall",
            "area_m2": 18.0,
            "soil": "sandy loam",
            "place": "south wall foot",
            "tap": "A",
            "parted_from": None,
            "parted_on": None,
            "rests_from": None,
            "plantings": [
                {
                    "planting": "climbing roses",
                    "kind": "shrub",
                    "count": 6,
                    "living": 5,
                    "elsewhere": 0,
                    "planted_on": "2031-03-20",
                }
            ],
            "guesses": [
                {
                    "planting": None,
                    "what": "share of the rain",
                    "value": "0.45",
                    "answer": "soakbook bed chapel --rain-share 0.45",
                },
                {
                    "planting": "climbing roses",
                    "what": "ball",
                    "value": "25 cm across",
                    "answer": 'soakbook plant chapel "climbing roses" 6 --pot 7.5l',
                },
                {
                    "planting": "climbing roses",
                    "what": "grown",
                    "value": "90 cm across in 12 weeks",
                    "answer": 'soakbook plant chapel "climbing roses" 6 --leaves-full 90cm',
                },
            ],
        },
        {
            "bed": "ride",
            "name": "ride",
            "area_m2": 60.5,
            "soil": "unknown",
            "place": "open",
            "tap": None,
            "parted_from": "chapel",
            "parted_on": "2031-05-10",
            "rests_from": "2031-10-01",
            "plantings": [],
            "guesses": [],
        },
    ],
}
