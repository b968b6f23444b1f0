"""Clocks of files: what standard time is in a zone."""

from datetime import UTC, timedelta
from zoneinfo import ZoneInfo

import pytest

from soakbook.weather.moments import standard_offset


@pytest.mark.parametrize(
    ("zone", "hours"),
    [
        ("Europe/London", 0.0),
        ("Europe/Dublin", 0.0),
        ("Europe/Berlin", 1.0),
        ("America/Toronto", -5.0),
        ("Australia/Sydney", 10.0),
        ("Asia/Kolkata", 5.5),
    ],
)
def test_standard_time_is_winter_time(zone: str, hours: float) -> None:
    assert standard_offset(2031, ZoneInfo(zone)) == timedelta(hours=hours)


def test_utc_is_its_own_standard() -> None:
    assert standard_offset(2031, UTC) == timedelta(0)
