"""Making, opening and telling what is not a book."""

import os
import shutil
import sqlite3
import stat
import subprocess
import sys
import tempfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from soakbook.errors import BookError
from soakbook.garden.records import Bed, Garden, Person
from soakbook.store import book as opening
from soakbook.store import migrations
from soakbook.store.book import create, new_uid, open_book
from soakbook.store.book_file import BookFile
from soakbook.store.garden_rows import add_record, read_garden, read_records
from soakbook.store.pages import read_pages

POSIX = pytest.mark.skipif(os.name != "posix", reason="file modes are POSIX's")


@pytest.fixture
def path(book: BookFile) -> Path:
    """The file of a closed book."""
    book.close()
    return book.path


def test_a_new_book_holds_its_garden(tmp_path: Path, garden: Garden, morning: datetime) -> None:
    path = tmp_path / "deep" / "er" / "garden.book"
    create(path, garden, at=morning).close()
    with open_book(path) as book:
        assert read_garden(book) == garden
        assert book.uid == garden.uid
    assert [each.name for each in path.parent.iterdir()] == ["garden.book"]


@POSIX
def test_only_the_owner_may_read_a_new_book(path: Path) -> None:
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


@POSIX
def test_what_lies_beside_it_is_the_owners_too(
    path: Path, bed: Bed, morning: datetime, tmp_path: Path
) -> None:
    before = os.umask(0o022)
    try:
        with open_book(path) as book:
            add_record(book, bed._replace(uid="bed-2", key="dole"), at=morning)
            modes = {one.name: stat.S_IMODE(one.stat().st_mode) for one in tmp_path.iterdir()}
    finally:
        os.umask(before)
    assert set(modes) == {"garden.book", "garden.book-wal", "garden.book-shm"}
    assert set(modes.values()) == {0o600}


def test_a_book_is_never_written_over(path: Path, garden: Garden, morning: datetime) -> None:
    before = path.read_bytes()
    with pytest.raises(BookError, match="already"):
        create(path, garden._replace(uid="another"), at=morning)
    assert path.read_bytes() == before
    assert [each.name for each in path.parent.iterdir()] == [path.name]


