"""Prices from a day on, and sums kept apart by currency."""

import math
from datetime import date
from typing import Literal

import pandas as pd
import pytest

from soakbook.account.prices import (
    NO_PRICE,
    Cost,
    cost_of_water,
    cost_of_work,
    money_by_currency,
    rate_on,
)
from soakbook.garden.records import Rate

What = Literal["water", "hour"]


def rate(day: date, price: float, what: What = "water", currency: str = "GBP") -> Rate:
    return Rate(f"{what} {day} {price}", day, what, price, currency)


APRIL, JULY = date(2031, 4, 1), date(2031, 7, 1)
RATES = (rate(JULY, 5.2), rate(APRIL, 4.0), rate(APRIL, 14.0, "hour"))


@pytest.mark.parametrize(
    ("day", "price"),
    [
        (date(2031, 3, 31), None),
        (APRIL, 4.0),
        (date(2031, 6, 30), 4.0),
        (JULY, 5.2),
        (date(2040, 1, 1), 5.2),
    ],
)
def test_the_price_in_force_is_the_last_that_began(day: date, price: float | None) -> None:
    found = rate_on(RATES, "water", day)
    assert (found and found.price) == price


def test_of_two_of_one_day_the_later_written_holds() -> None:
    found = rate_on((rate(APRIL, 4.0), rate(APRIL, 4.4)), "water", JULY)
    assert found is not None
    assert found.price == 4.4


def test_without_a_price_the_cost_is_not_known_and_not_nothing() -> None:
    assert cost_of_water(100.0, None) is NO_PRICE
    assert math.isnan(cost_of_work(60.0, None).amount)


def test_a_cubic_metre_and_an_hour() -> None:
    assert cost_of_water(1500.0, rate(APRIL, 4.0)) == Cost(6.0, "GBP")
    assert cost_of_work(90.0, rate(APRIL, 14.0, "hour", "EUR")) == Cost(21.0, "EUR")


def test_currencies_are_never_added() -> None:
    visits = pd.DataFrame(
        {
            "water_cost": [1.0, 2.0, math.nan, 0.0],
            "currency": ["GBP", "EUR", "", ""],
            "work_cost": [10.0, 20.0, 30.0, math.nan],
            "work_currency": ["GBP", "GBP", "CHF", ""],
        }
    )
    assert money_by_currency(visits) == {"CHF": (0.0, 30.0), "EUR": (2.0, 0.0), "GBP": (1.0, 30.0)}
