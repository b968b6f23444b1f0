"""Leaf-out and leaf-fall, north and south, entered and reckoned."""

from datetime import date, timedelta

import pytest

from soakbook.garden.records import Planting
from soakbook.garden.weather import WeatherDay
from soakbook.reckoning.simulation.leaf import (
    LeafDays,
    in_leaf,
    last_leaf_fall,
    leaf_days,
    leaf_fraction,
)
from soakbook.reckoning.simulation.skies import Skies, skies_of
from tests.reckoning.gardens import pages, roses


def skies(first: date, days: int, tmean_c: float, frosts: tuple[date, ...] = ()) -> Skies:
    """Days alike but for nights of frost."""
    every = [first + timedelta(days=n) for n in range(days)]
    seen = [
        WeatherDay(day, 0.0, 1.0, -0.1 if day in frosts else 0.0, 12.0, tmean_c) for day in every
    ]
    found = skies_of(pages(days=seen), first + timedelta(days=days))
    assert found is not None
    return found


def north(first: date, days: int, tmean_c: float, *frosts: date) -> LeafDays:
    return leaf_days(skies(first, days, tmean_c, frosts), southern=False)


def south(first: date, days: int, tmean_c: float, *frosts: date) -> LeafDays:
    return leaf_days(skies(first, days, tmean_c, frosts), southern=True)


def test_leaf_is_out_after_twelve_warm_days_from_1_february() -> None:
    """At 9 degC a day is a quarter of a warm day: 48 days, so bare to 20 March and in leaf from the 21st."""
    days = north(date(2031, 1, 1), 100, 9.0)
    assert days.of(date(2031, 3, 1))[0] == date(2031, 3, 21)


def test_warm_days_before_february_do_not_count_and_none_does_below_6_degrees() -> None:
    assert north(date(2031, 1, 1), 60, 18.0).of(date(2031, 2, 20))[0] == date(2031, 2, 13)
    assert north(date(2031, 1, 1), 200, 6.0).of(date(2031, 2, 20))[0] == date(2031, 5, 15)


def test_weather_that_begins_after_1_february_does_not_keep_a_plant_bare_into_may() -> None:
    """A garden begun on 1 May: its roses are in leaf, however few warm days the book has counted."""
    assert north(date(2031, 5, 1), 10, 16.0).of(date(2031, 5, 5))[0] == date(2031, 4, 20)
    assert north(date(2031, 3, 1), 60, 18.0).of(date(2031, 3, 2))[0] == date(2031, 3, 13)
    assert south(date(2031, 11, 1), 10, 16.0).of(date(2031, 11, 5))[0] == date(2031, 10, 20)


def test_leaf_falls_after_the_third_night_below_nothing_from_october() -> None:
    """A frost in September does not count; nor a night of exactly 0."""
    frosts = (
        date(2031, 9, 28),
        date(2031, 10, 4),
        date(2031, 10, 9),
        date(2031, 10, 20),
        date(2031, 11, 2),
    )
    days = north(date(2031, 9, 1), 90, 9.0, *frosts)
    assert days.of(date(2031, 10, 1))[1] == date(2031, 10, 21)


def test_at_the_latest_leaf_falls_on_15_november() -> None:
    assert north(date(2031, 9, 1), 90, 9.0).of(date(2031, 10, 1))[1] == date(2031, 11, 15)
    late = north(
        date(2031, 9, 1), 90, 9.0, date(2031, 11, 12), date(2031, 11, 13), date(2031, 11, 16)
    )
    assert late.of(date(2031, 10, 1))[1] == date(2031, 11, 15)


def test_in_the_south_all_dates_shift_by_six_months() -> None:
    """From 1 August at 9 degC: 48 days to 17 September; three frosts from 1 April, at the latest 15 May."""
    days = south(date(2031, 7, 1), 330, 9.0, date(2032, 4, 2), date(2032, 4, 3), date(2032, 5, 1))
    assert days.of(date(2031, 8, 1)) == (date(2031, 9, 18), date(2032, 5, 2))
    assert days.of(date(2032, 4, 1)) == days.of(date(2031, 8, 1))
    assert south(date(2031, 7, 1), 330, 9.0).of(date(2031, 12, 1))[1] == date(2032, 5, 15)
    assert days.of(date(2032, 7, 1))[0] > date(2032, 7, 1)


@pytest.mark.parametrize("southern", [False, True])
def test_every_day_of_the_weather_and_ahead_has_its_growing_year(southern: bool) -> None:
    seen = skies(date(2030, 11, 1), 420, 9.0)
    days = leaf_days(seen, southern)
    for offset in range(420 + 61):
        out, fall = days.of(date(2030, 11, 1) + timedelta(days=offset))
        assert out < fall


def test_the_last_leaf_fall_is_this_years_or_the_one_before() -> None:
    days = north(
        date(2030, 9, 1), 200, 9.0, date(2030, 10, 4), date(2030, 10, 5), date(2030, 10, 9)
    )
    assert last_leaf_fall(roses(), date(2030, 10, 9), days) is None
    for day in (date(2030, 10, 10), date(2030, 12, 31), date(2031, 1, 1), date(2031, 6, 1)):
        assert last_leaf_fall(roses(), day, days) == date(2030, 10, 10)
    said = roses(leaf_fall_on=date(2030, 9, 20))
    assert last_leaf_fall(said, date(2030, 9, 20), days) == date(2030, 9, 20)


def test_bare_wood_drinks_a_fifth_and_other_plants_do_not_know_bareness() -> None:
    days = north(date(2031, 1, 1), 100, 9.0)
    winter, spring = date(2031, 3, 20), date(2031, 3, 21)
    assert leaf_fraction(roses(), winter, days) == 0.2
    assert leaf_fraction(roses(), spring, days) == 1.0
    assert leaf_fraction(roses(leaf="evergreen"), winter, days) == 1.0
    asters = roses(plant_class="perennial", leaf="dies_down")
    assert leaf_fraction(asters, winter, days) == 1.0


def entered(out: date | None = None, fall: date | None = None) -> Planting:
    return roses(planted_on=date(2030, 11, 1), leaf_out_on=out, leaf_fall_on=fall)


def test_entered_dates_come_before_the_reckoned_ones() -> None:
    days = north(date(2031, 1, 1), 100, 9.0)
    early = entered(date(2031, 3, 2), date(2031, 9, 30))
    assert not in_leaf(early, date(2031, 3, 1), days)
    assert in_leaf(early, date(2031, 3, 2), days)
    assert not in_leaf(early, date(2031, 9, 30), days)


def test_an_entered_date_is_that_of_its_own_year_only() -> None:
    """A leaf-out of 2031 does not clothe the plant in January 2032, nor a leaf-fall of 2031 bare it in June."""
    days = north(date(2031, 1, 1), 700, 9.0)
    planted = entered(date(2031, 4, 2), date(2031, 10, 30))
    assert not in_leaf(planted, date(2032, 1, 10), days)
    assert in_leaf(planted, date(2032, 6, 1), days)
    assert not in_leaf(entered(date(2032, 4, 2)), date(2031, 2, 1), days)
    assert in_leaf(entered(date(2032, 4, 2)), date(2031, 6, 1), days)
