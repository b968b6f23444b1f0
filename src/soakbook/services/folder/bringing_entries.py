"""entries.csv into a book: entries that it does not know are added, in their order, a few thousand at a time."""

from collections.abc import Mapping, Sequence
from itertools import islice
from pathlib import Path
from typing import Any, NamedTuple

from soakbook.garden.door import admit_all
from soakbook.garden.entries import ENTRY_TYPES, Kept
from soakbook.garden.records import Bed, Planting
from soakbook.services.folder.bounds import UID_LETTERS
from soakbook.services.folder.brought import Brought, Differing
from soakbook.services.folder.columns import ENTRIES, Column, columns_of
from soakbook.services.folder.reading import Row, read_rows
from soakbook.store import bringing
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import entry_row

AT_ONCE = 5000


class _Field(NamedTuple):
    """A field of one kind of entry and where its cell stands."""

    name: str
    place: int
    column: Column


_PLACE_OF = {column.name: place for place, column in enumerate(ENTRIES.columns)}

_FIELDS: Mapping[str, tuple[_Field, ...]] = {
    kind: tuple(
        _Field(field, _PLACE_OF[name], ENTRIES.columns[_PLACE_OF[name]])
        for field, name in columns_of(kind).items()
    )
    for kind in ENTRY_TYPES
}


def bring_entries(book: BookFile, folder: Path, brought: Brought) -> None:
    """Every entry that the book does not know, inside the caller's transaction.

    Raises
    ------
    InputError
        One that cannot be right, with its line: of the first rows in which there is any, not always the first.
    """
    beds = set(bringing.uids_of(book, Bed))
    plantings = set(bringing.uids_of(book, Planting))
    added: set[str] = set()
    rows = read_rows(folder, ENTRIES)
    while some := list(islice(rows, AT_ONCE)):
        entries = _entries(some)
        for row, entry in zip(some, entries, strict=True):
            _check(row, entry, beds, plantings)
        _bring(book, some, entries, added, brought)


def _bring(
    book: BookFile,
    rows: Sequence[Row],
    entries: Sequence[Kept],
    added: set[str],
    brought: Brought,
) -> None:
    known = bringing.known_entries(book, entries)
    fresh: list[tuple[Row, Kept]] = []
    superseded_by = dict(known.superseded_by)
    for row, entry in zip(rows, entries, strict=True):
        if entry.uid in added:
            row.refuse("uid", entry.uid, "each once")
        if entry.uid in known.rows:
            if not _is_same(known.rows[entry.uid], entry):
                called = f"The entry in {row.where}"
                brought.differing.append(Differing("entry", entry.uid, called, "book"))
            continue
        if entry.supersedes is not None:
            if entry.supersedes not in known.rows and entry.supersedes not in added:
                row.refuse("supersedes", entry.supersedes, "the uid of an entry above it")
            other = superseded_by.setdefault(entry.supersedes, entry.uid)
            if other != entry.uid:
                right = f"an entry that nothing supersedes yet: {other} does, in the book or above"
                row.refuse("supersedes", entry.supersedes, right)
        added.add(entry.uid)
        fresh.append((row, entry))
    try:
        bringing.put_entries(book, [entry for _, entry in fresh])
    except bringing.RowError as fault:
        fresh[fault.row][0].refuse(fault.field, fault.value, fault.right)
    brought.added["entries"] += len(fresh)


def _is_same(here: Mapping[str, Any], entry: Kept) -> bool:
    return all(here[column] == value for column, value in entry_row(entry).items())


def _entries(rows: Sequence[Row]) -> list[Kept]:
    """The entries that rows say, in their order; each kind goes through the door at once."""
    by_kind: dict[str, list[int]] = {}
    for number, row in enumerate(rows):
        kind = row.cells[0]
        if kind not in ENTRY_TYPES:
            row.refuse("kind", kind, f"one of {', '.join(ENTRY_TYPES)}")
        by_kind.setdefault(kind, []).append(number)
    entries: dict[int, Kept] = {}
    for kind, numbers in by_kind.items():
        some = [rows[number] for number in numbers]
        fields = _FIELDS[kind]
        values = [_values(row, kind, fields) for row in some]
        kind_type: type[Kept] = ENTRY_TYPES[kind]
        admitted = admit_all(kind_type, values, lambda place, some=some: some[place].where)  # type: ignore[misc]
        entries |= dict(zip(numbers, admitted, strict=True))
    return [entries[number] for number in range(len(rows))]


def _values(row: Row, kind: str, fields: Sequence[_Field]) -> dict[str, object]:
    cells = row.cells
    values = {
        field.name: row.read(field.place, field.column) for field in fields if cells[field.place]
    }
    if len(values) + 1 < len(cells) - cells.count(""):
        own = {0, *(field.place for field in fields)}
        place = next(place for place, cell in enumerate(cells) if cell and place not in own)
        row.refuse(ENTRIES.columns[place].name, cells[place], f"nothing, for a {kind} has none")
    return values


def _check(row: Row, entry: Kept, beds: set[str], plantings: set[str]) -> None:
    if not 0 < len(entry.uid) <= UID_LETTERS:
        row.refuse("uid", entry.uid, f"1 to {UID_LETTERS} letters")
    bed, planting = getattr(entry, "bed_uid", None), getattr(entry, "planting_uid", None)
    if bed is not None and bed not in beds:
        row.refuse("bed_uid", bed, "the uid of a bed in garden.toml or the book")
    if planting is not None and planting not in plantings:
        row.refuse("planting_uid", planting, "the uid of a planting in garden.toml or the book")
