"""What was written taken back, or a taking back undone: another entry supersedes it, and nothing is lost."""

from dataclasses import replace
from pathlib import Path
from typing import Unpack

from soakbook.errors import InputError
from soakbook.garden.entries import Catch, Kept, Loss, Void
from soakbook.quantities.saying import plural
from soakbook.services.desk import Desk, writing
from soakbook.services.history import LAST, History, check_not_moved, history_of
from soakbook.services.pen import Pen, Written
from soakbook.services.subjects import standing
from soakbook.services.told import Report
from soakbook.store.book import new_uid
from soakbook.store.changes import changes


def undo(path: Path, handle: str = LAST, **written: Unpack[Written]) -> Report:
    """Undo the last sitting, or take back the one entry that is named.

    Undoing takes an entry back, a correction to what stood before it, and brings back what was taken
    back. Named by its handle, an entry is taken back altogether though it had been corrected.

    Parameters
    ----------
    path : Path
        The book.
    handle : str
        The entry, as `book log` shows it; or `last`, all that was written last by whoever says so, or at all.
    **written
        now, by (who says so).

    Raises
    ------
    InputError
        No such entry, several, or one that is out of force; or bringing it back would make the impossible.
    """
    from soakbook.services.undo_answer import undone

    pen = Pen(path, **written)
    with writing(pen) as desk:
        history = history_of(desk.book, desk.pages)
        if handle.strip().casefold() == LAST:
            old = history.last_sitting(pen.by)
            new = [_before(desk, history, one) for one in old]
        else:
            named = history.named(handle)
            old = (named,)
            new = [_before(desk, history, named) if isinstance(named, Void) else _void(desk, named)]
        for one in old:
            check_not_moved(handle, one)
        _check_possible(desk, old, new)
        after = desk.enter(new)
        handles = history_of(desk.book, after.pages).handles
        logged = changes(desk.book) if any(isinstance(one, Catch) for one in old) else ()
    return undone(desk, after, list(zip(old, new, strict=True)), handles, logged)


def _before(desk: Desk, history: History, entry: Kept) -> Kept:
    """What stood before an entry, written anew in its place; a taking back where nothing did."""
    was = None if entry.supersedes is None else history.by_uid[entry.supersedes]
    if was is None or isinstance(was, Void):
        return _void(desk, entry)
    return replace(
        was,
        uid=new_uid(),
        written_at=desk.pen.now,
        supersedes=entry.uid,
        corrected_by=desk.pen.by,
    )


def _void(desk: Desk, entry: Kept) -> Void:
    return Void(
        uid=new_uid(),
        happened_at=desk.now,
        written_at=desk.pen.now,
        by=desk.pen.by,
        supersedes=entry.uid,
    )


def _check_possible(desk: Desk, old: tuple[Kept, ...], new: list[Kept]) -> None:
    """Refuse to bring back more lost plants than stand."""
    without = desk.without(*old)
    for one in new:
        if not isinstance(one, Loss):
            continue
        planting = desk.planting_with(one.planting_uid)
        stood = standing(without.pages, planting)
        lost = sum(
            each.count
            for each in new
            if isinstance(each, Loss) and each.planting_uid == one.planting_uid
        )
        if lost > stood:
            right = f"at most {stood} {plural(planting.name)} lost: as many stand; correct the later losses first"
            raise InputError("undo", str(lost), right)
