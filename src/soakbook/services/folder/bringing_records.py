"""The lasting records of a folder into a book: new ones added, others as they were changed last."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.records import Bed, Person, Planting, Rate, Restriction, Tap
from soakbook.garden.reminding import Reminder
from soakbook.garden.sense import check_line
from soakbook.services.folder import keyless
from soakbook.services.folder.brought import Brought, Differing
from soakbook.services.folder.cells import UTC_MOMENT
from soakbook.services.folder.garden_text import RECORDS, Placed, check_uid, json_of
from soakbook.services.folder.reading import shortened
from soakbook.store import bringing, whole_tables
from soakbook.store.book_file import BookFile
from soakbook.store.changes import plain_text
from soakbook.store.garden_rows import read_records
from soakbook.store.sheets import Setting, record_of
from soakbook.store.soundness import rounds_in
from soakbook.store.texts import utc_text
from soakbook.weather.kept_maps import from_json

Key = tuple[str, str]
"""A record by its table and its uid."""


def bring_garden(book: BookFile, tables: Mapping[str, Sequence[Placed]], brought: Brought) -> None:
    """Everything of garden.toml into the book, inside the caller's transaction.

    Raises
    ------
    InputError
        A record that refers to nothing, or whose key another has.
    """
    changes = [_change(placed) for placed in tables["change"]]
    known = list(whole_tables.change_texts(book))
    last_here, last_there = _last(known), _last(changes)
    for name, kind in RECORDS.items():
        _check_twice(tables[name], "uid", [placed.what.uid for placed in tables[name]])
        here = {one.uid: one for one in whole_tables.records(book, kind)}
        _check_references(book, kind, tables[name])
        for placed in tables[name]:
            key = (name, placed.what.uid)
            later = last_there.get(key, "") > last_here.get(key, "")
            _bring_record(book, placed, here.get(placed.what.uid), brought, later=later)
    _check_circles(book, tables)
    _bring_files(book, tables["weather_file"], brought, (last_here, last_there))
    written = set(map(keyless.change, known))
    for change in changes:
        if change not in written:
            bringing.put_change(book, change)
            brought.added["changes"] += 1


def _bring_record(
    book: BookFile, placed: Placed, here: Setting | None, brought: Brought, *, later: bool
) -> None:
    record = placed.what
    if here == record:
        return
    if here is not None:
        what = type(record).__name__.lower()
        holds = "folder" if later else "book"
        brought.differing.append(Differing(what, record.uid, _called(record), holds))  # type: ignore[arg-type]
        if not later:
            return
    else:
        brought.added["records"] += 1
    try:
        bringing.put_record(book, record, new=here is None)
    except InputError as fault:
        raise InputError(f"{placed.where}, {fault.field}", fault.value, fault.right) from fault


def _called(record: Setting) -> str:
    """What a lasting record is called where it is spoken of: `The bed chapel`."""
    if isinstance(record, Restriction):
        return f"The rule from {record.first} to {record.last}"
    if isinstance(record, Rate):
        return f"The price of {record.what} from {record.from_day}"
    if isinstance(record, Reminder):
        return f"How {record.uid} reminders are sent"
    name = record.key if isinstance(record, Bed | Tap) else record.name
    return f"The {type(record).__name__.lower()} {name}"


def _check_references(book: BookFile, kind: type[Setting], tables: Sequence[Placed]) -> None:
    if kind is Bed:
        taps = {tap.key for tap in read_records(book, Tap)}
        _check_there(tables, "tap", taps, "the key of a tap in the file or the book")
        beds = {*bringing.uids_of(book, Bed), *(one.what.uid for one in tables)}
        _check_there(tables, "parted_from", beds, "the uid of a bed")
    elif kind is Planting:
        _check_there(tables, "bed_uid", set(bringing.uids_of(book, Bed)), "the uid of a bed")
        plantings = {*bringing.uids_of(book, Planting), *(one.what.uid for one in tables)}
        for field in ("replaces", "came_from"):
            _check_there(tables, field, plantings, "the uid of a planting")
    elif kind is Reminder:
        people = set(bringing.uids_of(book, Person))
        for where, record in tables:
            for uid in sorted(record.named - people):
                raise InputError(f"{where}, named", shortened(uid), "uids of people")


def _check_there(tables: Sequence[Placed], field: str, known: set[str], right: str) -> None:
    for where, record in tables:
        value = getattr(record, field)
        if value is not None and value not in known:
            raise InputError(f"{where}, {field}", shortened(value), right)


def _check_circles(book: BookFile, tables: Mapping[str, Sequence[Placed]]) -> None:
    """Refuse plantings that stand in each other's place in a circle, and beds parted so: no ground could be found."""
    stood = {
        one.uid: one.replaces or (one.came_from if one.parted_on else None)
        for one in read_records(book, Planting)
    }
    wholes = {bed.uid: bed.parted_from for bed in read_records(book, Bed)}
    ringed = {
        uid
        for leads_to in (stood, wholes)
        for circle in rounds_in({one: to for one, to in leads_to.items() if to is not None})
        for uid in circle
    }
    for where, record in (*tables["planting"], *tables["bed"]):
        if record.uid in ringed:
            field, before = (
                ("parted_from", record.parted_from)
                if isinstance(record, Bed)
                else ("replaces", record.replaces or record.came_from)
            )
            right = "the uid of one that does not in its turn come from this one"
            raise InputError(f"{where}, {field}", shortened(before), right)


