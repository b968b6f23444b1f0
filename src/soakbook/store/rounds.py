"""Finished rounds, kept as text in the user's cache folder.

A cache and no more: whatever goes wrong with it is a miss, throwing it away costs only time.
"""

import json
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import NamedTuple

from soakbook.store.cache_files import write_whole
from soakbook.store.places import cache_folder, file_word

KEPT_A_BOOK = 60
"""How many finished rounds are kept of one book; the oldest go."""


class RoundKey(NamedTuple):
    """All that a finished round depends on; `mark` is the book's change mark, `code` the program's."""

    book_uid: str
    mark: str
    day: date
    mode: str
    code: str


class RoundCache:
    """The finished rounds in one folder: one file for each book, day and mode."""

    def __init__(self, folder: Path | None = None) -> None:
        """Use a folder, or `rounds` in the user's own cache."""
        self.folder = cache_folder() / "rounds" if folder is None else folder

    def load(self, key: RoundKey) -> str | None:
        """The round that was kept under exactly this key, or None."""
        try:
            kept = json.loads(self._path(key).read_text(encoding="utf-8"))
            text = kept["text"] if kept["key"] == _plain(key) else None
        except (OSError, ValueError, LookupError, TypeError, RecursionError):
            return None
        return text if isinstance(text, str) else None

    def keep(self, key: RoundKey, text: str) -> None:
        """Keep a round; where nothing can be written, nothing is kept and nothing said."""
        said = json.dumps({"key": _plain(key), "text": text}, ensure_ascii=False)
        with suppress(OSError, ValueError):
            if write_whole(self._path(key), said.encode()):
                self._drop_oldest(key)

    def _path(self, key: RoundKey) -> Path:
        return (
            self.folder
            / f"{file_word(key.book_uid)}.{key.day.isoformat()}.{file_word(key.mode)}.json"
        )

    def _drop_oldest(self, key: RoundKey) -> None:
        files = sorted(
            self.folder.glob(f"{file_word(key.book_uid)}.*.json"),
            key=lambda path: path.stat().st_mtime_ns,
        )
        for path in files[:-KEPT_A_BOOK]:
            with suppress(OSError):
                path.unlink()


def _plain(key: RoundKey) -> dict[str, str]:
    return {**key._asdict(), "day": key.day.isoformat()}
