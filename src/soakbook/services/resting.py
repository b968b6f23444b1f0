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


def rest(
    path: Path,
    bed: str,
    *,
    now: datetime,
    by: str | None = None,
    on: str | None = None,
    end: bool = False,
) -> Report:
    """Lay a bed to rest, or end its rest.

    Parameters
    ----------
    path : Path
        The book.
    bed : str
        As typed.
    now : datetime
        Zone-aware.
    by, on : str, optional
        Who says so; the first day of the rest, else today.
    end : bool
        End the rest instead, from today on.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    with writing(Pen(path, now, by)) as desk:
        old = desk.bed(bed)
        if end:
            if old.rests_from is None:
                raise InputError("bed", bed, f"a bed at rest: {old.name} is none")
            day = None
        else:
            day = desk.today
            if on is not None:
                day = parse_day(on, "on", desk.today, ahead_days=LONGEST_AHEAD_DAYS)
            if abs((day - desk.today).days) > LONGEST_AHEAD_DAYS:
                raise InputError("on", on, "a day within a year")
        record, changes = put(desk, Bed, old, {"rests_from": day})
        stand = sum(standing(desk.pages, one) for one in desk.pages.plantings_of(old))
    return told("rest", record.key, (_say(record, day, desk.today, stand),), {"fields": changes})


def _say(bed: Bed, day: date | None, today: date, stand: int) -> str:
    if day is None:
        return f"{bed.name} is on the round again. Feel it first: nobody has told of it while it rested."
    since = "today" if day == today else saying.date_of(day, today)
    plants = (
        f" {saying.counted(stand, 'plant')} {'stands' if stand == 1 else 'stand'} in it still: "
        "nobody will be told to water them."
        if stand
        else ""
    )
    again = f"soakbook rest {saying.quoted(bed.key)} --end"
    return (
        f"{bed.name} rests from {since}: it is in no round and takes no entry.{plants} Its past stays in the book. "
        f"To have it back:\n  {again}"
    )
