"""The sundial against the clock, by the extremes and noughts of the almanac.

Dates and minutes as in almanacs of the 2000s (for instance Meeus, Astronomical Algorithms, 1998, chapter 28), from
memory.
"""

from datetime import date

import pytest

from soakbook.weather.clock import equation_of_time_h


@pytest.mark.parametrize(
    ("day", "minutes"),
    [
        (date(2031, 2, 11), -14.2),
        (date(2031, 4, 15), 0.0),
        (date(2031, 5, 14), 3.7),
        (date(2031, 6, 13), 0.0),
        (date(2031, 7, 26), -6.5),
        (date(2031, 9, 1), 0.0),
        (date(2031, 11, 3), 16.4),
        (date(2031, 12, 25), 0.0),
    ],
)
def test_extremes_and_noughts(day: date, minutes: float) -> None:
    """Within a minute: FAO-56 eq 32 is a fit of three waves, and leap years move the dates by one."""
    assert equation_of_time_h(day) * 60 == pytest.approx(minutes, abs=1.0)
