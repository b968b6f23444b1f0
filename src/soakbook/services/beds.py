"""Beds: a new one, what is found out about one, and the list of all with every guess in them."""

from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

from soakbook.errors import InputError
from soakbook.garden import nearest
from soakbook.garden.door import admit
from soakbook.garden.jars import measured_share, shares_caught
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Planting
from soakbook.quantities import saying
from soakbook.reckoning.simulation.parting import with_past
from soakbook.reckoning.simulation.plots import rain_share_of
from soakbook.services import guesses
from soakbook.services.bed_words import bed_fields, soil_of
from soakbook.services.books import reading
from soakbook.services.desk import Desk, bed_of, key_of, writing
from soakbook.services.field_words import changed, said_back
from soakbook.services.ground_words import taught
from soakbook.services.pen import Pen
from soakbook.services.room import check_room, crowded
from soakbook.services.settings import Changes, put
from soakbook.services.subjects import elsewhere, standing
from soakbook.services.told import Report, told
from soakbook.store.book import new_uid
from soakbook.store.pages import read_pages

BEDS_SCHEMA = "soakbook.beds/1"
READ_HERE = ("tap", "right")
"""Options that depend on the book, or on what was guessed."""
NO_TAP = ("none", "no", "-")
TOLD = ("name", "area_m2", "soil", "place", "sand_fraction", "clay_fraction", "tap")
"""Fields that the first sentence of a new bed tells."""

RIGHT = "what was guessed stands as said now."
ASK_HOLE = "Clay drowns plants. Does water still stand in a 30 cm hole after a day?"


def bed(path: Path, key: str, *, now: datetime, by: str | None = None, **typed: str) -> Report:
    """Add a bed, or change what is known of one.

    Parameters
    ----------
    path : Path
        The book.
    key : str
        As typed. With an area, a key that no bed has begins a new one.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.
    **typed
        Options as typed: those of `bed_words.READERS`, tap, and right: that what is guessed of its place is right.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    with writing(Pen(path, now, by)) as desk:
        old = _meant(desk.pages, key, "area" in typed)
        record, changes = put(desk, Bed, old, _fields(desk, key, old, typed))
        after = desk.reread().pages
        check_room(after, record, "area", typed.get("area", saying.area(record.area_m2)))
    found = tuple(guesses.of_bed(record, _by_jars(after, record)))
    say = (
        _new(record) if old is None else _changed(record, changes, desk.today, "right" in typed),
        said_back(record, desk.today, TOLD) if old is None else "",
        _nobody(after, record) if "keeper" in typed else "",
        _taught(desk, after, old, record) if old is not None else "",
        _ask_hole(record) if old is None else "",
        _my_guesses(record) if old is None else "",
        crowded(after, record),
    )
    return told("bed", record.key, say, {"fields": changes, "guesses": found})


def new_bed(desk: Desk, key: str, typed: Mapping[str, str]) -> Bed:
    """A bed as it would be added, of options as for `bed`; nothing is written.

    Raises
    ------
    InputError
        Anything that cannot be right, or no area.
    """
    if "area" not in typed:
        raise InputError("area", None, "18m2 or 200sqft")
    return admit(Bed, uid=new_uid(), **_fields(desk, key, None, typed))


def beds(path: Path) -> Report:
    """The beds of a book with what stands in them, and every guess with the command that settles it.

    Parameters
    ----------
    path : Path
        The book.
    """
    with reading(path) as book:
        pages = read_pages(book)
    return {
        "schema": BEDS_SCHEMA,
        "garden": pages.garden.name,
        "beds": [_listed(pages, one) for one in pages.beds],
    }


def _meant(pages: Pages, word: str, with_area: bool) -> Bed | None:
    """The bed to be changed; None for a new one, which is only begun with its area."""
    keys = [one.key for one in pages.beds]
    key = key_of(word, keys)
    name = key_of(word, [one.name for one in pages.beds])
    if key is None and name is None and with_area:
        if not word.strip():
            raise InputError("bed", word, "a short key for it: chapel")
        return None
    try:
        return bed_of(pages, word)
    except InputError as error:
        raise InputError("bed", word, f"{error.right}; a new bed needs --area") from error


def _nobody(pages: Pages, record: Bed) -> str:
    """That a bed's keeper is nobody of those who are entered; where none are, a name is as good as another."""
    people = [one.name for one in pages.people]
    if not people or record.keeper is None or key_of(record.keeper, people):
        return ""
    return f"{record.keeper} is not among those entered: {saying.names(people)}. So nobody is reminded as its keeper."


def _fields(desk: Desk, key: str, old: Bed | None, typed: Mapping[str, str]) -> dict[str, Any]:
    own = {name: text for name, text in typed.items() if name not in READ_HERE}
    fields = bed_fields(own)
    fields["said"] = frozenset((*fields, *(guesses.BED_RIGHT if "right" in typed else ())))
    if "tap" in typed:
        fields["tap"] = _tap(desk.pages, typed["tap"])
    if "key" in fields:
        _check_key(desk, fields["key"], old)
    if old is None:
        fields = {"key": key.strip(), "name": key.strip(), **fields}
    name = fields.get("name", "")
    for one in desk.pages.beds:
        if (old is None or one.uid != old.uid) and key_of(name, (one.key, one.name)):
            by_key = "" if key_of(name, (one.name,)) else f": {one.key} is the key of {one.name}"
            raise InputError("name", name, f"a name that no other bed has{by_key}")
    return fields


