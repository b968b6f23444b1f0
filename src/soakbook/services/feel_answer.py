"""What a feel changed: felt beside reckoned, what to do with it, and what the round says now."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from soakbook.garden.entries import Feel, When
from soakbook.garden.records import FeltClass
from soakbook.quantities import saying
from soakbook.quantities.saying import names
from soakbook.reckoning.advice.report import Call, Felt
from soakbook.reckoning.advice.rounds import morning_on, round_of
from soakbook.reckoning.simulation.touches import squared_dawn
from soakbook.services.desk import Desk
from soakbook.services.outlook import (
    Outlook,
    as_changed,
    outlook,
    says,
    states,
)
from soakbook.services.subjects import Subject, of_bed
from soakbook.services.told import Report, told

DRY: frozenset[FeltClass | None] = frozenset(("dust", "dry"))
WET: frozenset[FeltClass | None] = frozenset(("wet", "sour"))

# common practice, no source: a dry ball sheds water that is given at once; roots without air rot.
RE_WET = (
    "Dry ball in a wet bed. Re-wet the ball only: 3 to 5 small pours, 20 to 30 min apart, a cane hole "
    "or two; no water on the bed."
)
DROWNING = (
    "Ball and bed both wet: no water until it feels moist. Pull the mulch back, open a slit for it to "
    "drain, and look at the collar."
)
SOUR = (
    "Sour: the roots have had too little air. No water until it feels moist; pull the mulch back, and "
    "open a slit for it to drain."
)
UNSURE = " Entered as unsure: it counts for less."


class _Looks(NamedTuple):
    """The rounds that a feel is answered from: of the dawn it squares up, before and after, and of now."""

    was: Outlook
    then: Outlook
    now: Outlook
    from_tonight: bool


def answers(before: Desk, after: Desk, found: Sequence[tuple[Subject, Feel]]) -> list[Report]:
    """One answer a bed, from the pages before and after."""
    days = [squared_dawn(one, after.pages) for _, one in found]
    looks = {day: _looks(before, after, day, found[0][1].happened_at) for day in set(days)}
    return [_answer(looks[day], about, one) for day, (about, one) in zip(days, found, strict=True)]


def _looks(before: Desk, after: Desk, dawn: date, when: When) -> _Looks:
    then, tonight = _of_dawn(after, dawn), dawn > after.today
    now = then if tonight or dawn == after.today else outlook(after.pages, after.now, when)
    return _Looks(_of_dawn(before, dawn), then, now, tonight)


def _of_dawn(desk: Desk, day: date) -> Outlook:
    """The round of a dawn: today's as it stands now, another day's as of its round hour."""
    if day == desk.today:
        return outlook(desk.pages, desk.now, day)
    return Outlook(round_of(morning_on(desk.pages, day)), desk.today)


def _answer(looks: _Looks, about: Subject, entry: Feel) -> Report:
    bed, reckoned = about.bed, states(looks.was, about)
    found = [f"{what} {one}" for what, one in (("ball", entry.ball), ("bed", entry.bed)) if one]
    say = (
        f"{of_bed(bed, about.planting)}, felt: {names(found)}.{_changed(looks, about, entry)}",
        _what_to_do(entry, looks.now.call(bed)),
        _overruled(entry, looks, about) or says(looks.now, bed, looks.was),
    )
    felt = _felt(looks.then, about, entry)
    changed = {
        "entries": [entry.uid],
        "felt": {"ball": entry.ball, "bed": entry.bed},
        "reckoned": reckoned and reckoned._asdict(),
        "squared": [] if felt is None else [one._asdict() for one in felt.squared],
        "after": as_changed(looks.now, bed),
    }
    return told("feel", bed.key, say, changed)


def _changed(looks: _Looks, about: Subject, entry: Feel) -> str:
    """Reckoned beside felt, and what the feel has moved."""
    felt, reckoned = _felt(looks.then, about, entry), states(looks.was, about)
    beside = f" Reckoned was: {reckoned}." if reckoned else ""
    if felt is not None and felt.say:
        beside = f" {felt.say}"
    tonight = " It counts from this evening on." if looks.from_tonight and beside else ""
    return f"{beside}{UNSURE if entry.unsure else ''}{tonight}"


def _felt(look: Outlook, about: Subject, entry: Feel) -> Felt | None:
    """The feel as the round of its dawn shows it, where it is the last of its bed."""
    call = look.call(about.bed)
    felt = call.felt if call else None
    mine = felt is not None and (felt.at, felt.ball, felt.bed) == (
        entry.happened_at.isoformat(),
        entry.ball,
        entry.bed,
    )
    return felt if mine else None


def _what_to_do(entry: Feel, call: Call | None) -> str:
    if entry.ball in DRY and entry.bed in WET:
        return f"{RE_WET}{_pours(call)}"
    if "sour" in (entry.ball, entry.bed):
        return SOUR
    return DROWNING if entry.ball in WET and entry.bed in WET else ""


def _pours(call: Call | None) -> str:
    """The round's own pours, where it has them."""
    if call is None or call.dose_kind != "re_wet":
        return ""
    doses = [
        f"{call.pours} pours of {saying.litres(one.litres_each / call.pours)} for each of the "
        f"{one.planting}"
        for one in call.plantings
        if one.litres_each
    ]
    return f" The round has {names(doses)}."


def _overruled(entry: Feel, looks: _Looks, about: Subject) -> str:
    """What to enter where the round has water for a bed that a finger found moist or wet."""
    call = looks.now.call(about.bed)
    wet_enough = entry.bed in WET or not DRY & {entry.ball, entry.bed}
    if call is None or call.verdict != "soak" or not wet_enough or looks.from_tonight:
        return ""
    return (
        f"By the reckoning the round still has {saying.litres(call.litres)} for it. The finger knows "
        f"better: leave the bed, and say so:\n  soakbook left {call.bed} {entry.bed or entry.ball}"
    )
