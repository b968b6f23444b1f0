"""The copies that lie beside a book from before it was brought up to a newer version: their names."""

import re
from datetime import UTC, datetime
from pathlib import Path

KEPT = 3
"""How many lie there; of more the oldest go."""


def earlier_name(path: Path, version: int) -> Path:
    """Where the copy of a book as it is now is to lie: with its version and when it was last written."""
    log = path.with_name(f"{path.name}-wal")
    # An empty log is laid by whoever opens the book, and says nothing of a writing.
    files = [one.stat() for one in (path, log) if one.exists()]
    written_s = max(one.st_mtime for one in files if one.st_size)
    moment = datetime.fromtimestamp(written_s, UTC)
    return path.with_name(f"{path.stem}.version-{version}.{moment:%Y%m%dT%H%M%SZ}{path.suffix}")


def earlier_copies(path: Path) -> list[Path]:
    """The copies that lie beside a book, newest first."""
    name = re.compile(
        rf"{re.escape(path.stem)}\.version-(\d+)\.(\d{{8}}T\d{{6}}Z){re.escape(path.suffix)}"
    )
    try:
        found = [(one, name.fullmatch(one.name)) for one in path.parent.iterdir()]
    except OSError:
        return []
    copies = [(int(match[1]), match[2], one) for one, match in found if match]
    return [one for _, _, one in sorted(copies, reverse=True)]
