"""A copy of the book in one file, made while it is in use."""

from pathlib import Path

from soakbook.quantities.saying import counted, plural
from soakbook.services.books import SPECIMEN, from_home
from soakbook.services.told import Report, told
from soakbook.store.book import open_book
from soakbook.store.contents import contents
from soakbook.store.copying import copy_to

BYTES_A_KB = 1000


def copy(path: Path, target: str) -> Report:
    """Copy the book as it stands, and say what the copy holds.

    Parameters
    ----------
    path : Path
        The book.
    target : str
        Where the copy is to lie, as typed.

    Raises
    ------
    BookError
        The book cannot be opened or is damaged; there is something at the target already, or nothing can be
        written there. Then there is no copy.
    """
    there = from_home(target)
    with open_book(path, read_only=True, immutable=path == SPECIMEN) as book:
        copy_to(book, there)
    # Counted in the copy itself: what it says it holds can be read in it.
    with open_book(there, read_only=True, immutable=True) as copied:
        held = contents(copied)
    size_b = there.stat().st_size
    entries = f"{held.entries:,} {plural('entry', held.entries)}"
    days = counted(held.weather_days, "day")
    say = (
        f"Copied to {there}: {entries}, {days} of weather, {size_b / BYTES_A_KB:,.0f} kB in one file.",
        "It is a book like the other: --book reads it, and put in the place of a book that is damaged it goes on "
        "from here. Keep it on another disk.",
    )
    return told(
        "book",
        None,
        say,
        {
            "path": str(there),
            "entries": held.entries,
            "weather_days": held.weather_days,
            "size_bytes": size_b,
        },
    )
