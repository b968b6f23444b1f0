"""A record's row: put into its table, with what the table refuses said in words."""

import sqlite3
from collections.abc import Mapping

from soakbook.store.refusals import refusal


def insert(connection: sqlite3.Connection, table: str, row: Mapping[str, object]) -> int:
    """Add a row and return its id; `InputError` when a constraint refuses it."""
    columns = ", ".join(f'"{column}"' for column in row)
    values = ", ".join(f":{column}" for column in row)
    added = _run(connection, table, f'INSERT INTO "{table}" ({columns}) VALUES ({values})', row)
    return int(added.lastrowid or 0)


def update(connection: sqlite3.Connection, table: str, row: Mapping[str, object]) -> None:
    """Make the row of the same uid equal to this one; `InputError` when a constraint refuses it."""
    columns = ", ".join(f'"{column}" = :{column}' for column in row if column != "uid")
    _run(connection, table, f'UPDATE "{table}" SET {columns} WHERE uid = :uid', row)


def _run(
    connection: sqlite3.Connection, table: str, statement: str, row: Mapping[str, object]
) -> sqlite3.Cursor:
    try:
        return connection.execute(statement, row)
    except (sqlite3.IntegrityError, UnicodeEncodeError, OverflowError) as error:
        raise refusal(connection, table, row, error) from error
