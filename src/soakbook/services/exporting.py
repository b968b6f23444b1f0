"""`book export`: the whole book as a folder of plain files, from one moment of it."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import closing
from json import loads
from pathlib import Path
from typing import Any

from soakbook.garden.records import Person
from soakbook.quantities.saying import counted
from soakbook.services.books import reading
from soakbook.services.folder import columns, explained, garden_text, keyless
from soakbook.services.folder.people import People
from soakbook.services.folder.writing import Written, new_folder, new_text, write_sheet
from soakbook.services.told import Report, told
from soakbook.store import whole_tables
from soakbook.store.book_file import BookFile
from soakbook.store.changes import plain_text
from soakbook.store.entry_rows import COLUMN_OF, COLUMNS
from soakbook.store.garden_rows import read_records
from soakbook.store.refusals import readable

Values = Iterator[Sequence[Any]]


def export(path: Path, folder: Path, *, without_names: bool = False) -> Report:
    """Write the book into a folder that is new or empty, whole or not at all.

    Parameters
    ----------
    path : Path
        The book.
    folder : Path
        Where its files are to lie.
    without_names : bool
        Whether "person 1", "person 2", ... stand in place of people's names.

    Raises
    ------
    InputError
        Something is in the way; or a text that no such file can hold.
    BookError
        The book cannot be read or the folder not be written.
    """
    with reading(path) as book, readable(path), new_folder(folder) as part:
        people = People(one.name for one in read_records(book, Person)) if without_names else None
        made = _Made(book, people)
        written = [made.garden(part)]
        numbers = whole_tables.arrival_numbers(book)
        written += write_sheet(part, columns.ENTRIES, made.entries())
        for sheet, table, values in (
            (columns.WEATHER, "weather_value", _as_it_stands),
            (columns.FORECASTS, "forecast_day", _issue),
            (columns.PROMISES, "promise", _as_it_stands),
            (columns.RAIN_HOURS, "rain_hours", _hours),
        ):
            rows = whole_tables.told_texts(book, table, numbers)
            written += write_sheet(part, sheet, values(rows))
        written += write_sheet(part, columns.ASKED, _asked(book))
        with new_text(part / explained.NAME) as text:
            text.write(explained.readme_text(unnamed=without_names))
    return _answer(folder, written, made, without_names=without_names)


class _Made:
    """What of the files needs names, or addresses, taken care of."""

    def __init__(self, book: BookFile, people: People | None) -> None:
        self.book = book
        self.people = people
        self.left_out: list[str] = []
        """Weather files whose address holds a key."""

    def garden(self, folder: Path) -> Written:
        """Write garden.toml."""
        count = 0
        with new_text(folder / garden_text.NAME) as text:
            text.write(garden_text.head_text(unnamed=self.people is not None))
            for name, values in self._tables():
                text.write(garden_text.table_text(name, values))
                count += 1
        return Written(garden_text.NAME, count)

    def entries(self) -> Values:
        """Rows of entries.csv: of each entry the columns of its own kind."""
        places = {
            kind: {column: COLUMNS.index(column) for column in fields.values()}
            for kind, fields in COLUMN_OF.items()
        }
        for kind, *row in whole_tables.entry_texts(self.book):
            own = places[kind]
            values = {column: row[place] for column, place in own.items()}
            named = {columns.RENAMED.get(column, column): one for column, one in values.items()}
            said = self._unnamed("entry", named)
            yield [kind, *(said.get(column.name) for column in columns.ENTRIES.columns[1:])]

    def _tables(self) -> Iterator[tuple[str, Mapping[str, Any]]]:
        for name, kind in garden_text.RECORDS.items():
            for record in whole_tables.records(self.book, kind):
                yield name, self._unnamed(name, record._asdict())
        for name, mapping, location in whole_tables.mapping_texts(self.book):
            told_of = keyless.location(location)
            if location != told_of:
                self.left_out.append(name)
            plain = keyless.mapping_text(mapping)
            yield "weather_file", {"name": name, "mapping": plain, "location": told_of}
        for row in whole_tables.change_texts(self.book):
            at, by, what, uid, *texts = keyless.change(row)
            before, after = (self._logged(what, text) for text in texts)
            change = {"at": at, "by": by, "what": what, "uid": uid}
            yield "change", self._unnamed("change", change | {"before": before, "after": after})

    def _logged(self, what: str, text: str | None) -> str | None:
        """A record of the log; untouched where nobody's name is to be left out of it."""
        if text is None or self.people is None:
            return text
        return plain_text(self._unnamed(what, loads(text)))

    def _unnamed(self, what: str, fields: Mapping[str, Any]) -> Mapping[str, Any]:
        return fields if self.people is None else self.people.without(what, fields)


def _as_it_stands(rows: Values) -> Values:
    return rows


def _issue(rows: Values) -> Values:
    """The text of a forecast's day in a column for each of its fields."""
    fields = [column.name for column in columns.FORECASTS.columns[columns.CAME + 1 :]]
    for *came, day, said in rows:
        told_of = loads(said)
        yield [*came, day, *(told_of.get(field) for field in fields)]


def _hours(rows: Values) -> Values:
    for *came, day, numbers in rows:
        yield [*came, day, loads(numbers)]


def _asked(book: BookFile) -> Values:
    with closing(whole_tables.asked_texts(book)) as rows:  # type: ignore[type-var]
        yield from map(keyless.asked, rows)


def _answer(
    folder: Path, written: Sequence[Written], made: _Made, *, without_names: bool
) -> Report:
    entries = sum(one.rows for one in written if one.name.startswith("entries"))
    weather = sum(one.rows for one in written if one.name.startswith("weather"))
    keyed = ", ".join(made.left_out)
    say = (
        f"The book lies in {folder}: {entries:,} {'entry' if entries == 1 else 'entries'}, "
        f"{counted(weather, 'value')} of weather, and all else that it holds. README.txt in it says what each file is.",
        "People's names were left out; in notes, reasons and other texts they may still stand."
        if without_names
        else "",
        f"The address of {keyed} holds a password or a key and was left out: it has to be told again."
        if keyed
        else "",
        "Where the garden is stands in garden.toml to the last decimal.",
    )
    files = [one._asdict() for one in written]
    changed = {"path": str(folder), "files": files, "without_names": without_names}
    return told("export", None, say, changed | {"addresses_left_out": made.left_out})