def _check_key(desk: Desk, key: str, old: Bed | None) -> None:
    """Refuse another key for a bed that is not there yet, or a word by which another is known."""
    if old is None:
        raise InputError("new key", key, "left out: a new bed has the key that it is begun with")
    if not key:
        raise InputError("new key", key, "a short key for it: chapel")
    others = [word for one in desk.pages.beds if one.uid != old.uid for word in (one.key, one.name)]
    if key_of(key, others):
        raise InputError("new key", key, "a key that no other bed has")


def _tap(pages: Pages, word: str) -> str | None:
    if word.strip().casefold() in NO_TAP:
        return None
    try:
        return nearest.find(word, [one.key for one in pages.taps], "tap")
    except InputError as error:
        raise InputError("tap", word, f"{error.right}; soakbook tap adds one") from error


def _new(record: Bed) -> str:
    tap = f", tap {record.tap}" if record.tap else ", no tap: watered by can"
    return f"New bed {record.name}: {saying.area(record.area_m2)}, {soil_of(record)}, {record.place}{tap}."


def _changed(record: Bed, changes: Changes, today: date, right: bool) -> str:
    if not changes and right:
        return f"{record.name}: {RIGHT}"
    if not changes:
        return f"{record.name}: it stands so in the book already."
    return f"{record.name}. {changed(record, changes, today)}"


def _ask_hole(record: Bed) -> str:
    asked = next((one for one in guesses.of_bed(record) if one.what == "drainage"), None)
    return f"{ASK_HOLE}\n  {asked.answer}" if asked and record.soil != "unknown" else ""


def _my_guesses(record: Bed) -> str:
    found = [f"{one.what} {one.value}" for one in guesses.of_bed(record)]
    if not found:
        return ""
    return (
        f"My guesses: {'; '.join(found)}. How to settle each: soakbook bed "
        f"{saying.quoted(record.key)}"
    )


def _by_jars(pages: Pages, record: Bed) -> bool:
    return measured_share(record, shares_caught(with_past(pages).entries)) is not None


def _has_jars(pages: Pages, record: Bed) -> bool:
    return record.uid in shares_caught(with_past(pages).entries)


def _over_jars(pages: Pages, record: Bed) -> str:
    """Which holds: a share that was said, that of the jars, or the guess from its place."""
    if not _has_jars(pages, record):
        guess = f"{rain_share_of(record):.0%}, a guess from its place, {record.place}"
        return f"No jar has told yet: reckoned with {guess}."
    jars = f"{shares_caught(with_past(pages).entries)[record.uid].fraction:.0%}"
    if record.rain_share is None:
        return f"Reckoned by the jars: {jars}."
    command = f"soakbook bed {saying.quoted(record.key)} --rain-share jars"
    return f"The jars had {jars}; what you say stands over them. Back to the jars: {command}."


def _taught(desk: Desk, after: Pages, old: Bed, record: Bed) -> str:
    """What a test of the soil changed in the reckoning, and what the round says since."""
    found = taught(old, record)
    of_jars = record.rain_share is None or _has_jars(after, record)
    if old.rain_share != record.rain_share and of_jars:
        found = f"{found} {_over_jars(after, record)}".strip()
    if not found or not after.plantings_of(record):
        return found
    from soakbook.services.outlook import outlook, says

    was, now = (outlook(pages, desk.now, desk.today) for pages in (desk.pages, after))
    return f"{found} {says(now, record, was)}".strip()


def _listed(pages: Pages, record: Bed) -> Report:
    planted = pages.plantings_of(record)
    found = [*guesses.of_bed(record, _by_jars(pages, record))]
    for one in planted:
        found += guesses.of_planting(record, one)
    return {
        "bed": record.key,
        "name": record.name,
        "area_m2": record.area_m2,
        "soil": soil_of(record),
        "place": record.place,
        "tap": record.tap,
        "parted_from": _key_of(pages, record.parted_from),
        "parted_on": record.parted_on and record.parted_on.isoformat(),
        "rests_from": record.rests_from and record.rests_from.isoformat(),
        "plantings": [_planting(pages, one) for one in planted],
        "guesses": [
            {"planting": one.planting, "what": one.what, "value": one.value, "answer": one.answer}
            for one in found
        ],
    }


def _key_of(pages: Pages, uid: str | None) -> str | None:
    return next((one.key for one in pages.beds if one.uid == uid), None)


def _planting(pages: Pages, one: Planting) -> Report:
    return {
        "planting": one.name,
        "kind": one.plant_class,
        "count": one.count,
        "living": standing(pages, one),
        "elsewhere": elsewhere(pages, one),
        "planted_on": one.planted_on.isoformat(),
    }
