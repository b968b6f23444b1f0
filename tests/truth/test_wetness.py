"""The look that pins full, and the scale of wetness."""

from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.truth.bucket import Course, Forcing
from soakbook.truth.wetness import (
    LESSER_DRAINED_MM,
    LOOK_DRAINED_MM,
    Look,
    scales_of,
    soaked_look,
)

DAYS = [date(2015, 4, 1) + timedelta(days=n) for n in range(20)]


def look_after(
    drained: dict[int, float],
    rain: dict[int, float],
    measured: list[int],
    least_mm: float = LOOK_DRAINED_MM,
) -> Look | None:
    """The look of twenty days on which so much drained and fell; the sensors read 0.4 throughout."""
    fallen, gone, compared = np.zeros(20), np.zeros((1, 20)), np.zeros(20, np.bool_)
    for row, mm in rain.items():
        fallen[row] = mm
    for row, mm in drained.items():
        gone[0, row] = mm
    compared[measured] = True
    nothing, no = np.zeros(20), np.zeros(20, np.bool_)
    forcing = Forcing(fallen, nothing, nothing, nothing, nothing, no, no)
    course = Course(np.full((1, 20), 0.29), np.ones((1, 20)), nothing[None], gone, 0.30, ~no)
    return soaked_look(forcing, course, DAYS, np.full(20, 0.4), compared, least_mm)


EVERY_DAY = list(range(20))


def test_the_first_day_two_days_after_ten_millimetres_have_drained() -> None:
    found = look_after({5: 6, 6: 5}, {5: 20, 6: 10}, EVERY_DAY)
    assert found is not None
    assert found.row == 8
    assert found.day == date(2015, 4, 9)
    assert found.theta == pytest.approx(0.4)
    assert found.full == pytest.approx(0.4 + 0.30 - 0.29)


@pytest.mark.parametrize(
    ("drained", "rain", "measured"),
    [
        ({5: 9.9}, {}, EVERY_DAY),
        ({5: 12}, dict.fromkeys(range(6, 20), 1.0), EVERY_DAY),
        ({5: 12}, {}, [5, 6, 10]),
    ],
    ids=["too little", "rain since", "not measured in time"],
)
def test_no_look(drained: dict[int, float], rain: dict[int, float], measured: list[int]) -> None:
    assert look_after(drained, rain, measured) is None


def test_a_reading_four_days_after_counts() -> None:
    found = look_after({5: 12}, {}, [9])
    assert found is not None
    assert found.row == 9


LOOK = Look(0, DAYS[0], 0.39, 0.40)
THETA = np.linspace(0.2, 0.4, 101)


def test_the_scale_of_a_record_that_has_been_dry() -> None:
    """The driest two of 101 days were reckoned at 0.10 and 0.109 of wetness."""
    scales = scales_of(THETA, LOOK, np.linspace(0.1, 1.0, 101))
    assert scales.literal is None
    assert scales.taken is not None
    assert scales.taken.driest == pytest.approx(0.202)
    assert scales.taken.wetness(np.array([0.202, 0.301, 0.4])) == pytest.approx([0, 0.5, 1])


def test_zero_lies_below_driest_days_that_were_not_dry() -> None:
    """Where 0.202 was reckoned at half full, half as much again is missing to empty: 0.004."""
    scales = scales_of(THETA, LOOK, np.full(101, 0.5))
    assert scales.driest_days == pytest.approx(0.5)
    assert scales.literal is not None
    assert scales.literal.driest == pytest.approx(0.202)
    assert scales.taken is not None
    assert scales.taken.driest == pytest.approx(0.40 - 0.198 / 0.5)
    assert scales.taken.wetness(np.array([0.202])) == pytest.approx([0.5])


def test_a_record_that_is_never_dry_or_never_moves_has_no_scale() -> None:
    assert scales_of(THETA, LOOK, np.full(101, 0.81)).taken is None
    assert scales_of(np.full(50, 0.39), LOOK, np.full(50, 0.1)).taken is None


def test_a_lesser_soaking_is_looked_for_when_asked() -> None:
    assert look_after({5: 6}, {}, EVERY_DAY) is None
    found = look_after({5: 6}, {}, EVERY_DAY, LESSER_DRAINED_MM)
    assert found is not None
    assert found.row == 7
