"""Published calendars: days and doses by hand; whole seasons of them are tested where truth compares them."""

import math

import numpy as np
import pytest

from soakbook.reckoning.advice.calendars import (
    PUBLISHED,
    UMN,
    Calendar,
    Rainfall,
    every,
    rained,
    umn_gap,
    visit_days,
)
from tests.reckoning.gardens import roses


def calendar(key: str) -> Calendar:
    return next(one for one in PUBLISHED if one.key == key)


def test_what_was_planted_before_the_first_row_goes_on_with_its_rhythm() -> None:
    """Planted ten days before: daily for four days yet, then every third."""
    from_planting = visit_days(umn_gap, 0, 60)
    assert visit_days(umn_gap, -10, 50).tolist() == from_planting[10:].tolist()
    assert np.flatnonzero(visit_days(umn_gap, -10, 15)).tolist() == [0, 1, 2, 3, 4, 7, 10, 13]


def test_it_ends_when_it_says() -> None:
    assert np.flatnonzero(visit_days(every(4), 2, 30, ends_after=12)).tolist() == [6, 10, 14]


@pytest.mark.parametrize(
    ("key", "litres"),
    [
        ("umn", 0.29 * 5.0),
        ("uf", 0.29 * 5.0),
        ("councils", 2.5 * math.pi * 0.11**2 * 50),
        ("wardens", 2.5 * math.pi * 0.11**2 * 25),
        ("none", 0.0),
    ],
)
def test_what_a_rose_of_5_litres_22_cm_across_is_given(key: str, litres: float) -> None:
    assert calendar(key).litres(roses()) == pytest.approx(litres)


@pytest.mark.parametrize(("key", "litres"), [("umn", 2.5), ("councils", 2.5), ("wardens", 1.25)])
def test_bare_roots_are_given_what_puddled_them_in(key: str, litres: float) -> None:
    whips = roses(origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0)
    assert calendar(key).litres(whips) == litres


def test_rain_of_today_is_not_known_yet() -> None:
    rain_mm = np.array([0.0, 30.0, 0.0, 0.0, 0.0])
    assert rained(rain_mm, Rainfall(25, 2)).tolist() == [False, False, True, True, False]
    assert not rained(rain_mm, UMN.leaves_off).any()
