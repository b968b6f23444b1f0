"""The calendar's file: there whole or not at all, and written only when something in it is new."""

import os
from contextlib import suppress
from pathlib import Path
from stat import S_IMODE
from threading import get_ident

from soakbook.errors import InputError

FIELD = "calendar"
LETTERS_OF_NAME = 40
"""Of the file's name in that of the unfinished one: a disk takes 255 octets in all."""


def write_calendar(path: Path, text: str) -> bool:
    """Put the calendar in its place; whether it was written, which it is not when it stands there already.

    Who may read it is as whoever started soakbook has it for new files, or as the file that is there: a calendar is to
    be shared, and nothing in it is secret. Of a link the file that it leads to is written.

    Parameters
    ----------
    path
        The file; its folder has to be there.
    text
        Of `calendar_text`.

    Raises
    ------
    InputError
        It is no file, there is no such folder, or nothing can be written there; what was there is as it was.
    """
    content = text.encode()
    try:
        target = Path(os.path.realpath(path))
        _check(path, target)
        if _there(target) == content:
            return False
        _replace(target, content)
    except ValueError as error:
        raise InputError(FIELD, str(path), "a name that a file can have") from error
    except OSError as error:
        right = f"a file where one can be written ({error.strerror or error})"
        raise InputError(FIELD, str(path), right) from error
    return True


def _check(path: Path, target: Path) -> None:
    if target.is_dir():
        right = f"a file: this is a folder, so name one in it, such as {path / 'garden.ics'}"
        raise InputError(FIELD, str(path), right)
    if target.exists() and not target.is_file():
        raise InputError(FIELD, str(path), "a plain file")
    if not target.parent.is_dir():
        right = f"a file in a folder that is there: make {target.parent} first"
        raise InputError(FIELD, str(path), right)


def _there(target: Path) -> bytes | None:
    """What the file holds; None where there is none to be read."""
    with suppress(OSError):
        return target.read_bytes()
    return None


def _replace(target: Path, content: bytes) -> None:
    part = target.with_name(f".{target.name[:LETTERS_OF_NAME]}.{os.getpid()}.{get_ident()}.part")
    part.unlink(missing_ok=True)  # left by a program that was killed and had our number
    try:
        with open(part, "xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        with suppress(FileNotFoundError):
            part.chmod(S_IMODE(target.stat().st_mode))
        os.replace(part, target)
    finally:
        part.unlink(missing_ok=True)
    if os.name == "posix":
        with suppress(
            OSError
        ):  # a disk on the network may not know how, and the file is in its place
            _sync(target.parent)


def _sync(folder: Path) -> None:
    """Wait until the disk has the new name."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
