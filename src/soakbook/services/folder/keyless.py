"""What a folder tells of weather files and of asking: as the book has it, without addresses that hold a key.

An export writes it so, and an import holds the book to it: a folder tells its own book nothing new.
"""

from collections.abc import Mapping, Sequence
from json import loads
from typing import Any

from soakbook.services.addresses import shown
from soakbook.services.weather_files import READ_FROM
from soakbook.store.changes import plain_text


def location(place: str | None) -> str | None:
    """Where a file is read again; None for an address that holds a key."""
    return place if place is None or shown(place) == place else None


def mapping_text(text: str) -> str:
    """How the columns of a file are read, as JSON."""
    return plain_text(_without_key(loads(text)))


def change(row: Sequence[Any]) -> tuple[Any, ...]:
    """A line of the log: `whole_tables.CHANGE`."""
    at, by, what, uid, *texts = row
    if what == "weather_mapping":
        texts = [None if text is None else mapping_text(text) for text in texts]
    return (at, by, what, uid, *texts)


def asked(row: Sequence[Any]) -> tuple[Any, ...]:
    """What came of asking: `whole_tables.ASKED`."""
    service, what, at, came, say, not_before = row
    return service, shown(what), at, came, say.replace(what, shown(what)), not_before


def _without_key(mapping: Mapping[str, Any]) -> dict[str, Any]:
    return {
        name: value
        for name, value in mapping.items()
        if name != READ_FROM or shown(str(value)) == value
    }
