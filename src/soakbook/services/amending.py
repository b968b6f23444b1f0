"""An entry corrected: another that supersedes it is written, and what that changes is said back."""

from dataclasses import fields
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Unpack, cast

from soakbook.errors import InputError
from soakbook.garden.entries import AnyEntry, Soak, Void
from soakbook.services.desk import Desk, writing
from soakbook.services.far_more import FarMore, Habits, as_doubtful, as_meant, doubted, unmeant
from soakbook.services.history import LAST, History, check_not_moved, history_of
from soakbook.services.pen import Pen, Written
from soakbook.services.remaking import remade
from soakbook.services.told import Report

OF_THE_WRITING = ("uid", "written_at", "supersedes", "corrected_by")


def amend(path: Path, handle: str, said: dict[str, Any], **written: Unpack[Written]) -> Report:
    """Correct an entry; what is not said otherwise stays as it was.

    Parameters
    ----------
    path : Path
        The book.
    handle : str
        The entry, as `book log` shows it; or `last`, of what stands that which was written last by
        whoever says so, or at all: what was taken back is passed over.
    said : dict
        What is said otherwise, as typed: amount, planting, in_bed, ball, bed, unsure, kind, method,
        from, gauge, reason, count, cause, note, done_by; only what the entry's kind has.
    **written
        now, by (who says so), at (when it happened, where that is corrected); sure, where it is meant
        though it is ten times what is usual there.

    Raises
    ------
    InputError
        No such entry, several, or one that is out of force; anything that cannot be right, or that it
        says already. Then nothing is in the book.
    """
    from soakbook.services.amend_answer import amended

    pen = Pen(path, **written)
    if not said and pen.at is None:
        raise InputError(
            "correction", None, "what is to be another: an amount, or an option such as --at"
        )
    with writing(pen) as desk:
        old, new, far = _made(desk, handle, said)
        if far and pen.sure:
            new, far = as_meant(cast("Soak", new), far), None
        both = {one.name: (getattr(old, one.name), getattr(new, one.name)) for one in fields(new)}
        changed = {
            name: pair
            for name, pair in both.items()
            if name not in OF_THE_WRITING and _told_apart(pair[0]) != _told_apart(pair[1])
        }
        if not changed:
            raise InputError("correction", handle, "something else than the entry says already")
        after = desk.enter([new])
        handles = history_of(desk.book, after.pages).handles
    answer = amended(desk, after, (old, new), changed, handles)
    if far:
        answer["say"].append(doubted(far, handles[new.uid]))
        answer["changed"]["doubtful"] = as_doubtful(far)
    return answer


def far_more_amended(
    path: Path, handle: str, said: dict[str, Any], **written: Unpack[Written]
) -> FarMore | None:
    """What is usual where a watering, as it is to be corrected, is ten times as much; nothing is entered.

    Parameters
    ----------
    path, handle, said, **written
        As for `amend`.

    Raises
    ------
    InputError
        As for `amend`.
    """
    with writing(Pen(path, **written)) as desk:
        return _made(desk, handle, said)[2]


def _made(
    desk: Desk, handle: str, said: dict[str, Any]
) -> tuple[AnyEntry, AnyEntry, FarMore | None]:
    """The entry that is corrected, as it is to be, and what would be usual in place of far too much."""
    old = _meant(history_of(desk.book, desk.pages), handle, desk.pen.by)
    rest = desk.without(old)
    new = remade(rest, old, said)
    if (
        not isinstance(new, Soak)
        or not isinstance(old, Soak)
        or _of_how_much(new) == _of_how_much(old)
    ):
        return old, new, None
    if "note" not in said:
        new = unmeant(new)
    return old, new, Habits(rest.pages).far_more(new)


def _told_apart(value: Any) -> Any:
    """A value that is equal to the same alone: of an hour that comes twice, by Greenwich and not by the wall."""
    return value.astimezone(UTC) if isinstance(value, datetime) else value


def _of_how_much(soak: Soak) -> tuple[object, ...]:
    return soak.litres, soak.kind, soak.bed_uid, soak.planting_uid


def _meant(history: History, handle: str, by: str | None) -> AnyEntry:
    """The entry that is to be corrected."""
    if handle.strip().casefold() == LAST:
        sitting = history.last_that_stands(by)
        if len(sitting) > 1:
            right = f"one of those written together: {history.listed(sitting)}"
            raise InputError("handle", handle, right)
        check_not_moved(handle, sitting[0])
        return sitting[0]
    found = history.named(handle)
    if isinstance(found, Void):
        right = "an entry: that one was taken back; soakbook book undo brings it back first"
        raise InputError("handle", handle, right)
    check_not_moved(handle, found)
    return found
