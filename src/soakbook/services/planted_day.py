"""The day of a planting put right, as long as nothing else in the book hangs on the day that it said."""

from collections.abc import Mapping
from datetime import date

from soakbook.errors import InputError
from soakbook.garden.entries import BedEntry
from soakbook.garden.records import Bed, Planting
from soakbook.quantities import saying
from soakbook.quantities.dates import parse_day
from soakbook.quantities.saying import plural
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.desk import Desk
from soakbook.services.subjects import check_open, planting_of


def planted_on(desk: Desk, text: str | None) -> date:
    """The day of planting, today where none was said; one that is still to come is refused."""
    if text is None:
        return desk.today
    day = parse_day(text, "on", desk.today, ahead_days=0)
    if day > desk.today:
        raise InputError("on", text, "a day that has come: enter it when it is planted")
    return day


def of_wrong_day(desk: Desk, bed: Bed, word: str, typed: Mapping[str, str]) -> Planting:
    """The planting whose day is to be put right, as it is in the book.

    Parameters
    ----------
    desk : Desk
    bed : Bed
        Where it stands.
    word : str
        Which.
    typed : mapping
        Options as typed: on, the right day, and instead_of, the wrong one.

    Raises
    ------
    InputError
        Another wrong day than that of the planting; a right one that the book contradicts.
    """
    text = typed["instead_of"]
    if "on" not in typed or "replaces" in typed:
        right = "with --on, the right day, and without --replaces"
        raise InputError("instead of", text, right)
    old = planting_of(desk, bed, word)
    if parse_day(text, "instead of", desk.today, ahead_days=0) != old.planted_on:
        right = f"{old.planted_on}, the day that the {plural(old.name)} have in the book"
        raise InputError("instead of", text, right)
    _check_day(desk, bed, old, planted_on(desk, typed["on"]), typed["on"])
    return old


def _check_day(desk: Desk, bed: Bed, old: Planting, day: date, text: str) -> None:
    """Refuse a day of plants that were moved or parted, one before a predecessor's or after an entry of them."""
    if old.came_from is not None or any(one.came_from == old.uid for one in desk.pages.plantings):
        right = f"{old.planted_on}: some of the {plural(old.name)} were moved or parted, and their day stands"
        raise InputError("on", text, right)
    check_open(desk, bed, day, "on")
    by_uid = {one.uid: one for one in desk.pages.plantings}
    dead = by_uid.get(old.replaces or "")
    if dead is not None and day < dead.here_from:
        since = saying.date_of(dead.here_from, desk.today)
        raise InputError("on", text, f"not before {since}, when those came that these stand in for")
    known = [
        local_day(one.happened_at, desk.zone)
        for one in desk.pages.entries
        if isinstance(one, BedEntry) and getattr(one, "planting_uid", None) == old.uid
    ]
    known += [one.planted_on for one in desk.pages.plantings if one.replaces == old.uid]
    if known and min(known) < day:
        first = saying.date_of(min(known), desk.today)
        raise InputError(
            "on", text, f"not after {first}, of which the book knows something of them"
        )
