"""Who writes, in which book, when; and about when."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Required, TypedDict

from soakbook.errors import InputError
from soakbook.garden.sense import check_line


class Written(TypedDict, total=False):
    """What comes with everything written, by name: `now` is zone-aware, `at` as typed."""

    now: Required[datetime]
    by: str | None
    at: str | None
    sure: bool
    """Whether what may be a slip was asked about, and is meant."""


@dataclass(frozen=True, slots=True)
class Pen:
    """The same with the book it is written in."""

    path: Path
    now: datetime
    by: str | None = None
    at: str | None = None
    sure: bool = False

    def __post_init__(self) -> None:
        """Refuse a name that names nobody."""
        if self.by is not None and not self.by.strip():
            raise InputError("by", self.by, "who did it, or leave --by out")
        check_line("by", self.by)
