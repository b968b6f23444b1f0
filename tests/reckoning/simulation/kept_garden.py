"""A garden with all that can happen in one, and its dawns compared to the last bit."""

from collections.abc import Sequence
from datetime import date, timedelta
from functools import cache
from typing import Any

import numpy as np

from soakbook.garden.entries import AnyEntry, Look
from soakbook.garden.pages import Pages
from soakbook.reckoning.simulation.gone import leaving
from soakbook.reckoning.simulation.kept import Kept, kept_of
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.marks import mark_of
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season, season_of
from tests.reckoning.gardens import (
    PLANTED,
    WRITTEN,
    at,
    bed,
    catch,
    feel,
    loss,
    mulch,
    pages,
    rain,
    roses,
    ruler,
    soak,
    weather,
)

MEMBERS = 6
CODE = "1"
MORNING = PLANTED + timedelta(days=72)


def on(days: int, hour: int = 7) -> Any:
    """A moment so many days after the first were planted."""
    return at(PLANTED + timedelta(days=days), hour)


def look(days: int, wet_to_cm: float = 20.0, bed_key: str = "bed") -> Look:
    """A hole dug."""
    return Look(
        uid=f"look {days}",
        happened_at=on(days),
        written_at=WRITTEN,
        bed_uid=bed_key,
        wet_to_cm=wet_to_cm,
        typed=f"{wet_to_cm:g}cm",
    )


@cache
def garden() -> Pages:
    """Roses that die, are felt after that and replaced; others parted into a bed of their own; feels, mulch, a jar."""
    parted, replaced = PLANTED + timedelta(days=24), PLANTED + timedelta(days=20)
    planted = [
        roses(name="first", count=4, planted_on=PLANTED),
        roses(name="staying", count=6, leaf="evergreen"),
        roses("other", name="dug", origin="dug", plant_class="dug_shrub", planted_on=on(3).date()),
        roses(name="second", count=4, replaces="bed/first", planted_on=replaced),
        roses("part", name="heir", count=2, came_from="bed/staying", parted_on=parted),
        roses("late", name="late", planted_on=on(50).date()),
    ]
    entries: list[AnyEntry] = [
        *(soak(on(n, 8), 60.0) for n in range(4, 72, 6)),
        *(soak(on(n, 18), 30.0, "other", method="broadcast") for n in range(5, 72, 9)),
        feel(on(5), planting_uid="bed/first", ball="dry", bed="moist"),
        feel(on(10, 9), ball="dust", bed="dry", unsure=True),
        loss(on(12, 18), 4, planting_uid="bed/first"),
        loss(on(14, 18), 1, planting_uid="bed/staying"),
        feel(on(15), planting_uid="bed/first", bed="dry"),
        feel(on(16, 18), "other", ball="wet"),
        look(18),
        mulch(on(9).date(), 6.0, "other"),
        ruler(on(30), 4.0, "other"),
        rain(on(21, 9), 7.0, on(20, 18)),
        catch(on(22), 3.0, 6.0, "other"),
        feel(on(33), "part", ball="moist", bed="wet"),
        feel(on(60), ball="dry"),
    ]
    beds = [bed("bed"), bed("other"), bed("part", parted_from="bed", parted_on=parted), bed("late")]
    fallen = {PLANTED + timedelta(days=n): 5.0 + n for n in range(2, 70, 11)}
    return pages(planted, entries, beds=beds, days=weather(days=80, rain=fallen))


def season(of: Pages, morning: date = MORNING, members: int = MEMBERS) -> Season:
    """It laid out, as that morning knows it."""
    found = season_of(known_on(of, morning), morning, members)
    assert found is not None
    return found


def mark(of: Season, day: date, code: str = CODE) -> str:
    """Its mark up to a day."""
    return mark_of(of, day, leaving(of, 1), code)


def kept(of: Season, day: date) -> Kept:
    """Its dawn of a day, kept on the way to its morning."""
    found: list[Kept] = []

    def pass_by(dawn: Dawn) -> Dawn:
        if dawn.day == day:
            found.append(kept_of(dawn, mark(of, day)))
        return dawn

    run(of, pass_by=pass_by)
    (one,) = found
    return one


def assert_same(one: Sequence[Dawn], other: Sequence[Dawn]) -> None:
    """Days, rows, stores, flows, beliefs, parameters and what every feel has changed are the same bits."""
    for here, there in zip(one, other, strict=True):
        assert here.day == there.day
        assert here.season.plantings == there.season.plantings
        assert here.season.beliefs.moved_on == there.season.beliefs.moved_on
        assert here.flows is not None
        assert there.flows is not None
        for record, same in (
            (here.stores, there.stores),
            (here.flows, there.flows),
            (here.season.plot, there.season.plot),
            (here.season.fixed, there.season.fixed),
            (here.season.beliefs[:3], there.season.beliefs[:3]),
        ):
            for mine, theirs in zip(record, same, strict=True):
                np.testing.assert_array_equal(mine, theirs)
        assert changes(here) == changes(there)


def changes(dawn: Dawn) -> list[Any]:
    """What every feel so far has changed."""
    return [(*one[:-1], one.change()) for one in dawn.squared]
