"""Soaks that were put off for forecast rain, and which of them were regretted.

A morning on which useful rain was surely promised is judged again, as the round of that morning was; the others put
nothing off.
"""

from collections import deque
from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import NamedTuple
from zoneinfo import ZoneInfo

import pandas as pd

from soakbook.account.season import A_DAY, Span
from soakbook.garden.fallen_days import Fallen, fallen_of
from soakbook.garden.pages import Pages
from soakbook.garden.promises import GOOD_SHARE, USEFUL_RAIN_MM
from soakbook.garden.records import Uid
from soakbook.reckoning.advice.judging import judge
from soakbook.reckoning.advice.promised import LOOK_BACK_DAYS
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.run import Dawn, felt
from soakbook.reckoning.simulation.season import season_at

WAIT_COLUMNS: Mapping[str, str] = {
    "day": "the morning on which the soak was put off",
    "bed": "key of the bed",
    "bed_uid": "permanent name of the bed",
    "planting_uid": "permanent name of the planting",
    "likely_mm": "what half of the forecast's futures brought the bed, or more [mm]",
    "until": "the last day that it was promised for",
    "fell_mm": "what is known to have fallen at the bed up to then, or to the account's last day [mm]",
    "came": "whether that was useful rain",
    "regretted": "whether it is known not to have come, and the leading store was wanting or parched before a soak",
}
"""Columns of the frame. One row per planting and morning."""


class Wait(NamedTuple):
    """One planting left for the rain on one morning."""

    day: date
    bed_uid: Uid
    planting_uid: Uid
    likely_mm: float
    until: date
    rain_share: float


class Waits:
    """Told every dawn of a run; judges those of good promises as their own morning did."""

    def __init__(self, pages: Pages, span: Span, pages_on: Callable[[date], Pages]) -> None:
        self._mornings = {
            one.issued_on
            for one in pages.promises
            if one.share >= GOOD_SHARE and span.first <= one.issued_on <= span.until
        }
        self._pages_on = pages_on
        self._earlier: deque[Dawn] = deque(maxlen=LOOK_BACK_DAYS)
        self.found: list[Wait] = []

    def see(self, dawn: Dawn) -> None:
        """Judge a dawn if useful rain was surely promised on its morning."""
        if dawn.day in self._mornings:
            pages = known_on(self._pages_on(dawn.day), dawn.day)
            unfelt = dawn.unfelt or dawn  # a finger after the round hour was not known on the round
            season = season_at(unfelt.season, pages, dawn.day, since=dawn.day)
            then = felt(unfelt._replace(season=season))
            judgement = judge(then, days=1, earlier=tuple(self._earlier))
            promise = judgement.promise
            self.found += [
                Wait(
                    dawn.day,
                    one.bed.uid,
                    one.planting.uid,
                    float(promise.middle_mm[one.row]),
                    promise.until,
                    plain(dawn.season.plain.plot.rain_share, one.row),
                )
                for one in judgement.judged
                if promise is not None and one.verdict == "rain"
            ]
        self._earlier.append(dawn)


def waits_frame(
    waits: list[Wait], pages: Pages, days: pd.DataFrame, visits: pd.DataFrame, asked: date
) -> pd.DataFrame:
    """One row per planting and morning on which a soak was put off.

    Parameters
    ----------
    waits : list of Wait
    pages : Pages
    days, visits : DataFrame
        As `days_frame` and `visits_frame` give them.
    asked : date
        The morning after the account's last day.
    """
    zone, hour = ZoneInfo(pages.garden.timezone), pages.garden.round_hour
    fallen = fallen_of(pages, datetime.combine(asked, hour, zone))
    beds = {bed.uid: bed.key for bed in pages.beds}
    rows = []
    for one in waits:
        fell_mm = one.rain_share * _fell_mm(fallen, one, datetime.combine(one.day, hour, zone))
        came = fell_mm >= USEFUL_RAIN_MM
        rows.append(
            {
                "day": pd.Timestamp(one.day),
                "bed": beds[one.bed_uid],
                "bed_uid": one.bed_uid,
                "planting_uid": one.planting_uid,
                "likely_mm": one.likely_mm,
                "until": pd.Timestamp(one.until),
                "fell_mm": fell_mm,
                "came": came,
                "regretted": not came
                and one.until < asked
                and _dry_before_soaked(one, days, visits),
            }
        )
    kinds = {
        "day": "datetime64[ns]",
        "until": "datetime64[ns]",
        "came": "bool",
        "regretted": "bool",
    }
    return pd.DataFrame(rows, columns=list(WAIT_COLUMNS)).astype(kinds)


def _fell_mm(fallen: Fallen, wait: Wait, since: datetime) -> float:
    """What fell in the open from the morning's round hour to the promise's last midnight."""
    end = datetime.combine(wait.until + A_DAY, datetime.min.time(), since.tzinfo)
    return fallen.between(since, end)


def _dry_before_soaked(wait: Wait, days: pd.DataFrame, visits: pd.DataFrame) -> bool:
    """Whether the planting's leading store was dry on an evening before its bed was next watered."""
    morning = pd.Timestamp(wait.day)
    later = visits[
        (visits["bed_uid"] == wait.bed_uid)
        & (visits["what"] == "watered")
        & (visits["day"] >= morning)
    ]
    until = later["day"].min() if len(later) else days["day"].max() + pd.Timedelta(days=1)
    mine = days[
        (days["planting_uid"] == wait.planting_uid)
        & (days["day"] >= morning)
        & (days["day"] < until)
    ]
    return bool(mine["state"].isin(("wanting", "parched")).any())
