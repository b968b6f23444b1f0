"""Who writes, in which book, when; and about when."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Required, TypedDict


class Written(TypedDict, total=False):
    """What comes with everything written, by name: `now` is zone-aware, `at` as typed."""

    now: Required[datetime]
    by: str | None
    at: str | None


@dataclass(frozen=True, slots=True)
class Pen:
    """The same with the book it is written in."""

    path: Path
    now: datetime
    by: str | None = None
    at: str | None = None
