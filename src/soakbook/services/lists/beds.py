"""A list of beds, entered whole or not at all."""

from collections.abc import Collection
from datetime import datetime
from pathlib import Path

from soakbook.errors import InputError
from soakbook.garden.records import Bed
from soakbook.quantities import saying
from soakbook.reckoning.advice.report import as_json
from soakbook.services.beds import new_bed
from soakbook.services.desk import Desk
from soakbook.services.line_words import key_for
from soakbook.services.lists.columns import BEDS, Column, columns_of, need
from soakbook.services.lists.faults import Faults
from soakbook.services.lists.report import (
    LIST_SCHEMA,
    Entered,
    ListReport,
    bed_line,
    columns_taken,
    guesses_in,
)
from soakbook.services.lists.sheet import Pasted, Row, read_sheet
from soakbook.services.lists.sitting import sitting, typed_of, words_of, write
from soakbook.services.pen import Pen
from soakbook.services.told import Report

DRY_RUN = "Nothing is written: this is how the list is understood."


class NewBeds:
    """Beds that a list makes, none of a name that another has."""

    def __init__(self, desk: Desk, words: Collection[str]) -> None:
        """`words` are all by which the list calls beds: none of them is another bed's key."""
        self.desk = desk
        self.made: list[tuple[int, Bed]] = []
        self._words: dict[str, Bed] = {}
        self._known = {_plain(word) for one in desk.pages.beds for word in (one.key, one.name)}
        self._of_list = {_plain(word) for word in words}
        self._keys = {one.key.casefold() for one in desk.pages.beds}

    def in_book(self, word: str) -> bool:
        """Whether a bed of the book has just this key or name."""
        return _plain(word) in self._known

    def find(self, word: str) -> Bed | None:
        """The bed of the list that goes by a word."""
        return self._words.get(_plain(word))

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
        self._keys.add(bed.key.casefold())
        self._words |= {_plain(one): bed for one in (bed.key, bed.name)}
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
    faults = Faults()
    sheet = read_sheet(pasted, faults)
    taken = columns_of(sheet.headers, BEDS, pasted.columns, pasted.name)
    need(taken, ("area",), pasted.name)
    if not any(one.what in ("bed", "name") for one in taken):
        need(taken, ("bed",), pasted.name)
    with sitting(Pen(path, now, by), pasted.dry_run) as desk:
        new = NewBeds(desk, words_of(sheet, taken))
        for row in sheet.rows:
            _read(row, taken, new, faults)
        faults.refuse(pasted.name)
        entered = Entered(tuple(new.made), ())
        if not pasted.dry_run:
            write(desk, entered)
    guessed = guesses_in(entered, {})
    area_m2 = sum(bed.area_m2 for _, bed in entered.beds)
    so_many = saying.counted(len(entered.beds), "new bed")
    say = (
        f"{so_many}, {saying.area(area_m2)} in all, from {pasted.name}.",
        DRY_RUN if pasted.dry_run else "",
        f"{saying.counted(guessed, 'thing')} in them are my guesses; soakbook bed lists them."
        if guessed and not pasted.dry_run
        else "",
    )
    report = ListReport(
        LIST_SCHEMA, "beds", pasted.name, not pasted.dry_run, columns_taken(taken),
        tuple(bed_line(*one) for one in entered.beds), (), 0, guessed, tuple(filter(None, say)),
    )  # fmt: skip
    found: Report = as_json(report)
    return found


def _read(row: Row, taken: tuple[Column, ...], new: NewBeds, faults: Faults) -> None:
    typed = typed_of(row, taken, faults)
    if typed is None:
        return
    word = typed.pop("bed", "") or typed.pop("name", "")
    try:
        if not word:
            raise InputError("bed", word, "a key or a name")
        if new.in_book(word):
            right = "a bed that is not in the book yet; soakbook bed KEY changes one that is"
            raise InputError("bed", word, right)
        new.make(row.line, word, typed)
    except InputError as fault:
        faults.add(row.line, fault)


def _plain(word: str) -> str:
    return " ".join(word.casefold().split())
