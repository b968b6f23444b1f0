"""The weather as the steps drink it."""

from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.garden.entries import RainKind
from soakbook.garden.pages import Pages
from soakbook.garden.weather import WeatherDay
from soakbook.reckoning.physics.atmosphere import kc_max
from soakbook.reckoning.simulation.skies import Skies, Step, mean_temperature_c, skies_of
from tests.reckoning.gardens import PLANTED, at, pages, rain, weather

MORNING = PLANTED + timedelta(days=15)


def seen(book: Pages, morning: date = MORNING) -> Skies:
    found = skies_of(book, morning)
    assert found is not None
    return found


def rising() -> tuple[WeatherDay, ...]:
    """ET0 1, 2, 3 mm ... and 10, 11, 12 degC ... from day to day."""
    return tuple(
        WeatherDay(PLANTED + timedelta(days=n), 0.0, 1.0 + n, 5.0 + n, 15.0 + n, 10.0 + n)
        for n in range(15)
    )


def test_one_step_a_day_from_the_first_weather_to_the_day_before_the_morning() -> None:
    found = seen(pages(days=weather(days=40)))
    assert [step.day for step in found.steps] == [PLANTED + timedelta(days=n) for n in range(15)]
    assert found.ahead.day == MORNING
    assert found.measured_to == MORNING - timedelta(days=1)


def test_soil_warmth_is_the_mean_of_ten_days_todays_included() -> None:
    """10, 11 ... degC: the first day has itself, the third three days, the fifteenth the last ten."""
    steps = seen(pages(days=rising())).steps
    assert steps[0].soil_warmth_c == pytest.approx(10.0)
    assert steps[2].soil_warmth_c == pytest.approx(11.0)
    assert steps[14].soil_warmth_c == pytest.approx(np.mean(range(15, 25)))


def test_ahead_is_as_the_last_ten_days_without_rain() -> None:
    """ET0 6 to 15 mm, 15 to 24 degC."""
    found = seen(pages(days=rising()))
    for day in (MORNING, MORNING + timedelta(days=1), MORNING + timedelta(days=20)):
        step = found.on(day)
        assert (step.day, step.rain_mm, step.kc_max) == (day, 0.0, 1.20)
        assert step.et0_mm == pytest.approx(10.5)
        assert step.soil_warmth_c == pytest.approx(19.5)


def test_fewer_than_ten_days_are_averaged_as_they_are() -> None:
    found = seen(pages(days=rising()[:3]), PLANTED + timedelta(days=3))
    assert found.ahead.et0_mm == pytest.approx(2.0)


def test_a_missing_day_is_as_the_ten_before_and_named() -> None:
    days = [day for day in rising() if day.day != PLANTED + timedelta(days=12)]
    step = seen(pages(days=days)).steps[12]
    assert set(step.filled) == {"et0", "temperature", "rain"}
    assert step.et0_mm == pytest.approx(np.mean(range(3, 13)))
    assert step.soil_warmth_c == pytest.approx(np.mean([*range(13, 22), np.mean(range(12, 22))]))


def test_days_before_the_first_that_tells_the_airs_thirst_are_as_the_ten_after() -> None:
    """The first two lack it; ET0 3 to 12 mm follow."""
    bare = tuple(one._replace(et0_mm=None) for one in rising()[:2])
    found = seen(pages(days=bare + rising()[2:]))
    assert found.steps[0].et0_mm == pytest.approx(7.5)
    assert found.steps[0].filled == ("et0",)
    assert (
        skies_of(pages(days=tuple(one._replace(et0_mm=None) for one in rising())), MORNING) is None
    )


def test_only_what_is_missing_is_named() -> None:
    days = list(rising())
    days[3] = days[3]._replace(et0_mm=None)
    days[4] = days[4]._replace(rain_mm=None)
    days[5] = days[5]._replace(tmin_c=None, tmean_c=None)
    steps = seen(pages(days=days)).steps
    assert [step.filled for step in steps[2:7]] == [(), ("et0",), ("rain",), ("temperature",), ()]


def test_the_last_day_measured_is_one_with_reference_et() -> None:
    days = list(rising())
    days[14] = days[14]._replace(et0_mm=None)
    assert seen(pages(days=days)).measured_to == PLANTED + timedelta(days=13)


def test_the_mean_is_the_middle_of_the_extremes_where_there_is_none() -> None:
    assert mean_temperature_c(WeatherDay(PLANTED, tmin_c=4.0, tmax_c=14.0)) == 9.0
    assert mean_temperature_c(WeatherDay(PLANTED, tmin_c=4.0, tmax_c=14.0, tmean_c=8.0)) == 8.0
    assert mean_temperature_c(WeatherDay(PLANTED, tmin_c=4.0)) is None


