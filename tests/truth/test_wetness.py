"""The look that pins full, the scale of wetness, and the hand."""

from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.truth.bucket import Course, Forcing
from soakbook.truth.wetness import Look, felt_class, hand_errors, scale_of, soaked_look

DAYS = [date(2015, 4, 1) + timedelta(days=n) for n in range(20)]


def look_after(
    drained: dict[int, float], rain: dict[int, float], measured: list[int]
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
    return soaked_look(forcing, course, DAYS, np.full(20, 0.4), compared)


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


def test_the_scale() -> None:
    look = Look(0, DAYS[0], 0.39, 0.40)
    theta, reckoned = np.linspace(0.2, 0.4, 101), np.linspace(0.1, 1.0, 101)
    scale = scale_of(theta, look, reckoned)
    assert scale is not None
    assert scale.driest == pytest.approx(0.202)
    assert scale.wetness(np.array([0.202, 0.301, 0.4])) == pytest.approx([0, 0.5, 1])
    assert scale_of(theta, look, np.linspace(0.6, 1.0, 101)) is None
    assert scale_of(np.full(50, 0.39), look, reckoned[:50]) is None
    assert scale_of(theta, None, reckoned) is None


@pytest.mark.parametrize(
    ("wetness", "felt"),
    [(-0.3, "dust"), (0.19, "dust"), (0.2, "dry"), (0.5, "moist"), (0.85, "wet"), (1.1, "sour")],
)
def test_classes_of_wetness(wetness: float, felt: str) -> None:
    assert felt_class(wetness) == felt


def test_hands_err_by_0_12_each_in_its_own_way() -> None:
    days = [date(2015, 1, 1) + timedelta(days=n) for n in range(2000)]
    one, other = hand_errors("one", days), hand_errors("other", days)
    assert one.std() == pytest.approx(0.12, rel=0.05)
    assert abs(np.corrcoef(one, other)[0, 1]) < 0.1
    assert np.array_equal(one[10:20], hand_errors("one", days[10:20]))
