"""Looking into a book from outside: its hours, its entries, and whether anything in it has changed."""

from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple, TypeVar
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import InputError
from soakbook.garden.pages import Pages
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages

ZONE = ZoneInfo("Europe/London")

E = TypeVar("E")


def at(month: int, day: int, hour: int, minute: int = 0) -> datetime:
    """A moment of 2031 on the garden's clock."""
    return datetime(2031, month, day, hour, minute, tzinfo=ZONE)


NOW = at(5, 15, 6, 30)
"""A Thursday."""


def pages_of(path: Path) -> Pages:
    """The pages of a book."""
    with open_book(path, read_only=True) as book:
        return read_pages(book)


def entries_of(path: Path, kind: type[E]) -> list[E]:
    """The entries of one kind, as they happened."""
    return [entry for entry in pages_of(path).entries if isinstance(entry, kind)]


class Look(NamedTuple):
    """All by which a change of a book shows."""

    content: bytes
    counter: int
    mark: str
    pages: Pages


def look_at(path: Path) -> Look:
    """A book as it is."""
    with open_book(path, read_only=True) as book:
        counter, mark, pages = book.change_counter(), book.change_mark(), read_pages(book)
    return Look(path.read_bytes(), counter, mark, pages)


class Refused:
    """A block that is refused, naming field, value and what would be right, and leaves the book alone.

    Used as `with Refused(book, "field", value, "words"): ...`; the words may be a part of what is said.
    """

    def __init__(self, path: Path, field: str, value: object, *right: str) -> None:
        self.path, self.field, self.value, self.right = path, field, value, right

    def __enter__(self) -> None:
        self.before = look_at(self.path)

    def __exit__(self, kind: object, error: BaseException | None, trace: object) -> bool:
        assert isinstance(error, InputError), f"not refused: {error!r}"
        assert (error.field, error.value) == (self.field, self.value), str(error)
        for words in self.right:
            assert words in error.right, str(error)
        assert look_at(self.path) == self.before
        return True


def said(report: dict[str, Any]) -> str:
    """An answer as one text."""
    return "\n".join(report["say"])


def approx(value: float) -> Any:
    """A number as near as a float can be."""
    return pytest.approx(value, rel=1e-9)
