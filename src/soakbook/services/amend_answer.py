"""What a correction changed: the entry read back as when it is entered, and this morning's calls."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any

from soakbook.garden import entries
from soakbook.garden.entries import AnyEntry, BedEntry
from soakbook.garden.records import Uid
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services import (
    feel_answer,
    leaving,
    look_answer,
    losing,
    measure_answer,
    mulching,
    rain_answer,
    soak_answer,
    wilting,
)
from soakbook.services.desk import Desk
from soakbook.services.entry_words import at_a_time
from soakbook.services.feeling import contradiction
from soakbook.services.outlook import outlook
from soakbook.services.round_changes import changed_calls, changes_say
from soakbook.services.settings import Changes
from soakbook.services.subjects import Subject, living_of
from soakbook.services.told import Report, told

NOBODY_STOOD = "By the plantings as they are said now nothing stood there then."
OF_THIS_MORNING = " of this morning's round"


def amended(
    desk: Desk,
    after: Desk,
    pair: tuple[AnyEntry, AnyEntry],
    changed: Changes,
    handles: Mapping[Uid, str],
) -> Report:
    """The answer to a correction.

    Parameters
    ----------
    desk, after : Desk
        With the old entry, and with the new one.
    pair : tuple
        The old entry and the new one.
    changed : mapping
        Field -> before and after.
    handles : mapping
        Uid -> handle.
    """
    old, new = pair
    as_entered = read_back(desk.without(old), after, new)
    calls = changed_calls(desk.pages, after.pages, after.now)
    say = (
        f"{handles[old.uid]} was: {at_a_time(old, desk.pages)}.",
        f"Now {handles[new.uid]}: {at_a_time(new, after.pages)}.",
        *as_entered["say"],
        changes_say(calls, OF_THIS_MORNING),
        "Wrong? soakbook book undo",
    )
    more = {
        "supersedes": [old.uid],
        "handles": [handles[new.uid]],
        "fields": {name: [_plain(value) for value in both] for name, both in changed.items()},
        "calls_changed": list(calls),
    }
    return told("amend", as_entered["bed"], say, as_entered["changed"] | more)


def read_back(before: Desk, after: Desk, entry: AnyEntry) -> Report:
    """The answer that the entry's own command gives, from the pages without it and with it.

    Of plants that are said not to have stood there then, since it was entered, nothing can be told.
    """
    if isinstance(entry, _OF_THE_LIVING):
        ground = about(after, entry)
        if not ground.living:
            return told("amend", ground.bed.key, [NOBODY_STOOD], {"entries": [entry.uid]})
    return _ANSWERS[type(entry)](before, after, entry)


def about(desk: Desk, entry: BedEntry) -> Subject:
    """The bed or planting that an entry is about, and what of it stood."""
    bed, uid = desk.bed_with(entry.bed_uid), entry.planting_uid
    there = [one for one in desk.pages.plantings_of(bed) if uid in (None, one.uid)]
    named = None if uid is None else desk.planting_with(uid)
    return Subject(bed, named, living_of(desk, there, local_day(entry.happened_at, desk.zone)))


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, date | datetime) else value


def _soak(before: Desk, after: Desk, one: entries.Soak) -> Report:
    return soak_answer.answers(before, after, [(about(after, one), (one,))])[0]


def _feel(before: Desk, after: Desk, one: entries.Feel) -> Report:
    odd = contradiction(one.ball, one.bed)
    return feel_answer.answers(before, after, [(about(after, one), one)], odd)[0]


def _wilt(_: Desk, after: Desk, one: entries.Wilt) -> Report:
    now = outlook(after.pages, after.now, one.happened_at)
    return wilting.answer(after, now, wilting.Entered(about(after, one), one, None))


def _left(_: Desk, after: Desk, one: entries.Left) -> Report:
    return leaving.answers(after, [(about(after, one), one)])[0]


def _loss(_: Desk, after: Desk, one: entries.Loss) -> Report:
    planting = after.planting_with(one.planting_uid)
    return losing.answer(after, after.bed_with(one.bed_uid), planting, one)


def _look(before: Desk, after: Desk, one: entries.Look) -> Report:
    return look_answer.answers(before, after, [(about(after, one), one)])[0]


def _catch(before: Desk, after: Desk, one: entries.Catch) -> Report:
    return measure_answer.jar_answer(before, after, after.bed_with(one.bed_uid), one)


def _ruler(before: Desk, after: Desk, one: entries.Ruler) -> Report:
    return measure_answer.ruler_answer(before, after, after.bed_with(one.bed_uid), one)


def _mulch(_: Desk, after: Desk, one: entries.MulchLaid) -> Report:
    return mulching.answer(after.pages, after.bed_with(one.bed_uid), one)


_OF_THE_LIVING = (entries.Soak, entries.Feel, entries.Wilt, entries.Look)
"""Kinds whose answers speak of living plants."""

_ANSWERS: Mapping[type[AnyEntry], Callable[[Desk, Desk, Any], Report]] = {
    entries.Soak: _soak,
    entries.Rain: rain_answer.answer,
    entries.Feel: _feel,
    entries.Wilt: _wilt,
    entries.Left: _left,
    entries.Loss: _loss,
    entries.MulchLaid: _mulch,
    entries.Catch: _catch,
    entries.Ruler: _ruler,
    entries.Look: _look,
}