def test_a_file_that_appears_meanwhile_is_kept(
    tmp_path: Path, garden: Garden, morning: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "garden.book"
    fill = opening._fill

    def slow_fill(part: Path, uid: str, filler: Callable[[BookFile], None]) -> None:
        fill(part, uid, filler)
        path.write_text("somebody else's")

    monkeypatch.setattr(opening, "_fill", slow_fill)
    with pytest.raises(BookError, match="already"):
        create(path, garden, at=morning)
    assert path.read_text() == "somebody else's"
    assert list(tmp_path.iterdir()) == [path]


def test_a_disk_without_second_names_will_do(
    tmp_path: Path, garden: Garden, morning: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_link(part: Path, path: Path) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", no_link)
    path = tmp_path / "garden.book"
    with create(path, garden, at=morning) as book:
        assert read_garden(book) == garden


def test_a_failure_leaves_nothing(tmp_path: Path, garden: Garden, morning: datetime) -> None:
    nowhere = garden._replace(latitude_deg=123.0)
    with pytest.raises(Exception, match="latitude_deg"):
        create(tmp_path / "garden.book", nowhere, at=morning)
    assert list(tmp_path.iterdir()) == []


def test_a_log_left_from_another_book_is_not_taken_in(
    tmp_path: Path, garden: Garden, morning: datetime
) -> None:
    (tmp_path / "garden.book-wal").write_bytes(b"pages of a book that is gone")
    with pytest.raises(BookError, match=r"garden\.book-wal is left from another book"):
        create(tmp_path / "garden.book", garden, at=morning)


def test_a_file_in_the_place_of_the_folder(
    tmp_path: Path, garden: Garden, morning: datetime
) -> None:
    (tmp_path / "folder").write_text("a file")
    with pytest.raises(BookError, match="cannot be made"):
        create(tmp_path / "folder" / "garden.book", garden, at=morning)


def test_no_such_file(tmp_path: Path) -> None:
    with pytest.raises(BookError, match=r"there is no book at .*nowhere\.book"):
        open_book(tmp_path / "nowhere.book")
    assert list(tmp_path.iterdir()) == []


def test_a_name_too_long_for_the_disk(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="cannot be opened"):
        open_book(tmp_path / ("x" * 300))


@pytest.mark.parametrize("content", [b"", b"name,area\nchapel,18\n" * 200, bytes(4096)])
@pytest.mark.parametrize("read_only", [False, True])
def test_not_a_book(tmp_path: Path, content: bytes, read_only: bool) -> None:
    path = tmp_path / "beds.csv"
    path.write_bytes(content)
    with pytest.raises(BookError, match="is not a book"):
        open_book(path, read_only=read_only)
    assert path.read_bytes() == content


def test_a_folder_is_not_a_book(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="is not a book"):
        open_book(tmp_path)


def test_the_file_of_another_program_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE garden (uid TEXT)")
    other.close()
    before = path.read_bytes()
    with pytest.raises(BookError, match="is not a book"):
        open_book(path)
    assert path.read_bytes() == before


def test_a_newer_book_is_refused(path: Path) -> None:
    newer = sqlite3.connect(path)
    newer.execute(f"PRAGMA user_version = {migrations.NEWEST + 1}")
    newer.close()
    with pytest.raises(BookError, match="newer soakbook"):
        open_book(path)


def test_an_old_sqlite_is_said(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 34, 1))
    monkeypatch.setattr(sqlite3, "sqlite_version", "3.34.1")
    with pytest.raises(BookError, match=r"SQLite 3\.37 or newer.*3\.34\.1"):
        open_book(path)


def test_a_damaged_book_is_said(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[4096:] = b"\xa5" * (len(content) - 4096)
    path.write_bytes(content)
    with pytest.raises(BookError, match="is damaged"), open_book(path) as book:
        read_records(book, Bed)


def test_a_schema_that_is_no_text_any_more_is_damage(path: Path) -> None:
    """SQLite repeats the bytes in what it says, and they are no letters."""
    content = path.read_bytes()
    assert b"CREATE TABLE bed" in content
    path.write_bytes(content.replace(b"CREATE TABLE bed", b"\xa5REATE TABLE \xffed"))
    with pytest.raises(BookError, match="is damaged: move it away"):
        open_book(path)


def test_a_schema_that_is_half_text_is_damage(path: Path) -> None:
    """Here it is Python that repeats the bytes, behind an error without a code."""
    content = path.read_bytes()
    assert b"-- " in content
    path.write_bytes(content.replace(b"-- ", b"-- \xff", 1))
    with pytest.raises(BookError, match="is damaged: move it away") as caught:
        open_book(path)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE garden SET round_hour = '2459000.5'",
        "UPDATE bed SET key = CAST(x'a5a5' AS TEXT)",
        "UPDATE person SET weekdays = '²'",
    ],
)
def test_a_row_that_cannot_be_read_is_said(book: BookFile, morning: datetime, change: str) -> None:
    add_record(book, Person("ann", "Ann"), at=morning)
    book.connection.execute("PRAGMA ignore_check_constraints = ON")
    book.connection.execute(change)
    with pytest.raises(BookError, match=r"garden\.book "):
        read_pages(book)


def test_a_book_without_its_garden_is_not_whole(path: Path) -> None:
    cut = sqlite3.connect(path)
    cut.execute("DELETE FROM garden")
    cut.commit()
    cut.close()
    with pytest.raises(BookError, match="not whole"):
        open_book(path)


def test_names_with_signs_of_an_address(tmp_path: Path, garden: Garden, morning: datetime) -> None:
    """A path is not an address: `?`, `#`, `%` and blanks are letters like others."""
    path = tmp_path / "Aunt May's #1 garden?mode=ro&x=%20.book"
    create(path, garden, at=morning).close()
    with open_book(path) as book:
        assert read_garden(book) == garden


