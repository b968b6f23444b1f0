"""Short gaps filled, long ones left; rain read at breakfast brought to calendar days."""

from datetime import date
from pathlib import Path

import pandas as pd
import pytest

from soakbook.weather.gaps import Days, every_day, fill_short_gaps, rain_on_calendar_days
from soakbook.weather.reference_et import DayInputs, Site, reference_et

DATA = Path(__file__).parents[2] / "data"


def april(day: int) -> date:
    return date(2031, 4, day)


def test_every_day_has_both_ends() -> None:
    assert every_day(april(3), april(5)) == [april(3), april(4), april(5)]


def test_up_to_three_days_become_the_mean_of_their_neighbours_but_not_their_rain() -> None:
    days: Days = {
        april(1): {"tmin_c": 2.0, "tmax_c": 10.0, "wind_2m_m_per_s": 3.0, "rain_mm": 8.0},
        april(5): {"tmin_c": 4.0, "tmax_c": 14.0, "rh_mean_percent": 80.0, "rain_mm": 2.0},
    }
    filled = fill_short_gaps(days)
    assert set(filled) == {april(2), april(3), april(4)}
    assert all(days[day] == {"tmin_c": 3.0, "tmax_c": 12.0} for day in filled)


def test_four_days_are_too_many() -> None:
    known = {"tmin_c": 2.0, "tmax_c": 10.0}
    days: Days = {april(1): dict(known), april(6): dict(known)}
    assert fill_short_gaps(days) == {}
    assert set(days) == {april(1), april(6)}


def test_a_gap_at_an_end_has_no_neighbour_there() -> None:
    days: Days = {
        april(1): {"rain_mm": 1.0},
        april(2): {"tmin_c": 2.0, "tmax_c": 10.0},
        april(3): {},
    }
    assert fill_short_gaps(days) == {}


def test_what_was_measured_on_a_mended_day_stays() -> None:
    days: Days = {
        april(1): {"tmin_c": 2.0, "tmax_c": 10.0, "wind_2m_m_per_s": 3.0},
        april(2): {"tmax_c": 20.0, "rain_mm": 5.0},
        april(3): {"tmin_c": 4.0, "tmax_c": 14.0, "wind_2m_m_per_s": 1.0},
    }
    assert fill_short_gaps(days) == {april(2): frozenset({"tmin_c", "wind_2m_m_per_s"})}
    assert days[april(2)] == {"tmin_c": 3.0, "tmax_c": 20.0, "rain_mm": 5.0, "wind_2m_m_per_s": 2.0}


def test_a_mean_that_cannot_be_is_not_filled_in() -> None:
    """The neighbours' lows are above the day's own measured high."""
    days: Days = {
        april(1): {"tmin_c": 12.0, "tmax_c": 20.0},
        april(2): {"tmax_c": 8.0},
        april(3): {"tmin_c": 14.0, "tmax_c": 22.0},
    }
    assert fill_short_gaps(days) == {}
    assert days[april(2)] == {"tmax_c": 8.0}


def test_a_filled_day_comes_nearer_than_temperatures_alone() -> None:
    """De Bilt 2014-2019, April to September, each fourth day left out and filled, mm root mean
    square.

    All inputs by the days either side, against temperatures alone with FAO-56's stand-ins for the
    rest.
    """
    weather = pd.read_csv(DATA / "debilt_nl_daily_2014_2019.csv", parse_dates=["date"])
    columns = {
        "tmin_c": "tmin_c",
        "tmax_c": "tmax_c",
        "rh_mean_pct": "rh_mean_percent",
        "rs_mj": "radiation_mj_m2_day",
        "wind2_ms": "wind_2m_m_per_s",
    }
    whole = {
        row["date"].date(): {ours: row[theirs] for theirs, ours in columns.items()}
        for row in weather.to_dict("records")
    }
    left = {day: dict(values) for n, (day, values) in enumerate(whole.items()) if n % 4 != 1}
    filled = fill_short_gaps(left)
    summer = [day for day in filled if 4 <= day.month <= 9]
    bare = {day: {name: left[day][name] for name in ("tmin_c", "tmax_c")} for day in summer}
    assert len(summer) > 250
    misses = [_miss(whole, days, summer) for days in (left, bare)]
    assert misses[0] < 0.85  # 0.80
    assert misses[1] > misses[0] * 1.05


def _miss(truth: Days, guess: Days, days: list[date]) -> float:
    et0 = [
        [
            result.et0_mm or 0.0
            for result in reference_et(
                [DayInputs(day, **source[day]) for day in days], Site(52.1, 2.0)
            )
        ]
        for source in (truth, guess)
    ]
    squares = [(there - here) ** 2 for there, here in zip(*et0, strict=True)]
    return float((sum(squares) / len(squares)) ** 0.5)


@pytest.mark.parametrize(
    ("starts_h", "expected"),
    [
        # midnight: as booked
        (0.0, {1: 24.0, 2: 0.0, 3: 48.0}),
        # read at 09:00, booked to the day before: 9 h of yesterday's booking, 15 h of its own
        (9.0, {2: 9.0, 3: 30.0}),
        # read at 09:00, booked to the same day: 9 h of its own booking, 15 h of tomorrow's
        (-15.0, {1: 9.0, 2: 30.0}),
    ],
)
def test_rain_of_a_day_that_begins_at_breakfast_is_shared_by_hours(
    starts_h: float, expected: dict[int, float]
) -> None:
    """Booked: 24 mm on the 1st, none on the 2nd, 48 mm on the 3rd."""
    days: Days = {
        april(n): {"rain_mm": mm, "tmax_c": 1.0} for n, mm in ((1, 24.0), (2, 0.0), (3, 48.0))
    }
    rain_on_calendar_days(days, starts_h)
    assert {day.day: v["rain_mm"] for day, v in days.items() if "rain_mm" in v} == pytest.approx(
        expected
    )
    assert all(values["tmax_c"] == 1.0 for values in days.values())


def test_an_unknown_reading_leaves_both_its_days_unknown() -> None:
    days: Days = {
        april(1): {"rain_mm": 1.0},
        april(2): {},
        april(3): {"rain_mm": 1.0},
        april(4): {"rain_mm": 1.0},
    }
    rain_on_calendar_days(days, 9.0)
    assert [day.day for day, values in days.items() if "rain_mm" in values] == [4]
