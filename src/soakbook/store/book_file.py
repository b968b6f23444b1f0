"""One open book: its transactions, its identity and the count of its changes."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Literal, NamedTuple, Self
from zoneinfo import ZoneInfo

from soakbook.store.refusals import plain_errors
from soakbook.store.zones import zone_named

_Doing = Literal["reading", "writing"]


class BookFile:
    """An open book, closed by its `with` block. All reading and writing goes through one."""

    def __init__(self, path: Path, connection: sqlite3.Connection, uid: str) -> None:
        self.path = path
        self.connection = connection
        self.uid = uid
        self._doing: _Doing | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; what was not committed is gone."""
        self.connection.close()

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction: all of the block is in the book afterwards, or nothing of it.

        Blocks nest: an inner one that fails takes back its own part, the outer one decides on the
        whole.
        """
        if self._doing == "reading":
            raise RuntimeError("a write inside a block that only reads")
        words = _NESTED if self._doing else _WRITING
        with plain_errors(self.path), self._transaction("writing", words):
            yield self.connection

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """One view of the book: everything read in the block belongs to the same moment."""
        with plain_errors(self.path):
            if self._doing:
                yield self.connection
            else:
                with self._transaction("reading", _READING):
                    yield self.connection

    def change_counter(self) -> int:
        """How often anything in the book has changed."""
        return self._meta()[0]

    def change_mark(self) -> str:
        """A mark drawn anew at every change, for the cache of finished rounds.

        Unlike the counter it tells apart two copies of one book that have changed equally often.
        """
        return self._meta()[1]

    def zone(self) -> ZoneInfo:
        """The zone of the garden's clock."""
        with self.reading() as connection:
            (name,) = connection.execute("SELECT timezone FROM garden").fetchone()
        return zone_named(name)

    def _meta(self) -> tuple[int, str]:
        with self.reading() as connection:
            changes, mark = connection.execute("SELECT changes, mark FROM meta").fetchone()
        return int(changes), str(mark)

    @contextmanager
    def _transaction(self, doing: _Doing, words: "_Words") -> Iterator[None]:
        before = self._doing
        self.connection.execute(words.begin)
        self._doing = doing
        try:
            yield
            self.connection.execute(words.keep)
        except BaseException:
            # A full disk makes SQLite roll back by itself.
            if self.connection.in_transaction:
                for statement in words.drop:
                    self.connection.execute(statement)
            raise
        finally:
            self._doing = before


class _Words(NamedTuple):
    """How a transaction begins, is kept and is dropped."""

    begin: str
    keep: str
    drop: tuple[str, ...]


_READING = _Words("BEGIN", "COMMIT", ("ROLLBACK",))
_WRITING = _Words("BEGIN IMMEDIATE", "COMMIT", ("ROLLBACK",))
_NESTED = _Words("SAVEPOINT part", "RELEASE part", ("ROLLBACK TO part", "RELEASE part"))
