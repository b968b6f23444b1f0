"""A bed laid to rest: from a day on it is in no round and takes no entry, until somebody ends the rest."""

from datetime import date, datetime
from pathlib import Path

from soakbook.errors import InputError
from soakbook.garden.records import Bed
from soakbook.quantities import saying
from soakbook.quantities.dates import parse_day
from soakbook.services.desk import writing
from soakbook.services.pen import Pen
from soakbook.services.settings import put
from soakbook.services.subjects import standing
from soakbook.services.told import Report, told

LONGEST_AHEAD_DAYS = 366
UNSAID_AHEAD_DAYS = 300
"""A day without a year that was within the last two months is that day, not next year's."""

NO = ("no", "none", "end")
DAYS = "today, 1oct or 2031-10-01; no ends its rest"


def rest(path: Path, bed: str, on: str, *, now: datetime, by: str | None = None) -> Report:
    """Lay a bed to rest, or end its rest.

    Parameters
    ----------
    path : Path
        The book.
    bed, on : str
        As typed: which, and the first day of its rest; `no` ends it, from today on.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    with writing(Pen(path, now, by)) as desk:
        old = desk.bed(bed)
        day = None
        if on.strip().casefold() not in NO:
            day = parse_day(on, "rest", desk.today, ahead_days=UNSAID_AHEAD_DAYS, examples=DAYS)
            if abs((day - desk.today).days) > LONGEST_AHEAD_DAYS:
                raise InputError("rest", on, "a day within a year")
        elif old.rests_from is None:
            raise InputError("rest", on, f"a day: {old.name} is not at rest")
        record, changes = put(desk, Bed, old, {"rests_from": day})
        stand = sum(standing(desk.pages, one) for one in desk.pages.plantings_of(old))
        rested = old.rests_from is not None and old.rests_from < desk.today
    say = _say(record, day, desk.today, stand) if day else _on_again(record, rested)
    return told("rest", record.key, (say,), {"fields": changes})


def _on_again(bed: Bed, rested: bool) -> str:
    feel = " Feel it first: nobody has told of it while it rested." if rested else ""
    return f"{bed.name} is on the round again.{feel}"


def _say(bed: Bed, day: date, today: date, stand: int) -> str:
    since = "today" if day == today else saying.date_of(day, today)
    plants = (
        f" {saying.counted(stand, 'plant')} {'stands' if stand == 1 else 'stand'} in it still: "
        "nobody will be told to water them."
        if stand
        else ""
    )
    again = f"soakbook bed {saying.quoted(bed.key)} --rest no"
    return (
        f"{bed.name} rests from {since}: it is in no round and takes no entry.{plants} Its past stays in the book. "
        f"To have it back:\n  {again}"
    )
