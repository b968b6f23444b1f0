"""Leaving people's names out of a folder: each is "person 1", "person 2", ... wherever it stands."""

from collections.abc import Iterable, Mapping
from typing import Any

NAMED = {"by", "corrected_by", "keeper", "head"}
"""Fields that hold a person's name, in entries, beds and the log."""


class People:
    """Names by those that stand in their place, given in the order in which they are first met."""

    def __init__(self, names: Iterable[str]) -> None:
        self._known: dict[str, str] = {}
        for name in names:
            self.named(name)

    def named(self, name: str) -> str:
        """What stands in a name's place."""
        return self._known.setdefault(name, f"person {len(self._known) + 1}")

    def without(self, what: str, fields: Mapping[str, Any]) -> dict[str, Any]:
        """A record, a line of the log or an entry with no name in it; `what` is its table."""
        own = {"name"} if what == "person" else set()
        return {
            field: self.named(value) if field in NAMED | own and isinstance(value, str) else value
            for field, value in fields.items()
        }
