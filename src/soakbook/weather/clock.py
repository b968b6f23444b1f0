"""What only the sun, or a service beside it, shows of a weather file: a clock that is wrong, a gauge that is blocked.

Findings in words, nothing mended. What a file shows by itself (wind that never moves, humidity stuck at the top) is in
`sanity`.
"""

import cmath
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta, tzinfo
from itertools import groupby, pairwise
from typing import NamedTuple

from soakbook.weather.days import spans
from soakbook.weather.moments import standard_offset

OFF_H = 0.7  # beyond it the clock is wrong: cloud moves the mean of ten days less. common practice, no source
FEWEST_DAYS = 10  # to even out cloudy mornings and afternoons. common practice, no source
DAYS_AT_ONCE = 30  # of a long file: a clock may be wrong in one season only
FEWEST_HOURS = 20  # of a day with a value, or the mean leans to the side that has them

WET_DAY_MM = 1.0  # ETCCDI: a wet day has 1 mm or more
BLOCKED_WET_DAYS = 3  # these and BLOCKED_MM: common practice, no source
BLOCKED_MM = 10.0


class _Light(NamedTuple):
    """A day's radiation as one arrow on the sun's dial: noon is straight ahead, an hour is 15 degrees."""

    day: date
    arrow: complex
    noon_h: float  # of the sun, by the zone's standard time


def equation_of_time_h(day: date) -> float:
    """Hours that a sundial is ahead of a clock of mean time on that day [-0.24 to 0.28].

    References
    ----------
    FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes, Smith 1998), eqs 32 and 33, p. 48: seasonal correction
    for solar time.
    """
    b = 2 * math.pi * (day.timetuple().tm_yday - 81) / 364  # FAO-56 eq 33
    return 0.1645 * math.sin(2 * b) - 0.1255 * math.cos(b) - 0.025 * math.sin(b)  # FAO-56 eq 32


def solar_noon_h(day: date, longitude_deg: float, meridian_deg: float) -> float:
    """Hour at which the sun stands highest, by a clock that keeps the mean time of a meridian.

    Parameters
    ----------
    day
        The day.
    longitude_deg
        Of the place [-180 to 180, west negative].
    meridian_deg
        Of the clock: 15 degrees for each hour that it is ahead of UTC.

    References
    ----------
    FAO-56 eq 31, p. 48, solved for noon, with longitudes east positive.
    """
    return 12 - (longitude_deg - meridian_deg) / 15 - equation_of_time_h(day)


def clock_finding(
    moments: Sequence[datetime],
    radiation: Sequence[float | None],
    longitude_deg: float,
    zone: tzinfo,
    *,
    since: date = date.min,
) -> str | None:
    """What is wrong with a file's clock, by the sun that the file measured; None where nothing is or can be told.

    The middle of the day's light lies at the sun's noon. Ten or more days with a value in at least twenty of their
    hours are taken together, of a long file some thirty at a time.

    Parameters
    ----------
    moments
        When each value holds, zone-aware, by what the file's clock is said to be; the middle of the time where the
        value is a mean over it. In any order.
    radiation
        As many values, in any one unit [>= 0]; None where nothing was measured.
    longitude_deg
        Of the instrument [-180 to 180, west negative].
    zone
        The garden's.
    since
        Days before it are passed over.
    """
    rows = ((at, sun) for at, sun in zip(moments, radiation, strict=True) if at.date() >= since)
    lights = sorted(_lights(rows, longitude_deg, zone), key=lambda light: light.day)
    off = [run for run in _runs(lights) if abs(_hours_ahead(run)) > OFF_H]
    ahead = [light for run in off if _hours_ahead(run) > 0 for light in run]
    behind = [light for run in off if _hours_ahead(run) < 0 for light in run]
    return "; ".join(_clock_words(wrong) for wrong in (ahead, behind) if wrong) or None


