"""The morning's two questions: the round, and why.

A finished round is looked for first. Only when there is none is the whole book read and the reckoning
imported: the usual morning waits for neither.
"""

import json
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.errors import InputError
from soakbook.quantities.dates import AHEAD_DAYS, parse_day
from soakbook.services.books import reading
from soakbook.store.book_file import BookFile
from soakbook.store.code_mark import code_mark
from soakbook.store.dawns import DawnCache
from soakbook.store.rounds import RoundCache, RoundKey

if TYPE_CHECKING:
    from soakbook.garden.pages import Pages
    from soakbook.reckoning.advice.rounds import Morning

SPECIMEN_MORNING = date(2031, 5, 15)
"""The specimen's morning where none is named."""

SPECIMEN_CAME_LATER = (
    "a day of a book of your own: the weather of the specimen's came all at once, after its season"
)

LONGEST_AHEAD_DAYS = 10
"""A round is reckoned so many days past today and past the last weather: beyond, it would be guesswork."""


A_DAY = timedelta(days=1)


class Asked(NamedTuple):
    """Which morning is asked for: a day as it stood at its round hour, or this one as it stands now."""

    day: date
    mode: Literal["on", "now"]
    now: datetime
    as_known: date | None = None
    """The day by whose end a thing must have been written to count; None: whenever it was."""

    @property
    def written_before(self) -> datetime | None:
        """The moment before which it must have been written."""
        if self.as_known is None:
            return None
        return datetime.combine(self.as_known + A_DAY, time(), self.now.tzinfo)

    @property
    def kept_as(self) -> str:
        """What tells its finished round from others of the same day."""
        return self.mode if self.as_known is None else f"{self.mode} known {self.as_known}"


def round_report(
    path: Path,
    *,
    now: datetime,
    on: str | None = None,
    as_known: str | None = None,
    specimen: bool = False,
) -> dict[str, Any]:
    """The morning's round as `--json` gives it.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    on : str, optional
        The day asked for, as typed; without it the round as it stands now, or of the day `as_known`.
    as_known : str, optional
        A day, as typed: only what had been written by its end counts, corrected as far as it was then.
    specimen : bool
        Whether it is the specimen's morning that is meant where none is named.

    Raises
    ------
    InputError
        A day that cannot be read, or that lies beyond what can be reckoned.
    BookError
        The book cannot be opened.
    """
    cache = RoundCache()
    with reading(path) as book:
        asked = _asked(book.zone(), now, (on, as_known), specimen)
        key = RoundKey(book.uid, book.change_mark(), asked.day, asked.kept_as, code_mark())
        of_this_hour = key._replace(mode=f"{asked.kept_as} {asked.now.hour}")
        for each in (key, of_this_hour):
            text = cache.load(each)
            if text is not None:
                return _plain(text)
        pages = _read(book, asked)
    text = _reckoned(pages, asked)
    if not _lies_ahead(pages, asked):
        cache.keep(of_this_hour if _goes_by_the_hour(pages, asked) else key, text)
    return _plain(text)


def why_report(
    path: Path,
    bed: str,
    *,
    now: datetime,
    on: str | None = None,
    as_known: str | None = None,
    specimen: bool = False,
) -> dict[str, Any]:
    """The sums behind one bed's call, as `--json` gives them; parameters as in `round_report`.

    Raises
    ------
    InputError
        No such bed, or nothing in it that can be reckoned.
    """
    from soakbook.reckoning.advice.report import as_json
    from soakbook.reckoning.advice.why import why_of
    from soakbook.services.desk import bed_of

    with reading(path) as book:
        asked = _asked(book.zone(), now, (on, as_known), specimen)
        pages = _read(book, asked)
    key = bed_of(pages, bed).key
    report: dict[str, Any] = as_json(why_of(_morning(pages, asked, may_keep=True), key))
    return report


def morning_of(path: Path, *, on: date | None = None, now: datetime | None = None) -> "Morning":
    """One morning reckoned, for those who want the records and not the report.

    Parameters
    ----------
    path : Path
        The book.
    on : date, optional
        A day as it stood at its round hour; or else
    now : datetime, optional
        This morning as it stands at a moment, zone-aware.

    Raises
    ------
    BookError
        The book cannot be opened.
    """
    with reading(path) as book:
        if on is not None:
            asked = Asked(on, "on", datetime.combine(on, time(), book.zone()))
        else:
            assert now is not None
            local = now.astimezone(book.zone())
            asked = Asked(local.date(), "now", local)
        return _morning(_read(book, asked), asked, may_keep=False)


