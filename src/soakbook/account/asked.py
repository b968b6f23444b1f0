"""The account as somebody asks for it: the season and the morning as typed."""

from datetime import date, datetime
from pathlib import Path

from soakbook.account.reviewed import Account, account_of
from soakbook.account.season import A_DAY, season_year
from soakbook.errors import InputError
from soakbook.quantities.dates import parse_day
from soakbook.services.books import reading
from soakbook.services.seasons import morning_after_all
from soakbook.store.garden_rows import read_garden

YEAR_EXAMPLE = "the year that a season begins in, as 2031"
MOST_DIGITS = 9
"""Python reads no number of thousands of digits."""


def account_asked(
    path: Path, year: str | None, on: str | None, *, now: datetime, specimen: bool = False
) -> Account:
    """The account that the words mean.

    Parameters
    ----------
    path : Path
        The book.
    year : str or None
        As typed; None: the season of the day before the morning.
    on : str or None
        The morning, as typed; None: this one, of the specimen the one after its last day.
    now : datetime
        Zone-aware.
    specimen : bool
        Whether the book is the specimen's: its today is the morning after its last day.

    Raises
    ------
    InputError
        A year or a day that is none, or that has not come; a season of which the book tells nothing.
    BookError
        The book cannot be opened or read.
    """
    with reading(path) as book:
        garden, zone = read_garden(book), book.zone()
    today = morning_after_all(path) if specimen else None
    today = today or now.astimezone(zone).date()
    asked = today if on is None else _morning(on, today)
    season = season_year(garden, asked - A_DAY) if year is None else _year(year)
    return account_of(path, season, asked)


def _morning(on: str, today: date) -> date:
    asked = parse_day(on, "on", today, ahead_days=0)
    if asked > today:
        raise InputError(
            "on", on, f"a day up to {today.isoformat()}: an account is of days gone by"
        )
    return asked


def _year(typed: str) -> int:
    text = typed.strip()
    if not (text.isascii() and text.isdigit() and len(text) <= MOST_DIGITS):
        raise InputError("year", typed, YEAR_EXAMPLE)
    return int(text)
