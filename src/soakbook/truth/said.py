"""What a RECORD.toml says: values taken out one by one, whatever was not asked for named at the end."""

import tomllib
from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

from soakbook.errors import InputError
from soakbook.truth.months import month_of

PARTS = ("record", "site", "place")
"""Tables whose keys may as well stand at the top of the file."""


class Said:
    """A table of a TOML file. Capitals, hyphens and underlines of a key make no difference."""

    def __init__(self, table: Mapping[str, Any], within: str = "") -> None:
        self._values: dict[str, Any] = {}
        self._within = f"{within}: " if within else ""
        for key, value in table.items():
            plain = _plain(key)
            if plain in self._values:
                raise InputError(f"{self._within}{key}", value, "said once")
            self._values[plain] = value

    def take(self, *names: str) -> tuple[str, Any] | None:
        """The first of some keys that is there, with its value, both ticked off; None if none is.

        Raises
        ------
        InputError
            Two of the keys, which mean the same, are there.
        """
        there = [name for name in names if name in self._values]
        if not there:
            return None
        if len(there) > 1:
            raise InputError(
                f"{self._within}{there[1]}", self._values[there[1]], f"left out: {there[0]} says it"
            )
        return f"{self._within}{there[0]}", self._values.pop(there[0])

    def text(self, *names: str) -> str | None:
        """A text, without blanks around it; None when not said, or said to be nothing."""
        found = self.take(*names)
        if found is None:
            return None
        name, value = found
        if not isinstance(value, str):
            raise InputError(name, value, "a text in quotation marks")
        return value.strip() or None

    def number(
        self, names: tuple[str, ...], lowest: float, highest: float, right: str
    ) -> float | None:
        """A number within its span; None when not said."""
        found = self.take(*names)
        if found is None:
            return None
        return number(*found, lowest, highest, right)

    def listed(self, names: tuple[str, ...]) -> list[Any] | None:
        """A list under one of the keys, or a table by months as one, ticked off; None when it is neither."""
        there = [name for name in names if isinstance(self._values.get(name), list | Mapping)]
        if not there:
            return None
        value = self._values.pop(there[0])
        if isinstance(value, list):
            return value
        by_month = {month_of(key): one for key, one in value.items()}
        return [by_month[month] for month in range(1, 13) if month in by_month]

    def day(self, *names: str) -> date | None:
        """A day as TOML or ISO has it; None when not said."""
        found = self.take(*names)
        if found is None:
            return None
        name, value = found
        if isinstance(value, datetime):
            return value.date()
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(str(value).strip())
        except ValueError:
            raise InputError(name, value, "a day like 2012-04-01") from None

    def left(self) -> tuple[str, ...]:
        """Keys that nobody has taken."""
        return tuple(f"{self._within}{key}" for key in self._values)


def read_toml(path: Path) -> Said:
    """The keys of a record's TOML file; those of `PARTS` as if they stood at its top.

    Raises
    ------
    InputError
        No such file, or not TOML.
    """
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as fault:
        raise InputError(
            "record", str(path), f"a RECORD.toml that can be read ({fault.strerror})"
        ) from fault
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise InputError("record", path.name, f"TOML as text ({fault})") from fault
    parts = [
        table.pop(key)
        for key in list(table)
        if _plain(key) in PARTS and isinstance(table[key], dict)
    ]
    for part in parts:
        twice = sorted(part.keys() & table.keys())
        if twice:
            raise InputError(twice[0], part[twice[0]], "said once")
        table |= part
    return Said(table)


def number(name: str, value: object, lowest: float, highest: float, right: str) -> float:
    """A value that has to be a number within a span, ends included."""
    if (
        isinstance(value, bool)
        or not isinstance(value, int | float)
        or not lowest <= value <= highest
    ):
        raise InputError(name, value, right)
    return float(value)


def _plain(key: str) -> str:
    return key.strip().casefold().replace("-", "_").replace(" ", "_")
