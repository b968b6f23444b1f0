"""The frame of days: one row per day and planting, every litre of the ledger and how the evening stood."""

from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from soakbook.account.season import Span
from soakbook.reckoning.advice.course import Course
from soakbook.reckoning.advice.held import Flags
from soakbook.reckoning.advice.stages import STAGES, STATES
from soakbook.reckoning.simulation.lanes import plain

DAY_COLUMNS: Mapping[str, str] = {
    "day": "local calendar day",
    "bed": "key of the bed",
    "bed_uid": "permanent name of the bed",
    "planting": "name of the planting",
    "planting_uid": "permanent name of the planting",
    "count": "living plants on the morning [-]",
    "cell_m2": "ground of one plant [m2]",
    "stage": "settling, knitting, rooting_out or own_feet, by the middle sum",
    "rain_gauge_mm": "rain in the open, from 17:00 of the day before to 17:00 [mm]",
    "et0_mm": "reference evapotranspiration [mm]",
    "guessed": "what of the day's weather was not known: rain, et0, temperature; empty where all was",
    "opening_l": "held by mulch, balls and soil of the cells on the morning [L]",
    "rain_l": "rain on the cells, the bed's share of it [L]",
    "given_l": "given by hand, at the nozzle [L]",
    "given_lost_l": "of that lost on the way: spray, splash, leaks [L]",
    "drunk_l": "drunk by the plants [L]",
    "soil_evaporated_l": "dried off the soil [L]",
    "mulch_evaporated_l": "dried off the mulch [L]",
    "drained_l": "drained past the roots' bed [L]",
    "run_off_l": "run off over the ground [L]",
    "squared_l": "brought (above 0) or taken by squaring up with feels [L]",
    "gone_l": "gone with plants that died or were moved [L, below 0: taken over]",
    "closing_l": "held on the next morning [L]",
    "asked_l": "what the plants would have drunk of full soil [L]",
    "into_soil_mm": "rain that came through to the soil, not what was thrown over the mulch with it [mm]",
    "ball_p10": "available water of the ball in the evening, a tenth of the sums below [0-1]",
    "ball_p50": "the middle one; nothing for bare roots [0-1]",
    "ball_p90": "a tenth above [0-1]",
    "bed_p10": "the same of the soil the roots reach [0-1]",
    "bed_p50": "the middle one [0-1]",
    "bed_p90": "a tenth above [0-1]",
    "state": "of the store that leads: sodden, holding, drying, wanting or parched, in the evening",
    "ball_state": "of the ball; nothing for bare roots",
    "bed_state": "of the soil round it",
    "wanting_share": "share of the sums in which the leading store is wanting or parched [0-1]",
    "held": "whether the ground was too wet for water on the morning",
}
"""Columns of the frame, with their units. The litres are those of all plants of the planting."""

BALANCE_IN = ("opening_l", "rain_l", "given_l", "squared_l")
BALANCE_OUT = (
    "given_lost_l",
    "drunk_l",
    "soil_evaporated_l",
    "mulch_evaporated_l",
    "drained_l",
    "run_off_l",
    "gone_l",
    "closing_l",
)
"""The first added up are the second added up, in every row."""

_FLOW_OF = {
    "rain_l": "rain_l",
    "given_l": "soak_l",
    "given_lost_l": "given_lost_l",
    "drunk_l": "transpired_l",
    "soil_evaporated_l": "soil_evaporated_l",
    "mulch_evaporated_l": "mulch_evaporated_l",
    "drained_l": "drained_l",
    "run_off_l": "run_off_l",
    "asked_l": "asked_l",
}


