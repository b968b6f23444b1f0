"""The measured seasons: which years of the records in data/ can be watered through, and what is left out."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherDay
from soakbook.truth.record import read_record
from soakbook.truth.series import read_series
from soakbook.truth.sky import LONG_AGO
from soakbook.weather.files import read_weather_file
from soakbook.weather.reference_et import Site

BEGINS = (3, 20)
ENDS = (10, 15)
COUNTED_FROM = (4, 1)
"""Rain and ET0 of a season are told from 1 April."""

MOST_UNKNOWN_DAYS = 5
"""Days of a season that may lack their rain, or their ET0. common practice, no source."""

VARIABLES = frozenset(WeatherDay._fields) - {"day", "rain_by_hour_mm", "sources"}


class Place(NamedTuple):
    """Where a record was measured, and what of it is not used."""

    key: str
    name: str
    file: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    left_out: tuple[tuple[int, str], ...] = ()
    tower: bool = False
    """Mean temperature and saturation deficit, no extremes."""


PLACES = (
    Place("debilt", "De Bilt", "debilt_nl_daily_2014_2019.csv", 52.10, 5.18, 2.0),
    Place("bedford", "Bedford", "uscrn_bedford_in_daily_2010_2017.csv", 38.89, -86.57, 232.0),
    Place("manhattan", "Manhattan", "uscrn_manhattan_ks_daily_2010_2017.csv", 39.10, -96.61, 347.0),
    Place("woodward", "Woodward", "us_ar1_fluxnet_daily_2009_2012.csv", 36.43, -99.42, 611.0, tower=True,
          left_out=((2009, "its rain was filled in, not measured, on a quarter of the days"),)),
)  # fmt: skip


class Season(NamedTuple):
    """One place's weather from 1 January to the last day of a comparison."""

    key: str
    place: Place
    year: int
    weather: tuple[WeatherDay, ...]

    @property
    def first(self) -> date:
        """The first day anything is planted."""
        return date(self.year, *BEGINS)

    @property
    def last(self) -> date:
        """The last day reckoned."""
        return date(self.year, *ENDS)

    def total(self, variable: str) -> float:
        """Sum of one variable from 1 April on, unknown days as nothing."""
        start = date(self.year, *COUNTED_FROM)
        return sum(getattr(one, variable) or 0.0 for one in self.weather if one.day >= start)


class LeftOut(NamedTuple):
    """A year that is not compared, and why."""

    key: str
    why: str


def seasons(folder: Path, wanted: Sequence[str] = ()) -> tuple[list[Season], list[LeftOut]]:
    """The seasons of the records in a folder, or those of them that are wanted, and the years left out.

    Raises
    ------
    InputError
        A record that is not there, or a wanted season that no record holds.
    """
    kept: list[Season] = []
    left: list[LeftOut] = []
    for place in PLACES:
        if wanted and not any(key.startswith(f"{place.key}-") for key in wanted):
            continue
        for found in _years_of(place, folder):
            (kept if isinstance(found, Season) else left).append(found)  # type: ignore[arg-type]
    if not wanted:
        return kept, left
    by_key = {season.key: season for season in kept}
    for key in wanted:
        if key not in by_key:
            why = next((f" ({one.why})" for one in left if one.key == key), "")
            raise InputError("season", f"{key}{why}", "a place and a year, such as debilt-2018")
    return [by_key[key] for key in dict.fromkeys(wanted)], []


def _years_of(place: Place, folder: Path) -> Iterator[Season | LeftOut]:
    path = folder / place.file
    if not path.is_file():
        raise InputError("data", str(folder), f"the folder that holds {place.file}")
    by_day = _tower_days(path, place) if place.tower else _file_days(path, place)
    unused = dict(place.left_out)
    for year in range(min(by_day).year, max(by_day).year + 1):
        key = f"{place.key}-{year}"
        why = unused.get(year) or _too_little(by_day, year)
        if why:
            yield LeftOut(key, why)
            continue
        known = (by_day[day] for day in sorted(by_day) if day.year == year)
        end = date(year, *ENDS)
        yield Season(key, place, year, tuple(one for one in known if one.day <= end))


def _too_little(by_day: dict[date, WeatherDay], year: int) -> str | None:
    first, last = date(year, *BEGINS), date(year, *ENDS)
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    for variable, word in (("rain_mm", "rain"), ("et0_mm", "ET0")):
        unknown = sum(day not in by_day or getattr(by_day[day], variable) is None for day in days)
        if unknown > MOST_UNKNOWN_DAYS:
            return f"no {word} on {unknown} of {len(days)} days"
    return None


def _file_days(path: Path, place: Place) -> dict[date, WeatherDay]:
    site = Site(place.latitude_deg, place.elevation_m)
    found = read_weather_file(path, site, LONG_AGO, gaps_allowed=True)
    by_day: dict[date, dict[str, float]] = defaultdict(dict)
    for value in found.values:
        if value.variable in VARIABLES:
            by_day[value.day][value.variable] = value.value
    return {day: WeatherDay(day, **values) for day, values in by_day.items()}  # type: ignore[arg-type]


def _tower_days(path: Path, place: Place) -> dict[date, WeatherDay]:
    """Days of a tower without extremes of temperature: ET0 by the measured dryness of the air, as the record has it."""
    sky = read_series(read_record(path.with_suffix(".toml"))).sky
    known = {
        day: float(et0)
        for day, et0, there in zip(sky.days, sky.et0_mm, sky.et0_known, strict=True)
        if there
    }
    read = _file_days(path, place)
    return {day: one._replace(et0_mm=known.get(day)) for day, one in read.items()}
