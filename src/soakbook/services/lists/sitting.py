"""The sitting in which a list is read and entered: all of it in one, or nothing written."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Literal, Protocol, TypeVar

from soakbook.errors import InputError
from soakbook.garden.records import Bed
from soakbook.quantities import saying
from soakbook.reckoning.advice.report import as_json
from soakbook.services.books import reading
from soakbook.services.desk import Desk, writing
from soakbook.services.lists.columns import Column, columns_of, need
from soakbook.services.lists.dates import as_iso, orders_of
from soakbook.services.lists.faults import Faults
from soakbook.services.lists.report import (
    LIST_SCHEMA,
    Entered,
    ListReport,
    PlantingLine,
    bed_line,
    columns_taken,
    guesses_in,
)
from soakbook.services.lists.sheet import Pasted, Row, Sheet, read_sheet
from soakbook.services.pen import Pen
from soakbook.services.told import Report
from soakbook.store.garden_rows import add_record
from soakbook.store.pages import read_pages

DRY_RUN = "Nothing is written: this is how the list is understood."


class Reader(Protocol):
    """What makes records of rows."""

    def read(self, line: int, typed: dict[str, str]) -> None:
        """Take one row, by what its columns are; an `InputError` is a fault of its line."""

    def at_last(self) -> Iterator[tuple[int, InputError]]:
        """What cannot be right of all rows together, each with its line."""

    def entered(self) -> Entered:
        """The new records."""


R = TypeVar("R", bound=Reader)


class Listing:
    """A list with its columns understood."""

    def __init__(
        self, what: Literal["plantings", "beds"], pasted: Pasted, known: Mapping[str, str]
    ) -> None:
        """`known` are the words by which its columns go.

        Raises
        ------
        InputError
            It is no table, or its columns are not understood.
        """
        self.what, self.pasted = what, pasted
        self._faults = Faults()
        self._sheet = read_sheet(pasted, self._faults)
        self.columns = columns_of(self._sheet.headers, known, pasted.columns, pasted.name)
        days = (one.place for one in self.columns if one.what == "on")
        self._orders = orders_of(
            [row.cells[place] for place in days for row in self._sheet.rows], pasted.dates
        )

    def has(self, what: str) -> bool:
        """Whether one of its columns is that."""
        return any(one.what == what for one in self.columns)

    def need(self, *needed: str) -> None:
        """Refuse the list where a column is missing.

        Raises
        ------
        InputError
            Names what is missing.
        """
        need(self.columns, needed, self.pasted.name)

    def enter(self, pen: Pen, begin: Callable[[Desk, set[str]], R]) -> R:
        """Read all rows and enter what they come to, but in a dry run; the reader that has read them.

        Parameters
        ----------
        pen : Pen
        begin : callable
            Makes the reader, of the desk and of all words by which the list calls beds.

        Raises
        ------
        InputError
            Anything that cannot be right, all of it at once; then nothing of it is in the book.
        """
        with _sitting(pen, self.pasted.dry_run) as desk:
            reader = begin(desk, _words_of(self._sheet, self.columns))
            for row in self._sheet.rows:
                self._read(row, reader)
            for line, fault in reader.at_last():
                self._faults.add(line, fault)
            self._faults.refuse(self.pasted.name)
            if not self.pasted.dry_run:
                _write(desk, reader.entered())
        return reader

    def report(
        self,
        entered: Entered,
        first: str,
        *,
        beds: Mapping[str, Bed] | None = None,
        lines: Sequence[PlantingLine] = (),
        cautions: Sequence[str] = (),
    ) -> Report:
        """The list as it was understood.

        Parameters
        ----------
        entered : Entered
            The new records.
        first : str
            How many they are.
        beds : mapping, optional
            All beds in which there are new plantings, by uid.
        lines : sequence of PlantingLine, optional
            The new plantings, said.
        cautions : sequence of str, optional
        """
        guessed = guesses_in(entered, beds or {})
        are = "is my guess" if guessed == 1 else "are my guesses"
        written = not self.pasted.dry_run
        say = (
            f"{first}, from {self.pasted.name}.",
            "" if written else DRY_RUN,
            *cautions,
            f"{saying.counted(guessed, 'thing')} in them {are}; soakbook bed lists them."
            if guessed and written
            else "",
        )
        plants = sum(one.count for _, one in entered.plantings)
        new_beds = tuple(bed_line(*one) for one in entered.beds)
        report: Report = as_json(
            ListReport(
                LIST_SCHEMA, self.what, self.pasted.name, written, columns_taken(self.columns), new_beds,
                tuple(lines), plants, guessed, tuple(filter(None, say)),
            )
        )  # fmt: skip
        return report

    def _read(self, row: Row, reader: Reader) -> None:
        typed = _typed_of(row, self.columns, self._faults)
        if typed is None:
            return
        try:
            if "on" in typed:
                typed["on"] = as_iso(typed["on"], self._orders)
            reader.read(row.line, typed)
        except InputError as fault:
            self._faults.add(row.line, fault)


@contextmanager
def _sitting(pen: Pen, dry_run: bool) -> Iterator[Desk]:
    """A sitting that may write; in a dry run one that only reads."""
    if not dry_run:
        with writing(pen) as desk:
            yield desk
        return
    with reading(pen.path) as book:
        yield Desk(book, read_pages(book), pen)


def _write(desk: Desk, entered: Entered) -> None:
    """Put new records into the book."""
    for _, bed in entered.beds:
        add_record(desk.book, bed, at=desk.pen.now, by=desk.pen.by)
    for _, planting in entered.plantings:
        add_record(desk.book, planting, at=desk.pen.now, by=desk.pen.by)


def _words_of(sheet: Sheet, columns: tuple[Column, ...]) -> set[str]:
    """All words by which a list calls beds."""
    of_beds = [one for one in columns if one.what == "bed"] or [
        one for one in columns if one.what == "name"
    ]
    return {row.cells[one.place] for row in sheet.rows for one in of_beds}


def _typed_of(row: Row, columns: tuple[Column, ...], faults: Faults) -> dict[str, str] | None:
    """What a row says, by what its columns are; None where a cell holds no value."""
    typed: dict[str, str] = {}
    before = len(faults)
    for column in columns:
        try:
            text = column.cell(row.cells[column.place])
        except InputError as fault:
            faults.add(row.line, fault)
        else:
            if text:
                typed[column.what] = text
    return typed if len(faults) == before else None
