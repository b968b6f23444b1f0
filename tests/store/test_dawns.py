"""Kept dawns in the cache: what was put comes back, the rest goes, and nothing is ever an error."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from soakbook.store import dawns
from soakbook.store.code_mark import code_mark
from soakbook.store.dawns import DawnCache

TODAY = date(2031, 9, 20)
NEWEST, SUMMER, WINTER = date(2031, 8, 1), date(2031, 7, 1), date(2031, 1, 1)
FOUND = {WINTER: b"winter", SUMMER: b"summer", NEWEST: b"newest"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder that is not there yet."""
    return tmp_path / "cache" / "dawns"


@pytest.fixture
def cache(folder: Path) -> DawnCache:
    """A cache in which three dawns were put."""
    found = DawnCache("6d1f", TODAY, folder=folder)
    assert found.days() == ()
    found.keep(FOUND, frozenset(FOUND))
    return found


def files(folder: Path) -> set[str]:
    """What lies there."""
    return {path.name for path in folder.iterdir()}


def test_what_is_put_comes_back(cache: DawnCache) -> None:
    assert cache.days() == (NEWEST, SUMMER, WINTER)
    assert {day: cache.load(day) for day in cache.days()} == FOUND
    assert cache.load(date(2031, 6, 1)) is None
    assert files(cache.folder) == {f"6d1f.{day}.dawn" for day in FOUND}


def test_what_is_not_wanted_any_more_goes(cache: DawnCache) -> None:
    next_one = date(2031, 9, 1)
    cache.keep({next_one: b"next"}, frozenset({next_one, SUMMER, WINTER}))
    assert cache.days() == (next_one, SUMMER, WINTER)


def test_a_question_of_an_earlier_day_leaves_all_as_it_is(cache: DawnCache) -> None:
    cache.keep({SUMMER: b"another"}, frozenset({SUMMER, WINTER}))
    assert cache.days() == (NEWEST, SUMMER, WINTER)
    assert cache.load(SUMMER) == b"summer"


def test_one_that_may_not_keep_reads(cache: DawnCache) -> None:
    reader = DawnCache("6d1f", TODAY, may_keep=False, folder=cache.folder)
    reader.keep({NEWEST: b"another"}, frozenset({NEWEST}))
    assert reader.days() == (NEWEST, SUMMER, WINTER)
    assert reader.load(NEWEST) == b"newest"


def test_what_a_wrong_clock_has_left_is_not_looked_at_and_goes(folder: Path) -> None:
    DawnCache("6d1f", TODAY + timedelta(days=999), folder=folder).keep(
        {date(2034, 5, 1): b"late"}, frozenset({date(2034, 5, 1)})
    )
    cache = DawnCache("6d1f", TODAY, folder=folder)
    assert cache.days() == ()
    cache.keep(FOUND, frozenset(FOUND))
    assert files(folder) == {f"6d1f.{day}.dawn" for day in FOUND}


def test_another_books_are_not_touched(cache: DawnCache) -> None:
    other = DawnCache("6d1f0", TODAY, folder=cache.folder)
    other.keep({NEWEST: b"theirs"}, frozenset({NEWEST}))
    assert other.days() == (NEWEST,)
    assert cache.load(NEWEST) == b"newest"
    assert cache.days() == (NEWEST, SUMMER, WINTER)


def test_other_files_are_passed_over(cache: DawnCache) -> None:
    for name in (
        "6d1f.2031-13-01.dawn",
        "6d1f.dawn",
        "6d1f.x.2031-07-01.dawn",
        "6d1f.٢٠٣١-07-01.dawn",
    ):
        (cache.folder / name).write_bytes(b"x")
    assert cache.days() == (NEWEST, SUMMER, WINTER)


def test_what_is_too_large_is_neither_written_nor_read(
    cache: DawnCache, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(dawns, "MOST_BYTES", 5)
    assert cache.load(NEWEST) is None
    cache.keep({NEWEST: b"longer", SUMMER: b"short"}, frozenset({NEWEST, SUMMER}))
    monkeypatch.undo()
    assert cache.load(NEWEST) == b"newest"
    assert cache.load(SUMMER) == b"short"


def test_a_folder_in_the_place_of_a_file_is_a_miss(cache: DawnCache) -> None:
    path = cache.folder / f"6d1f.{NEWEST}.dawn"
    path.unlink()
    path.mkdir()
    assert cache.load(NEWEST) is None
    cache.keep({NEWEST: b"again"}, frozenset({NEWEST}))
    assert cache.load(NEWEST) is None
    cache.keep({SUMMER: b"again"}, frozenset({SUMMER}))
    assert path.is_dir()


def test_nowhere_to_look_or_write_is_no_error(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    cache = DawnCache("6d1f", TODAY, folder=tmp_path / "file" / "dawns")
    cache.keep(FOUND, frozenset(FOUND))
    assert cache.days() == ()
    assert cache.load(NEWEST) is None


def test_a_uid_cannot_lead_out_of_the_folder(folder: Path) -> None:
    cache = DawnCache("../../[*]?/etc", TODAY, folder=folder)
    cache.keep(FOUND, frozenset(FOUND))
    assert cache.days() == (NEWEST, SUMMER, WINTER)
    assert all(path.parent == folder for path in folder.rglob("*"))


def test_the_code_is_the_programs_own() -> None:
    assert DawnCache("6d1f", TODAY).code == code_mark()
