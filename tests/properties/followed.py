"""Seasons in which every call of the round is answered in full, on the specimen's and on measured weather."""

from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import AnyEntry, Rain, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Uid
from soakbook.garden.weather import WeatherDay
from soakbook.reckoning.advice.calling import bed_calls
from soakbook.reckoning.advice.judging import judge
from soakbook.reckoning.advice.report import Stage
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import next_dawn, run
from soakbook.reckoning.simulation.season import Season, season_at, season_of
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages
from soakbook.weather.files import read_weather_file
from soakbook.weather.reference_et import Site
from tests.reckoning.gardens import bed, mulch, pages, roses

ROOT = Path(__file__).parents[2]
SPECIMEN = ROOT / "src" / "soakbook" / "specimen" / "corrody.book"
FIELDS = {"rain_mm", "et0_mm", "tmin_c", "tmax_c", "tmean_c", "rhmin_percent", "wind_2m_m_per_s"}
DAYS_LOOKED_AHEAD = 3  # to take along what is wanted within two days


class Soaked(NamedTuple):
    """One planting watered on one morning."""

    day: date
    litres: float
    stage: Stage


@dataclass(frozen=True)
class Followed:
    """What a season asked for, by planting uid."""

    soaks: dict[Uid, list[Soaked]]

    @property
    def total_l(self) -> float:
        """All of it."""
        return sum(one.litres for soaks in self.soaks.values() for one in soaks)


def followed(book: Pages, first: date, last: date, members: int) -> Followed:
    """The mornings from `first` to `last`, each dose given in full at the round hour, somebody coming every day."""
    whole = season_of(known_on(book, last), last, members)
    assert whole is not None
    soaks: dict[Uid, list[Soaked]] = defaultdict(list)
    season = _as_known(whole, book, first)
    dawn = run(season)[-1]
    while dawn.day < last:
        for call in bed_calls(judge(dawn, DAYS_LOOKED_AHEAD)):
            for one in call.going:
                uid = one.judged.planting.uid
                soaks[uid].append(Soaked(dawn.day, one.litres, one.judged.stage))
                soak = _given(book, call.bed.uid, uid, dawn.day, one.litres)
                book = book._replace(entries=(*book.entries, soak))
        season = _as_known(whole, book, dawn.day + timedelta(days=1))
        dawn = next_dawn(dawn._replace(season=season))
    return Followed(dict(soaks))


def _as_known(whole: Season, book: Pages, morning: date) -> Season:
    return season_at(whole, known_on(book, morning), morning)


def _given(book: Pages, bed_uid: Uid, planting_uid: Uid, day: date, litres: float) -> Soak:
    at = datetime.combine(day, time(7), ZoneInfo(book.garden.timezone))
    return Soak(
        uid=f"{planting_uid} {day}",
        happened_at=at,
        written_at=at,
        bed_uid=bed_uid,
        planting_uid=planting_uid,
        litres=litres,
        typed="advised",
    )


def rained(book: Pages, factor: float) -> Pages:
    """The same book with all its rain multiplied."""
    days = tuple(
        day if day.rain_mm is None else day._replace(rain_mm=factor * day.rain_mm)
        for day in book.weather
    )
    entries: list[AnyEntry] = [
        replace(one, rain_mm=factor * one.rain_mm) if isinstance(one, Rain) else one
        for one in book.entries
    ]
    return book._replace(weather=days, entries=tuple(entries))


@cache
def specimen() -> Pages:
    """The specimen's whole book."""
    with open_book(SPECIMEN, read_only=True, immutable=True) as book:
        return read_pages(book)


def undone_specimen() -> Pages:
    """The specimen's garden and weather; nothing watered, nobody away, nothing barred."""
    book = specimen()
    kept = tuple(one for one in book.entries if type(one).__name__ in ("Rain", "MulchLaid"))
    return book._replace(entries=kept, people=(), restrictions=())


@cache
def measured(
    file: str, latitude_deg: float, elevation_m: float, year: int
) -> tuple[WeatherDay, ...]:
    """One year of a measured record with reference ET by pyet, gaps filled as a gardener would allow."""
    lines = (ROOT / "data" / file).read_text(encoding="utf-8").splitlines()
    wanted = [lines[0], *(line for line in lines[1:] if line.startswith(f"{year}-"))]
    with TemporaryDirectory() as folder:
        path = Path(folder) / file
        path.write_text("\n".join(wanted) + "\n", encoding="utf-8")
        now = datetime(2031, 1, 1, tzinfo=UTC)
        found = read_weather_file(path, Site(latitude_deg, elevation_m), now, gaps_allowed=True)
    by_day: dict[date, Any] = defaultdict(dict)
    for value in found.values:
        if value.variable in FIELDS:
            by_day[value.day][value.variable] = value.value
    return tuple(WeatherDay(day, **values) for day, values in sorted(by_day.items()))


def trial_garden(days: tuple[WeatherDay, ...]) -> Pages:
    """Five plantings from shrub to tree on one year's weather, each in a bed of its own."""
    year = days[0].day.year
    spring, may = date(year, 4, 1), date(year, 5, 1)
    plantings = [
        roses("loam", name="shrub", ball_volume_l=10.0, ball_diameter_m=0.28, planted_on=spring,
              canopy_start_m2=0.20, canopy_full_m2=0.45, weeks_to_full=14),
        roses("clay loam", name="rose", planted_on=spring, cell_m2=0.6),
        roses("loamy sand", name="perennial", plant_class="perennial", leaf="dies_down", ball_volume_l=2.0,
              ball_diameter_m=0.15, cell_m2=0.24, canopy_start_m2=0.04, canopy_full_m2=0.14, weeks_to_full=7,
              planted_on=may),
        roses("clay", name="dug rose", origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45,
              cell_m2=1.2, canopy_full_m2=0.50, weeks_to_full=16, planted_on=spring),
        roses("tree bed", name="tree", plant_class="tree", ball_volume_l=45.0, ball_diameter_m=0.45, cell_m2=3.0,
              canopy_start_m2=0.6, canopy_full_m2=1.2, weeks_to_full=26, planted_on=spring, count=1),
    ]  # fmt: skip
    soils = {"tree bed": "loam"}
    beds = [bed(one.bed_uid, soil=soils.get(one.bed_uid, one.bed_uid)) for one in plantings]
    dressed = [mulch(spring + timedelta(days=10), 5.0, one.bed_uid) for one in plantings]
    return pages(plantings, dressed, beds=beds, days=days)


def last_day(book: Pages) -> date:
    """The morning after the last measured day, at the latest 1 October."""
    end = book.weather[-1].day + timedelta(days=1)
    return min(end, date(end.year, 10, 1))


def first_day(book: Pages) -> date:
    """The first morning with weather behind it and something planted."""
    planted = min(one.planted_on for one in book.plantings)
    return max(planted, book.weather[0].day + timedelta(days=1))
