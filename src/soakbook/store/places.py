"""Where things lie when nobody says: the book in the user's data folder, cache and settings in theirs."""

import os
from collections.abc import Mapping
from pathlib import Path

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
    from platformdirs import user_data_path

    return user_data_path("soakbook", appauthor=False) / "garden.book"


def cache_folder() -> Path:
    """The user's cache folder for soakbook; it need not exist."""
    from platformdirs import user_cache_path

    return user_cache_path("soakbook", appauthor=False)


def config_folder() -> Path:
    """The user's folder of settings for soakbook; it need not exist."""
    from platformdirs import user_config_path

    return user_config_path("soakbook", appauthor=False)


def file_word(text: str) -> str:
    """A text as part of a file's name: a uid from a foreign book may hold anything."""
    return "".join(letter if letter.isascii() and letter.isalnum() else "_" for letter in text)[:64]
