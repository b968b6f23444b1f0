"""What a hand says, and how it errs."""

from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.reckoning.simulation.squaring import class_of
from soakbook.truth.hands import HANDS, hand_errors, rhythm
from soakbook.truth.wetness import Scale


@pytest.mark.parametrize(
    ("wetness", "felt"),
    [(-0.3, "dust"), (0.19, "dust"), (0.2, "dry"), (0.5, "moist"), (0.85, "wet"), (1.1, "sour")],
)
def test_classes_of_wetness(wetness: float, felt: str) -> None:
    assert class_of(wetness) == felt


def test_hands_err_by_0_12_each_in_its_own_way() -> None:
    days = [date(2015, 1, 1) + timedelta(days=n) for n in range(2000)]
    one, other = hand_errors("one", days), hand_errors("other", days)
    assert one.std() == pytest.approx(0.12, rel=0.05)
    assert abs(np.corrcoef(one, other)[0, 1]) < 0.1
    assert np.array_equal(one[10:20], hand_errors("one", days[10:20]))


def test_a_rhythm_counts_days_of_the_calendar_that_can_be_felt() -> None:
    """From 1 January 2015, every third day since the year 1, one of them not to be felt."""
    days = [date(2015, 1, 1) + timedelta(days=n) for n in range(12)]
    rows = [n for n, day in enumerate(days) if day.toordinal() % 3 == 0]
    there = np.ones(12, np.bool_)
    there[rows[1]] = False
    found = rhythm(3, Scale(0.2, 0.4), days, np.full(12, 0.3), there)
    assert len(found.feels) == HANDS
    assert [sorted(feels) for feels in found.feels] == [[rows[0], *rows[2:]]] * HANDS
    assert len({run.hand for run in found.runs()}) == HANDS
