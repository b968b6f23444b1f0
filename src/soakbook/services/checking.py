"""Whether a book is sound: the file, what stands in it, and a whole reckoning of its water."""

import os
import stat
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

from soakbook.errors import BookError, LedgerError
from soakbook.garden.pages import Pages
from soakbook.reckoning.advice.report import as_json
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.season import season_of
from soakbook.services.books import SPECIMEN
from soakbook.services.check_entries import of_entries
from soakbook.services.check_findings import WEIGHTS, Finding, Looked
from soakbook.services.check_settings import of_ground, of_replaced, of_settings
from soakbook.services.check_weather import of_weather
from soakbook.services.told import Report
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.changes import changes
from soakbook.store.contents import contents
from soakbook.store.pages import read_pages
from soakbook.store.refusals import damaged
from soakbook.store.soundness import (
    circles,
    file_faults,
    lost_references,
    rain_said_twice,
    unreadable_entries,
)
from soakbook.store.texts import garden_zone

CHECK_SCHEMA = "soakbook.check/1"
A_DAY = timedelta(days=1)
OTHERS = stat.S_IRGRP | stat.S_IWGRP | stat.S_IROTH | stat.S_IWOTH
LEAVES_NOTHING_TO_RECKON = {
    "circle", "no_room", "out_of_bounds", "parted_in_a_circle", "replaced_elsewhere",
    "replaced_in_a_circle",
}  # fmt: skip
"""Findings of a book whose water no reckoning could make add up: it is first to be set right."""


def check_report(path: Path, *, now: datetime) -> Report:
    """All that is found in a book, worst first, as `--json` gives it.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.

    Raises
    ------
    BookError
        The file is no book, or one that cannot be opened at all.
    """
    ships = path == SPECIMEN
    with open_book(path, read_only=True, immutable=ships, read_through=False) as book:
        found = list(_of_file(book))
        held, reckoned, garden = None, None, None
        if not found:
            with book.reading():
                held = contents(book)
                found, pages = _of_pages(book, None if ships else now)
            if pages is not None:
                garden = pages.garden.name
                if not any(one.kind in LEAVES_NOTHING_TO_RECKON for one in found):
                    reckoned, water = _of_water(pages, now, ships)
                    found += water
    if not ships:
        found += _of_modes(path)
    found.sort(key=lambda one: (WEIGHTS.index(one.weight), one.day or date.min, one.say))
    report: Report = as_json(
        {
            "schema": CHECK_SCHEMA,
            "book": str(path),
            "garden": garden,
            "sound": not any(one.weight == "damaged" for one in found),
            "held": held,
            "reckoned": reckoned,
            "findings": found,
        }
    )
    return report


def hindrance(path: Path) -> str | None:
    """What in a book no reckoning gets past, in a sentence; None where there is nothing of the kind.

    Raises
    ------
    BookError
        The file is no book, or one that cannot be opened at all.
    """
    with open_book(path, read_only=True, read_through=False) as book:
        found = list(_of_file(book))
        if not found:
            with book.reading():
                found, _ = _of_pages(book)
    hinders = (
        one.say for one in found if one.weight == "damaged" or one.kind in LEAVES_NOTHING_TO_RECKON
    )
    return next(hinders, None)


def _of_file(book: BookFile) -> Iterator[Finding]:
    broken = file_faults(book)
    if broken:
        more = f" and {len(broken) - 1} more" if len(broken) > 1 else ""
        say = f"The file is damaged; SQLite says: {broken[0]}{more}."
        yield Finding("file", "damaged", say, f"{book.path} {damaged(book.path)}.")
        return
    for text in lost_references(book):
        say = f"Something the book speaks of is gone: {text}."
        yield Finding("reference", "damaged", say, f"{book.path} {damaged(book.path)}.")


def _of_pages(book: BookFile, now: datetime | None = None) -> tuple[list[Finding], Pages | None]:
    """What stands in the book, looked at now or after its last day; no pages where they cannot be read."""
    found = [
        Finding(
            "unreadable",
            "damaged",
            f"An entry cannot be read: a {one.kind} with the time {one.text!r}.",
            f"{book.path} {damaged(book.path)}.",
            entries=(one.uid,),
        )
        for one in unreadable_entries(book)
    ]
    if found:
        return found, None
    try:
        pages = read_pages(book)
        changes(book)
    except BookError as error:
        return [Finding("unreadable", "damaged", f"{error}.")], None
    zone = garden_zone(pages.garden)
    today = _last_day(pages) if now is None else now.astimezone(zone).date()
    looked = Looked(pages, zone, today)
    found += [
        Finding(
            "circle",
            "wrong",
            f"{len(circle)} entries are said to correct each other in a circle, so that none of them counts.",
            "Enter what is true once more.",
            entries=circle,
        )
        for circle in circles(book)
    ]
    replaced = list(of_replaced(looked))
    found += [*of_entries(looked), *of_settings(looked), *replaced]
    if not any(one.kind in ("replaced_in_a_circle", "parted_in_a_circle") for one in replaced):
        found += of_ground(looked)
    found += of_weather(looked, rain_said_twice(book))
    return found, pages


def _of_water(pages: Pages, now: datetime, ships: bool) -> tuple[Report | None, list[Finding]]:
    """The season run from the first planting to today, or to the end of the weather where that comes first."""
    if not pages.weather:
        return None, []
    today = now.astimezone(garden_zone(pages.garden)).date()
    morning = _last_day(pages) if ships else min(today, _last_day(pages))
    season = season_of(known_on(pages, morning), morning, ahead_days=1)
    if season is None:
        return None, []
    try:
        run(season)
    except LedgerError as error:
        say = f"A day's water does not add up: {error}."
        do = "This is a fault of soakbook's, please report it with a copy of the book."
        return None, [Finding("ledger", "ours", say, do)]
    days = (morning - season.first).days
    return {"first": season.first, "morning": morning, "days": days, "members": season.members}, []


def _last_day(pages: Pages) -> date:
    """The morning after the last day that has any weather."""
    last = max((day.day for day in pages.weather), default=date.min)
    return min(last, date.max - A_DAY) + A_DAY


def _of_modes(path: Path) -> list[Finding]:
    if os.name != "posix" or not path.stat().st_mode & OTHERS:
        return []
    say = "Others on this machine may read or write the book."
    return [Finding("open_to_others", "look", say, f"Unless that is meant: chmod 600 {path}")]
