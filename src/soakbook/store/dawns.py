"""Dawns of a garden's season, kept as bytes in the user's cache folder, for a season of years to go on from.

A cache and no more: whatever goes wrong with it is a miss, throwing it away costs only time. What the bytes say, and
whether it still holds, is not asked here.
"""

import re
from collections.abc import Mapping
from contextlib import suppress
from datetime import date
from functools import cached_property
from pathlib import Path

from soakbook.store.cache_files import write_whole
from soakbook.store.code_mark import code_mark
from soakbook.store.places import cache_folder, file_word

MOST_BYTES = 64_000_000
"""A larger one is neither written nor read: ten years of 30 beds with 20 entries a week have 2 MB."""

NAMED = re.compile(r"(\d{4}-\d{2}-\d{2})\.dawn")


class DawnCache:
    """The kept dawns of one book: one file for a day."""

    def __init__(
        self, book_uid: str, today: date, *, may_keep: bool = True, folder: Path | None = None
    ) -> None:
        """Use a folder, or `dawns` in the user's own cache; nothing is looked up before it is needed.

        Parameters
        ----------
        book_uid : str
        today : date
            What is kept of a later day comes of a clock that was wrong, and is not looked at.
        may_keep : bool
            Whether anything is written.
        folder : Path, optional
        """
        self._word, self._today, self._may_keep = file_word(book_uid), today, may_keep
        self._folder = folder

    @cached_property
    def folder(self) -> Path:
        """Where they lie; it need not exist."""
        return self._folder or cache_folder() / "dawns"

    @cached_property
    def code(self) -> str:
        """What tells the program's own code from another."""
        return code_mark()

    def days(self) -> tuple[date, ...]:
        """Of which days there are any, the newest first."""
        return tuple(day for day in self._all_days() if day <= self._today)

    def load(self, day: date) -> bytes | None:
        """What was kept of a day, or None."""
        try:
            with open(self._path(day), "rb") as file:
                found = file.read(MOST_BYTES + 1)
        except (OSError, ValueError):
            return None
        return found if len(found) <= MOST_BYTES else None

    def keep(self, found: Mapping[date, bytes], wanted: frozenset[date]) -> None:
        """Put these in their places and drop all else of the book; where a later one is kept, all stays as it is."""
        there = self.days()
        if not self._may_keep or (there and there[0] > max(wanted)):
            return
        for day, content in found.items():
            if len(content) <= MOST_BYTES:
                write_whole(self._path(day), content)
        for day in self._all_days():
            if day not in wanted:
                with suppress(OSError):
                    self._path(day).unlink()

    def _all_days(self) -> list[date]:
        try:
            names = [path.name for path in self.folder.glob(f"{self._word}.*.dawn")]
        except OSError:
            return []
        found = []
        for name in names:
            if named := NAMED.fullmatch(name.removeprefix(f"{self._word}.")):
                with suppress(ValueError):
                    found.append(date.fromisoformat(named[1]))
        return sorted(found, reverse=True)

    def _path(self, day: date) -> Path:
        return self.folder / f"{self._word}.{day.isoformat()}.dawn"
