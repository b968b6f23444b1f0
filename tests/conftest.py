"""Every test in folders of its own: nobody's book, cache or settings are read or touched."""

import os
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from hypothesis import settings

# Shared machines are slow at odd moments. Under CI the built-in profile repeats the same examples.
settings.register_profile("here", deadline=None)
settings.load_profile("ci" if os.environ.get("CI") else "here")

FOLDERS = {
    "HOME": "",
    "XDG_CACHE_HOME": "cache",
    "XDG_CONFIG_HOME": "config",
    "XDG_DATA_HOME": "data",
    "XDG_STATE_HOME": "state",
}
FROM_OUTSIDE = (
    "SOAKBOOK_BOOK", "SOAKBOOK_OPEN_METEO", "SOAKBOOK_MET_NORWAY", "SOAKBOOK_CONTACT", "COLUMNS", "NO_COLOR",
)  # fmt: skip

_numbers = count(1)


def _move_in(moved: pytest.MonkeyPatch, home: Path) -> None:
    for name, folder in FOLDERS.items():
        moved.setenv(name, str(home / folder))
    for name in FROM_OUTSIDE:
        moved.delenv(name, raising=False)
    moved.setenv("SOAKBOOK_OFFLINE", "1")  # a test that asks a service says so


@pytest.fixture(scope="session", autouse=True)
def away_from_home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A home for fixtures that serve more than one test, and beside it those of the tests."""
    homes = tmp_path_factory.mktemp("homes")
    with pytest.MonkeyPatch.context() as moved:
        _move_in(moved, homes / "shared")
        yield homes


@pytest.fixture(autouse=True)
def own_home(away_from_home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A home for each test, empty and made when it is used: their order does not matter."""
    _move_in(monkeypatch, away_from_home / str(next(_numbers)))
