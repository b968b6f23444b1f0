"""A small garden made by the services themselves, in a dry May, on a real book."""

import shutil
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from soakbook.services import books, entries, setup
from soakbook.services.weather_asking import refresh
from soakbook.services.weather_files import import_file
from soakbook.services.weather_told import Refreshed
from tests.services.looking import NOW, at
from tests.services.weather_service import Ask, WeatherService, planted, weather_service

FIRST_DAY, LAST_DAY = date(2031, 1, 15), date(2031, 5, 14)
LAST_RAIN = date(2031, 4, 10)


def weather_lines() -> list[str]:
    """A wet winter, then a month without rain; ever warmer."""
    lines = ["date,tmin_c,tmax_c,rain_mm,sun_h,wind2_ms,rh_mean_pct"]
    days = (LAST_DAY - FIRST_DAY).days + 1
    for number in range(days):
        day = FIRST_DAY + timedelta(days=number)
        wet = day <= LAST_RAIN and number % 3 == 0
        tmin, tmax = 1 + number / 12, 8 + number / 9
        sun = 1.0 if wet else 5 + number / 30
        lines.append(f"{day},{tmin:.1f},{tmax:.1f},{4.0 if wet else 0.0},{sun:.1f},2.0,75")
    return lines


def make(path: Path) -> None:
    """Make the book of the garden as it stands at half past six on 15 May 2031."""
    now = at(5, 14, 20)
    books.new(
        path,
        now=now,
        name="The Abbey",
        latitude_deg=52.3,
        longitude_deg=-0.4,
        elevation_m=62.0,
        timezone="Europe/London",
    )
    setup.tap(path, "A", now=now, fill="10l 43s", on="1may")
    setup.tap(path, "C", now=now, source="mains")
    chapel = {"area": "18m2", "soil": "sandy loam", "place": "south wall foot", "tap": "A"}
    setup.bed(path, "chapel", now=now, name="Chapel Wall", **chapel)
    setup.bed(path, "dole", now=now, name="Dole Bed", area="22m2", soil="clay", tap="A")
    setup.bed(path, "school", now=now, name="Schoolroom", area="34m2", soil="loamy sand", tap="A")
    setup.bed(path, "ride", now=now, name="Orchard Ride", area="60m2", soil="loam")
    setup.bed(path, "yard", now=now, name="Yard", area="9m2", soil="loam", tap="C")
    setup.plant(path, "chapel", "climbing rose", "6", now=now, pot="7.5l", on="20mar")
    setup.plant(path, "chapel", "clematis", "5", now=now, pot="3l", on="22mar")
    setup.plant(path, "dole", "shrub rose", "14", now=now, ball="45cm", on="3apr")
    setup.plant(path, "school", "perennial", "60", now=now, pot="2l", on="6may")
    setup.plant(path, "ride", "hornbeam whip", "120", now=now, bare="yes", on="22jan")
    entries.mulch(path, ["chapel"], "bark", "5cm", wet=True, on="24mar", now=now)
    file = path.with_name("shed.csv")
    file.write_text("\n".join(weather_lines()), encoding="utf-8")
    import_file(path, file, now=NOW, columns=["wind=wind2_ms:m/s@2m"], name="the shed")


@pytest.fixture(scope="session")
def whole_garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book of the garden, made once and never written again."""
    path = tmp_path_factory.mktemp("garden") / "abbey.book"
    make(path)
    return path


@pytest.fixture
def garden(whole_garden: Path, tmp_path: Path) -> Path:
    """A book of the garden of its own."""
    path = tmp_path / "abbey.book"
    shutil.copyfile(whole_garden, path)
    return path


@pytest.fixture
def new_book(tmp_path: Path) -> Path:
    """A book with a garden and nothing in it."""
    path = tmp_path / "new.book"
    books.new(
        path,
        now=NOW,
        name="New Ground",
        latitude_deg=52.3,
        longitude_deg=-0.4,
        elevation_m=62.0,
        timezone="Europe/London",
    )
    return path


@pytest.fixture
def service() -> Iterator[WeatherService]:
    """Both weather services, made, on this machine."""
    with weather_service() as found:
        yield found


@pytest.fixture
def young_book(new_book: Path) -> Path:
    """A garden with clematis planted ten days ago, and no weather yet."""
    planted(new_book, "5may")
    return new_book


@pytest.fixture
def ask(young_book: Path, service: WeatherService) -> Ask:
    """Ask the service for that garden at a moment, by somebody or nobody in particular."""

    def asked(now: datetime = NOW, contact: str = "", offline: bool = False) -> Refreshed:
        service.now = now
        return refresh(young_book, now=now, offline=offline, places=service.places(contact))

    return asked