def test_how_a_book_is_kept(book: BookFile) -> None:
    def pragma(name: str) -> object:
        return book.connection.execute(f"PRAGMA {name}").fetchone()[0]

    assert pragma("application_id") == int.from_bytes(b"Soak")
    assert pragma("journal_mode") == "wal"
    assert pragma("synchronous") == 2  # FULL
    assert pragma("foreign_keys") == 1
    assert pragma("trusted_schema") == 0
    assert pragma("recursive_triggers") == 1
    assert pragma("busy_timeout") == 5000


def test_read_only(book: BookFile, bed: Bed, morning: datetime) -> None:
    """Reading goes on beside an open writer, sees what it has committed, and cannot write."""
    with open_book(book.path, read_only=True) as reader:
        assert read_records(reader, Bed) == (bed,)
        add_record(book, bed._replace(uid="bed-2", key="dole"), at=morning)
        assert len(read_records(reader, Bed)) == 2
        with pytest.raises(BookError, match="cannot be written"):
            add_record(reader, bed._replace(uid="bed-3", key="bank"), at=morning)


def test_immutable_lays_nothing_beside_the_file(path: Path, bed: Bed) -> None:
    before = path.read_bytes()
    with open_book(path, immutable=True) as book:
        assert read_records(book, Bed) == (bed,)
        assert list(path.parent.iterdir()) == [path]
    assert path.read_bytes() == before


_LOOK = """
import os
import sys
from pathlib import Path
import platformdirs
from soakbook.errors import BookError
import soakbook.store.copying  # fetched while the package itself may still be read
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages
if os.geteuid() == 0:  # root may write everywhere
    os.setuid(65534)
path = Path(sys.argv[1])
with open_book(path, read_only=True) as book:
    print(read_pages(book).beds[0].key)
try:
    open_book(path).close()
except BookError as error:
    print(error)
"""


@POSIX
def test_a_folder_that_may_only_be_read(path: Path) -> None:
    """Somebody may read the book but write neither it nor its folder."""
    with tempfile.TemporaryDirectory() as folder:
        there = Path(folder) / "garden.book"
        shutil.copy(path, there)
        there.chmod(0o444)
        Path(folder).chmod(0o555)
        said = subprocess.run(
            [sys.executable, "-c", _LOOK, str(there)],
            capture_output=True,
            text=True,
            check=True,
            cwd="/",
        ).stdout.splitlines()
        left = [each.name for each in Path(folder).iterdir()]
        Path(folder).chmod(0o755)
    assert said[0] == "chapel"
    assert said[1].startswith(f"{there} cannot be")
    assert left == ["garden.book"]


def test_uids_differ() -> None:
    uids = {new_uid() for _ in range(100)}
    assert len(uids) == 100
    assert all(uid.isalnum() for uid in uids)


def test_opening_is_light() -> None:
    """What a round from the cache imports: sqlite3 and light standard modules."""
    code = (
        "import sys, soakbook.store.pages, soakbook.store.book, soakbook.store.rounds; "
        "print(*sorted({'numpy', 'pandas', 'pydantic', 'pyet', 'click', 'platformdirs', 'uuid', "
        "'importlib.resources', 'tempfile', 'pickle', 'asyncio'} & set(sys.modules)))"
    )
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == ""


@POSIX
def test_behind_a_link_in_a_folder_that_is_read_only_the_log_is_read(
    path: Path, bed: Bed, morning: datetime, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The newest bed stands in the log beside the book itself, where somebody may be writing."""
    (tmp_path / "shelf").mkdir()
    link = tmp_path / "shelf" / "link.book"
    link.symlink_to(path)
    may = os.access
    monkeypatch.setattr(os, "access", lambda one, how: one != link.parent and may(one, how))
    with open_book(path) as writer:
        add_record(writer, bed._replace(uid="bed-2", key="new", tap=None), at=morning)
        with open_book(link, read_only=True) as reader:
            assert "new" in [one.key for one in read_records(reader, Bed)]
