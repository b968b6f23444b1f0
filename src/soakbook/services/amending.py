"""An entry corrected: another that supersedes it is written, and what that changes is said back."""

from dataclasses import fields
from pathlib import Path
from typing import Any, Unpack

from soakbook.errors import InputError
from soakbook.garden.entries import AnyEntry, Kept, Void
from soakbook.services.desk import writing
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
        The entry, as `book log` shows it; or `last`, what was written last by whoever says so, or at all.
    said : dict
        What is said otherwise, as typed: amount, planting, in_bed, ball, bed, unsure, kind, method,
        from, gauge, reason, count, cause, note, done_by; only what the entry's kind has.
    **written
        now, by (who says so), at (when it happened, where that is corrected).

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
        history = history_of(desk.book, desk.pages)
        old = _meant(history, handle, pen.by)
        new = remade(desk.without(old), old, said)
        changed = {
            one.name: (getattr(old, one.name), getattr(new, one.name))
            for one in fields(new)
            if one.name not in OF_THE_WRITING and getattr(old, one.name) != getattr(new, one.name)
        }
        if not changed:
            raise InputError("correction", handle, "something else than the entry says already")
        after = desk.enter([new])
        handles = history_of(desk.book, after.pages).handles
    return amended(desk, after, (old, new), changed, handles)


def _meant(history: History, handle: str, by: str | None) -> AnyEntry:
    """The entry that is to be corrected."""
    found: Kept
    if handle.strip().casefold() == LAST:
        sitting = history.last_sitting(by)
        if len(sitting) > 1:
            right = f"one of those written together: {history.listed(sitting)}"
            raise InputError("handle", handle, right)
        found = sitting[0]
    else:
        found = history.named(handle)
    if isinstance(found, Void):
        right = "an entry: that one was taken back; soakbook book undo brings it back first"
        raise InputError("handle", handle, right)
    check_not_moved(handle, found)
    return found
