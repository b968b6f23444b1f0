"""The sitting in which a list is read and entered: all of it in one, or nothing written."""

from collections.abc import Iterator
from contextlib import contextmanager

from soakbook.errors import InputError
from soakbook.services.books import reading
from soakbook.services.desk import Desk, writing
from soakbook.services.lists.columns import Column
from soakbook.services.lists.faults import Faults
from soakbook.services.lists.report import Entered
from soakbook.services.lists.sheet import Row, Sheet
from soakbook.services.pen import Pen
from soakbook.store.garden_rows import add_record
from soakbook.store.pages import read_pages


@contextmanager
def sitting(pen: Pen, dry_run: bool) -> Iterator[Desk]:
    """A sitting that may write; in a dry run one that only reads."""
    if not dry_run:
        with writing(pen) as desk:
            yield desk
        return
    with reading(pen.path) as book:
        yield Desk(book, read_pages(book), pen)


def write(desk: Desk, entered: Entered) -> None:
    """Put new records into the book."""
    for _, bed in entered.beds:
        add_record(desk.book, bed, at=desk.pen.now, by=desk.pen.by)
    for _, planting in entered.plantings:
        add_record(desk.book, planting, at=desk.pen.now, by=desk.pen.by)


def words_of(sheet: Sheet, columns: tuple[Column, ...]) -> set[str]:
    """All words by which a list calls beds."""
    of_beds = [one for one in columns if one.what == "bed"] or [
        one for one in columns if one.what == "name"
    ]
    return {row.cells[one.place] for row in sheet.rows for one in of_beds}


def typed_of(row: Row, columns: tuple[Column, ...], faults: Faults) -> dict[str, str] | None:
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
