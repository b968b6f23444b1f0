"""A clock held against the sun, and a gauge against a service. Every light here is made."""

import math
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from soakbook.weather.clock import (
    blocked_gauge,
    clock_finding,
    equation_of_time_h,
    solar_noon_h,
)

LONDON, TORONTO = ZoneInfo("Europe/London"), ZoneInfo("America/Toronto")
GREENWICH_DEG = 0.0
QUEBEC_DEG = -78.0  # west of Toronto's meridian, -75 degrees, by 12 minutes: noon at 12.2 h in May


def light(
    first: date, days: int, longitude_deg: float, step_min: int = 60, noon_share: float = 1.0
) -> Iterator[tuple[datetime, float]]:
    """Moments, in UTC, and the sun of a clear sky at each; `noon_share` dims all mornings."""
    moment = datetime(first.year, first.month, first.day, tzinfo=UTC) + timedelta(
        minutes=step_min / 2
    )
    for _ in range(days * 24 * 60 // step_min):
        solar = moment + timedelta(hours=longitude_deg / 15 + equation_of_time_h(moment.date()))
        hour = solar.hour + solar.minute / 60 + solar.second / 3600
        sun = max(0.0, 800 * math.cos((hour - 12) * math.pi / 14))
        yield moment, sun * (noon_share if hour < 12 else 1.0)
        moment += timedelta(minutes=step_min)


def found(
    rows: Iterator[tuple[datetime, float]],
    longitude_deg: float = GREENWICH_DEG,
    zone: ZoneInfo = LONDON,
    ahead: Callable[[datetime], float] = lambda _: 0.0,
) -> str | None:
    """What is found when the clock is ahead by so many hours at each moment."""
    written = [(moment + timedelta(hours=ahead(moment)), sun) for moment, sun in rows]
    return clock_finding(
        [at for at, _ in written], [sun for _, sun in written], longitude_deg, zone
    )


@pytest.mark.parametrize("step_min", [10, 60])
def test_a_right_clock_is_no_finding(step_min: int) -> None:
    assert found(light(date(2031, 1, 1), 365, GREENWICH_DEG, step_min)) is None


@pytest.mark.parametrize("hours", [0.6, -0.6])
def test_a_little_off_is_no_finding(hours: float) -> None:
    assert found(light(date(2031, 5, 1), 20, GREENWICH_DEG), ahead=lambda _: hours) is None


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (1.0, "is 1.0 hours ahead of the sun on 2031-05-0"),
        (-1.0, "is 1.0 hours behind the sun on 2031-05-0"),
        (5.0, "is 5.0 hours ahead of the sun on 2031-05-0"),
        (-9.0, "is 9.0 hours behind the sun on "),
    ],
)
def test_a_clock_that_is_off_is_named_with_hours_and_direction(hours: float, words: str) -> None:
    said = found(light(date(2031, 5, 1), 20, GREENWICH_DEG), ahead=lambda _: hours)
    assert said is not None
    assert words in said


def test_day_and_night_swapped_is_seen_too() -> None:
    said = found(light(date(2031, 5, 1), 20, GREENWICH_DEG), ahead=lambda _: 12.0)
    assert said is not None
    assert "12.0 hours" in said


def two_hours_in_summer(moment: datetime) -> float:
    """As if the hour of summer time had been added twice more to a clock of standard time."""
    return 2.0 if moment.astimezone(TORONTO).dst() else 0.0


def test_two_hours_ahead_in_summer_only() -> None:
    """A year in which noon of summer is 12.2 h: the middle of its light comes at 14.2, in winter where it should."""
    said = found(light(date(2031, 1, 1), 365, QUEBEC_DEG), QUEBEC_DEG, TORONTO, two_hours_in_summer)
    assert said is not None
    assert "hours ahead of the sun on 2031-03-" in said
    assert "behind" not in said
    assert (
        said.count("2031") == 2
    )  # one span: from March to November, when summer time ends on the 2nd
    last = date.fromisoformat(said.split(" to ")[1][:10])
    assert date(2031, 10, 1) < last < date(2031, 12, 1)


def test_what_the_middle_of_the_light_should_be_is_said_in_standard_time() -> None:
    """15 to 24 May at 78 degrees west: 12 h + 3/15 h - 0.06 h, the equation of time of the middle of May."""
    said = found(light(date(2031, 5, 15), 11, QUEBEC_DEG), QUEBEC_DEG, TORONTO, two_hours_in_summer)
    assert said is not None
    assert "comes at 14:08, and should at 12:08, in standard time" in said


def test_nine_days_are_too_few() -> None:
    assert found(light(date(2031, 5, 1), 9, GREENWICH_DEG), ahead=lambda _: 3.0) is None
    assert found(light(date(2031, 5, 1), 12, GREENWICH_DEG), ahead=lambda _: 3.0) is not None


