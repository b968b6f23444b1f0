"""Monthly sums against sums that pandas makes of the specimen's own text, which knows nothing of a book."""

from datetime import date, timedelta

import numpy as np
import pandas as pd
import pytest

from soakbook.account.months import weather_frame
from soakbook.account.reviewed import Account
from soakbook.account.season import Span
from tests.properties.followed import SPECIMEN
from tests.reckoning.gardens import PLANTED, at, pages, rain, roses, weather

SOURCE = SPECIMEN.parent / "source"


def text(name: str) -> pd.DataFrame:
    return pd.read_csv(SOURCE / name)


def by_month(values: pd.Series, days: pd.Series) -> pd.Series:
    return values.groupby(days.str[:7]).sum()


def of(account: Account, column: str) -> pd.Series:
    months = account.months
    return pd.Series(months[column].to_numpy(), index=months["month"].dt.strftime("%Y-%m"))


def assert_same(found: pd.Series, wanted: pd.Series, atol: float = 1e-9) -> None:
    wanted = wanted.reindex(found.index, fill_value=0.0)
    assert np.allclose(found, wanted, rtol=0, atol=atol), (found, wanted)
    assert wanted.sum() > 0


def test_litres_and_visits_by_month(reviewed_specimen: Account) -> None:
    soaks = text("entries.csv").query("what == 'soak'")
    assert_same(of(reviewed_specimen, "litres"), by_month(soaks["number"], soaks["happened"]))
    day = soaks["happened"].str[:10]
    visits = soaks.groupby([day, soaks["bed"], soaks["by"]]).size().reset_index(name="soaks")
    assert_same(of(reviewed_specimen, "visits"), visits.groupby(visits["happened"].str[:7]).size())


def test_rain_by_month(reviewed_specimen: Account) -> None:
    sky = text("weather.csv")
    assert_same(of(reviewed_specimen, "rain_mm"), by_month(sky["rain_mm"], sky["date"]))
    assert (of(reviewed_specimen, "rain_unknown_days")["2031-02":] == 0).all()


def test_what_the_air_asked_for_by_month(reviewed_specimen: Account) -> None:
    """The text has ET0 by another program to 0.01 mm: a month's sum of ours lies within 3 per cent of it."""
    sky = text("weather.csv")
    printed = by_month(sky["eto_mm"], sky["date"])
    found = of(reviewed_specimen, "et0_mm").reindex(printed.index)
    assert np.abs(found / printed - 1).max() < 0.03


def test_the_heat_and_cold_of_a_month(reviewed_specimen: Account) -> None:
    sky = text("weather.csv")
    month = sky["date"].str[:7]
    months = of(reviewed_specimen, "highest_c").index
    for column, extremes in (
        ("highest_c", sky["tmax_c"].groupby(month).max()),
        ("lowest_c", sky["tmin_c"].groupby(month).min()),
    ):
        inside = [one for one in months if one in extremes.index and one != "2031-01"]
        assert np.allclose(of(reviewed_specimen, column)[inside], extremes[inside])


def test_by_season_the_litres_are_those_of_the_text(reviewed_specimen: Account) -> None:
    soaks = text("entries.csv").query("what == 'soak'")
    beds = reviewed_specimen.beds.set_index("bed")["litres"]
    assert beds.to_dict() == pytest.approx(soaks.groupby("bed")["number"].sum().to_dict())


def test_a_gauge_read_on_the_morning_tells_of_the_day_before() -> None:
    """8.1 mm from midnight to 6:30 of the next day, of whose 30.5 hours 24 are the day before's."""
    asked = PLANTED + timedelta(days=5)
    before = asked - timedelta(days=1)
    days = tuple(one for one in weather() if one.day < before)
    whole = rain(at(asked, 6, 30), 8.1, at(before, 0, 0))
    found = weather_frame(
        pages([roses()], [whole], days=days), Span(2031, PLANTED, before, closed=False)
    )["rain_mm"]
    assert found.iloc[-1] == pytest.approx(8.1 * 24 / 30.5)
    assert found.iloc[:-1].tolist() == [0.0] * 4


def test_a_day_without_rain_known_is_no_dry_one() -> None:
    days = tuple(one._replace(rain_mm=None) if one.day.day == 3 else one for one in weather(days=5))
    found = weather_frame(pages(days=days), Span(2031, PLANTED, date(2031, 5, 6), closed=False))
    assert found["rain_mm"].isna().tolist() == [False, False, True, False, False, True]
    assert found["et0_mm"].isna().tolist() == [False] * 5 + [True]
