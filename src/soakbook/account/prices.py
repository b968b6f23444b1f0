"""What a cubic metre of water and an hour of work cost on a day, and sums of money by currency.

Prices stand in the book from a day on and change in mid-season. Before the first of them nothing has a price, which is
not the same as costing nothing. Amounts of two currencies are never added.
"""

import math
from collections.abc import Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING, Literal, NamedTuple

from soakbook.garden.records import Rate

if TYPE_CHECKING:
    import pandas as pd

LITRES_A_M3 = 1000.0
MINUTES_AN_HOUR = 60.0


class Cost(NamedTuple):
    """An amount of money; NaN and no currency where the book has no price."""

    amount: float
    currency: str


NO_PRICE = Cost(math.nan, "")


def rate_on(rates: Iterable[Rate], what: Literal["water", "hour"], day: date) -> Rate | None:
    """The price in force on a day: the one that began last by then; None before the first.

    Of two that begin on one day the one written later holds, as they come in the order they were written.
    """
    begun = [one for one in rates if one.what == what and one.from_day <= day]
    return max(reversed(begun), key=lambda one: one.from_day, default=None)


def cost_of_water(litres: float, rate: Rate | None) -> Cost:
    """What so many litres of mains water cost.

    Parameters
    ----------
    litres : float
        [L, >= 0]
    rate : Rate or None
        Of a cubic metre, on the day of the visit.
    """
    return NO_PRICE if rate is None else Cost(litres / LITRES_A_M3 * rate.price, rate.currency)


def cost_of_work(minutes_on_foot: float, rate: Rate | None) -> Cost:
    """What so many minutes of somebody's time cost.

    Parameters
    ----------
    minutes_on_foot : float
        [min, >= 0]
    rate : Rate or None
        Of an hour, on the day of the visit.
    """
    if rate is None:
        return NO_PRICE
    return Cost(minutes_on_foot / MINUTES_AN_HOUR * rate.price, rate.currency)


def money_by_currency(visits: "pd.DataFrame") -> dict[str, tuple[float, float]]:
    """Cost of water and of work of some visits, for each currency there is.

    Parameters
    ----------
    visits : DataFrame
        Rows of the frame `visits`.
    """
    found: dict[str, tuple[float, float]] = {}
    for currency in sorted({*visits["currency"], *visits["work_currency"]} - {""}):
        water = _sum(visits["water_cost"], visits["currency"] == currency)
        work = _sum(visits["work_cost"], visits["work_currency"] == currency)
        found[currency] = (water, work)
    return found


def _sum(costs: "pd.Series[float]", of_it: "pd.Series[bool]") -> float:
    values: Sequence[float] = costs[of_it].dropna().tolist()
    return math.fsum(values)