def test_what_is_over_is_passed_over() -> None:
    """Two hours ahead until the 15th of May, right after it."""
    rows = [
        (at + timedelta(hours=2 * (at.date() < date(2031, 5, 15))), sun)
        for at, sun in light(date(2031, 5, 1), 28, GREENWICH_DEG)
    ]
    moments, suns = [at for at, _ in rows], [sun for _, sun in rows]
    said = [
        clock_finding(moments, suns, GREENWICH_DEG, LONDON, since=date(2031, 5, day))
        for day in (1, 15)
    ]
    assert said[0] is not None
    assert said[1] is None


def test_days_with_a_hole_are_passed_over() -> None:
    """Without its evenings every day would look an hour early."""
    rows = [
        (at, sun if at.hour < 14 else None)
        for at, sun in light(date(2031, 5, 1), 30, GREENWICH_DEG)
    ]
    assert (
        clock_finding([at for at, _ in rows], [sun for _, sun in rows], GREENWICH_DEG, LONDON)
        is None
    )


def test_an_hour_with_many_rows_counts_no_more_than_another() -> None:
    often = [row for row in light(date(2031, 5, 1), 20, GREENWICH_DEG, 5) if 6 <= row[0].hour < 9]
    rows = [*often, *light(date(2031, 5, 1), 20, GREENWICH_DEG)]
    assert found(iter(rows)) is None


def test_shaded_mornings_look_like_a_clock_ahead_and_it_is_said() -> None:
    said = found(light(date(2031, 5, 1), 30, GREENWICH_DEG, noon_share=0.4))
    assert said is not None
    assert "ahead of the sun" in said
    assert said.endswith("unless something shades the instrument before noon")


def test_polar_night_is_no_finding() -> None:
    dark = [(at, 0.0) for at, _ in light(date(2031, 12, 1), 20, GREENWICH_DEG)]
    assert found(iter(dark)) is None


def test_no_values_are_no_finding() -> None:
    assert clock_finding([], [], 0.0, UTC) is None


def test_noon_moves_with_longitude_and_meridian() -> None:
    day = date(2031, 4, 15)  # a clock day: the equation of time is nought
    assert equation_of_time_h(day) == pytest.approx(0.0, abs=0.02)
    assert solar_noon_h(day, 0.0, 0.0) == pytest.approx(12.0, abs=0.02)
    assert solar_noon_h(day, -15.0, 0.0) == pytest.approx(13.0, abs=0.02)
    assert solar_noon_h(day, 5.0, 15.0) == pytest.approx(12 + 40 / 60, abs=0.02)


def rain(*amounts_mm: float | None) -> dict[date, float | None]:
    return {date(2031, 6, n): amount for n, amount in enumerate(amounts_mm, start=1)}


def test_a_gauge_at_nought_through_three_wet_days_is_likely_blocked() -> None:
    said = blocked_gauge(rain(0.0, 0.0, 0.0, 0.0, 0.4), rain(4.0, 0.2, 3.0, 3.0, 9.0))
    assert said == (
        "the gauge stood at 0 while the weather service has 10 mm on 3 wet days, "
        "2031-06-01, 2031-06-03 to 2031-06-04: likely blocked"
    )


@pytest.mark.parametrize(
    ("gauge", "service"),
    [
        (rain(0.0, 0.0, 0.0), rain(4.0, 3.0, 2.9)),  # not 10 mm
        (rain(0.0, 0.0, 0.0), rain(9.0, 9.0, 0.9)),  # a thunderstorm or two may pass by
        (rain(0.0, 0.0, 0.2, 0.0), rain(9.0, 9.0, 9.0, 9.0)),  # it moved
        (rain(0.0, None, 0.0), rain(9.0, 9.0, 9.0)),  # not known
        (rain(0.0, 0.0, 0.0), rain(9.0, None, 9.0)),
        (rain(5.0, 5.0, 5.0), rain(9.0, 9.0, 9.0)),
        ({}, {}),
    ],
)
def test_less_than_that_is_no_finding(
    gauge: dict[date, float | None], service: dict[date, float | None]
) -> None:
    assert blocked_gauge(gauge, service) is None


def test_every_stretch_at_nought_is_named() -> None:
    wet = rain(*[4.0] * 7)
    said = blocked_gauge(rain(0.0, 0.0, 0.0, 3.0, 0.0, 0.0, 0.0), wet)
    assert said is not None
    assert (
        "12 mm on 3 wet days, 2031-06-01 to 2031-06-03; 12 mm on 3 wet days, 2031-06-05 to" in said
    )