def days_frame(course: Course, span: Span) -> pd.DataFrame:
    """One row per day and planting that had a plant left, in the order of days.

    Parameters
    ----------
    course : Course
        Of the season, from the span's first day to its last.
    span : Span
    """
    here = course.here()
    here[max(0, (span.asked - course.first).days) :] = False
    day, row = np.nonzero(here)
    standing = course.standing[:-1][here].astype(np.float64)
    next_standing = course.standing[1:][here].astype(np.float64)
    litres = {name: course.flows[flow][here] * standing for name, flow in _FLOW_OF.items()}
    closing = course.closing_l[here]
    weather = _weather(course)
    columns = {
        "day": weather["day"].to_numpy()[day],
        **_who(course, row),
        "count": course.standing[:-1][here],
        "stage": _coded(course.stage[here], STAGES),
        **{name: weather[name].to_numpy()[day] for name in ("rain_gauge_mm", "et0_mm")},
        "guessed": pd.Categorical(weather["guessed"].to_numpy()[day]),
        "opening_l": course.opening_l[here] * standing,
        **litres,
        "squared_l": course.squared_l[here] * standing,
        "gone_l": closing * (standing - next_standing),
        "closing_l": closing * next_standing,
        "into_soil_mm": (course.flows["intake_mm"] * _share_of_rain(course))[here],
        **_bands(course, here),
        **_states(course, here, row),
        "wanting_share": course.wanting_share[here],
        "held": course.held[here],
    }
    return pd.DataFrame({name: columns[name] for name in DAY_COLUMNS}, copy=False)


def no_days() -> pd.DataFrame:
    """The frame where nothing could be reckoned: its columns, and no row."""
    words = ("bed", "bed_uid", "planting", "planting_uid", "stage", "guessed", "state")
    kinds = {"day": "datetime64[ns]", "count": "int64", "held": "bool"}
    kinds |= dict.fromkeys((*words, "ball_state", "bed_state"), "category")
    return pd.DataFrame({name: pd.Series(dtype=kinds.get(name, "float64")) for name in DAY_COLUMNS})


def _share_of_rain(course: Course) -> NDArray[np.float64]:
    """How much of the water that fell on mulch and soil was rain, not thrown there by hand, (day, planting)."""
    rain_l = course.flows["rain_l"]
    thrown_l = np.zeros_like(rain_l)
    rows = {one.uid: row for row, one in enumerate(course.plantings)}
    for day, given in course.season.given.items():
        number = (day - course.first).days
        if 0 <= number < course.days:
            for uid, one in given.items():
                thrown_l[number, rows[uid]] = one.broadcast_reached_l
    both_l = rain_l + thrown_l
    return np.divide(rain_l, both_l, out=np.ones_like(rain_l), where=both_l > 0)


def _who(course: Course, row: NDArray[np.intp]) -> dict[str, object]:
    """The columns that say which planting a row is of."""
    season = course.season
    beds = [bed.key for bed in season.beds]
    bed_uids = [bed.uid for bed in season.beds]
    bed = season.bed_index[row]
    names = [one.name for one in course.plantings]
    kinds = sorted(set(names))
    kind = np.array([kinds.index(name) for name in names], np.intp)
    uids = [one.uid for one in course.plantings]
    cells = np.array([plain(season.plot.cell_m2, each) for each in range(len(names))])
    return {
        "bed": _coded(bed, beds),
        "bed_uid": _coded(bed, bed_uids),
        "planting": _coded(kind[row], kinds),
        "planting_uid": _coded(row, uids),
        "cell_m2": cells[row],
    }


def _weather(course: Course) -> pd.DataFrame:
    """The weather of each day's step."""
    calendar = [course.first + timedelta(days=number) for number in range(course.days)]
    steps = [course.season.skies.on(day) for day in calendar]
    return pd.DataFrame(
        {
            "day": pd.DatetimeIndex(pd.to_datetime(calendar), dtype="datetime64[ns]"),
            "rain_gauge_mm": np.array([step.rain_mm for step in steps], np.float64),
            "et0_mm": np.array([step.et0_mm for step in steps], np.float64),
            "guessed": [" ".join(step.filled) for step in steps],
        }
    )


def _bands(course: Course, here: Flags) -> dict[str, object]:
    return {
        f"{store}_{share}": getattr(getattr(course, store), share)[here]
        for store in ("ball", "bed")
        for share in ("p10", "p50", "p90")
    }


def _states(
    course: Course,
    here: Flags,
    row: NDArray[np.intp],
) -> dict[str, object]:
    bare = np.array([one.origin == "bare" for one in course.plantings])[row]
    ball = np.where(bare, -1, course.states["ball"][here])
    return {
        "state": _coded(course.states["lead"][here], STATES),
        "ball_state": _coded(ball, STATES),
        "bed_state": _coded(course.states["bed"][here], STATES),
    }


def _coded(codes: Any, words: Sequence[str]) -> pd.Categorical:
    """Words by their numbers; -1 is nothing."""
    return pd.Categorical.from_codes(codes, pd.Index(words))
