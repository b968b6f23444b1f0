"""Which books this user's soakbook has met: one not met before is read through by SQLite first.

A book is met again when the same file bears the same uid at the same place. A file that was copied, put back or
brought by another machine is another one to the disk, though path and uid be those of before; what soakbook and
SQLite write themselves leaves the file the same. Kept in the cache folder: thrown away, each book is
read through once more.
"""

import os
from contextlib import suppress
from pathlib import Path

from soakbook.store.places import cache_folder, file_word

KEPT = 200
"""How many books are remembered; those met longest ago go."""


def is_met(path: Path, uid: str) -> bool:
    """Whether this file has been read through before at its place."""
    try:
        return _note(path, uid).read_text(encoding="utf-8") == _said(path)
    except (OSError, ValueError):
        return False


def meet(path: Path, uid: str) -> None:
    """Remember a file; where nothing can be written, nothing is, and it will be read through again."""
    try:
        note = _note(path, uid)
        note.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        with open(note, "w", encoding="utf-8", opener=_private) as file:
            file.write(_said(path))
        notes = sorted(note.parent.iterdir(), key=lambda one: one.stat().st_mtime_ns)
    except (OSError, ValueError):
        return
    for old in notes[:-KEPT]:
        with suppress(OSError):
            old.unlink()


def _note(path: Path, uid: str) -> Path:
    return cache_folder() / "met" / f"{file_word(uid)}.{path.stat().st_ino:x}"


def _said(path: Path) -> str:
    return f"{path.stat().st_dev:x} {path.absolute()}"


def _private(path: str, flags: int) -> int:
    return os.open(path, flags, 0o600)
