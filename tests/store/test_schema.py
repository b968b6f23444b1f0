"""What the schema itself promises: strict tables, closed words, counted changes, nothing unsaid."""

import re
import sqlite3
from typing import Any, get_args

import pytest

from soakbook.garden import entries, records, reminding
from soakbook.garden.entries import ENTRY_TYPES
from soakbook.garden.weather import WEATHER_KINDS
from soakbook.store.book_file import BookFile
from soakbook.store.weather_asked import Came

APPEND_ONLY = {
    "change", "entry", "weather_arrival", "weather_value", "forecast_day", "promise",
    "rain_hours", "weather_asked",
}  # fmt: skip
SEEDS = {"meta", "entry_kind"}  # written by the schema itself
UNCOUNTED = {
    "weather_asked",
    "notice",
    "decided",
    "calendar_event",
    "incident",
}  # these change no round


def _tables(book: BookFile) -> set[str]:
    found = book.connection.execute(
        "SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table'"
        " AND name NOT LIKE 'sqlite%'"
    ).fetchall()
    assert all(strict for _, strict in found)
    return {name for name, _ in found}


def test_every_change_of_every_table_is_counted(book: BookFile) -> None:
    found = book.connection.execute(
        "SELECT name, tbl_name, sql FROM sqlite_schema WHERE type = 'trigger'"
    )
    counting = {name: table for name, table, sql in found if "changes = changes + 1" in sql}
    expected = {
        f"{table}_{done}": table
        for table in _tables(book) - SEEDS - UNCOUNTED
        for done in (("added",) if table in APPEND_ONLY else ("added", "changed", "removed"))
    }
    assert counting == expected


def test_closed_words_are_those_of_the_records(book: BookFile) -> None:
    """The lists stand twice, in the annotations and in the schema: here they are held together."""
    listed: dict[tuple[str, str], tuple[str, ...]] = {}
    for table, sql in book.connection.execute(
        "SELECT name, sql FROM sqlite_schema WHERE type = 'table'"
    ):
        for column, words in re.findall(r"CHECK \((\w+) IN \(('[^)]*)\)\)", sql):
            listed[table, column] = tuple(re.findall(r"'(\w+)'", words))
    assert listed == {
        ("garden", "readiness"): get_args(records.Readiness),
        ("garden", "gallon"): get_args(records.Gallon),
        ("garden", "weather_from"): get_args(records.WeatherFrom),
        ("weather_asked", "came"): get_args(Came),
        ("tap", "source"): get_args(records.Source),
        ("tap", "method"): get_args(records.HandMethod),
        ("bed", "hole"): get_args(records.Drain),
        ("planting", "origin"): get_args(records.Origin),
        ("planting", "leaf"): get_args(records.Leaf),
        ("planting", "ball_felt"): get_args(records.FeltClass),
        ("planting", "bed_felt"): get_args(records.FeltClass),
        ("restriction", "tool"): get_args(records.Tool),
        ("restriction", "source"): get_args(records.RestrictedSource),
        ("reminder", "whom"): get_args(reminding.Whom),
        ("reminder", "channel"): get_args(reminding.Channel),
        ("notice", "channel"): get_args(reminding.Channel),
        ("notice", "state"): get_args(reminding.NoticeState),
        ("rate", "what"): get_args(records.Rate.__annotations__["what"]),
        ("entry", "soak_kind"): get_args(entries.SoakKind),
        ("entry", "method"): get_args(records.HandMethod),
        ("entry", "rain_kind"): get_args(entries.RainKind),
        ("entry", "felt_ball"): get_args(records.FeltClass),
        ("entry", "felt_bed"): get_args(records.FeltClass),
        ("weather_arrival", "kind"): WEATHER_KINDS,
    }


def test_the_kinds_of_entry_are_those_of_the_records(book: BookFile) -> None:
    kinds = {kind for (kind,) in book.connection.execute("SELECT kind FROM entry_kind")}
    assert kinds == set(ENTRY_TYPES)


def test_every_reference_has_an_index(book: BookFile) -> None:
    """Else a change of the referred row reads the whole table; these two never change."""
    fixed = {("entry", "kind"), ("weather_value", "arrival_id")}
    for table in _tables(book):
        indexed = {
            book.connection.execute("SELECT name FROM pragma_index_info(?)", (name,)).fetchone()[0]
            for (name,) in book.connection.execute(
                "SELECT name FROM pragma_index_list(?)", (table,)
            ).fetchall()
        }
        referring = {
            column
            for (column,) in book.connection.execute(
                'SELECT "from" FROM pragma_foreign_key_list(?)', (table,)
            )
            if (table, column) not in fixed
        }
        assert referring <= indexed, table


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET litres = 9",
        "DELETE FROM entry",
        "INSERT OR REPLACE INTO entry (uid, kind, happened_at, written_at, bed_uid)"
        " VALUES ('e', 'wilt', '2031-05-15', '2031-05-15T06:00:00+00:00', 'bed-1')",
        "UPDATE weather_value SET value = 9",
        "DELETE FROM weather_value",
        "INSERT OR REPLACE INTO weather_value (id, arrival_id, day, variable, value)"
        " VALUES (1, 1, '2031-05-15', 'rain_mm', 9)",
        "UPDATE weather_arrival SET kind = 'measured'",
        "DELETE FROM weather_arrival",
        "UPDATE forecast_day SET said = '{}'",
        "DELETE FROM forecast_day",
        "UPDATE promise SET share = 1",
        "DELETE FROM promise",
        "UPDATE rain_hours SET numbers = '[]'",
        "DELETE FROM rain_hours",
        "UPDATE weather_asked SET say = 'all was well'",
        "DELETE FROM weather_asked",
        "UPDATE change SET by_whom = 'Tom'",
        "DELETE FROM change",
        "UPDATE garden SET uid = 'another'",
        "UPDATE tap SET uid = 'another'",
        "UPDATE bed SET uid = 'another'",
        "UPDATE planting SET uid = 'another'",
        "UPDATE person SET uid = 'another'",
        "UPDATE restriction SET uid = 'another'",
        "UPDATE reminder SET uid = 'another'",
        "UPDATE rate SET uid = 'another'",
    ],
)
def test_what_is_written_stays(book: BookFile, statement: str) -> None:
    """One row stands in every table; the statement is refused and the file is as it was."""
    for sql in _ONE_ROW_EACH:
        book.connection.execute(sql)
    before = list(book.connection.iterdump())
    with pytest.raises(sqlite3.IntegrityError, match=r"never changed|never removed|permanent"):
        book.connection.execute(statement)
    assert list(book.connection.iterdump()) == before


