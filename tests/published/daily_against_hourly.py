"""What shortcuts in a day's inputs cost in ET0, on hours made from De Bilt's measured days, April to September.

`python -m tests.published.daily_against_hourly` prints the table: the sum against the sum by `weather.hours` from all
24 hours, and the daily root mean square. Beside it stands what the project's notes found on measured hours
(Reckenholz 2009-12, 725 days, April to September; read at second hand, not repeated here).

The days are real (KNMI station 260, data/debilt_nl_daily_2014_2019.csv: extremes, humidity, wind, radiation), the
hours are not: temperature runs along two half cosines, wind along a sine with its top at 14 UTC, dew point a little
along another, radiation with the sun's height. So the table can show what a shortcut costs by its arithmetic: a wrong
height or unit of the wind, one formula of humidity or of the sun for another (the last two need no hours at all). It
cannot show what hangs on how real hours run, a front at midnight, a still night, a shower at noon: the windiest hour
and temperatures every six hours come out otherwise than on measured hours, and the sum of FAO-56 by the hour even
with the other sign, 6 % below the daily one where measured hours put it 4 % above. For that the recorded and measured
ratios count, not these.
"""

import csv
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from soakbook.weather.answers import HourTable
from soakbook.weather.hour_rows import sound_rows
from soakbook.weather.hours import days_of
from soakbook.weather.reference_et import DayInputs, Site, reference_et, wind_at_2m
from tests.published.fao56_hourly import above_the_air, hourly_et0, vapour_pressure

Floats = NDArray[np.float64]

DE_BILT = Path(__file__).parents[2] / "data" / "debilt_nl_daily_2014_2019.csv"
SITE, LONGITUDE_DEG = Site(52.10, 2.0), 5.18
COLDEST_H, WARMEST_H, WINDIEST_H = 5, 14, 14  # UTC. common practice, no source
WIND_SWING, DEW_SWING_C = 0.35, 0.7  # of the day's mean; either way. common practice, no source


class Season(NamedTuple):
    """April to September of one year, measured days and the hours made from them (day, hour)."""

    days: tuple[date, ...]
    rows: tuple[dict[str, float], ...]
    temperature_c: Floats
    dew_point_c: Floats
    wind_10m_m_per_s: Floats
    radiation_w_m2: Floats
    above_air_w_m2: Floats


class Cost(NamedTuple):
    """One shortcut: its sum over the sum from all hours, its daily error, and both on measured hours."""

    shortcut: str
    ratio: float
    rmse_mm: float
    measured: str


def seasons() -> tuple[Season, ...]:
    """The six seasons 2014 to 2019."""
    with DE_BILT.open(newline="") as text:
        rows = [row for row in csv.DictReader(text) if 4 <= int(row["date"][5:7]) <= 9]
    years = sorted({row["date"][:4] for row in rows})
    return tuple(_season([row for row in rows if row["date"].startswith(year)]) for year in years)


def inputs_of(season: Season) -> tuple[DayInputs, ...]:
    """The days' inputs as the product makes them from the hours."""
    first = datetime.combine(season.days[0], datetime.min.time(), UTC)
    count = season.temperature_c.size
    table = HourTable(
        tuple(first + timedelta(hours=n) for n in range(count)),
        temperature_c=tuple(season.temperature_c.ravel().tolist()),
        dew_point_c=tuple(season.dew_point_c.ravel().tolist()),
        wind_10m_m_per_s=tuple(season.wind_10m_m_per_s.ravel().tolist()),
        radiation_w_m2=tuple(season.radiation_w_m2.ravel().tolist()),
        rain_mm=(0.0,) * count,
    )
    found = days_of(sound_rows(table, "made"), ZoneInfo("Etc/GMT"), SITE)
    assert [one.day for one in found.days] == list(season.days), found.findings
    return tuple(one.inputs for one in found.days)


def summed_hours(season: Season) -> Floats:
    """ET0 of each day, FAO-56 by the hour and summed [mm]; nights as clear as their day."""
    clear_sky = (0.75 + 2e-5 * SITE.elevation_m) * season.above_air_w_m2.sum(axis=1)
    clearness = season.radiation_w_m2.sum(axis=1) / clear_sky
    et0 = hourly_et0(
        season.temperature_c,
        season.dew_point_c,
        season.wind_10m_m_per_s,
        season.radiation_w_m2,
        season.above_air_w_m2,
        elevation_m=SITE.elevation_m,
        night_clearness=clearness[:, np.newaxis],
    )
    return np.asarray(et0.sum(axis=1))


def costs() -> tuple[Cost, ...]:
    """Every shortcut over all seasons."""
    all_seasons = seasons()
    inputs = [inputs_of(season) for season in all_seasons]
    full = np.concatenate([_et0(days) for days in inputs])

    def cost(shortcut: str, found: Floats, measured: str) -> Cost:
        return Cost(
            shortcut, found.sum() / full.sum(), np.sqrt(np.mean((found - full) ** 2)), measured
        )

    listed = [
        cost(
            name,
            np.concatenate(
                [
                    _et0([change(season, n, day) for n, day in enumerate(days)])
                    for season, days in zip(all_seasons, inputs, strict=True)
                ]
            ),
            measured,
        )
        for name, (change, measured) in SHORTCUTS.items()
    ]
    hourly = np.concatenate([summed_hours(season) for season in all_seasons])
    return (*listed, cost("FAO-56 by the hour, summed", hourly, "+3.8 %, 0.27"))


Change = Callable[[Season, int, DayInputs], DayInputs]


def _wind(speed_2m: Callable[[Floats], float]) -> Change:
    return lambda season, n, day: replace(day, wind_2m_m_per_s=speed_2m(season.wind_10m_m_per_s[n]))


