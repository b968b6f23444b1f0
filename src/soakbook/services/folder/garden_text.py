"""garden.toml: the garden, its lasting records and the log of their changes as text, and back.

A field of which nothing is known is left out. Texts of the log and maps of columns stay the JSON that the book has.
"""

import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from typing import Any, NamedTuple

import tomli_w

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.records import Bed, Garden, Person, Planting, Rate, Restriction, Tap
from soakbook.garden.reminding import Reminder
from soakbook.services.folder.bounds import FIELD_LETTERS, LOGGED_LETTERS, UID_LETTERS
from soakbook.services.folder.cells import YEARS
from soakbook.services.folder.reading import shortened
from soakbook.store.sheets import Setting

NAME = "garden.toml"
FORMAT = "soakbook.export/1"
UNNAMED = "without_names"

RECORDS: Mapping[str, type[Setting]] = {
    "garden": Garden,
    "tap": Tap,
    "bed": Bed,
    "planting": Planting,
    "person": Person,
    "restriction": Restriction,
    "rate": Rate,
    "reminder": Reminder,
}
"""Tables of the file, each after what it refers to."""

WEATHER_FILE = ("name", "mapping", "location")
CHANGE = ("at", "by", "what", "uid", "before", "after")
PLAIN_TABLES = {"weather_file": WEATHER_FILE, "change": CHANGE}
LONG = {"before": LOGGED_LETTERS, "after": LOGGED_LETTERS}
MAY_LACK = {"location", "by", "before"}


class Placed(NamedTuple):
    """A table of the file, read: where it stands, and what it says."""

    where: str
    what: Any


def table_text(name: str, values: Mapping[str, Any]) -> str:
    """One table under its header; of what is None nothing is said."""
    said = {field: _toml(value) for field, value in values.items() if value is not None}
    header = f"[{name}]" if name == "garden" else f"[[{name}]]"
    return f"\n{header}\n{tomli_w.dumps(said)}"


def head_text(*, unnamed: bool) -> str:
    """The first lines of the file; they say where people's names were left out."""
    names = f"{UNNAMED} = true\n" if unnamed else ""
    return f'# See README.txt. Days and hours are the garden\'s own.\nformat = "{FORMAT}"\n{names}'


def read_garden_text(text: str, *, unnamed_allowed: bool = True) -> dict[str, list[Placed]]:
    """The tables of the file by name: records admitted, others as mappings of text.

    Parameters
    ----------
    text : str
        The file.
    unnamed_allowed : bool
        Whether people's names may have been left out of it.

    Raises
    ------
    InputError
        Anything that cannot be right, with the line where it stands.
    """
    whole = _parsed(text)
    found = whole.pop("format", None)
    if found != FORMAT:
        raise InputError(f"{NAME}, format", shortened(found), f'format = "{FORMAT}"')
    unnamed = whole.pop(UNNAMED, False)
    if unnamed is not False and not (unnamed is True and unnamed_allowed):
        right = "a folder with people's names, for a book that has them; --new begins another book"
        raise InputError(f"{NAME}, {UNNAMED}", unnamed, right)
    known = (*RECORDS, *PLAIN_TABLES)
    for name in whole:
        if name not in known:
            right = f"no such table; there are: {', '.join(known)}"
            raise InputError(f"{NAME} line {_line(text, name)}", shortened(name), right)
    if not isinstance(whole.get("garden"), dict):
        raise InputError(f"{NAME}, garden", None, "the table [garden]")
    whole["garden"] = [whole["garden"]]
    return {name: list(_tables(text, name, whole.get(name, []))) for name in known}


def _tables(text: str, name: str, tables: object) -> Iterator[Placed]:
    if not isinstance(tables, list):
        raise InputError(f"{NAME}, {name}", shortened(str(tables)), f"tables under [[{name}]]")
    lines = [number for number, line in enumerate(text.split("\n"), 1) if _heads(line, name)]
    for number, table in enumerate(tables):
        line = f" line {lines[number]}" if len(lines) == len(tables) else ""
        where = f"{NAME}{line}, {name}" + (f" {number + 1}" if len(tables) > 1 else "")
        if not isinstance(table, dict):
            raise InputError(where, shortened(str(table)), f"a table under [[{name}]]")
        _check_lengths(where, table)
        if name in RECORDS:
            yield Placed(where, _record(where, RECORDS[name], table))
        else:
            yield Placed(where, _plain(where, PLAIN_TABLES[name], table))


