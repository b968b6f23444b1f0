"""The proof as it is asked for: days as typed, a book at a path, files to be written."""

from datetime import date, datetime
from pathlib import Path
from typing import Any, NamedTuple

from soakbook.account.documents.placing import check_place, place_of, write_file
from soakbook.account.proof import proof_report
from soakbook.account.proof_files import html_of, pdf_of
from soakbook.errors import InputError
from soakbook.quantities.dates import parse_day
from soakbook.quantities.spans import parse_span
from soakbook.services.books import reading
from soakbook.store.pages import read_pages
from soakbook.store.texts import garden_zone


class Wanted(NamedTuple):
    """Files that are to be written, if any."""

    html: Path | None = None
    pdf: Path | None = None
    force: bool = False


NO_FILES = Wanted()


def prove(
    path: Path,
    first: str,
    last: str,
    *,
    now: datetime,
    specimen: bool = False,
    wanted: Wanted = NO_FILES,
) -> dict[str, Any]:
    """The proof of a span of days as `--json` gives it, and the files that are wanted of it.

    Parameters
    ----------
    path : Path
        The book.
    first, last : str
        The days as typed, both included.
    now : datetime
        Zone-aware.
    specimen : bool
        Whether it is the specimen's, whose days end with its weather.
    wanted : Wanted
        Either all of the files are set before the first is written, or none is.

    Raises
    ------
    InputError
        Days that cannot be right, nothing entered in them, a place for a file that is taken, an extra that is missing.
    BookError
        The book cannot be read, or a file not be written.
    """
    places = [("html", wanted.html, html_of), ("pdf", wanted.pdf, pdf_of)]
    for field, place, _ in places:
        if place is not None:
            check_place(field, place, path, force=wanted.force)
    if wanted.html and wanted.pdf and place_of(wanted.html) == place_of(wanted.pdf):
        raise InputError("pdf", str(wanted.pdf), "another file than the HTML's")
    with reading(path) as book:
        pages = read_pages(book)
    today = now.astimezone(garden_zone(pages.garden)).date()
    if specimen:
        today = pages.weather[-1].day
    begin, end = _span(first, last, today)
    if end > today:
        right = f"a day that has come, up to {today.isoformat()}"
        raise InputError("until", end.isoformat(), right)
    report = proof_report(pages, begin, end)
    made = [(place, set_of(report)) for _, place, set_of in places if place is not None]
    for place, content in made:
        write_file(place, content, force=wanted.force)
    return report


def _span(first: str, last: str, today: date) -> tuple[date, date]:
    """Both days; a last one without a year is the next after the first."""
    parse_day(first, "from", today)
    parse_day(last, "until", today)
    try:
        return parse_span(f"{first}..{last}", "until", today, ahead_days=0)
    except InputError as error:
        right = f"a day not before {first}, at most 300 days after it where no year is said"
        raise InputError("until", last, right) from error
