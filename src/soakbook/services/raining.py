"""A gauge reading entered: an amount for a window of time."""

from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Unpack

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import Rain, RainKind
from soakbook.garden.rainfall import began_at
from soakbook.quantities.amounts import parse_depth_mm
from soakbook.quantities.dates import parse_moment
from soakbook.services.desk import Desk, writing
from soakbook.services.pen import Pen, Written
from soakbook.services.told import Report

APART = timedelta(minutes=1)
"""Two readings nearer to each other than this are one."""

LONGEST_WINDOW = timedelta(days=31)
"""What a gauge has caught in a longer time has long dried off or run over. common practice, no source."""


def rain(
    path: Path,
    amount: str,
    *,
    from_: str | None = None,
    to: str | None = None,
    kind: RainKind | None = None,
    **written: Unpack[Written],
) -> Report:
    """Enter what the gauge caught.

    Parameters
    ----------
    path : Path
        The book.
    amount : str
        As typed: a depth, or `trace`.
    from_, to : str, optional
        When it began and when it was read, as typed; else from the last reading, to now.
    kind : str, optional
        gentle or burst.
    **written
        now, by, at; the last is the same as `to`.

    Raises
    ------
    InputError
        Anything that cannot be right; then the reading is not in the book.
    """
    from soakbook.services.rain_answer import answer

    if to and written.get("at"):
        raise InputError("at", written["at"], "the reading's moment said once: --to or --at")
    pen = Pen(path, **written)
    with writing(pen) as desk:
        depth_mm = parse_depth_mm(amount)
        read_at = _read_at(desk, to)
        if from_ is None:
            check_apart(desk, read_at, to)
        begin, assumed = _began(desk, from_, read_at)
        reading = admit(
            Rain,
            **desk.fields(read_at),
            rain_mm=depth_mm,
            typed=amount,
            began_at=begin,
            kind=kind,
            began_assumed=assumed,
        )
        after = desk.enter([reading])
    return answer(desk, after, reading)


def _began(desk: Desk, typed: str | None, read_at: datetime) -> tuple[datetime, bool]:
    if typed is None:
        readings = [one for one in desk.pages.entries if isinstance(one, Rain)]
        return began_at(readings, read_at, desk.garden.round_hour)
    begin = moment_said(desk, typed, "from")
    check_window(begin, read_at, ("from", typed))
    return begin, False


def check_window(begin: datetime, read_at: datetime, said: tuple[str, str]) -> None:
    """Refuse a window that ends before it begins, or is too long; `said` is the field and what was typed.

    Raises
    ------
    InputError
        It is one.
    """
    if begin >= read_at:
        right = f"before the reading at {read_at:%H:%M} on {read_at:%d %B %Y}"
        if said[0] != "from":
            right = (
                f"after {begin:%H:%M} on {begin:%d %B %Y}, when the rain began; --from says another"
            )
        raise InputError(*said, right)
    if read_at - begin > LONGEST_WINDOW:
        raise InputError(*said, f"at most {LONGEST_WINDOW.days} days between beginning and reading")


def _read_at(desk: Desk, to: str | None) -> datetime:
    """When the gauge was read: as said, else now."""
    if to:
        return moment_said(desk, to, "to")
    return moment_said(desk, desk.pen.at, "at") if desk.pen.at else desk.now


def check_apart(desk: Desk, read_at: datetime, to: str | None = None) -> None:
    """Refuse a reading of the minute in which the gauge was read already: it is likely typed twice.

    Raises
    ------
    InputError
        There is one within the minute.
    """
    readings = [one for one in desk.pages.entries if isinstance(one, Rain)]
    same = next(
        (
            one
            for one in readings
            if isinstance(one.happened_at, datetime) and abs(one.happened_at - read_at) < APART
        ),
        None,
    )
    if same is not None:
        right = (
            f"one reading a minute: {same.typed} was entered at {read_at:%H:%M} already; a correction "
            "of it says --from and --to"
        )
        field, typed = ("to", to) if to else ("at", desk.pen.at)
        raise InputError(field if typed else "time of reading", typed or f"{read_at:%H:%M}", right)


def moment_said(desk: Desk, typed: str, field: str, day: date | None = None) -> datetime:
    """A moment as typed; an hour alone is of `day`, else of today, a day alone counts at the round hour.

    Raises
    ------
    InputError
        It cannot be read, or has not come yet.
    """
    when = parse_moment(typed, field, desk.now, day=day)
    if isinstance(when, datetime):
        return when
    moment = datetime.combine(when, desk.garden.round_hour, desk.zone)
    if moment > desk.now:
        raise InputError(field, typed, f"with its hour: {desk.garden.round_hour:%H:%M} is not yet")
    return moment
