"""The book that ships, made from the text: `python -m soakbook.specimen.build [BOOK]`.

Reference ET is reckoned here, so that it need not be at the gardener's.
"""

import sys
import tempfile
from datetime import datetime
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING

from soakbook.specimen import text
from soakbook.store.book import create, open_book
from soakbook.store.book_file import BookFile
from soakbook.store.copying import copy_to
from soakbook.store.entry_rows import add_entries
from soakbook.store.forecast_rows import add_forecasts
from soakbook.store.garden_rows import add_record
from soakbook.store.weather_rows import add_weather
from soakbook.weather.column_map import columns_said
from soakbook.weather.files import WeatherFile, read_weather_file
from soakbook.weather.reference_et import Site

if TYPE_CHECKING:
    from soakbook.store.sheets import Setting

BEGUN = datetime(2031, 1, 20, 12, tzinfo=text.ZONE)
FETCHED = datetime(2031, 11, 1, 8, tzinfo=text.ZONE)
SHIPPED = Path(__file__).parent / "corrody.book"


def weather_file() -> WeatherFile:
    """The specimen's weather with its reference ET."""
    place = text.garden()
    with as_file(files("soakbook.specimen") / "source" / "weather.csv") as path:
        return read_weather_file(
            path, Site(place.latitude_deg, place.elevation_m), FETCHED, columns_said([])
        )


def begun(path: Path) -> BookFile:
    """A new book with the garden as it was set up, its dressings and its weather, but no season yet."""
    book = create(path, text.garden(), at=BEGUN, by="Ann")
    add_settings(book)
    add_entries(book, text.mulch_laid())
    add_weather(book, weather_file().values)
    add_forecasts(book, text.forecasts())
    return book


def build(path: Path) -> None:
    """Make the whole book at `path`, where nothing may be yet."""
    with begun(path) as book:
        add_entries(book, text.entries())


def add_settings(book: BookFile) -> None:
    """Taps before beds, beds before plantings: each refers to the one before."""
    settings: tuple[Setting, ...] = (
        *text.taps(),
        *text.beds(),
        *text.plantings(),
        *text.people(),
        *text.restrictions(),
        *text.rates(),
    )
    for record in settings:
        add_record(book, record, at=BEGUN, by="Ann")


def main() -> None:
    """Make the book that ships, or another at the path given."""
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else SHIPPED
    with tempfile.TemporaryDirectory() as folder:
        part = Path(folder) / "corrody.book"
        build(part)
        target.unlink(missing_ok=True)
        with open_book(part) as book:
            copy_to(book, target)
    print(f"{target}: {target.stat().st_size // 1024} KiB")


if __name__ == "__main__":
    main()
