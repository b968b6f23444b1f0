"""What comes of a bed that somebody could not get to: who is told of it, and when."""

from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from soakbook.garden.nearest import plain
from soakbook.garden.records import Uid
from soakbook.garden.reminding import Notice, Reminder
from soakbook.reminders.heard import heard_on
from soakbook.reminders.kinds import hours_of, settings_of
from soakbook.reminders.wall_times import moment_of
from soakbook.reminders.whose import head_of, name_of, next_to
from soakbook.store.book import open_book
from soakbook.store.garden_rows import read_records
from soakbook.store.pages import read_pages


def passed_on(
    path: Path, notices: Iterable[Notice], beds: Iterable[Uid], *, now: datetime, day: date
) -> list[str]:
    """To whom beds go now, in a sentence; nothing for beds that nobody was told of that day.

    Parameters
    ----------
    path : Path
        The book.
    notices : iterable of Notice
        That day's, which gave somebody beds.
    beds : iterable of str
        Uids of beds to which somebody could not get.
    now : datetime
        Zone-aware.
    day : date
        The garden's.

    Raises
    ------
    BookError
        The book cannot be opened.
    """
    wanted = set(beds)
    told = {one.whom for one in notices if wanted & set(one.beds)}
    if not told:
        return []
    with open_book(path, read_only=True) as book:
        pages = read_pages(book)
        settings = settings_of(read_records(book, Reminder), pages.garden)
    heard = heard_on(pages, day)
    could_not = {plain(name) for uid in wanted for name in heard.could_not.get(uid, ())}
    told |= {one.uid for one in pages.people if plain(one.name) in could_not}
    setting = next(one for one in settings if one.kind == "unheard")
    if not setting.wanted:
        return ["Nobody else is told: soakbook remind settings unheard --on"]
    first, last = hours_of(setting)
    zone = ZoneInfo(pages.garden.timezone)
    hour, whom = first, next_to(told, setting, pages, day)
    if now >= moment_of(day, first, zone):
        head = head_of(pages)
        hour, whom = last, None if head in told else head
    if whom is None or now >= moment_of(day, last, zone):
        return ["There is nobody else to be told today."]
    return [f"{name_of(whom, pages)} is told at {hour:%H:%M}."]
