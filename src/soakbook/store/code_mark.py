"""Which code made a finished round: a version alone does not tell two checkouts apart."""

import os
from collections.abc import Iterator
from pathlib import Path

from soakbook.version import __version__

PACKAGE = Path(__file__).parent.parent


def code_mark(folder: Path = PACKAGE) -> str:
    """The version, with how many files the program has, their bytes and the newest one's time.

    Parameters
    ----------
    folder : Path
        Where the program lies.
    """
    found = list(_files(os.fspath(folder)))
    newest_ns = max((one.st_mtime_ns for one in found), default=0)
    return f"{__version__} {len(found)} {sum(one.st_size for one in found)} {newest_ns}"


def _files(folder: str) -> Iterator[os.stat_result]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                if entry.name != "__pycache__":
                    yield from _files(entry.path)
            else:
                yield entry.stat()
