"""Finished rounds in the cache: exactly the same question or nothing, and never an error."""

import json
import os
import stat
from datetime import date, timedelta
from pathlib import Path

import pytest

from soakbook.store.rounds import KEPT_A_BOOK, RoundCache, RoundKey

KEY = RoundKey("6d1f", "a1b2", date(2031, 5, 15), "now", "0.1.0")
TEXT = '{"garden": "Marl Hatherby", "say": "½ can\\nat dawn"}\n'


@pytest.fixture
def cache(tmp_path: Path) -> RoundCache:
    """A cache in a folder that is not there yet."""
    return RoundCache(tmp_path / "cache" / "rounds")


def _file(cache: RoundCache) -> Path:
    (path,) = cache.folder.iterdir()
    return path


def test_what_is_kept_comes_back(cache: RoundCache) -> None:
    assert cache.load(KEY) is None
    cache.keep(KEY, TEXT)
    assert cache.load(KEY) == TEXT
    assert RoundCache(cache.folder).load(KEY) == TEXT


@pytest.mark.parametrize(
    "other",
    [
        KEY._replace(book_uid="6d2f"),
        KEY._replace(mark="a1b3"),
        KEY._replace(day=date(2031, 5, 16)),
        KEY._replace(mode="on"),
        KEY._replace(code="0.2.0"),
    ],
)
def test_another_question_is_a_miss(cache: RoundCache, other: RoundKey) -> None:
    cache.keep(KEY, TEXT)
    assert cache.load(other) is None
    cache.keep(other, "another")
    assert cache.load(other) == "another"


def test_one_file_for_a_book_a_day_and_a_mode(cache: RoundCache) -> None:
    for mark in ("a1b2", "c3d4", "e5f6"):
        cache.keep(KEY._replace(mark=mark), TEXT)
    assert len(list(cache.folder.iterdir())) == 1
    assert cache.load(KEY) is None
    cache.keep(KEY._replace(mode="on"), TEXT)
    cache.keep(KEY._replace(day=KEY.day + timedelta(days=1)), TEXT)
    assert len(list(cache.folder.iterdir())) == 3


def test_only_the_owner_reads_it(cache: RoundCache) -> None:
    cache.keep(KEY, TEXT)
    if os.name == "posix":
        assert stat.S_IMODE(_file(cache).stat().st_mode) == 0o600
        assert stat.S_IMODE(cache.folder.stat().st_mode) == 0o700


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\xff\xfe\x00",
        b"{",
        b"[]",
        b"null",
        b"7",
        b"{}",
        b'{"key": null, "text": "x"}',
        b'{"text": "x"}',
        b"[" * 100_000,
        b"9" * 5_000,
    ],
)
def test_a_file_that_is_something_else_is_a_miss(cache: RoundCache, content: bytes) -> None:
    cache.keep(KEY, TEXT)
    _file(cache).write_bytes(content)
    assert cache.load(KEY) is None
    cache.keep(KEY, TEXT)
    assert cache.load(KEY) == TEXT


def test_a_text_that_is_none_is_a_miss(cache: RoundCache) -> None:
    cache.keep(KEY, TEXT)
    kept = json.loads(_file(cache).read_text(encoding="utf-8"))
    _file(cache).write_text(json.dumps({**kept, "text": {"a": 1}}))
    assert cache.load(KEY) is None


def test_every_cut_of_the_file_is_a_miss(cache: RoundCache) -> None:
    cache.keep(KEY, TEXT)
    path = _file(cache)
    whole = path.read_bytes()
    for length in range(len(whole)):
        path.write_bytes(whole[:length])
        assert cache.load(KEY) is None
    path.write_bytes(whole)
    assert cache.load(KEY) == TEXT


def test_a_folder_in_the_place_of_the_file_is_a_miss(cache: RoundCache) -> None:
    cache.keep(KEY, TEXT)
    path = _file(cache)
    path.unlink()
    path.mkdir()
    cache.keep(KEY, TEXT)
    assert cache.load(KEY) is None
    assert list(cache.folder.iterdir()) == [path]


def test_nowhere_to_write_is_no_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    cache = RoundCache(tmp_path / "file" / "rounds")
    cache.keep(KEY, TEXT)
    assert cache.load(KEY) is None


def test_a_disk_that_fails_is_no_error(cache: RoundCache, monkeypatch: pytest.MonkeyPatch) -> None:
    cache.keep(KEY, TEXT)

    def fail(part: Path, path: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", fail)
    cache.keep(KEY, "newer")
    assert cache.load(KEY) == TEXT
    assert len(list(cache.folder.iterdir())) == 1


def test_text_that_cannot_be_written_is_no_error(cache: RoundCache) -> None:
    cache.keep(KEY, "broken \ud800 letter")
    assert cache.load(KEY) is None
    assert not list(cache.folder.glob("*"))


def test_a_uid_cannot_lead_out_of_the_folder(cache: RoundCache) -> None:
    strange = KEY._replace(book_uid="../../../etc/passwd", mode="a/b\0:\n" * 100)
    cache.keep(strange, TEXT)
    assert cache.load(strange) == TEXT
    assert _file(cache).parent == cache.folder


def test_the_oldest_go(cache: RoundCache) -> None:
    other = KEY._replace(book_uid="other")
    cache.keep(other, TEXT)
    keys = [KEY._replace(day=KEY.day - timedelta(days=n)) for n in range(KEPT_A_BOOK + 5)]
    for age, key in enumerate(keys):
        cache.keep(key, TEXT)
        for path in cache.folder.glob(f"6d1f.{key.day}.*"):
            os.utime(path, ns=(age, age))
    cache.keep(KEY, TEXT)
    found = [key for key in keys if cache.load(key)]
    assert len(found) == KEPT_A_BOOK
    assert KEY in found
    assert keys[-1] in found
    assert cache.load(other) == TEXT