def blocked_gauge(
    gauge_by_day_mm: Mapping[date, float | None],
    service_by_day_mm: Mapping[date, float | None],
    *,
    since: date = date.min,
) -> str | None:
    """What tells of a blocked rain gauge, by a weather service beside it; None where nothing does.

    It is one that stays at 0 while the service has three wet days or more, and 10 mm or more on them. Days on which
    either is not known are passed over.

    Parameters
    ----------
    gauge_by_day_mm
        Rain of the file's gauge by day [mm].
    service_by_day_mm
        The service's rain by day at the same place [mm].
    since
        What was over before this day is passed over.
    """
    both = [
        (day, gauge, service)
        for day, gauge in sorted(gauge_by_day_mm.items())
        if gauge is not None and (service := service_by_day_mm.get(day)) is not None
    ]
    said = []
    for nought, stretch in groupby(both, key=lambda known: known[1] == 0):
        wet = {day: service for day, _, service in stretch if service >= WET_DAY_MM}
        rain_mm = math.fsum(wet.values())
        if not nought or max(wet, default=date.min) < since:
            continue
        if len(wet) >= BLOCKED_WET_DAYS and rain_mm >= BLOCKED_MM:
            said.append(f"{rain_mm:.0f} mm on {len(wet)} wet days, {spans(wet)}")
    if not said:
        return None
    return f"the gauge stood at 0 while the weather service has {'; '.join(said)}: likely blocked"


def _lights(
    rows: Iterable[tuple[datetime, float | None]], longitude_deg: float, zone: tzinfo
) -> Iterator[_Light]:
    """The light of every day that is whole enough. Days and hours are those of standard time, all year."""
    by_hour: dict[date, dict[int, list[tuple[float, float]]]] = {}
    for moment, sun in rows:
        if sun is None:
            continue
        clock = moment.astimezone(UTC) + standard_offset(moment.year, zone)
        hour = clock.hour + clock.minute / 60 + clock.second / 3600
        by_hour.setdefault(clock.date(), {}).setdefault(clock.hour, []).append((hour, sun))
    for day, hours in by_hour.items():
        if len(hours) < FEWEST_HOURS:
            continue
        meridian_deg = standard_offset(day.year, zone) / timedelta(hours=1) * 15
        noon_h = solar_noon_h(day, longitude_deg, meridian_deg)
        # An hour with more rows than others counts no more than they do.
        arrows = (
            sun / len(rows) * _arrow(at - noon_h) for rows in hours.values() for at, sun in rows
        )
        yield _Light(day, sum(arrows, 0j), noon_h)


def _arrow(hours: float) -> complex:
    return cmath.rect(1, hours * math.pi / 12)


def _runs(lights: Sequence[_Light]) -> list[Sequence[_Light]]:
    """Days cut into runs of about `DAYS_AT_ONCE`; none where there are too few in all."""
    if len(lights) < FEWEST_DAYS:
        return []
    runs = max(1, round(len(lights) / DAYS_AT_ONCE))
    cuts = [len(lights) * n // runs for n in range(runs + 1)]
    return [lights[first:last] for first, last in pairwise(cuts)]


def _hours_ahead(run: Iterable[_Light]) -> float:
    """Hours by which the middle of the light comes later than the sun's noon [-12 to 12]."""
    return cmath.phase(sum((light.arrow for light in run), 0j)) * 12 / math.pi


def _clock_words(run: Sequence[_Light]) -> str:
    ahead_h = _hours_ahead(run)
    noon_h = math.fsum(light.noon_h for light in run) / len(run)
    direction, shade = ("ahead of", "before") if ahead_h > 0 else ("behind", "after")
    return (
        f"the file's clock is {abs(ahead_h):.1f} hours {direction} the sun on "
        f"{spans(light.day for light in run)}: the middle of the light comes at "
        f"{_clock_time(noon_h + ahead_h)}, and should at {_clock_time(noon_h)}, in standard time; "
        f"set it right or say another clock, unless something shades the instrument {shade} noon"
    )


def _clock_time(hours: float) -> str:
    minutes = round(hours * 60) % (24 * 60)
    return f"{minutes // 60:02}:{minutes % 60:02}"
