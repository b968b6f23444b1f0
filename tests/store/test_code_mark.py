"""Which code made a finished round."""

import os
from pathlib import Path

import pytest

from soakbook import __version__
from soakbook.store.code_mark import code_mark


@pytest.fixture
def program(tmp_path: Path) -> Path:
    """A program of two files, one of them in a folder."""
    (tmp_path / "inside").mkdir()
    for name in ("one.py", "inside/two.sql"):
        (tmp_path / name).write_text("1\n", encoding="utf-8")
    return tmp_path


def test_the_same_code_has_the_same_mark(program: Path) -> None:
    mark = code_mark(program)
    (program / "__pycache__").mkdir()
    (program / "__pycache__" / "one.pyc").write_bytes(b"1")
    assert code_mark(program) == mark
    assert mark.startswith(f"{__version__} 2 4 ")


def test_another_line_another_file_and_another_time_are_another_mark(program: Path) -> None:
    marks = {code_mark(program)}
    (program / "inside" / "two.sql").write_text("22\n", encoding="utf-8")
    os.utime(program / "inside" / "two.sql", ns=(0, 0))
    marks.add(code_mark(program))
    (program / "three.py").write_text("", encoding="utf-8")
    os.utime(program / "three.py", ns=(0, 0))
    marks.add(code_mark(program))
    os.utime(program / "one.py", ns=(5, 2**62))
    marks.add(code_mark(program))
    assert len(marks) == 4


def test_of_the_program_itself() -> None:
    assert code_mark() == code_mark()
    assert int(code_mark().split()[1]) > 100