_ONE_ROW_EACH = (
    "INSERT INTO person (uid, name, weekdays, hours) VALUES ('p', 'Tom', '012345', 2)",
    "INSERT INTO restriction (uid, first, last, tool, source, text)"
    " VALUES ('r', '2031-07-18', '2031-09-05', 'hose', 'mains', 'no hoses')",
    "INSERT INTO rate (uid, from_day, what, price, currency)"
    " VALUES ('w', '2031-04-01', 'water', 4, 'GBP')",
    "INSERT INTO reminder (uid, wanted) VALUES ('round', 0)",
    "INSERT INTO entry (uid, kind, happened_at, written_at, bed_uid, reason)"
    " VALUES ('e', 'left', '2031-05-14', '2031-05-14T06:00:00+00:00', 'bed-1', 'no time')",
    "INSERT INTO weather_arrival (id, source, kind, method, fetched_at)"
    " VALUES (1, 'gauge', 'filled', '', '2031-05-15T06:00:00+00:00')",
    "INSERT INTO weather_value (id, arrival_id, day, variable, value)"
    " VALUES (1, 1, '2031-05-14', 'rain_mm', 15.6)",
    "INSERT INTO forecast_day (arrival_id, day, said) VALUES (1, '2031-05-14', '{\"rain_mm\":1}')",
    "INSERT INTO promise (arrival_id, issued_on, lead_days, share, middle_mm)"
    " VALUES (1, '2031-05-14', 1, 0.8, 6)",
    "INSERT INTO rain_hours (arrival_id, day, numbers) VALUES (1, '2031-05-14', '[15.6]')",
    "INSERT INTO weather_asked (service, what, at, came, say)"
    " VALUES ('one', 'forecast', '2031-05-15T06:00:00+00:00', 'down', 'no answer')",
)

_WILT = {
    "uid": "e",
    "kind": "wilt",
    "happened_at": "2031-05-15",
    "written_at": "2031-05-15T06:00:00+00:00",
    "bed_uid": "bed-1",
}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"bed_uid": None}, "only rain is without a bed"),
        ({"kind": "soak"}, "a soak says its litres"),
        ({"kind": "soak", "litres": 5.0, "typed": "5l", "soak_kind": "soak"}, "a soak says"),
        ({"litres": 5.0}, "a soak says its litres"),
        ({"kind": "rain", "bed_uid": None}, "rain says its millimetres"),
        ({"rain_mm": 5.0}, "rain says its millimetres"),
        ({"kind": "feel", "unsure": 0}, "a feel says ball or bed or both"),
        ({"felt_ball": "dry"}, "a feel says"),
        ({"kind": "left"}, "left says its reason"),
        ({"kind": "loss", "lost_count": 2, "cause": "drought"}, "a loss says which planting"),
        ({"kind": "mulch", "mulch_kind": "bark"}, "mulch says its kind"),
        ({"depth_cm": 5.0}, "mulch says its kind"),
        ({"kind": "sacks"}, "FOREIGN KEY"),
        ({"happened_at": "2031-02-30"}, "happened_at"),
        ({"happened_at": "2031-05-15T07:40:00"}, "happened_at"),
        ({"happened_at": "yesterday"}, "happened_at"),
        ({"supersedes": "e"}, "supersedes"),
        ({"corrected_by": "Ann"}, "supersedes"),
        ({"kind": "void", "bed_uid": None}, "supersedes"),
    ],
)
def test_what_an_entry_must_say(book: BookFile, change: dict[str, Any], said: str) -> None:
    row = {**_WILT, **change}
    with pytest.raises(sqlite3.IntegrityError, match=said):
        book.connection.execute(
            f"INSERT INTO entry ({', '.join(row)}) VALUES ({', '.join('?' * len(row))})",
            tuple(row.values()),
        )


def test_a_later_version_adds_a_kind_without_laying_the_table_anew(book: BookFile) -> None:
    book.connection.execute("INSERT INTO entry_kind VALUES ('withdrawn')")
    book.connection.execute("ALTER TABLE entry ADD COLUMN shade TEXT CHECK (shade <> '')")
    row = {**_WILT, "kind": "withdrawn", "bed_uid": None, "shade": "net"}
    book.connection.execute(
        f"INSERT INTO entry ({', '.join(row)}) VALUES ({', '.join('?' * len(row))})",
        tuple(row.values()),
    )
    assert book.connection.execute("SELECT kind, shade FROM entry_in_force").fetchone() == (
        "withdrawn",
        "net",
    )