def _record(where: str, kind: type[Setting], table: Mapping[str, Any]) -> Setting:
    try:
        record = admit(kind, **table)
    except InputError as fault:
        raise InputError(f"{where}, {fault.field}", shortened(fault.value), fault.right) from fault
    except RecursionError as fault:
        raise InputError(where, "too many brackets", "a record") from fault
    check_uid(f"{where}, uid", record.uid)
    for field, value in record._asdict().items():
        for one in _days(value):
            if one.year not in YEARS:
                right = f"a day from {YEARS[0]} to {YEARS[-1]}"
                raise InputError(f"{where}, {field}", one.isoformat(), right)
        if field == "said" and not all(word.isidentifier() for word in value):
            raise InputError(f"{where}, said", " ".join(sorted(value)), "names of fields")
    return record


def check_uid(where: str, uid: str) -> None:
    """Refuse a name that is none or too long to be a permanent one.

    Raises
    ------
    InputError
        No letters, or more than there may be.
    """
    if not 0 < len(uid) <= UID_LETTERS:
        raise InputError(where, shortened(uid), f"1 to {UID_LETTERS} letters")


def _days(value: object) -> Iterator[date]:
    if isinstance(value, date):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _days(item)


def _plain(where: str, fields: tuple[str, ...], table: Mapping[str, Any]) -> dict[str, str | None]:
    for field, value in table.items():
        if field not in fields:
            right = f"no such field; there are: {', '.join(fields)}"
            raise InputError(f"{where}, {shortened(field)}", shortened(str(value)), right)
        if not isinstance(value, str):
            raise InputError(f"{where}, {field}", shortened(str(value)), "text")
    for field in fields:
        if field not in table and field not in MAY_LACK:
            raise InputError(f"{where}, {field}", None, "text")
    return {field: table.get(field) for field in fields}


def json_of(where: str, text: str) -> dict[str, Any]:
    """The record that a text of JSON says.

    Raises
    ------
    InputError
        It says none.
    """
    try:
        found = json.loads(text, parse_constant=_refuse_constant)
        json.dumps(found, ensure_ascii=False, allow_nan=False).encode("utf-8")
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        raise InputError(where, shortened(text), "a record as JSON")
    return found


def _refuse_constant(name: str) -> float:
    raise ValueError(name)


def _check_lengths(where: str, table: Mapping[str, Any]) -> None:
    for field, value in table.items():
        longest = LONG.get(field, FIELD_LETTERS)
        if isinstance(value, str) and (len(value) > longest or "\0" in value):
            right = f"at most {longest:,} letters, no NUL"
            raise InputError(f"{where}, {field}", shortened(value), right)


def _parsed(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except RecursionError as error:
        raise InputError(NAME, "too many brackets", "a file of TOML") from error
    except ValueError as error:  # one of TOML's own, and numbers that Python will not read
        found = re.search(r"\(at line (\d+), column \d+\)", str(error))
        lines = text.split("\n")
        if found is None or int(found[1]) > len(lines):
            raise InputError(NAME, str(error), "a file of TOML") from error
        line = int(found[1])
        said = str(error).partition(" (at ")[0]
        raise InputError(
            f"{NAME} line {line}", shortened(lines[line - 1]), f"TOML: {said}"
        ) from error


def _heads(line: str, name: str) -> bool:
    return line.strip() in (f"[[{name}]]", f"[{name}]")


def _line(text: str, name: str) -> int:
    beginnings = (f"[[{name}", f"[{name}", name, f'"{name}"')
    found = (n for n, line in enumerate(text.split("\n"), 1) if line.startswith(beginnings))
    return next(found, 1)


def _toml(value: Any) -> Any:
    """A value in what TOML knows."""
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, tuple):
        return [
            {name: _toml(one) for name, one in item._asdict().items() if one is not None}
            for item in value
        ]
    if isinstance(value, datetime):
        return value.isoformat()
    return value