def _check_twice(tables: Sequence[Placed], field: str, values: Iterable[str]) -> None:
    seen: set[str] = set()
    for placed, value in zip(tables, values, strict=True):
        if value in seen:
            raise InputError(f"{placed.where}, {field}", shortened(value), "each once")
        seen.add(value)


def _bring_files(
    book: BookFile,
    tables: Sequence[Placed],
    brought: Brought,
    last: tuple[Mapping[Key, str], Mapping[Key, str]],
) -> None:
    here = {name: (mapping, place) for name, mapping, place in whole_tables.mapping_texts(book)}
    _check_twice(tables, "name", [placed.what["name"] for placed in tables])
    for where, file in tables:
        name = file["name"]
        check_uid(f"{where}, name", name)
        mapping, location = _mapping(f"{where}, mapping", file["mapping"]), file["location"]
        if name not in here:
            brought.added["weather_files"] += 1
        elif keyless.mapping_text(here[name][0]) != mapping:
            key = ("weather_mapping", name)
            later = last[1].get(key, "") > last[0].get(key, "")
            holds = "folder" if later else "book"
            called = f"How {name} is read"
            brought.differing.append(Differing("weather_file", name, called, holds))  # type: ignore[arg-type]
            if not later:
                continue
        elif here[name][1] is not None or location is None:
            continue
        else:
            brought.added["weather_files"] += 1
        if location is not None:
            brought.read_again[name] = location
        bringing.put_mapping(book, name, mapping, location)


def _mapping(where: str, text: str) -> str:
    plain = json_of(where, text)
    try:
        from_json(plain)
    except InputError as fault:
        raise InputError(f"{where}, {fault.field}", shortened(fault.value), fault.right) from fault
    except (KeyError, TypeError, ValueError, AttributeError) as fault:
        right = "how the columns of a file are read, as the book wrote it"
        raise InputError(where, shortened(text), right) from fault
    return plain_text(plain)


def _change(placed: Placed) -> tuple[Any, ...]:
    where, said = placed
    try:
        at = utc_text("at", UTC_MOMENT.read(said["at"]))
    except (ValueError, OverflowError) as fault:
        raise InputError(f"{where}, at", shortened(said["at"]), UTC_MOMENT.right) from fault
    tables = (*RECORDS, "weather_mapping")
    if said["what"] not in tables:
        raise InputError(f"{where}, what", shortened(said["what"]), f"one of {', '.join(tables)}")
    check_uid(f"{where}, uid", said["uid"])
    try:
        check_line("by", said["by"])
    except InputError as fault:
        raise InputError(f"{where}, by", shortened(fault.value), fault.right) from fault
    texts = [
        None if said[field] is None else _logged(f"{where}, {field}", said, said[field])
        for field in ("before", "after")
    ]
    return (at, said["by"], said["what"], said["uid"], *texts)


def _logged(where: str, said: Mapping[str, str], text: str) -> str:
    """A record of the log, which has to be one: the book is told back from it as it was."""
    if said["what"] == "weather_mapping":
        return _mapping(where, text)
    kind: Any = RECORDS[said["what"]]
    plain = json_of(where, text)
    try:
        record = record_of(kind, plain)
        sound = plain.keys() <= set(kind._fields) and record.uid == said["uid"]
        sound = sound and admit(kind, **record._asdict()) == record
    except InputError as fault:
        raise InputError(f"{where}, {fault.field}", shortened(fault.value), fault.right) from fault
    except (LookupError, TypeError, ValueError, AttributeError, RecursionError):
        sound = False
    if not sound:
        right = f"all fields of a {said['what']} as the book wrote them, of that uid"
        raise InputError(where, shortened(text), right)
    return plain_text(plain)


def _last(changes: Iterable[Sequence[Any]]) -> dict[Key, str]:
    """When each record was changed last."""
    last: dict[Key, str] = {}
    for at, _, what, uid, *_ in changes:
        last[what, uid] = max(at, last.get((what, uid), ""))
    return last
