"""Where things lie when nobody says."""

from pathlib import Path

import platformdirs
import pytest

from soakbook.errors import BookError
from soakbook.store.places import cache_folder, default_book, from_home
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


@pytest.mark.parametrize("named", [None, "", " ", "/srv/x", " /srv/x ", "/srv/x/", "here", "~/x"])
@pytest.mark.parametrize("home", ["/home/ann", "/home/ann/", "/", "ann", "", None])
def test_both_lie_where_platformdirs_would_have_them(
    monkeypatch: pytest.MonkeyPatch, home: str | None, named: str | None
) -> None:
    for variable, value in (("HOME", home), ("XDG_CACHE_HOME", named), ("XDG_DATA_HOME", named)):
        if value is None:
            monkeypatch.delenv(variable, raising=False)
        else:
            monkeypatch.setenv(variable, value)
    assert cache_folder() == platformdirs.user_cache_path("soakbook", appauthor=False)
    data = platformdirs.user_data_path("soakbook", appauthor=False)
    assert default_book({}) == data / "garden.book"
