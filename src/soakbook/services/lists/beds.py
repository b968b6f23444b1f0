"""A list of beds, entered whole or not at all."""

from collections.abc import Collection, Iterator
from datetime import datetime
from pathlib import Path

from soakbook.errors import InputError
from soakbook.garden.nearest import plain
from soakbook.garden.records import Bed
from soakbook.quantities import saying
from soakbook.services.beds import new_bed
from soakbook.services.desk import Desk
from soakbook.services.line_words import key_for
from soakbook.services.lists.columns import BEDS
from soakbook.services.lists.report import Entered
from soakbook.services.lists.sheet import Pasted
from soakbook.services.lists.sitting import Listing
from soakbook.services.pen import Pen
from soakbook.services.told import Report


class NewBeds:
    """Beds that a list makes, none of a name that another has."""

    def __init__(self, desk: Desk, words: Collection[str]) -> None:
        """`words` are all by which the list calls beds: none of them is another bed's key."""
        self.desk = desk
        self.made: list[tuple[int, Bed]] = []
        self._words: dict[str, Bed] = {}
        self._known = {plain(word) for one in desk.pages.beds for word in (one.key, one.name)}
        self._of_list = {plain(word) for word in words}
        self._keys = {plain(one.key) for one in desk.pages.beds}

    def in_book(self, word: str) -> bool:
        """Whether a bed of the book has just this key or name."""
        return plain(word) in self._known

    def find(self, word: str) -> Bed | None:
        """The bed of the list that goes by a word."""
        return self._words.get(plain(word))

    def make(self, line: int, word: str, typed: dict[str, str]) -> Bed:
        """A new bed of that key or name.

        Raises
        ------
        InputError
            Anything that cannot be right.
        """
        named = typed.get("name")
        for one in filter(None, (word, named)):
            if self.find(one) is not None:
                raise InputError("bed", one, "a name that no other bed of the list has")
        is_key = named is not None and word
        key = word if is_key else key_for(word, self._keys, self._of_list)
        bed = new_bed(self.desk, key, {"name": word, **typed})
        self.made.append((line, bed))
        self._keys.add(plain(bed.key))
        self._words |= {plain(one): bed for one in (bed.key, bed.name)}
        return bed


def bed_list(path: Path, pasted: Pasted, *, now: datetime, by: str | None = None) -> Report:
    """Enter a list of beds, or say how it is understood.

    Parameters
    ----------
    path : Path
        The book.
    pasted : Pasted
        The list.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.

    Raises
    ------
    InputError
        Anything that cannot be right, all of it at once; then nothing of it is in the book.
    """
    listing = Listing("beds", pasted, BEDS)
    listing.need("area")
    if not listing.has("name"):
        listing.need("bed")
    entered = listing.enter(Pen(path, now, by), _Reader).entered()
    area_m2 = sum(bed.area_m2 for _, bed in entered.beds)
    so_many = saying.counted(len(entered.beds), "new bed")
    return listing.report(entered, f"{so_many}, {saying.area(area_m2)} in all")


class _Reader:
    """Rows read one by one into beds."""

    def __init__(self, desk: Desk, words: Collection[str]) -> None:
        self.new = NewBeds(desk, words)

    def read(self, line: int, typed: dict[str, str]) -> None:
        """One row: a bed that the book does not have yet."""
        word = typed.pop("bed", "") or typed.pop("name", "")
        if not word:
            raise InputError("bed", word, "a key or a name")
        if self.new.in_book(word):
            right = "a bed that is not in the book yet; soakbook bed KEY changes one that is"
            raise InputError("bed", word, right)
        self.new.make(line, word, typed)

    def at_last(self) -> Iterator[tuple[int, InputError]]:
        """Beds alone do not stand in each other's way."""
        return iter(())

    def entered(self) -> Entered:
        """The new beds."""
        return Entered(tuple(self.new.made), ())
