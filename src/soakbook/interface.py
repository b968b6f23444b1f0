"""From Python: `soakbook.open_book(path)` gives a garden's `Book`, and a book gives records.

What the commands print as text or JSON comes here as the objects themselves. Nothing is written, and no clock is read:
every question says its day or its moment. To write in a book, the functions of `soakbook.services` are the way.
"""

import os
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from soakbook.errors import InputError

if TYPE_CHECKING:
    from soakbook.account.reviewed import Account
    from soakbook.garden.pages import Pages
    from soakbook.reckoning.advice.report import Round
    from soakbook.reckoning.advice.why_report import Why

A_DAY_OR_A_MOMENT = "one of both: on=date(2031, 5, 15), or now= a moment with its zone"


class Book:
    """The book of one garden, read anew at every question: what others write meanwhile counts."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def pages(self) -> "Pages":
        """Everything in force: garden, beds, plantings, taps, people, entries, weather by day.

        Raises
        ------
        BookError
            The book cannot be read.
        """
        from soakbook.services.books import reading
        from soakbook.store.pages import read_pages

        with reading(self.path) as book:
            return read_pages(book)

    def round(self, *, on: date | None = None, now: datetime | None = None) -> "Round":
        """The round of a morning, as `soakbook round --json` has it.

        Parameters
        ----------
        on : date, optional
            A day as it stood at the book's round hour, by when things happened.
        now : datetime, optional
            This morning as it stands at a moment, zone-aware: today's soaks count.

        Raises
        ------
        InputError
            Neither is said, or both; a moment without its zone; a day beyond what can be reckoned.
        BookError
            The book cannot be read.
        """
        from soakbook.reckoning.advice.rounds import round_of
        from soakbook.services.mornings import morning_of

        return round_of(morning_of(self.path, on=on, now=_asked(on, now)))

    def why(self, bed: str, *, on: date | None = None, now: datetime | None = None) -> "Why":
        """The sums behind one bed's call, as `soakbook why --json` has them.

        Parameters
        ----------
        bed : str
            Its key, its name, or a part of one.
        on, now : date, datetime, optional
            As in `round`.

        Raises
        ------
        InputError
            No such bed, nothing in it that can be reckoned, or as in `round`.
        BookError
            The book cannot be read.
        """
        from soakbook.reckoning.advice.why import why_of
        from soakbook.services.desk import bed_of
        from soakbook.services.mornings import morning_of

        morning = morning_of(self.path, on=on, now=_asked(on, now))
        return why_of(morning, bed_of(morning.pages, bed).key)

    def account(self, year: int, *, on: date | None = None) -> "Account":
        """The account of a season: frames `days`, `visits`, `beds`, `months`, `sources`, `feels` and `waits`.

        What their columns hold, and in which unit, is in `soakbook.account.frames.FRAMES`.

        Parameters
        ----------
        year : int
            The one the season begins in: 1 January, south of the equator 1 July.
        on : date, optional
            The morning it is asked on; days before it are in it. Without it, the morning after the last day of which
            the book tells.

        Raises
        ------
        InputError
            The season has not begun, or the book tells nothing of it.
        BookError
            The book cannot be read.
        """
        from soakbook.account.reviewed import account_of

        return account_of(self.path, year, on)


def open_book(path: str | os.PathLike[str]) -> Book:
    """The book at a path.

    Raises
    ------
    BookError
        There is none, or none that can be read.
    """
    from soakbook.services.books import reading

    found = Path(path)
    with reading(found):
        return Book(found)


def _asked(on: date | None, now: datetime | None) -> datetime | None:
    if (on is None) == (now is None):
        raise InputError("on, now", None if on is None else (on, now), A_DAY_OR_A_MOMENT)
    if now is not None and now.tzinfo is None:
        raise InputError("now", now.isoformat(), "a moment with its zone")
    return now
