"""Lasting things written: a record added or changed, with what of it changed for the answer."""

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from soakbook.garden.door import admit
from soakbook.services.desk import Desk
from soakbook.store.book import new_uid
from soakbook.store.garden_rows import add_record, update_record
from soakbook.store.sheets import Setting, plain_record

S = TypeVar("S", bound=Setting)

Changes = Mapping[str, tuple[Any, Any]]
"""Field -> before and after, in what JSON knows."""


SAID = "said"
"""The field of a bed or a planting that keeps which of its fields are no guess."""


def put(desk: Desk, kind: type[S], old: S | None, said: Mapping[str, Any]) -> tuple[S, Changes]:
    """Write a new record with these fields, or the old one with these changed.

    Parameters
    ----------
    desk : Desk
    kind : type
        The record's.
    old : record or None
        The one to be changed; None to add one.
    said : mapping
        Fields that were said.

    Returns
    -------
    record, changes
        As it is now, and what of it is new or changed.

    Raises
    ------
    InputError
        A field that cannot be right.
    """
    known = {} if old is None else old._asdict()
    if SAID in said:
        said = {**said, SAID: said[SAID] | known.get(SAID, frozenset())}
    record = admit(kind, **{"uid": new_uid(), **known, **said})
    write: Callable[..., None] = add_record if old is None else update_record
    write(desk.book, record, at=desk.pen.now, by=desk.pen.by)
    before = {} if old is None else plain_record(old)
    after = plain_record(record)
    return record, {
        name: (before.get(name), value)
        for name, value in after.items()
        if name != SAID and before.get(name) != value and (old is not None or name in said)
    }