def _temperature_every(hours: int) -> Change:
    return lambda season, n, day: replace(
        day,
        tmin_c=float(season.temperature_c[n, ::hours].min()),
        tmax_c=float(season.temperature_c[n, ::hours].max()),
        tmean_c=float(season.temperature_c[n, ::hours].mean()),
    )


def _humidity(season: Season, n: int) -> Floats:
    """Per cent, of each hour."""
    full = vapour_pressure(season.temperature_c[n])
    return np.asarray(100 * vapour_pressure(season.dew_point_c[n]) / full)


SHORTCUTS: dict[str, tuple[Change, str]] = {
    "wind: the largest hour": (
        _wind(lambda hours: wind_at_2m(float(hours.max()), 10.0)),
        "+11.7 %, 0.46",
    ),
    "wind: 10 m as if 2 m": (_wind(lambda hours: float(hours.mean())), "+3.1 %"),
    "wind: always 2 m/s": (_wind(lambda _: 2.0), "+8.5 %, 0.35"),
    "wind: km/h as m/s": (
        _wind(lambda hours: wind_at_2m(3.6 * float(hours.mean()), 10.0)),
        "+25 %",
    ),
    "humidity: e of the mean dew point": (
        lambda season, n, day: replace(
            day, vapour_pressure_kpa=float(vapour_pressure(season.dew_point_c[n].mean()))
        ),
        "+0.1 %",
    ),
    "humidity: highest and lowest (eq 17)": (
        lambda season, n, day: replace(
            day,
            vapour_pressure_kpa=None,
            rhmax_percent=float(_humidity(season, n).max()),
            rhmin_percent=float(_humidity(season, n).min()),
        ),
        "+1.1 %, 0.06",
    ),
    "humidity: mean (eq 19)": (
        lambda season, n, day: replace(
            day,
            vapour_pressure_kpa=None,
            rhmin_percent=None,
            rh_mean_percent=float(_humidity(season, n).mean()),
        ),
        "-2.2 %, 0.09",
    ),
    "humidity: none, the night's low (eq 48)": (
        lambda _season, _n, day: replace(day, vapour_pressure_kpa=None, rhmin_percent=None),
        "-1.4 %, 0.15",
    ),
    "temperature: every 3 hours": (_temperature_every(3), "0.0 %, 0.05"),
    "temperature: every 6 hours": (_temperature_every(6), "-1.2 %, 0.11"),
    "temperature: mean of the extremes": (
        lambda _season, _n, day: replace(day, tmean_c=None),
        "+0.2 %",
    ),
    "radiation: hours of sunshine (eq 35)": (
        lambda season, n, day: replace(
            day, radiation_mj_m2_day=None, sunshine_h=season.rows[n]["sun_h"]
        ),
        "-0.9 %, 0.26",
    ),
    "radiation: range of temperature (eq 50)": (
        lambda _season, _n, day: replace(day, radiation_mj_m2_day=None),
        "+0.1 %, 0.47",
    ),
}


def _season(rows: list[dict[str, str]]) -> Season:
    numbers = tuple(
        {name: float(value) for name, value in row.items() if name != "date" and value}
        for row in rows
    )
    days = tuple(date.fromisoformat(row["date"]) for row in rows)
    low, high, rh_low, rh_high, wind, sun = (
        np.array([row[name] for row in numbers])[:, np.newaxis]
        for name in ("tmin_c", "tmax_c", "rhmin_pct", "rhmax_pct", "wind10_ms", "rs_mj")
    )
    hours = np.arange(24.0)
    temperature = (low + high) / 2 + (high - low) / 2 * _warmth(hours)
    ea = (vapour_pressure(low) * rh_high + vapour_pressure(high) * rh_low) / 200  # FAO-56 eq 17
    log = np.log(ea / 0.6108)
    dew = 237.3 * log / (17.27 - log) + DEW_SWING_C * np.sin(2 * np.pi * (hours - 4) / 24)
    middles = [
        datetime.combine(day, datetime.min.time(), UTC) + timedelta(hours=hour, minutes=30)
        for day in days
        for hour in range(24)
    ]
    above = above_the_air(middles, SITE.latitude_deg, LONGITUDE_DEG).reshape(-1, 24)
    return Season(
        days,
        numbers,
        temperature,
        np.minimum(dew, temperature),
        wind * (1 + WIND_SWING * np.cos(2 * np.pi * (hours - WINDIEST_H) / 24)),
        sun / 0.0036 * above / above.sum(axis=1, keepdims=True),
        above,
    )


def _warmth(hours: Floats) -> Floats:
    """From -1 at the coldest hour to 1 at the warmest along half a cosine, and back along another."""
    rising = (hours >= COLDEST_H) & (hours <= WARMEST_H)
    up = -np.cos(np.pi * (hours - COLDEST_H) / (WARMEST_H - COLDEST_H))
    down = np.cos(np.pi * ((hours - WARMEST_H) % 24) / (24 - WARMEST_H + COLDEST_H))
    return np.where(rising, up, down)


def _et0(days: tuple[DayInputs, ...] | list[DayInputs]) -> Floats:
    return np.array([found.et0_mm for found in reference_et(days, SITE)], dtype=float)


def main() -> None:
    """Print the table."""
    print(
        "ET0 of De Bilt, April to September 2014-2019, against that from all of a day's made hours"
    )
    print(f"{'':42}{'sum':>8}{'daily RMSE mm':>16}   on measured hours elsewhere")
    for each in costs():
        print(
            f"{each.shortcut:42}{100 * each.ratio - 100:>+7.1f}%{each.rmse_mm:>16.2f}   {each.measured}"
        )


if __name__ == "__main__":
    main()
