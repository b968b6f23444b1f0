"""What an import came to: how much was added, and what is another in book and folder."""

from dataclasses import dataclass, field
from typing import Literal, NamedTuple

COUNTED = (
    "records",
    "weather_files",
    "changes",
    "entries",
    "weather",
    "forecasts",
    "promises",
    "rain_hours",
    "asked",
)
"""What is counted, in the order in which it is said."""


class Differing(NamedTuple):
    """Something of one uid that book and folder have differently, and whose holds: an entry is always the book's."""

    what: str
    uid: str
    called: str
    holds: Literal["book", "folder"]


@dataclass
class Brought:
    """Filled as the folder is read."""

    added: dict[str, int] = field(default_factory=lambda: dict.fromkeys(COUNTED, 0))
    differing: list[Differing] = field(default_factory=list)
    read_again: dict[str, str] = field(default_factory=dict)
    """Files of weather that the book reads again from now on: where each lies, by its name."""
