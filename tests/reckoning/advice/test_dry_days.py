"""Dry days counted bed by bed, beside what each evening says of itself."""

from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.reckoning.advice.course import course_of
from soakbook.reckoning.advice.dry_days import DryDays, dry_before
from soakbook.reckoning.simulation.living import gone_from
from soakbook.reckoning.simulation.run import Dawn, run
from tests.reckoning.gardens import PLANTED, ZONE, at, loss, pages, roses, season, soak

MORNING = PLANTED + timedelta(days=40)
BOOK = pages(
    [roses(), roses("other"), roses(name="more", count=3, planted_on=PLANTED + timedelta(days=9))],
    [
        *(soak(PLANTED + timedelta(days=n), 40.0) for n in range(0, 12, 3)),
        loss(at(PLANTED + timedelta(days=20), 18), 10, "other", "other/roses"),
    ],
)


def test_as_the_course_of_a_season_counts_them() -> None:
    known = season(BOOK, MORNING, members=30)
    tally = DryDays(BOOK, PLANTED, 30)
    course = course_of(known, PLANTED, beside=tally.told)
    found = np.array([tally.of_beds([bed.uid]) for bed in known.beds])
    assert found.min() < found.max()
    np.testing.assert_array_equal(found, course.dry_bed_days)
    np.testing.assert_array_equal(tally.of_beds(["bed", "other"]), course.dry_bed_days.sum(axis=0))


def test_none_before_the_day_it_counts_from_and_none_once_all_are_gone() -> None:
    known = season(BOOK, MORNING, members=1)
    dawns: list[Dawn] = []
    run(known, watch=dawns.append)
    row = [one.uid for one in known.plantings].index("other/roses")
    dry = {one.day - timedelta(days=1) for one in dawns[1:] if dry_before(one)[row, 0]}
    gone = PLANTED + timedelta(days=21)
    assert max(dry) > gone  # the dead are stepped on with, and count no more
    for since in (PLANTED, PLANTED + timedelta(days=15)):
        tally = DryDays(BOOK, MORNING, 1, {"other": since})
        for dawn in dawns:
            tally.told(dawn)
        assert tally.of_beds(["other"]).tolist() == [sum(since <= day < gone for day in dry)]
        assert tally.of_beds(["bed"]).tolist() == [0.0]


@pytest.mark.parametrize(
    ("counts", "gone"),
    [((4, 6), PLANTED + timedelta(days=8)), ((4, 5), date.max), ((), date.max)],
)
def test_the_morning_on_which_none_stands_any_more(counts: tuple[int, ...], gone: date) -> None:
    lost = [loss(PLANTED + timedelta(days=5 + 2 * n), count) for n, count in enumerate(counts)]
    assert gone_from(roses(), lost, ZONE) == gone
