"""Files of a cache: written whole, or not at all and nothing said."""

import os
import stat
from pathlib import Path

import pytest

from soakbook.store.cache_files import write_whole


def test_a_file_and_its_folder_are_the_owners_own(tmp_path: Path) -> None:
    path = tmp_path / "cache" / "dawns" / "one"
    assert write_whole(path, b"1")
    assert write_whole(path, b"22")
    assert path.read_bytes() == b"22"
    assert list(path.parent.iterdir()) == [path]
    if os.name == "posix":
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
        assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_where_it_cannot_be_written_what_was_there_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "one"
    write_whole(path, b"1")

    def fail(part: Path, path: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", fail)
    assert not write_whole(path, b"22")
    assert path.read_bytes() == b"1"
    assert list(tmp_path.iterdir()) == [path]


def test_nowhere_to_write_is_no_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    assert not write_whole(tmp_path / "file" / "dawns" / "one", b"1")
    assert not write_whole(tmp_path / "\0", b"1")
