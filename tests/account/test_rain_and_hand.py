"""Rain as the account has it: told apart from what was thrown over the mulch, and by a gauge read on the morning."""

from datetime import date, timedelta
from pathlib import Path

import pandas as pd
import pytest

from soakbook.account.days import days_frame
from soakbook.account.reviewed import account_of
from soakbook.account.season import Span
from soakbook.garden.entries import AnyEntry
from soakbook.reckoning.advice.course import course_of
from soakbook.services import entries
from tests.account.adding_up import adds_up
from tests.reckoning.gardens import PLANTED, at, pages, roses, season, soak, weather
from tests.services.looking import at as moment

DAY = PLANTED + timedelta(days=4)


def into_soil_mm(*told: AnyEntry, rain_mm: float) -> pd.Series:
    """Rain that came through to the soil of ten roses on a square metre each, by day."""
    book = pages([roses()], told, days=weather(rain={DAY: rain_mm}))
    until = PLANTED + timedelta(days=9)
    course = course_of(season(book, until + timedelta(days=1)), PLANTED)
    days = days_frame(course, Span(2031, PLANTED, until, closed=False))
    return days.set_index("day")["into_soil_mm"]


def test_what_was_thrown_over_the_mulch_is_no_rain() -> None:
    """4 mm of rain; on the same day, and on a dry one, 60 L are thrown."""
    thrown = [soak(at(day, 9), 60.0, method="broadcast") for day in (DAY, DAY + timedelta(days=2))]
    alone, with_water = into_soil_mm(rain_mm=4.0), into_soil_mm(*thrown, rain_mm=4.0)
    assert alone.sum() == alone.loc[str(DAY)] == pytest.approx(4.0)
    assert with_water.loc[str(DAY)] == pytest.approx(4.0)
    assert with_water.sum() == pytest.approx(4.0)


def test_a_soak_at_the_ball_leaves_the_rain_as_it_is() -> None:
    aimed = soak(at(DAY, 9), 60.0)
    assert into_soil_mm(aimed, rain_mm=4.0).equals(into_soil_mm(rain_mm=4.0))


def test_a_gauge_read_by_the_round_hour_tells_of_the_day_before(garden: Path) -> None:
    """13.5 mm from 17:00 on the 14th to 6:30, half an hour before the round; asked on the 15th and on the 14th."""
    dry = account_of(garden, 2031, date(2031, 5, 15))
    entries.rain(garden, "13.5mm", from_="2031-05-14 17:00", now=moment(5, 15, 6, 30))
    wet = account_of(garden, 2031, date(2031, 5, 15))
    adds_up(wet)
    assert dry.weather["rain_mm"].iloc[-1] == 0.0
    assert wet.weather["rain_mm"].iloc[-1] == pytest.approx(7.0)
    assert wet.days["rain_l"].sum() == dry.days["rain_l"].sum()
    before = account_of(garden, 2031, date(2031, 5, 14))
    assert before.weather["rain_mm"].iloc[-1] == 0.0


def test_one_read_later_is_the_next_accounts(garden: Path) -> None:
    entries.rain(garden, "13.5mm", from_="2031-05-14 17:00", now=moment(5, 15, 8))
    account = account_of(garden, 2031, date(2031, 5, 15))
    assert account.weather["rain_mm"].iloc[-1] == 0.0
    tomorrow = account_of(garden, 2031, date(2031, 5, 16))
    adds_up(tomorrow)
    assert tomorrow.weather["rain_mm"].iloc[-2] == pytest.approx(13.5 * 7 / 15)
    assert tomorrow.days.loc[tomorrow.days["day"] == "2031-05-15", "rain_l"].sum() > 0
