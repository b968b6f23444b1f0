"""The desk: the book lies open, its pages are read, the garden's clock is known.

A `Desk` is one sitting at it. Everything a sitting writes is in the book afterwards, or nothing of it.
"""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from soakbook.errors import InputError
from soakbook.garden import nearest
from soakbook.garden.entries import Kept, When
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Garden, Planting, Tap, Uid
from soakbook.quantities.dates import parse_moment
from soakbook.services.pen import Pen
from soakbook.store.book import new_uid, open_book
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import add_entries
from soakbook.store.pages import read_pages
from soakbook.store.texts import garden_zone


@dataclass(frozen=True, slots=True)
class Desk:
    """One sitting at an open book."""

    book: BookFile
    pages: Pages
    pen: Pen

    @property
    def garden(self) -> Garden:
        """The garden of the book."""
        return self.pages.garden

    @property
    def zone(self) -> ZoneInfo:
        """The zone of the garden's clock."""
        return garden_zone(self.garden)

    @property
    def now(self) -> datetime:
        """Now on the garden's clock, to the second."""
        return self.pen.now.astimezone(self.zone).replace(microsecond=0)

    @property
    def today(self) -> date:
        """The garden's day."""
        return self.now.date()

    def when(self, day: date | None = None) -> When:
        """When it happened: as the pen says, an hour alone of that day, else of today; now where it says nothing."""
        if self.pen.at is None:
            return self.now
        return parse_moment(self.pen.at, "at", self.now, day=day)

    def fields(self, when: When) -> dict[str, object]:
        """What every entry begins with."""
        return {
            "uid": new_uid(),
            "happened_at": when,
            "written_at": self.pen.now,
            "by": self.pen.by or None,
        }

    def bed(self, word: str) -> Bed:
        """The bed that a word means."""
        return bed_of(self.pages, word)

    def beds(self, words: Iterable[str]) -> tuple[Bed, ...]:
        """The beds that words mean, each of them once."""
        found: list[Bed] = []
        for word in words:
            bed = self.bed(word)
            if bed in found:
                raise InputError("bed", word, f"{bed.key} once: it is named twice")
            found.append(bed)
        return tuple(found)

    def bed_with(self, uid: Uid) -> Bed:
        """The bed of a uid that an entry has."""
        return next(one for one in self.pages.beds if one.uid == uid)

    def planting_with(self, uid: Uid) -> Planting:
        """The planting of a uid that an entry has."""
        return next(one for one in self.pages.plantings if one.uid == uid)

    def tap_of(self, bed: Bed) -> Tap | None:
        """The tap a bed is watered from."""
        return next((tap for tap in self.pages.taps if tap.key == bed.tap), None)

    def enter(self, entries: Iterable[Kept]) -> "Desk":
        """Put entries into the book: the desk as it is with them."""
        add_entries(self.book, entries)
        return self.reread()

    def without(self, *entries: Kept) -> "Desk":
        """The desk as it would be if these entries had not been written."""
        left_out = {one.uid for one in entries}
        kept = tuple(one for one in self.pages.entries if one.uid not in left_out)
        return replace(self, pages=self.pages._replace(entries=kept))

    def reread(self) -> "Desk":
        """The desk with the pages as this sitting has written them."""
        return replace(self, pages=read_pages(self.book))


@contextmanager
def writing(pen: Pen) -> Iterator[Desk]:
    """A sitting that may write: nobody else writes meanwhile, and all of it holds or nothing."""
    with open_book(pen.path) as book, book.writing():
        yield Desk(book, read_pages(book), pen)


def bed_of(pages: Pages, word: str) -> Bed:
    """The bed that a word means: its key, its name, or a part of one."""
    names = {bed.name: bed.key for bed in pages.beds}
    key = nearest.find(word, [bed.key for bed in pages.beds], "bed", names)
    return next(bed for bed in pages.beds if bed.key == key)


def key_of(word: str, keys: Sequence[str]) -> str | None:
    """The key that a word is, as names are compared; None where it is none."""
    wanted = nearest.plain(word)
    same = [key for key in keys if nearest.plain(key) == wanted]
    return word if word in same else next(iter(same), None)
