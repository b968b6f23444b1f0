"""The log of changes: what a setting was before and after, when it was changed and by whom."""

import json
import sqlite3
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any, NamedTuple

from soakbook.store.book_file import BookFile
from soakbook.store.refusals import readable
from soakbook.store.rows import insert
from soakbook.store.sheets import SHEETS, record_of
from soakbook.store.texts import utc_text

Plain = Mapping[str, Any]
"""A record as JSON has it."""


class Change(NamedTuple):
    """One change of one setting: `what` is its table, `before` is None when it was new."""

    at: datetime
    by: str | None
    what: str
    uid: str
    before: Plain | None
    after: Plain


def changes(book: BookFile) -> tuple[Change, ...]:
    """Every change of a setting, in the order in which they were written.

    Raises
    ------
    BookError
        The log cannot be read.
    """
    with book.reading() as connection:
        found = connection.execute(
            "SELECT at, by_whom, what, uid, before, after FROM change ORDER BY id"
        ).fetchall()
    with readable(book.path):
        return tuple(
            Change(
                at=datetime.fromisoformat(at).astimezone(UTC),
                by=by,
                what=what,
                uid=uid,
                before=None if before is None else _plain(what, before),
                after=_plain(what, after),
            )
            for at, by, what, uid, before, after in found
        )


def first_changes_since(book: BookFile, what: str, moment: datetime) -> dict[str, Plain | None]:
    """What each record of a table was before its first change from a moment on, by its uid.

    None: it was not yet there. A record that has not been changed since is not among them.
    """
    with book.reading() as connection:
        found = connection.execute(
            "SELECT uid, before, min(id) FROM change WHERE what = ? AND at >= ? GROUP BY uid",
            (what, utc_text("moment", moment)),
        ).fetchall()
    return {uid: None if before is None else json.loads(before) for uid, before, _ in found}


def log_change(connection: sqlite3.Connection, change: Change) -> None:
    """Write a change into the log, inside the transaction that makes it."""
    insert(
        connection,
        "change",
        {
            "at": utc_text("at", change.at),
            "by_whom": change.by,
            "what": change.what,
            "uid": change.uid,
            "before": None if change.before is None else plain_text(change.before),
            "after": plain_text(change.after),
        },
    )


def _plain(what: str, text: str) -> Plain:
    """What a text of the log says; an error of `readable` where it is no record of its table."""
    plain: dict[str, Any] = json.loads(text)
    kind: Any = _KIND_OF.get(what)
    if kind is not None:
        try:
            record_of(kind, plain)
        except TypeError as error:  # Python's words for a field that lacks
            raise ValueError(f"the log of changes, of a {what}") from error
    return plain


_KIND_OF = {sheet.table: kind for kind, sheet in SHEETS.items()}


def plain_text(plain: Plain) -> str:
    """A record as JSON text."""
    return json.dumps(plain, ensure_ascii=False, sort_keys=True)
