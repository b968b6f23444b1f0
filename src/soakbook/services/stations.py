"""Stations' files that the book remembers, by path or address, and reads again whenever weather is asked for."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from soakbook.errors import BookError, InputError, WeatherError
from soakbook.services.addresses import check_address, file_name_of, host_of, is_address, shown
from soakbook.services.patience import asked_of, waits
from soakbook.services.told import Report
from soakbook.services.weather_files import import_file
from soakbook.store.book import open_book
from soakbook.store.garden_rows import locations
from soakbook.store.places import cache_folder, from_home
from soakbook.store.weather_asked import Asked, add_asked, last_asked
from soakbook.weather.session import Outside, Request

LIFETIME_S = 900

SHUT_FOR = timedelta(hours=1)
"""How long an address of the gardener's own that will not answer is left alone, unless he types it himself.

A service that shuts its door is left alone for a day; this one asked for nothing. Common practice, no source.
"""


class ReadAgain(NamedTuple):
    """What came of reading remembered files again."""

    say: tuple[str, ...]
    """A sentence or more for each."""
    came: int
    """How many were read."""
    failed: int
    not_asked: tuple[str, ...]
    """Names of those that nobody was asked for, while offline."""


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
        An address that cannot be right, or anything in the file; then nothing of it is in the book.
    WeatherError
        Nothing came from the address.
    """
    now = said["now"]
    assert isinstance(now, datetime)
    if is_address(file):
        address = check_address(
            file, "file", "a path, or an address like https://example.org/a.csv"
        )
        how = {"called": file_name_of(address), "read_from": address, "keep": True}
        with _fetched(path, address, now, offline, typed=not said.get("again")) as local:
            return import_file(path, local, **said, **how)  # type: ignore[arg-type]
    local = _on_disk(file)
    how = {"read_from": str(local.resolve()), "keep": keep}
    return import_file(path, local, **said, **how)  # type: ignore[arg-type]


def read_again(
    path: Path, *, now: datetime, by: str | None = None, offline: bool = False
) -> ReadAgain:
    """Read every remembered file again; what fails leaves the book as it was.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    by : str, optional
        Who asks.
    offline : bool
        Nobody is asked: files on this machine are read all the same.
    """
    with open_book(path) as book:
        known = locations(book)
    say: list[str] = []
    not_asked = []
    came = failed = 0
    for name, location in known.items():
        try:
            how = {"now": now, "by": by, "name": name, "again": True}
            answer = bring(path, location, keep=True, offline=offline, **how)
        except (InputError, WeatherError, OSError) as fault:
            if isinstance(fault, WeatherError) and fault.kind == "offline":
                not_asked.append(name)
                continue
            failed += 1
            say.append(f"{name}: not read again. {_sentence(fault)} What the book has stays.")
        else:
            came += 1
            say += answer["say"]
    return ReadAgain(tuple(say), came, failed, tuple(not_asked))


def _sentence(fault: Exception) -> str:
    text = str(fault)
    return text if text.endswith((".", "?")) else f"{text}."


def _on_disk(file: str) -> Path:
    """The file that a path names."""
    try:
        path = from_home(file)
        there = path.is_file()
    except (BookError, OSError, ValueError):  # too long, or a letter that no path has
        there = False
    if not there:
        raise InputError("file", shown(file), "a file that is there, or an address")
    return path


@contextmanager
def _fetched(
    path: Path, address: str, now: datetime, offline: bool, *, typed: bool
) -> Iterator[Path]:
    """The file of an address, for as long as it is needed; whatever it is called, it lies here under one name."""
    host = host_of(address)
    if not offline:
        _heed(path, host, address, now, typed=typed)
    with (
        Outside(cache_folder(), "soakbook", offline=offline) as outside,
        TemporaryDirectory() as folder,
    ):
        try:
            answer = outside.get_text(Request(host, address, {}, LIFETIME_S), now)
            if answer.trouble is not None:  # of an older answer the book has everything already
                raise answer.trouble
        except WeatherError as trouble:
            if trouble.not_before is not None:
                with open_book(path) as book:
                    add_asked(book, _pausing(asked_of(trouble, address, now)))
            raise
        _answers_again(path, host, address, now)
        local = Path(folder) / "table"
        local.write_text(answer.said, encoding="utf-8")
        yield local


def _heed(path: Path, host: str, address: str, now: datetime, *, typed: bool) -> None:
    """Leave alone a host that is busy, and, unless it was typed, an address that would not answer a while ago."""
    with open_book(path, read_only=True) as book:
        asked, zone = last_asked(book), book.zone()
    for (service, what), one in asked.items():
        trouble = waits(one, now, zone) if service == host else None
        shut = what == address and not (typed and one.came == "refused")
        if trouble is not None and (shut or one.came == "busy"):
            raise trouble


def _pausing(asked: Asked) -> Asked:
    """An asking that came to nothing; of one that would not answer and named no time, the pause is ours."""
    return asked._replace(not_before=asked.at + SHUT_FOR) if asked.came == "refused" else asked


def _answers_again(path: Path, host: str, address: str, now: datetime) -> None:
    """Write down that an address answers which was to be left alone."""
    with open_book(path, read_only=True) as book:
        last = last_asked(book).get((host, address))
    if last is not None and last.not_before is not None:
        with open_book(path) as book:
            add_asked(book, Asked(host, address, now, "new"))
