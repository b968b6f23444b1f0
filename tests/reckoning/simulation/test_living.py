"""Living plants by day as an array: those that a soak is shared over, and each of them once."""

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.entries import Loss
from soakbook.reckoning.simulation.living import gone_from, living_by_day
from soakbook.reckoning.simulation.watering import living_count
from tests.reckoning.gardens import PLANTED, WRITTEN, ZONE, at, pages, roses

DAYS = 12

losses = st.lists(
    st.tuples(
        st.integers(0, DAYS),
        st.none() | st.integers(0, 23),
        st.integers(1, 6),
        st.sampled_from(["drought", "parted", "eaten"]),
    ),
    max_size=5,
)


def lost(number: int, hour: int | None, count: int, cause: str) -> Loss:
    day = PLANTED + timedelta(days=number)
    return Loss(
        uid=f"{number} {hour} {count} {cause}",
        happened_at=day if hour is None else at(day, hour),
        written_at=WRITTEN,
        bed_uid="bed",
        planting_uid="bed/roses",
        count=count,
        cause=cause,
    )


def counted(entries: Sequence[Loss], first: date = PLANTED, start: date = PLANTED) -> list[int]:
    of = pages([roses()], entries)
    found: list[int] = living_by_day(of, of.plantings, [start], first, DAYS)[:, 0].tolist()
    return found


@given(told=losses, before=st.integers(-4, 4), late=st.integers(0, 3))
def test_they_are_those_of_living_count(
    told: list[tuple[int, int | None, int, str]], before: int, late: int
) -> None:
    """Ten roses, any losses at any hour, seen from before or after they were planted, reckoned from later."""
    entries = [lost(*one) for one in told]
    first, start = PLANTED + timedelta(days=before), PLANTED + timedelta(days=late)
    mornings = [first + timedelta(days=n) for n in range(DAYS)]
    one_by_one = [
        living_count(roses(), entries, day, ZONE) if day >= start else 0 for day in mornings
    ]
    assert counted(entries, first, start) == one_by_one
    gone = gone_from(roses(), entries, ZONE)
    since = [day for day in mornings if day >= PLANTED]
    assert all((living_count(roses(), entries, day, ZONE) == 0) == (day >= gone) for day in since)


def test_plants_that_are_moved_stand_elsewhere_on_the_day_itself() -> None:
    """Four of ten moved on the fifth morning, two dead on the same day."""
    entries = [lost(4, 9, 4, "moved"), lost(4, 9, 2, "eaten")]
    assert counted(entries) == [10] * 4 + [6] + [4] * 7
    assert gone_from(roses(count=4), entries[:1], ZONE) == PLANTED + timedelta(days=4)


@pytest.mark.parametrize("mornings", [0, 1])
def test_no_more_mornings_than_are_asked_for(mornings: int) -> None:
    of = pages([roses(), roses("other")])
    found = living_by_day(of, of.plantings, [PLANTED, PLANTED], PLANTED, mornings)
    assert np.array_equal(found, np.full((mornings, 2), 10))
