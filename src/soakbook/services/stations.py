"""Stations' files that the book remembers, by path or address, and reads again whenever weather is asked for."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import urlsplit

from soakbook.errors import InputError, WeatherError
from soakbook.services.told import Report
from soakbook.services.weather_files import import_file
from soakbook.store.book import open_book
from soakbook.store.garden_rows import keep_location, locations
from soakbook.store.places import cache_folder
from soakbook.weather.session import Outside, Request

LIFETIME_S = 900


def is_address(text: str) -> bool:
    """Whether a file is named by an address of the web."""
    return urlsplit(text).scheme in ("http", "https")


def bring(path: Path, file: str, *, keep: bool, offline: bool = False, **said: object) -> Report:
    """Bring a station's file into the book, from disk or from an address.

    Parameters
    ----------
    path : Path
        The book.
    file : str
        A path, or an address of the web.
    keep : bool
        Whether it is to be read again whenever weather is asked for; an address always is.
    offline : bool
        Nobody is asked.
    **said
        As for `import_file`.

    Raises
    ------
    InputError
        Anything in the file that cannot be right; then nothing of it is in the book.
    WeatherError
        Nothing came from the address.
    """
    now = said["now"]
    assert isinstance(now, datetime)
    with _at_hand(file, now, offline) as local:
        answer = import_file(path, local, **said)  # type: ignore[arg-type]
    if keep or is_address(file):
        name = str(said.get("name") or local.name)
        location = file if is_address(file) else str(Path(file).expanduser().resolve())
        with open_book(path) as book:
            keep_location(book, name, location)
    return answer


def read_again(
    path: Path, *, now: datetime, by: str | None = None, offline: bool = False
) -> list[str]:
    """What came of reading every remembered file again, a sentence each; what fails leaves the book as it was."""
    with open_book(path) as book:
        known = locations(book)
    said = []
    for name, location in known.items():
        try:
            how = {"now": now, "by": by, "name": name, "again": True}
            answer = bring(path, location, keep=False, offline=offline, **how)
        except (InputError, WeatherError, OSError) as fault:
            said.append(f"{name}: not read again. {_sentence(fault)} What the book has stays.")
        else:
            said += answer["say"]
    return said


def _sentence(fault: Exception) -> str:
    text = str(fault)
    return text if text.endswith((".", "?")) else f"{text}."


@contextmanager
def _at_hand(file: str, now: datetime, offline: bool) -> Iterator[Path]:
    """The file on this machine, under the last part of its address."""
    if not is_address(file):
        path = Path(file).expanduser()
        if not path.is_file():
            raise InputError("file", file, "a file that is there, or an address")
        yield path
        return
    parts = urlsplit(file)
    name = Path(parts.path).name or parts.netloc
    with (
        Outside(cache_folder(), "soakbook", offline=offline) as outside,
        TemporaryDirectory() as folder,
    ):
        request = Request(parts.netloc, file, {}, LIFETIME_S)
        answer = outside.get_text(request, now)
        if answer.trouble is not None:  # of an older answer the book has everything already
            raise answer.trouble
        local = Path(folder) / name
        local.write_text(answer.said, encoding="utf-8")
        yield local