def morning_known(
    path: Path, at: datetime, *, may_keep: bool = False, by_written: bool = True
) -> "Morning":
    """The morning of a moment's day as it stood then, by what had been written and had come before it.

    Parameters
    ----------
    path : Path
        The book.
    at : datetime
        Zone-aware.
    may_keep : bool
        Whether dawns of it are worth keeping: of the present they are.
    by_written : bool
        False: by what had happened, whenever it was written.

    Raises
    ------
    BookError
        The book cannot be opened.
    """
    from soakbook.reckoning.advice.rounds import morning_now
    from soakbook.store.pages import read_pages

    with reading(path) as book:
        local = at.astimezone(book.zone())
        pages = read_pages(book, known_at=local, written_before=local if by_written else None)
    shelf = DawnCache(pages.garden.uid, local.date(), may_keep=may_keep)
    return morning_now(pages, local, shelf=shelf)


def _plain(text: str) -> dict[str, Any]:
    report: dict[str, Any] = json.loads(text)
    return report


def _asked(
    zone: ZoneInfo, now: datetime, said: tuple[str | None, str | None], specimen: bool
) -> Asked:
    on, as_known = said
    local = now.astimezone(zone)
    today, ahead_days = local.date(), AHEAD_DAYS
    if specimen:
        today = SPECIMEN_MORNING
        ahead_days = (date(today.year, 12, 31) - today).days
    known = None
    if as_known is not None:
        if specimen:
            raise InputError("as-known", as_known, SPECIMEN_CAME_LATER)
        known = parse_day(as_known, "as-known", today, ahead_days=0)
        if known > today:
            right = "a day that has come: what is written later is not known"
            raise InputError("as-known", as_known, right)
    if on is not None:
        return Asked(parse_day(on, "on", today, ahead_days=ahead_days), "on", local, known)
    if known is not None and known != today:
        return Asked(known, "on", local, known)
    return Asked(today, "on" if specimen else "now", local, known)


def _read(book: BookFile, asked: Asked) -> "Pages":
    """The book, without what lies past a day that is asked for as it stood."""
    from soakbook.store.pages import read_pages

    if asked.mode == "now":
        return read_pages(book, known_at=asked.now, written_before=asked.written_before)
    return read_pages(book, until=asked.day, written_before=asked.written_before)


def _reckoned(pages: "Pages", asked: Asked) -> str:
    from soakbook.reckoning.advice.report import as_json
    from soakbook.reckoning.advice.rounds import round_of

    return json.dumps(as_json(round_of(_morning(pages, asked, may_keep=True))), allow_nan=False)


def _morning(pages: "Pages", asked: Asked, *, may_keep: bool) -> "Morning":
    """A morning reckoned. Of one that is asked for as the book was once, or ahead, no dawns are kept."""
    from soakbook.reckoning.advice.rounds import morning_now, morning_on

    today = asked.now.date()
    may_keep = may_keep and asked.as_known is None and asked.day <= today
    shelf = DawnCache(pages.garden.uid, today, may_keep=may_keep)
    if asked.mode == "now":
        return morning_now(pages, asked.now, shelf=shelf)
    known_to = max([asked.as_known or today, *(day.day for day in pages.weather[-1:])])
    last = known_to + timedelta(days=LONGEST_AHEAD_DAYS)
    if asked.day > last:
        right = f"a day up to {last.isoformat()}: nothing is known of the weather beyond"
        raise InputError("on", asked.day.isoformat(), right)
    return morning_on(pages, asked.day, shelf=shelf)


def _lies_ahead(pages: "Pages", asked: Asked) -> bool:
    """Whether an entry is left out of a round as it stands now, and will come into it by and by.

    None does, unless a clock was wrong when it was entered.
    """
    if asked.mode == "on":
        return False
    return any(
        entry.happened_at > asked.now
        if isinstance(entry.happened_at, datetime)
        else entry.happened_at > asked.day
        for entry in pages.entries
    )


def _goes_by_the_hour(pages: "Pages", asked: Asked) -> bool:
    """Whether a round as it stands now would be another an hour later: of the day's own rain there is less to come."""
    return asked.mode == "now" and any(
        day.day == asked.day for forecast in pages.forecasts for day in forecast.days
    )
