"""The calendar's file: whole or not at all, not written in vain, and in plain words where it cannot be."""

import os
from pathlib import Path
from stat import S_IMODE

import pytest

from soakbook.errors import InputError
from soakbook.reminders.channels.calendar_file import write_calendar

TEXT = "BEGIN:VCALENDAR\r\nNAME:Bank 🌹\r\nEND:VCALENDAR\r\n"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "garden.ics"


def test_it_is_written_as_it_is_and_nothing_is_left_beside_it(path: Path) -> None:
    assert write_calendar(path, TEXT)
    assert path.read_bytes() == TEXT.encode()
    assert list(path.parent.iterdir()) == [path]


def test_the_same_is_not_written_again(path: Path) -> None:
    write_calendar(path, TEXT)
    before = path.stat()
    assert not write_calendar(path, TEXT)
    after = path.stat()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)
    assert write_calendar(path, TEXT.replace("Bank", "Wall"))
    assert "Wall" in path.read_text()


@pytest.mark.skipif(os.name != "posix", reason="file modes")
def test_it_is_for_whoever_new_files_are_for_and_stays_for_whom_it_was(path: Path) -> None:
    before = os.umask(0o027)
    try:
        write_calendar(path, TEXT)
    finally:
        os.umask(before)
    assert S_IMODE(path.stat().st_mode) == 0o640
    path.chmod(0o604)
    write_calendar(path, TEXT * 2)
    assert S_IMODE(path.stat().st_mode) == 0o604


@pytest.mark.skipif(os.name != "posix", reason="links")
def test_of_a_link_the_file_it_leads_to_is_written(path: Path, tmp_path: Path) -> None:
    shared = tmp_path / "shared"
    shared.mkdir()
    path.symlink_to(shared / "real.ics")
    write_calendar(path, TEXT)
    assert path.is_symlink()
    assert (shared / "real.ics").read_bytes() == TEXT.encode()


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    missing = tmp_path / "nowhere" / "garden.ics"
    with pytest.raises(InputError, match=r"^calendar: .*make .*nowhere first") as refused:
        write_calendar(missing, TEXT)
    assert refused.value.field == "calendar"
    assert list(tmp_path.iterdir()) == []


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="this is a folder"):
        write_calendar(tmp_path, TEXT)


@pytest.mark.parametrize("name", ["a\0b", "x" * 300])
def test_a_name_that_no_file_has(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError, match=r"^calendar: "):
        write_calendar(tmp_path / name, TEXT)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with a name")
def test_what_is_no_plain_file_is_left_alone(path: Path) -> None:
    os.mkfifo(path)
    with pytest.raises(InputError, match="a plain file"):
        write_calendar(path, TEXT)
    assert path.is_fifo()


@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_disk_that_fails_leaves_what_was_there(
    path: Path, call: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_calendar(path, TEXT)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, call, full)
    with pytest.raises(InputError, match=r"^calendar: .*No space left on device"):
        write_calendar(path, TEXT * 2)
    monkeypatch.undo()
    assert path.read_bytes() == TEXT.encode()
    assert list(path.parent.iterdir()) == [path]


def test_what_a_killed_program_left_is_no_hindrance(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed before the new name: the next with its number writes over what it left."""
    with monkeypatch.context() as killed:
        killed.setattr(os, "replace", lambda *_: None)
        killed.setattr(Path, "unlink", lambda *_, **__: None)
        write_calendar(path, TEXT)
    (left,) = path.parent.iterdir()
    assert left.name.endswith(".part")
    write_calendar(path, TEXT)
    assert list(path.parent.iterdir()) == [path]
