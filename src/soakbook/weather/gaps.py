"""What a station's days lack: short gaps filled, rain read at breakfast brought to our days.

Rain is never filled: a day whose rain is not known is a gap, which the round names.
"""

from datetime import date, timedelta
from itertools import groupby
from typing import NamedTuple

from soakbook.garden.weather import WeatherKind

FILLED = "mean of the days either side"
LONGEST_FILLED_DAYS = 3

Days = dict[date, dict[str, float]]
"""Day -> variable -> value, in our units; what is not there is not known."""


class Origin(NamedTuple):
    """How a value came about; `method` is empty when it was read as it stands."""

    kind: WeatherKind
    method: str


Origins = dict[tuple[date, str], Origin]
"""(day, variable) -> origin; measured and read as it stands where there is none."""


def every_day(first: date, last: date) -> list[date]:
    """Days from first to last, both included."""
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def has_temperatures(values: dict[str, float]) -> bool:
    """Whether a day has both its temperatures."""
    return "tmin_c" in values and "tmax_c" in values


def fill_short_gaps(days: Days) -> dict[date, frozenset[str]]:
    """Fill, in `days` itself, up to three days running that have no temperatures.

    Everything but rain that such a day lacks becomes the mean of the last day before the gap and
    the first after it; a longer gap, or one at an end, stays. (At De Bilt 2014-2019, April to
    September, ET0 of one day left out comes back within 0.80 mm root mean square so, 0.89 if only
    the temperatures are filled.)
    """
    filled: dict[date, frozenset[str]] = {}
    span = every_day(min(days), max(days))
    for known, group in groupby(span, key=lambda day: has_temperatures(days.get(day, {}))):
        gap = list(group)
        before, after = gap[0] - timedelta(days=1), gap[-1] + timedelta(days=1)
        if known or len(gap) > LONGEST_FILLED_DAYS or before not in days or after not in days:
            continue
        for day in gap:
            mended = _between(days[before], days[after]) | days.get(day, {})
            if mended["tmin_c"] <= mended["tmax_c"]:
                filled[day] = frozenset(mended) - frozenset(days.get(day, {}))
                days[day] = mended
    return filled


def rain_on_calendar_days(days: Days, starts_h: float) -> None:
    """Share each rain, in `days` itself, over the two calendar days that its 24 hours touch.

    A calendar day whose other part is not known has no rain afterwards: it is a gap.

    Parameters
    ----------
    days
        Day as booked -> variable -> value; other variables are left alone.
    starts_h
        Hours from the midnight that begins the booked day to the start of its rain [-24 to 24].
    """
    if starts_h == 0:
        return
    booked = {day: values.pop("rain_mm") for day, values in days.items() if "rain_mm" in values}
    earlier = timedelta(days=1 if starts_h > 0 else 0)  # the booking whose rain ends on this day
    share_behind = (starts_h % 24) / 24
    for day, values in days.items():
        ending, starting = booked.get(day - earlier), booked.get(day - earlier + timedelta(days=1))
        if ending is not None and starting is not None:
            values["rain_mm"] = ending * share_behind + starting * (1 - share_behind)


def _between(before: dict[str, float], after: dict[str, float]) -> dict[str, float]:
    both = (before.keys() & after.keys()) - {"rain_mm"}
    return {variable: (before[variable] + after[variable]) / 2 for variable in both}
