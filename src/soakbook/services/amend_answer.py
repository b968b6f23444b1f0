"""What a correction changed: the entry read back as when it is entered, and this morning's calls."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any

from soakbook.garden.entries import (
    AnyEntry,
    BedEntry,
    Catch,
    Feel,
    Left,
    Look,
    Loss,
    MulchLaid,
    Rain,
    Ruler,
    Soak,
    Wilt,
)
from soakbook.garden.records import Uid
from soakbook.reckoning.simulation.watering import living_count, local_day
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
from soakbook.services.subjects import Subject
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
    bed = next(one for one in desk.pages.beds if one.uid == entry.bed_uid)
    uid, day = entry.planting_uid, local_day(entry.happened_at, desk.zone)
    losses = [one for one in desk.pages.entries if isinstance(one, Loss)]
    there = [one for one in desk.pages.plantings_of(bed) if uid in (None, one.uid)]
    counts = [(one, living_count(one, losses, day, desk.zone)) for one in there]
    named = next((one for one in desk.pages.plantings if one.uid == uid), None)
    return Subject(bed, named, tuple(pair for pair in counts if pair[1] > 0))


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, date | datetime) else value


def _soak(before: Desk, after: Desk, one: Soak) -> Report:
    return soak_answer.answers(before, after, [(about(after, one), (one,))])[0]


def _feel(before: Desk, after: Desk, one: Feel) -> Report:
    odd = contradiction(one.ball, one.bed)
    return feel_answer.answers(before, after, [(about(after, one), one)], odd)[0]


def _wilt(_: Desk, after: Desk, one: Wilt) -> Report:
    now = outlook(after.pages, after.now, one.happened_at)
    return wilting.answer(after, now, wilting.Entered(about(after, one), one, None))


def _left(_: Desk, after: Desk, one: Left) -> Report:
    return leaving.answers(after, [(about(after, one), one)])[0]


def _loss(_: Desk, after: Desk, one: Loss) -> Report:
    bed = next(each for each in after.pages.beds if each.uid == one.bed_uid)
    planting = next(each for each in after.pages.plantings if each.uid == one.planting_uid)
    return losing.answer(after, bed, planting, one)


def _look(before: Desk, after: Desk, one: Look) -> Report:
    return look_answer.answers(before, after, [(about(after, one), one)])[0]


def _of_bed(answer: Callable[..., Report], before: Desk, after: Desk, one: Catch | Ruler) -> Report:
    bed = next(each for each in after.pages.beds if each.uid == one.bed_uid)
    return answer(before, after, bed, one)


def _mulch(_: Desk, after: Desk, one: MulchLaid) -> Report:
    bed = next(each for each in after.pages.beds if each.uid == one.bed_uid)
    return mulching.answer(after.pages, bed, one)


_OF_THE_LIVING = (Soak, Feel, Wilt, Look)
"""Kinds whose answers speak of living plants."""

_ANSWERS: Mapping[type[AnyEntry], Callable[[Desk, Desk, Any], Report]] = {
    Soak: _soak,
    Rain: rain_answer.answer,
    Feel: _feel,
    Wilt: _wilt,
    Left: _left,
    Loss: _loss,
    MulchLaid: _mulch,
    Catch: lambda before, after, one: _of_bed(measure_answer.jar_answer, before, after, one),
    Ruler: lambda before, after, one: _of_bed(measure_answer.ruler_answer, before, after, one),
    Look: _look,
}
