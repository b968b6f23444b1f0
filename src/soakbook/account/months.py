"""The frame of months: weather by calendar days, and the litres of the frame of days, by calendar month."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from soakbook.account.season import Span
from soakbook.garden.fallen_days import fallen_of
from soakbook.garden.pages import Pages

MONTH_COLUMNS: Mapping[str, str] = {
    "month": "first day of the month",
    "rain_mm": "rain in the open on the month's days, as far as it is known [mm]",
    "rain_unknown_days": "days whose rain is not known",
    "et0_mm": "reference evapotranspiration, as far as it is known [mm]",
    "et0_unknown_days": "days whose reference evapotranspiration is not known",
    "highest_c": "highest temperature of the month [degC]",
    "lowest_c": "lowest temperature of the month [degC]",
    "visits": "visits on which a bed was watered",
    "litres": "given by hand, as entered [L]",
    "minutes_on_foot": "minutes of watering, on foot, as reckoned from flow and walk [min]",
    "rain_l": "rain on the plants' ground [L]",
    "drunk_l": "drunk by the plants [L]",
    "soil_evaporated_l": "dried off the soil [L]",
    "mulch_evaporated_l": "dried off the mulch [L]",
    "drained_l": "drained past the roots' bed [L]",
    "run_off_l": "run off [L]",
    "given_lost_l": "lost in giving [L]",
}
"""Columns of the frame. The litres that are reckoned go by steps, from 17:00 to 17:00."""

GIVEN = ["visits", "litres", "minutes_on_foot"]

SUMMED = (
    "rain_l",
    "drunk_l",
    "soil_evaporated_l",
    "mulch_evaporated_l",
    "drained_l",
    "run_off_l",
    "given_lost_l",
)


def weather_frame(pages: Pages, span: Span) -> pd.DataFrame:
    """One row per calendar day of a span: rain in the open, ET0, extremes; not a number where they are not known.

    Parameters
    ----------
    pages : Pages
    span : Span
    """
    zone = ZoneInfo(pages.garden.timezone)
    morning = datetime.combine(span.asked, pages.garden.round_hour, zone)
    fallen = fallen_of(pages, morning).by_day(span.first)
    seen = {one.day: one for one in pages.weather}
    calendar = [span.first + timedelta(days=number) for number in range(span.days)]

    def known(day: date, name: str) -> float:
        one = seen.get(day)
        value = None if one is None else getattr(one, name)
        if value is None or (one is not None and _is_forecast(one.sources, name)):
            return np.nan
        return float(value)

    return pd.DataFrame(
        {
            "day": pd.DatetimeIndex(pd.to_datetime(calendar), dtype="datetime64[ns]"),
            "rain_mm": [fallen.get(day, np.nan) for day in calendar],
            **{
                name: [known(day, name) for day in calendar]
                for name in ("et0_mm", "tmax_c", "tmin_c")
            },
        }
    )


def _is_forecast(sources: Mapping[str, tuple[str, str, str]], name: str) -> bool:
    """A forecast that went by is nobody's knowledge."""
    return sources.get(name, ("", "", ""))[1] == "forecast"


def months_frame(
    weather: pd.DataFrame, days: pd.DataFrame, visits: pd.DataFrame, stood: NDArray[np.bool_]
) -> pd.DataFrame:
    """One row per calendar month, from the first with weather, a visit or a planting to the last.

    Parameters
    ----------
    weather : DataFrame
        As `weather_frame` gives it.
    days : DataFrame
        As `days_frame` gives it.
    visits : DataFrame
        As `visits_frame` gives it.
    stood : ndarray of bool, shape (day,)
        On which days of the weather a plant stood, reckoned or not.
    """
    seen = weather.groupby(_month(weather["day"]))
    table = pd.DataFrame(
        {
            "rain_mm": seen["rain_mm"].sum(),
            "rain_unknown_days": seen["rain_mm"].agg(lambda of_month: int(of_month.isna().sum())),
            "et0_mm": seen["et0_mm"].sum(),
            "et0_unknown_days": seen["et0_mm"].agg(lambda of_month: int(of_month.isna().sum())),
            "highest_c": seen["tmax_c"].max(),
            "lowest_c": seen["tmin_c"].min(),
        }
    )
    watered = visits[visits["what"] == "watered"]
    given = watered.assign(visits=1).groupby(_month(watered["day"]))[GIVEN].sum()
    reckoned = days.groupby(_month(days["day"]))[list(SUMMED)].sum()
    table = table.join([given, reckoned], how="left")
    counts = [*GIVEN, *SUMMED]
    table[counts] = table[counts].fillna(0.0)
    table["visits"] = table["visits"].astype("int64")
    table.index.name = "month"
    known = seen[["rain_mm", "et0_mm"]].count().sum(axis=1)
    planted = _month(weather.loc[stood, "day"]).unique()
    told = (known > 0) | (table["visits"] > 0) | table.index.isin(planted)
    told_of = table.index[told]
    table = table.loc[told_of.min() : told_of.max()] if len(told_of) else table.iloc[:0]
    return table.reset_index()[list(MONTH_COLUMNS)]


def _month(day: "pd.Series[pd.Timestamp]") -> "pd.Series[pd.Timestamp]":
    """The first day of each day's month."""
    return day - pd.to_timedelta(day.dt.day - 1, unit="D")
