"""Files in the user's cache folder: written whole or not at all, for the user's own eyes.

A cache and no more: where nothing can be written, nothing is kept and nothing said.
"""

import os
from pathlib import Path


def write_whole(path: Path, content: bytes) -> bool:
    """Put a file in its place, with its folder where there is none; False where that cannot be done."""
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        try:
            with open(part, "wb", opener=_private) as file:
                file.write(content)
            os.replace(part, path)
        finally:
            part.unlink(missing_ok=True)
    except (OSError, ValueError):
        return False
    return True


def _private(path: str, flags: int) -> int:
    return os.open(path, flags, 0o600)
