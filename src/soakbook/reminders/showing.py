"""The reminders of a day as they are decided, shown and neither written nor sent."""

from datetime import datetime, time, timedelta
from pathlib import Path

from soakbook.errors import InputError
from soakbook.garden.reminding import Reminder
from soakbook.quantities.dates import parse_day
from soakbook.reckoning.advice.report import as_json
from soakbook.reminders.deciding import TOLD_DAYS, decide
from soakbook.reminders.instants import due_instants
from soakbook.reminders.kinds import settings_of
from soakbook.reminders.report import report_of
from soakbook.reminders.sights import sights_of
from soakbook.reminders.wall_times import moment_of
from soakbook.services.books import reading
from soakbook.services.mornings import SPECIMEN_MORNING
from soakbook.services.told import Report
from soakbook.store.garden_rows import read_garden, read_records
from soakbook.store.outbox import read_notices
from soakbook.store.pages import read_pages
from soakbook.store.texts import garden_zone

A_DAY = timedelta(days=1)


def day_report(
    path: Path, *, now: datetime, on: str | None = None, specimen: bool = False
) -> Report:
    """The reminders of a day, as `--json` gives them: by what had happened at each hour, whenever it was written.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware; of today only what is due by then.
    on : str, optional
        The day, as typed; else today.
    specimen : bool
        Whether it is the specimen's day that is meant where none is named.

    Raises
    ------
    InputError
        A day that cannot be read, or that has not come.
    BookError
        The book cannot be opened.
    """
    with reading(path) as book:
        garden, reminders = read_garden(book), read_records(book, Reminder)
        zone = garden_zone(garden)
        local = now.astimezone(zone)
        if specimen:
            local = datetime.combine(SPECIMEN_MORNING, time(23, 59), zone)
        ahead = 366 if specimen else 0
        day = parse_day(on, "on", local.date(), ahead_days=ahead) if on else local.date()
        if day > local.date() and not specimen:
            raise InputError("on", day.isoformat(), "a day that has come")
        began = moment_of(day, time(0), zone)
        ends = moment_of(day + A_DAY, time(0), zone) - timedelta(seconds=1)
        told = [
            one
            for one in read_notices(book, since=day - timedelta(days=TOLD_DAYS))
            if one.due_at < began
        ]
        pages = read_pages(book)
    settings = settings_of(reminders, garden)
    until = ends if specimen else min(ends, local)
    sight_at = sights_of(path, now, by_written=False)
    instants = due_instants(settings, garden, began - timedelta(seconds=1), until)
    notices = decide(instants, {one.kind: one for one in settings}, told, sight_at, began)
    report: Report = as_json(
        report_of(pages, datetime.combine(day, time(12), zone), notices=notices)
    )
    return report
