"""Whether the schema of a file is one that soakbook has made: tables, checks, views, nothing besides.

A book comes from anywhere. What another has put into its schema would run when it is read or written, so
the text of the schema is held against what the steps of `schema/` make, before anything else is asked of the
book. `KNOWN` only saves the making: what it does not know by its digest is made anew in memory and compared word by
word, for SQLite may write a table that a later step has changed in another manner.
"""

import re
import sqlite3
from collections.abc import Sequence

from soakbook.store import migrations

try:
    # What hashlib hands on, without the OpenSSL that it loads: a fifth of a millisecond instead of three.
    from _blake2 import blake2b
except ImportError:
    from hashlib import blake2b

KNOWN = {
    1: "b3c0591235ad76e145cbd729c7d1d8c20d3952b5",
    2: "301251dd06d5a63dc3131c061bd34af78558bf0b",
    3: "6dba54ac423d9321ae1aa25426c2c98731c3b508",
    4: "df49cf7ad5be1c2131da18d4f4129ada63458d94",
    5: "47cd8ebbb29e8d0421c0c6c8204f4a765d9f9dc1",
    6: "f75f17c308495fa9b74e1de0d899d4a299b9ed27",
}
"""Version -> digest of what its steps make; `tests/store/test_known_schemas.py` says what a new one is to be."""

Row = tuple[str, str, str, str]
"""What it is, its name, its table, and the text that made it."""

SQLITES_OWN = {
    ("table", "sqlite_stat1", "sqlite_stat1", "CREATE TABLE sqlite_stat1(tbl,idx,stat)"),
    (
        "table",
        "sqlite_stat4",
        "sqlite_stat4",
        "CREATE TABLE sqlite_stat4(tbl,idx,neq,nlt,ndlt,sample)",
    ),
}
"""What ANALYZE leaves in a file: figures for SQLite's own planning, which nothing else reads."""


def is_known(connection: sqlite3.Connection, version: int) -> bool:
    """Whether the schema is that of a version, as the steps to it make it.

    Parameters
    ----------
    connection
        The open file.
    version
        Which it says it is. [1, to the newest]
    """
    found = schema_rows(connection)
    if digest(found) == KNOWN.get(version):
        return True
    return _words(found) == _words(made_rows(version))


def schema_rows(connection: sqlite3.Connection) -> list[Row]:
    """What makes up the schema of a file, by kind and name, without what SQLite adds of itself."""
    found = connection.execute(
        "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name"
    )
    return [row for row in found if not _is_sqlites(row)]


def made_rows(version: int) -> list[Row]:
    """What the steps up to a version make, in memory."""
    made = sqlite3.connect(":memory:", isolation_level=None)
    try:
        migrations.migrate(made, migrations.steps()[:version])
        return schema_rows(made)
    finally:
        made.close()


def digest(rows: Sequence[Row]) -> str:
    """A digest of a schema that no other schema has."""
    return blake2b(repr(rows).encode("utf-8", "surrogatepass"), digest_size=20).hexdigest()


def _is_sqlites(row: Row) -> bool:
    """Whether SQLite made it for itself: the index of a key has no text of its own and can hold none."""
    kind, name, _, text = row
    return (kind == "index" and text is None and name.startswith("sqlite_autoindex_")) or (
        row in SQLITES_OWN
    )


_WORD = r"""
    \s+ | --[^\n]* | /\*.*?\*/        # blanks and remarks: dropped
    | ( '(?:[^']|'')*' | "(?:[^"]|"")*" | `[^`]*` | \[[^\]]*\] | \w+ | . )"""
"""Compiled where it is used: hardly ever, and it takes longer than the digest."""


def _words(rows: Sequence[Row]) -> list[tuple[str, str, str, tuple[str, ...]]]:
    """A schema word by word, without blanks and remarks."""
    word = re.compile(_WORD, re.VERBOSE | re.DOTALL)
    return [
        (kind, name, table, tuple(one for one in word.findall(text or "") if one))
        for kind, name, table, text in rows
    ]
