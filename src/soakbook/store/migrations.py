"""Numbered steps from an empty file to the newest schema, `schema/NNNN.sql`, all or none."""

import sqlite3
from collections.abc import Iterator, Sequence

APPLICATION_ID = 0x536F616B
"""Stands in the header of every book: the letters "Soak"."""

NEWEST = 6
"""The number of the last step."""


def steps() -> tuple[str, ...]:
    """The text of every step, the first at index 0."""
    from importlib.resources import files

    folder = files("soakbook.store") / "schema"
    return tuple(
        (folder / f"{number:04}.sql").read_text(encoding="utf-8") for number in range(1, NEWEST + 1)
    )


def version(connection: sqlite3.Connection) -> int:
    """How many steps the open file has taken; 0 for an empty one."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def migrate(connection: sqlite3.Connection, texts: Sequence[str]) -> None:
    """Take the steps that the open file has not taken yet, all in one transaction.

    The version is read again inside the transaction: another program may have been quicker.
    """
    connection.execute("BEGIN IMMEDIATE")
    try:
        for number, text in enumerate(texts, start=1):
            if number > version(connection):
                for statement in _statements(text):
                    connection.execute(statement)
                connection.execute(f"PRAGMA user_version = {number}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _statements(script: str) -> Iterator[str]:
    """The statements of a script one by one: `executescript` would commit before the first."""
    pending = ""
    for line in script.splitlines(keepends=True):
        pending += line
        if sqlite3.complete_statement(pending):
            yield pending
            pending = ""
    if pending.strip():
        raise ValueError("a step ends in the middle of a statement or with a comment")
