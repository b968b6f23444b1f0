"""A killed write, a full disk, two who write at once: nothing lost, nothing doubled."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from soakbook.garden.records import Garden
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import entries_in_force
from soakbook.store.pages import read_pages
from tests.store.fault_book import begun, enter
from tests.store.hard_times import with_refused

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals and limits are POSIX's")

_WRITER = """
import os, resource, signal, sys
from datetime import UTC, date, datetime
from pathlib import Path
from soakbook.errors import BookError
from soakbook.garden.entries import Left
from soakbook.store.book import open_book
from soakbook.store.entry_rows import add_entries

path, task, name = Path(sys.argv[1]), sys.argv[2], sys.argv[3]

def left(number, reason="no time"):
    return Left(uid=f"{name}-{number}", happened_at=date(2031, 5, 14), bed_uid="bed-1",
                written_at=datetime(2031, 5, 15, tzinfo=UTC), reason=reason)

with open_book(path) as book:
    if task == "many":
        for number in range(25):
            add_entries(book, [left(number)])
    if task == "killed after":
        add_entries(book, [left(n) for n in range(50)])
        os.kill(os.getpid(), signal.SIGKILL)
    if task == "killed within":
        with book.writing():
            # More than SQLite keeps in memory: some of it is in the log on disk already.
            add_entries(book, [left(n, "x" * 10_000) for n in range(500)])
            os.kill(os.getpid(), signal.SIGKILL)
    if task == "full":
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (400_000, 400_000))
        try:
            add_entries(book, [left(n, "x" * 10_000) for n in range(100)])
        except BookError as error:
            print(error)
        add_entries(book, [left("small")])
"""


def _start(book: BookFile, task: str, name: str = "child") -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", _WRITER, str(book.path), task, name],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def _left(path: Path) -> set[str]:
    """The uids of the entries, from a book that is sound."""
    with open_book(path) as book:
        assert book.connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert book.connection.execute("PRAGMA foreign_key_check").fetchall() == []
        return {entry.uid for entry in read_pages(book).entries}


@pytest.mark.parametrize(("task", "count"), [("killed within", 0), ("killed after", 50)])
def test_a_killed_write(book: BookFile, task: str, count: int) -> None:
    mark = book.change_mark()
    book.close()
    child = _start(book, task)
    child.communicate(timeout=60)
    assert child.returncode == -9
    assert len(_left(book.path)) == count
    with open_book(book.path) as again:
        assert (again.change_mark() == mark) == (count == 0)


def test_a_full_disk(book: BookFile) -> None:
    """What could not be written is said, nothing of it is kept, and the book goes on."""
    book.close()
    child = _start(book, "full")
    said, fault = child.communicate(timeout=60)
    assert child.returncode == 0, fault
    assert "could not be" in said
    assert _left(book.path) == {"child-small"}


def test_two_who_write_at_once(book: BookFile, garden: Garden) -> None:
    before = book.change_counter()
    children = [_start(book, "many", name) for name in ("ann", "tom")]
    for child in children:
        assert child.communicate(timeout=60) == ("", "")
        assert child.returncode == 0
    found = entries_in_force(book, garden)
    assert {entry.uid for entry in found} == {
        f"{name}-{number}" for name in ("ann", "tom") for number in range(25)
    }
    assert len(found) == 50
    assert book.change_counter() == before + 50


def test_what_is_not_said_is_counted(tmp_path: Path) -> None:
    """One that is in, one of which nothing was said, one refused, and one refused that is in all the same."""
    path = begun(tmp_path / "garden.book")
    for typed in ("5.1l", "5.4l"):
        enter(path, typed)
    told = ["5.1l", "?5.2l Traceback", f"!5.3l soakbook: {path} is full", "!5.4l soakbook: no"]
    found = with_refused("full disk", path, told)
    assert (found.confirmed, found.lost, found.refused, found.unsaid) == (1, 0, 2, 2)


def test_a_few_of_all_that_can_befall_a_book() -> None:
    """What `python -m tests.store.faults` tries a thousand times: nothing confirmed lost or doubled, none broken."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.store.faults", "--few"],
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(__file__).parents[2],
    )
    assert done.returncode == 0, done.stdout + done.stderr
    rows = [re.split(r" {2,}", line.strip(), maxsplit=1) for line in done.stdout.splitlines()]
    confirmed = {row[0]: row[1].split() for row in rows if len(row) == 2 and row[1][:1].isdigit()}
    assert len(confirmed) == 29
    for fault, numbers in confirmed.items():
        assert int(numbers[0]) > 0, fault
    assert int(confirmed["8 processes writing at once"][1]) == 200
    for fault, tries in (("read-only folder", 1), ("full disk (a limit on files)", 3)):
        assert confirmed[fault][5:7] == [str(tries), "0"], fault  # refused in words, and unsaid
