"""Where things lie when nobody says: the book in the user's data folder, the cache in theirs."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

from soakbook.errors import BookError

VARIABLE = "SOAKBOOK_BOOK"
"""The environment variable that names the book."""


def from_home(named: str) -> Path:
    """A path as typed, ~ being the user's own folder; that of a user there is not stays as it is.

    Raises
    ------
    BookError
        No file can be called so.
    """
    if "\0" in named:
        raise BookError(f"{named!r} is no name for a file")
    return Path(os.path.expanduser(named))


def default_book(environment: Mapping[str, str] = os.environ) -> Path:
    """The book meant when none is named: SOAKBOOK_BOOK, else `garden.book` in the data folder."""
    named = environment.get(VARIABLE, "").strip()
    if named:
        return from_home(named)
    return _folder("data") / "garden.book"


def cache_folder() -> Path:
    """The user's cache folder for soakbook; it need not exist."""
    return _folder("cache")


def file_word(text: str) -> str:
    """A text as part of a file's name: a uid from a foreign book may hold anything."""
    return "".join(letter if letter.isascii() and letter.isalnum() else "_" for letter in text)[:64]


_ON_LINUX = {"data": ("XDG_DATA_HOME", ".local/share"), "cache": ("XDG_CACHE_HOME", ".cache")}
"""The variable that names a folder, and where in the home it lies else: the XDG base directory specification."""


def _folder(kind: Literal["data", "cache"]) -> Path:
    """The user's folder for soakbook, as platformdirs has it.

    On Linux, where all is as it should be, the library is not asked for so short a rule: fetching it takes an eighth
    of a round that is kept.
    """
    variable, usual = _ON_LINUX[kind]
    base = os.environ.get(variable) or os.path.join(os.environ.get("HOME", ""), usual)
    if sys.platform == "linux" and os.path.isabs(base) and "ANDROID_ROOT" not in os.environ:
        return Path(base) / "soakbook"
    import platformdirs

    path = platformdirs.user_data_path if kind == "data" else platformdirs.user_cache_path
    return path("soakbook", appauthor=False)