def test_kc_max_by_wind_and_dryness_else_1_20() -> None:
    days = list(rising())
    days[0] = days[0]._replace(wind_2m_m_per_s=3.0, rhmin_percent=30.0)
    days[1] = days[1]._replace(wind_2m_m_per_s=3.0)
    steps = seen(pages(days=days)).steps
    assert steps[0].kc_max == pytest.approx(float(kc_max(3.0, 30.0)))
    assert steps[0].kc_max > 1.25
    assert steps[1].kc_max == 1.20


def test_no_weather_before_the_morning_is_no_sky() -> None:
    book = pages(days=weather(MORNING, 5))
    assert skies_of(book, MORNING) is None
    assert skies_of(book, MORNING + timedelta(days=1)) is not None


def rained(book: Pages, morning: date = MORNING) -> dict[date, float]:
    """Rain by step, the steps that had some."""
    found = seen(book, morning)
    return {
        step.day: round(step.rain_mm, 9) for step in (*found.steps, found.ahead) if step.rain_mm
    }


EVENING = PLANTED + timedelta(days=9)
NEXT = EVENING + timedelta(days=1)


def test_rain_after_five_belongs_to_the_next_days_step() -> None:
    wet_evening = rain(at(NEXT, 6, 30), 15.6, at(EVENING, 17))
    assert rained(pages(entries=[wet_evening])) == {NEXT: 15.6}


def test_a_reading_over_five_oclock_is_parted_by_hours() -> None:
    """From 15:00 to 21:00: two hours before, four after."""
    reading = rain(at(EVENING, 21), 6.0, at(EVENING, 15))
    assert rained(pages(entries=[reading])) == {EVENING: 2.0, NEXT: 4.0}


def test_a_daily_total_without_hours_stays_on_its_day() -> None:
    book = pages(days=weather(rain={EVENING: 7.0}))
    assert rained(book) == {EVENING: 7.0}


def test_a_gauge_owns_its_hours_and_a_total_is_not_added_to_it() -> None:
    """The station's 15.6 mm of the day are the gauge's own: in all 15.6, not 31.2."""
    wet_evening = rain(at(EVENING, 22), 15.6, at(EVENING, 18))
    assert rained(pages(entries=[wet_evening], days=weather(rain={EVENING: 15.6}))) == {NEXT: 15.6}


def test_what_fell_since_five_yesterday_is_the_mornings_own() -> None:
    reading = rain(at(MORNING, 6, 30), 9.0, at(MORNING - timedelta(days=1), 18))
    found = seen(pages(entries=[reading]))
    assert found.ahead.rain_mm == pytest.approx(9.0)
    assert found.on(MORNING + timedelta(days=1)).rain_mm == 0.0
    assert found.rain_lately_mm() == pytest.approx(9.0)


def test_what_fell_after_five_today_is_in_this_mornings_sky_until_tomorrow_has_one() -> None:
    """Asked for at nine in the evening the round must know of it; tomorrow's step drinks it."""
    reading = rain(at(MORNING, 20), 4.0, at(MORNING, 18))
    assert rained(pages(entries=[reading])) == {MORNING: 4.0}
    assert rained(pages(entries=[reading]), MORNING + timedelta(days=3)) == {
        MORNING + timedelta(days=1): 4.0
    }


UNSAID = np.array([4.0, 1.0, 30.0])


def step_with(kind: RainKind | None, hours: float) -> Step:
    began = at(EVENING, 18)
    reading = rain(began + timedelta(hours=hours), 10.0, began, kind=kind)
    found = seen(pages(entries=[reading], days=weather(days=10)))
    return found.on(NEXT)


@pytest.mark.parametrize(("kind", "hours"), [("gentle", 8.0), ("burst", 0.7)])
def test_gentle_is_eight_hours_and_a_burst_seven_tenths(kind: RainKind, hours: float) -> None:
    assert step_with(kind, 12).rain_hours(UNSAID) == pytest.approx(hours)


def test_hours_that_nobody_said_are_each_members_own_within_the_window() -> None:
    assert np.allclose(step_with(None, 12).rain_hours(UNSAID), [4.0, 1.0, 12.0])


def test_no_rain_lasts_longer_than_its_window() -> None:
    assert step_with("gentle", 3).rain_hours(UNSAID) == pytest.approx(3.0)
    assert step_with("burst", 0.5).rain_hours(UNSAID) == pytest.approx(0.5)


def test_a_total_without_a_window_lasts_as_long_as_each_member_thinks() -> None:
    found = seen(pages(days=weather(rain={EVENING: 7.0})))
    assert np.allclose(found.on(EVENING).rain_hours(UNSAID), UNSAID)


def test_two_rains_of_a_step_last_one_after_the_other() -> None:
    """A burst of the evening, and two hours of the night in which it rained gently."""
    first = rain(at(EVENING, 20), 8.0, at(EVENING, 18), kind="burst")
    second = rain(at(EVENING, 23), 3.0, at(EVENING, 21), kind="gentle")
    found = seen(pages(entries=[first, second]))
    assert found.on(NEXT).rain_mm == pytest.approx(11.0)
    assert found.on(NEXT).rain_hours(UNSAID) == pytest.approx(0.7 + 2.0)
