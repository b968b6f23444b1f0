"""Out of the book and in again is the same book, for any garden."""

import sqlite3
import tempfile
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, settings

from soakbook.services.exporting import export
from soakbook.services.importing import bring_back
from tests.properties.gardens_drawn import fillings

SLOW = settings(
    max_examples=25,
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    deadline=None,
    suppress_health_check=[
        HealthCheck.too_slow,
        HealthCheck.data_too_large,
        HealthCheck.filter_too_much,
    ],
)

ARRIVED = "source, kind, method, issued_at, fetched_at"


def content(path: Path) -> dict[str, Counter[tuple[object, ...]]]:
    """Every table of a book as its rows without ids; a row of weather with what it arrived with."""
    with closing(sqlite3.connect(path)) as connection:
        tables = [
            name
            for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
            if name != "meta"
        ]
        found = {}
        for table in tables:
            columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
            own = ", ".join(f't."{one}"' for one in columns if one not in ("id", "arrival_id"))
            joined = "arrival_id" in columns
            came = " JOIN weather_arrival AS a ON a.id = t.arrival_id" if joined else ""
            said = f", {', '.join(f'a.{one}' for one in ARRIVED.split(', '))}" if joined else ""
            rows = connection.execute(f"SELECT {own}{said} FROM {table} AS t{came}")
            found[table] = Counter(rows.fetchall())
    return found


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@SLOW
@given(fill=fillings())
def test_a_book_comes_back_equal_and_its_folder_byte_for_byte(fill: Callable[[Path], None]) -> None:
    with tempfile.TemporaryDirectory() as home:
        there = Path(home)
        first, second = there / "first.book", there / "second.book"
        fill(first)
        export(first, there / "once")
        bring_back(second, there / "once", new=True)
        assert content(second) == content(first)
        export(second, there / "twice")
        assert files(there / "twice") == files(there / "once")

        before = content(first)
        for dry_run in (True, False):
            answer = bring_back(first, there / "once", dry_run=dry_run)
            assert not any(answer["changed"]["added"].values())
            assert answer["changed"]["differing"] == []
        assert content(first) == before


@SLOW
@given(fill=fillings())
def test_without_names_it_comes_back_too_and_no_name_is_in_it(fill: Callable[[Path], None]) -> None:
    with tempfile.TemporaryDirectory() as home:
        there = Path(home)
        fill(there / "first.book")
        export(there / "first.book", there / "once", without_names=True)
        bring_back(there / "second.book", there / "once", new=True)
        export(there / "second.book", there / "twice", without_names=True)
        assert files(there / "twice") == files(there / "once")
        with closing(sqlite3.connect(there / "second.book")) as connection:
            named = connection.execute(
                "SELECT name FROM person UNION SELECT keeper FROM bed WHERE keeper IS NOT NULL"
                " UNION SELECT by_whom FROM entry WHERE by_whom IS NOT NULL"
                " UNION SELECT by_whom FROM change WHERE by_whom IS NOT NULL"
            ).fetchall()
        assert all(name.startswith("person ") for (name,) in named)
