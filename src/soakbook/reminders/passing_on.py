"""What comes of a bed that somebody could not get to: who is told of it, and when."""

from collections.abc import Iterable, Sequence, Set
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from soakbook.garden.records import Uid
from soakbook.garden.reminding import Notice, Reminder
from soakbook.quantities.saying import names
from soakbook.reminders.heard import heard_on
from soakbook.reminders.kinds import hours_of, settings_of
from soakbook.reminders.wall_times import moment_of
from soakbook.reminders.whose import head_of, name_of, next_to, uids_of
from soakbook.store.book import open_book
from soakbook.store.garden_rows import read_records
from soakbook.store.pages import read_pages


def passed_on(
    path: Path,
    notices: Sequence[Notice],
    beds: Iterable[Uid],
    wanting: Set[Uid],
    *,
    now: datetime,
    day: date,
) -> list[str]:
    """To whom beds go now, a sentence for each person; nothing for beds that nobody was told of that day.

    Parameters
    ----------
    path : Path
        The book.
    notices : sequence of Notice
        That day's, which gave somebody beds.
    beds : iterable of str
        Uids of beds to which somebody could not get.
    wanting : set of str
        Uids of beds that the round had water for: nobody is asked after others.
    now : datetime
        Zone-aware.
    day : date
        The garden's.

    Raises
    ------
    BookError
        The book cannot be opened.
    """
    wanted = list(beds)
    told = {uid: {one.whom for one in notices if uid in one.beds} for uid in wanted}
    if not any(told.values()):
        return []
    with open_book(path, read_only=True) as book:
        pages = read_pages(book)
        settings = settings_of(read_records(book, Reminder), pages.garden)
    heard = heard_on(pages, day)
    if heard.answered >= set(wanted):
        return ["Nobody else is told: something was said of it today before."]
    open_beds = [bed for bed in pages.beds if bed.uid in set(wanted) & wanting - heard.answered]
    if not open_beds:
        return ["Nobody else is told: the round has no water for it."]
    setting = next(one for one in settings if one.kind == "unheard")
    if not setting.wanted:
        return ["Nobody else is told: soakbook remind settings unheard --on"]
    first, last = hours_of(setting)
    zone = ZoneInfo(pages.garden.timezone)
    hour = last if now >= moment_of(day, first, zone) else first
    head, by_person = head_of(pages), dict[Uid, list[str]]()
    for bed in open_beds:
        knows = told[bed.uid] | uids_of(heard.could_not.get(bed.uid, ()), pages)
        whom = next_to(knows, setting, pages, day) if hour == first else head
        if whom is not None and whom not in knows and now < moment_of(day, last, zone):
            by_person.setdefault(whom, []).append(bed.name)
    if not by_person:
        return ["There is nobody else to be told today."]
    of_which = len(by_person) > 1 or sum(map(len, by_person.values())) < len(open_beds)
    return [
        f"{name_of(whom, pages)} is told{f' of {names(theirs)}' if of_which else ''} at {hour:%H:%M}."
        for whom, theirs in by_person.items()
    ]
