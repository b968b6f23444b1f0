"""Where things lie when nobody says."""

from pathlib import Path

import pytest

from soakbook.errors import BookError
from soakbook.store.places import cache_folder, config_folder, default_book, from_home
from soakbook.store.rounds import RoundCache


def test_the_variable_names_the_book() -> None:
    assert default_book({"SOAKBOOK_BOOK": "/srv/garden.book"}) == Path("/srv/garden.book")
    assert default_book({"SOAKBOOK_BOOK": "~/garden.book"}) == Path.home() / "garden.book"
    assert default_book({"SOAKBOOK_BOOK": "~no-such-user/x"}) == Path("~no-such-user/x")


def test_what_no_file_can_be_called_is_refused() -> None:
    with pytest.raises(BookError, match="no name for a file"):
        from_home("a\0b")


@pytest.mark.parametrize("environment", [{}, {"SOAKBOOK_BOOK": ""}, {"SOAKBOOK_BOOK": " "}])
def test_else_it_is_among_the_users_data(environment: dict[str, str]) -> None:
    path = default_book(environment)
    assert path.is_absolute()
    assert path.parts[-2:] == ("soakbook", "garden.book")


def test_the_cache_is_the_users_own(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    folder = cache_folder()
    assert folder.name == "soakbook" or "soakbook" in folder.parts
    assert RoundCache().folder == folder / "rounds"
    assert not folder.exists()


def test_settings_lie_apart_from_book_and_cache() -> None:
    folder = config_folder()
    assert folder.is_absolute()
    assert folder.name == "soakbook"
    assert not folder.exists()
