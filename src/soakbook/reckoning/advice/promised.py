"""What rain that is forecast and has not fallen may put off, and what not.

A good promise puts off a soak once: it must be likely enough, nothing may be parched before it, and nothing of the
bed may have been due already on an earlier morning since its last soak or useful rain. Earlier advice is not
looked at, only what happened.
"""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np

from soakbook.garden.pages import Pages
from soakbook.garden.promises import (
    GOOD_SHARE,
    USEFUL_RAIN_MM,
    bar_of,
    judge_promises,
    of_service,
)
from soakbook.reckoning.advice.diary import Diary
from soakbook.reckoning.advice.due import PATIENCE, RISK, Prospect, prospects
from soakbook.reckoning.advice.visits import next_visit
from soakbook.reckoning.simulation.ahead import evenings
from soakbook.reckoning.simulation.bands import middle_of, ranks
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.futures import picked
from soakbook.reckoning.simulation.lanes import full, grid
from soakbook.reckoning.simulation.run import Dawn
from soakbook.reckoning.simulation.season import Season

COUNTED_ON = 0.30
"""Of promised rain a dose is made less by what seven of ten members bring, (43)."""

LOOK_BACK_DAYS = 8
"""A planting that was due longer ago and got neither soak nor rain is parched by now, and nothing is put off."""


class Promised(NamedTuple):
    """Forecast rain up to the evening before the next visit, planting by planting; arrays (planting,)."""

    until: date
    share: Floats
    """Members in which useful rain comes to the bed."""
    middle_mm: Floats
    """What comes to the bed in the middle member."""
    counted_mm: Floats
    """What goes into the soil in seven of ten, where the promise is good; else 0."""
    bar: float
    """From which share on it is good: the more surely the oftener the service broke its word."""

    def good(self, row: int) -> bool:
        """Whether a planting's promise is good."""
        return bool(self.share[row] >= self.bar)


def promised(dawn: Dawn, visit: date) -> Promised | None:
    """The rain that is promised from a dawn to the evening before a visit; None where no forecast speaks of it.

    Parameters
    ----------
    dawn : Dawn
    visit : date
        The next one after the dawn's morning.

    Notes
    -----
    Rain at the bed is (16), into the soil (17) with the mulch as it stands and no limit of intake.
    """
    season, rows = dawn.season, slice(0, dawn.size)
    days = [dawn.day + timedelta(days=n) for n in range((visit - dawn.day).days)]
    futures = [
        step.future for day in days if (step := season.skies.coming.get(day)) and step.future
    ]
    if not futures or not any(float(one.coming_mm.max()) > 0 for one in futures):
        return None
    plot, _ = season.parameters(rows)
    ground = season.ground(dawn.day, rows)
    shape = (dawn.size, season.members)
    fall_mm = sum(
        (picked(season.numbers, one).coming_mm for one in futures), np.zeros(season.members)
    )
    bed_mm = grid(plot.rain_share * fall_mm, shape)
    room_mm = np.maximum(ground.mulch_capacity_mm - full(dawn.stores, shape).mulch_store_mm, 0.0)
    soil_mm = bed_mm - np.minimum(ground.mulch_cover_fraction * bed_mm, room_mm)
    share = (bed_mm >= USEFUL_RAIN_MM).mean(axis=-1)
    bar = _bar(season) if bool(np.any(share >= GOOD_SHARE)) else GOOD_SHARE
    counted = np.where(share >= bar, ranks(soil_mm, (COUNTED_ON,))[0], 0.0)
    return Promised(days[-1], share, middle_of(bed_mm), counted, bar)


def put_off(
    dawn: Dawn,
    promise: Promised | None,
    outlook: Sequence[Prospect],
    diaries: Sequence[Diary],
    earlier: Sequence[Dawn],
) -> tuple[bool, ...]:
    """Which plantings are left for the rain, by their rows.

    Parameters
    ----------
    dawn : Dawn
    promise : Promised or None
    outlook : sequence of Prospect
        Of every planting, should no rain come.
    diaries : sequence of Diary
        Of every planting's bed.
    earlier : sequence of Dawn
        The dawns before, oldest first, as far back as they are known.
    """
    rows = range(dawn.size)
    may = [
        promise is not None
        and promise.good(row)
        and outlook[row].share_due > RISK
        and outlook[row].can_wait
        for row in rows
    ]
    if promise is None or not any(may):
        return (False,) * dawn.size
    pages, visit = dawn.season.pages, next_visit(dawn.season.pages, dawn.day)
    with_rain = _outlook(dawn, dawn.season._replace(skies=dawn.season.skies.with_rain()), visit)
    waited = _due_before(pages, earlier, diaries, dawn)
    return tuple(may[row] and with_rain[row].share_due <= RISK and not waited[row] for row in rows)


def _bar(season: Season) -> float:
    """From which share on the newest forecast's word is good, by what came of its service's earlier ones."""
    pages = season.pages
    record = judge_promises(pages.promises, season.skies.fell_by_day(), season.morning)
    return bar_of(of_service(record.reliabilities, pages.forecasts[0].source))


def _outlook(dawn: Dawn, season: Season, visit: date) -> tuple[Prospect, ...]:
    ahead = evenings(dawn._replace(season=season), (visit - dawn.day).days)
    return prospects(ahead, [visit], dawn.day, PATIENCE[season.pages.garden.readiness])


def _due_before(
    pages: Pages, earlier: Sequence[Dawn], diaries: Sequence[Diary], dawn: Dawn
) -> list[bool]:
    """Which plantings were due on an earlier morning since their last soak or useful rain.

    Due as now, by what is known now of the days since, but for their rain.
    """
    found = [False] * dawn.size
    open_rows = set(range(dawn.size))
    after = [*earlier, dawn][1:]
    for before, following in reversed(list(zip(earlier, after, strict=True))):
        open_rows -= {row for row in open_rows if _refilled(before, following, row, diaries[row])}
        if not open_rows:
            break
        season = before.season._replace(skies=before.season.skies.dry_from(before.day))
        outlook = _outlook(before, season, next_visit(pages, before.day))
        for row in open_rows:
            found[row] |= row < before.size and outlook[row].share_due > RISK
    return found


def _refilled(before: Dawn, following: Dawn, row: int, diary: Diary) -> bool:
    """Whether a planting was soaked on a day, or had useful rain in its step, or was not there yet."""
    if row >= before.size:
        return True
    soaked = any(
        soak.planting_uid in (None, before.season.plantings[row].uid)
        for soak in diary.given_on(before.day)
    )
    flows = following.flows
    taken_mm = np.asarray(flows.intake_mm)[row, 0] if flows is not None else 0.0
    return soaked or bool(taken_mm >= USEFUL_RAIN_MM)
