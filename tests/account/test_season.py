"""Which days a season's account covers."""

from datetime import date

import pytest

from soakbook.account.season import Span, bounds_of, season_year, span_of
from soakbook.errors import InputError
from soakbook.garden.records import Garden
from tests.reckoning.gardens import garden

NORTH, SOUTH = garden(), garden(latitude_deg=-37.8, timezone="Australia/Melbourne")


def test_in_the_north_it_is_the_year() -> None:
    assert span_of(NORTH, 2031, date(2032, 3, 1)) == Span(
        2031, date(2031, 1, 1), date(2031, 12, 31), closed=True
    )
    assert span_of(NORTH, 2031, date(2032, 3, 1)).name == "2031"


def test_in_the_south_it_runs_over_the_new_year() -> None:
    whole = span_of(SOUTH, 2031, date(2033, 1, 1))
    assert whole == Span(2031, date(2031, 7, 1), date(2032, 6, 30), closed=True)
    assert (whole.name, whole.days) == ("2031/32", 366)
    assert span_of(SOUTH, 2099, date(2101, 1, 1)).name == "2099/00"


@pytest.mark.parametrize(
    ("of", "asked", "closed"),
    [
        (NORTH, date(2031, 10, 31), False),
        (NORTH, date(2031, 11, 1), True),
        (SOUTH, date(2032, 4, 30), False),
        (SOUTH, date(2032, 5, 1), True),
    ],
)
def test_it_closes_when_nothing_wants_water_by_hand(of: Garden, asked: date, closed: bool) -> None:
    assert span_of(of, 2031, asked).closed is closed
    assert span_of(of, 2031, asked).asked == asked


@pytest.mark.parametrize(("year", "days"), [(2032, 366), (2031, 365), (2100, 365), (2000, 366)])
def test_a_leap_year_has_its_day(year: int, days: int) -> None:
    assert span_of(NORTH, year, date(year + 1, 1, 1)).days == days


def test_on_its_first_day_there_is_nothing_to_tell() -> None:
    for of, first in ((NORTH, date(2031, 1, 1)), (SOUTH, date(2031, 7, 1))):
        with pytest.raises(InputError, match=f"that of 2031 begins on {first}"):
            span_of(of, 2031, first)
        assert span_of(of, 2031, first.replace(day=2)).days == 1


@pytest.mark.parametrize("year", [0, -1, 1899, 2200, 99999])
def test_a_year_that_no_garden_is_kept_in_is_refused(year: int) -> None:
    with pytest.raises(InputError, match="a year from 1900 to 2199, as 2031") as refused:
        bounds_of(NORTH, year)
    assert (refused.value.field, refused.value.value) == ("year", year)


@pytest.mark.parametrize(
    ("of", "day", "year"),
    [
        (NORTH, date(2031, 1, 1), 2031),
        (NORTH, date(2031, 12, 31), 2031),
        (SOUTH, date(2031, 6, 30), 2030),
        (SOUTH, date(2031, 7, 1), 2031),
        (SOUTH, date(2032, 2, 29), 2031),
    ],
)
def test_a_day_belongs_to_one_season(of: Garden, day: date, year: int) -> None:
    assert season_year(of, day) == year
    first, last = bounds_of(of, year)
    assert first <= day <= last
