"""`book where`: where the book lies, and why there."""

from pathlib import Path

import pytest

from tests.cli.conftest import Run, Services


def test_where(run: Run, services: Services) -> None:
    path, why = run("book", "where", "--book", "mine.book").out.splitlines()
    assert path == "garden.book"
    assert why == "As --book says. Not begun yet: soakbook book new begins it."
    assert services.last().words == ("mine.book",)


def test_where_a_book_that_is_there_lies_and_why(
    run: Run, services: Services, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    services.answers["where"] = tmp_path
    assert run("book", "where").out.endswith("names another. It is there.\n")
    monkeypatch.setenv("SOAKBOOK_BOOK", "other.book")
    assert run("book", "where").out.endswith("\nAs SOAKBOOK_BOOK says. It is there.\n")


def test_where_nobody_can_look(run: Run, services: Services) -> None:
    services.answers["where"] = Path("a" * 5000)
    ran = run("book", "where")
    assert ran.status == 0
    assert "Nobody can look there: " in ran.out.splitlines()[1]
