"""The longest time without useful rain."""

from datetime import date

import pandas as pd
import pytest

from soakbook.account.spells import DryTime, driest

FIRST = date(2031, 5, 1)


def sky(*rain_mm: float | None) -> pd.DataFrame:
    days = pd.date_range(FIRST, periods=len(rain_mm))
    return pd.DataFrame({"day": days, "rain_mm": pd.Series(rain_mm, dtype="float64")})


def test_it_is_the_longest_run_and_what_fell_in_it() -> None:
    """12 dry days with 1.5 mm, a wet day, 10 dry ones."""
    found = driest(sky(*[0.0] * 5, 1.5, *[0.0] * 6, 20.0, *[0.0] * 10))
    assert found == DryTime(FIRST, date(2031, 5, 12), 1.5)


def test_a_day_that_is_not_known_is_not_taken_for_dry() -> None:
    assert driest(sky(*[0.0] * 9, None, *[0.0] * 9)) is None
    assert driest(sky(*[0.0] * 9, None, *[0.0] * 10)) == DryTime(
        date(2031, 5, 11), date(2031, 5, 20), 0.0
    )


@pytest.mark.parametrize("days", [0, 1, 9])
def test_what_is_short_is_not_worth_saying(days: int) -> None:
    assert driest(sky(*[0.0] * days)) is None


def test_useful_rain_may_come_in_two_days() -> None:
    """2.5 and 2.6 mm make the 5 that are useful; 2.4 and 2.4 do not."""
    cut = driest(sky(*[0.0] * 10, 2.5, 2.6, *[0.0] * 12))
    assert cut == DryTime(date(2031, 5, 13), date(2031, 5, 24), 0.0)
    whole = driest(sky(*[0.0] * 10, 2.4, 2.4, *[0.0] * 11))
    assert whole is not None
    assert whole.first == FIRST
    assert whole.rain_mm == pytest.approx(4.8)


def test_no_weather_has_no_dry_time() -> None:
    assert driest(sky()) is None
    assert driest(sky(*[None] * 30)) is None
