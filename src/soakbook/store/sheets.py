"""How each lasting record lies in its table: a column a field; lists have tables of their own."""

import sqlite3
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from datetime import date, time
from types import MappingProxyType
from typing import Any, NamedTuple, TypeVar

from soakbook.garden.records import (
    Absence,
    Bed,
    Flow,
    Garden,
    Person,
    Planting,
    Rate,
    Restriction,
    Tap,
)
from soakbook.garden.reminding import Reminder
from soakbook.store.rows import insert

Setting = Garden | Bed | Planting | Tap | Person | Restriction | Rate | Reminder
"""The records that are kept whole and may be changed later."""


S = TypeVar("S", Garden, Bed, Planting, Tap, Person, Restriction, Rate, Reminder)


class SubSheet(NamedTuple):
    """A list within a record: its table, the column that names its owner, its record and order."""

    table: str
    owner: str
    record: type[Flow | Absence]
    order: str
    special: Mapping[str, Callable[[Any], Any]]


class Sheet(NamedTuple):
    """A table of lasting records; `special` reads what is not stored as the record has it."""

    table: str
    order: str = "id"
    special: Mapping[str, Callable[[Any], Any]] = MappingProxyType({})
    lists: Mapping[str, SubSheet] = MappingProxyType({})


def plain_record(record: Setting | Flow | Absence) -> dict[str, Any]:
    """A record in what JSON and SQLite both know: texts, numbers, None, lists of the like."""
    return {name: _plain(value) for name, value in record._asdict().items()}


def own_columns(record: Setting) -> dict[str, Any]:
    """The row of a record in its own table, without its lists."""
    lists = SHEETS[type(record)].lists
    return {name: value for name, value in plain_record(record).items() if name not in lists}


def write_lists(connection: sqlite3.Connection, record: Setting) -> None:
    """Make the stored lists of a record equal to its own."""
    for name, sub in SHEETS[type(record)].lists.items():
        connection.execute(f"DELETE FROM {sub.table} WHERE {sub.owner} = ?", (record.uid,))
        for item in getattr(record, name):
            insert(connection, sub.table, {sub.owner: record.uid, **plain_record(item)})


def read_sheet(
    connection: sqlite3.Connection,
    kind: type[Setting],
    where: str = "1",
    values: Sequence[object] = (),
) -> list[Any]:
    """The records of one kind that a condition picks, in their order."""
    sheet = SHEETS[kind]
    lists = {name: _read_lists(connection, sub) for name, sub in sheet.lists.items()}
    columns = [name for name in kind._fields if name not in lists]
    found = connection.execute(
        f"SELECT {_listed(columns)} FROM {sheet.table} WHERE {where} ORDER BY {sheet.order}", values
    )
    records = []
    for row in found:
        given = _read_row(columns, row, sheet.special)
        given |= {name: tuple(by_owner[given["uid"]]) for name, by_owner in lists.items()}
        records.append(kind(**given))
    return records


def record_of(kind: type[S], plain: Mapping[str, Any]) -> S:
    """A record from what `plain_record` made of it, be it in an earlier version: what that lacked is as by default."""
    sheet = SHEETS[kind]
    lists = {name: sub for name, sub in sheet.lists.items() if name in plain}
    columns = [name for name in kind._fields if name in plain and name not in lists]
    given = _read_row(columns, [plain[name] for name in columns], sheet.special)
    for name, sub in lists.items():
        fields = list(sub.record._fields)
        given[name] = tuple(
            sub.record(**_read_row(fields, [item[field] for field in fields], sub.special))
            for item in plain[name]
        )
    return kind(**given)


def _read_lists(connection: sqlite3.Connection, sub: SubSheet) -> defaultdict[str, list[Any]]:
    columns = list(sub.record._fields)
    found = connection.execute(
        f"SELECT {sub.owner}, {_listed(columns)} FROM {sub.table} ORDER BY {sub.order}"
    )
    by_owner: defaultdict[str, list[Any]] = defaultdict(list)
    for owner, *row in found:
        by_owner[owner].append(sub.record(**_read_row(columns, row, sub.special)))
    return by_owner


def _read_row(
    columns: Sequence[str], row: Sequence[Any], special: Mapping[str, Callable[[Any], Any]]
) -> dict[str, Any]:
    return {
        column: special[column](value) if column in special and value is not None else value
        for column, value in zip(columns, row, strict=True)
    }


def _listed(columns: Sequence[str]) -> str:
    return ", ".join(f'"{column}"' for column in columns)


def _plain(value: Any) -> Any:
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, frozenset):
        apart = " " if any(isinstance(item, str) for item in value) else ""
        return apart.join(str(item) for item in sorted(value))
    if isinstance(value, tuple):
        return [plain_record(item) for item in value]
    return value


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


def _weekdays(text: str) -> frozenset[int]:
    return frozenset(int(digit) for digit in text)


_day = date.fromisoformat
_span = {"first": _day, "last": _day}
_flows = SubSheet("tap_flow", "tap_uid", Flow, "tested_on, id", {"tested_on": _day})
_absences = SubSheet("absence", "person_uid", Absence, "first, id", _span)

SHEETS: Mapping[type[Setting], Sheet] = {
    Garden: Sheet("garden", special={"round_hour": time.fromisoformat}),
    Bed: Sheet("bed", special={"said": _words, "parted_on": _day, "rests_from": _day}),
    Planting: Sheet(
        "planting",
        order="planted_on, id",
        special={
            "planted_on": _day,
            "leaf_out_on": _day,
            "leaf_fall_on": _day,
            "watered_in": bool,
            "said": _words,
            "parted_on": _day,
        },
    ),
    Tap: Sheet("tap", lists={"flows": _flows}),
    Person: Sheet(
        "person", special={**_span, "weekdays": _weekdays}, lists={"absences": _absences}
    ),
    Restriction: Sheet("restriction", order="first, id", special=_span),
    Rate: Sheet("rate", order="from_day, id", special={"from_day": _day}),
    Reminder: Sheet(
        "reminder",
        special={
            "wanted": bool,
            "hour": time.fromisoformat,
            "named": _words,
            "quiet_from": time.fromisoformat,
            "quiet_until": time.fromisoformat,
        },
    ),
}
