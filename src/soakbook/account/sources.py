"""The frame `sources`: where the water came from, month by month, and what it cost."""

from collections import defaultdict
from typing import TYPE_CHECKING

from soakbook.account.columns import SOURCES
from soakbook.account.visit_record import MAINS

if TYPE_CHECKING:
    import pandas as pd


def sources_frame(visits: "pd.DataFrame") -> "pd.DataFrame":
    """Water by month and source, with the columns of `columns.SOURCES`.

    Parameters
    ----------
    visits : DataFrame
        The frame `visits`, or some rows of it.
    """
    import pandas as pd

    watered = visits[visits["what"] == "watered"]
    months = watered["day"].dt.to_period("M").dt.to_timestamp()
    mains = watered["source"] == MAINS
    rows = pd.DataFrame(
        {
            "month": months,
            "source": watered["source"],
            "currency": _currencies(watered, months),
            "litres": watered["litres"],
            "visits": 1,
            "minutes": watered["minutes"],
            "price": watered["water_price_per_m3"],
            "water_cost": watered["water_cost"],
            "unpriced_l": watered["litres"].where(mains & watered["water_cost"].isna(), 0.0),
        }
    )
    grouped = rows.groupby(["month", "source", "currency"], sort=True)
    found = grouped[["litres", "visits", "unpriced_l"]].sum()
    found["minutes"] = grouped["minutes"].sum(min_count=1)
    found["water_cost"] = grouped["water_cost"].sum(min_count=1)
    prices = grouped["price"]
    same = (prices.nunique(dropna=False) == 1) & (prices.count() > 0)
    found["water_price_per_m3"] = prices.first().where(same)
    return found.reset_index()[list(SOURCES)]


def _currencies(watered: "pd.DataFrame", months: "pd.Series[pd.Timestamp]") -> list[str]:
    """Each visit's currency; mains water that had no price yet goes with the month's, if that is one."""
    of_month: dict[object, set[str]] = defaultdict(set)
    for month, currency in zip(months, watered["currency"], strict=True):
        of_month[month] |= {currency} - {""}
    return [
        next(iter(of_month[month]))
        if source == MAINS and not currency and len(of_month[month]) == 1
        else currency
        for month, source, currency in zip(
            months, watered["source"], watered["currency"], strict=True
        )
    ]
