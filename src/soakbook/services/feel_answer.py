"""What a feel changed: felt beside reckoned, what to do with it, and what the round says now."""

from collections.abc import Sequence
from typing import NamedTuple

from soakbook.garden.entries import Feel
from soakbook.garden.records import FeltClass
from soakbook.quantities import saying
from soakbook.quantities.saying import names, plural, quoted
from soakbook.reckoning.advice.report import Call, Felt, PlantingCall
from soakbook.reckoning.simulation.squaring import class_of
from soakbook.reckoning.simulation.start import CLASS_MIDS
from soakbook.reckoning.simulation.touches import squared_dawn
from soakbook.services.asking_after import Asked, asked_after, of_the_round
from soakbook.services.desk import Desk
from soakbook.services.looks import TONIGHT, Looks, looks_of
from soakbook.services.outlook import Outlook, as_changed, says, states
from soakbook.services.subjects import Subject, of_bed
from soakbook.services.told import Report, told

DRY: frozenset[FeltClass | None] = frozenset(("dust", "dry"))
WET: frozenset[FeltClass | None] = frozenset(("wet", "sour"))

# common practice, no source: a dry ball sheds water that is given at once; roots without air rot.
RE_WET = (
    "Dry ball in a wet bed. Re-wet the ball only, in small pours 20 to 30 min apart, a cane hole "
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
SECOND_PLACE = (
    "By the reckoning {name} is {state}, and the round has {litres} for it. Feel in a second place before you pour: "
    "wet there too, only the ball; dry there, the round's own."
)
AGAIN = "Feel again, in another of them."


class Found(NamedTuple):
    """A feel and what it bears on."""

    about: Subject
    entry: Feel
    asked: Asked | None
    """Where the asking after limp leaves stands."""
    odd: str


def answers(
    before: Desk, after: Desk, found: Sequence[tuple[Subject, Feel]], odd: str = ""
) -> list[Report]:
    """One answer a bed, from the pages before and after; `odd` is what contradicts itself in a feel."""
    dawns = [squared_dawn(one, after.pages) for _, one in found]
    looks = {dawn: looks_of(before, after, dawn, found[0][1].happened_at) for dawn in set(dawns)}
    return [
        _answer(looks[dawn], Found(about, one, asked_after(after, looks[dawn].now, about), odd))
        for dawn, (about, one) in zip(dawns, found, strict=True)
    ]


def _answer(looks: Looks, found: Found) -> Report:
    about, entry, asked, _ = found
    bed, reckoned, now = about.bed, states(looks.was, about), looks.now
    limp = asked if asked and asked.open else None
    say = (
        _felt_beside_reckoned(looks, found, limp),
        limp.say if limp else AGAIN if found.odd else _what_to_do(entry, now.call(bed)),
        of_the_round(limp, now, about)
        if limp and (limp.triage.by_hand or limp.triage.to_feel)
        else _overruled(looks, found) or says(now, bed, looks.before),
    )
    felt = _shown(looks.then, about, entry)
    changed = {
        "entries": [entry.uid],
        "felt": {"ball": entry.ball, "bed": entry.bed},
        "reckoned": reckoned and reckoned._asdict(),
        "squared": [one._asdict() for one in felt.squared] if felt else [],
        "triage": limp and limp.changed,
        "after": as_changed(now, bed),
    }
    return told("feel", bed.key, say, changed)


def _felt_beside_reckoned(looks: Looks, found: Found, limp: Asked | None) -> str:
    """What was felt, what was reckoned then, and what the feel has moved."""
    about, entry, _, odd = found
    both = (("ball", entry.ball), ("bed", entry.bed))
    say = f"{of_bed(about.bed, about.planting)}, felt: "
    say += names([f"{what} {one}" for what, one in both if one]) + _taken_for(about) + "."
    felt, reckoned = _shown(looks.then, about, entry), states(looks.was, about)
    if felt and felt.say:
        say += f" {felt.say}"
    elif reckoned:
        say += f" Reckoned was: {reckoned}."
    if odd and not limp:
        say += f" {odd}"
    if entry.unsure:
        say += UNSURE
    return say + (TONIGHT if looks.from_tonight and reckoned else "")


def _taken_for(about: Subject) -> str:
    """Of which plants it is taken, where several stand there and none was named."""
    if about.planting is not None or about.meant is None or len(about.living) == 1:
        return ""
    return f", taken for the {plural(about.meant.name)}"


def _shown(look: Outlook, about: Subject, entry: Feel) -> Felt | None:
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
        f"{saying.counted(call.pours, 'pour')} of {saying.litres(one.litres_each / call.pours)} for each of the "
        f"{one.planting}"
        for one in call.plantings
        if one.litres_each
    ]
    return f" The round has {names(doses)}."


def _overruled(looks: Looks, found: Found) -> str:
    """What to do where the round has water for plants that a finger found moist or wet against the reckoning."""
    about, entry = found.about, found.entry
    call, felt = looks.now.call(about.bed), _shown(looks.then, about, entry)
    mine = _asked_for(call, about)
    if call is None or mine is None or call.verdict != "soak":
        return ""
    if entry.ball in DRY and entry.bed in WET:
        return SECOND_PLACE.format(
            name=about.bed.name, state=mine.bed_state, litres=saying.litres(call.litres)
        )
    wet_enough = entry.bed in WET or not DRY & {entry.ball, entry.bed}
    if not wet_enough or felt is None or not _wetter_than_reckoned(felt):
        return ""
    named = f" --planting {quoted(mine.planting)}" if len(call.plantings) > 1 else ""
    amount = saying.litres(mine.count * mine.litres_each)
    return (
        f"By the reckoning the round still has {amount} for the {saying.plural(mine.planting)}. The finger knows "
        f"better: leave them, and say so:\n  soakbook left {quoted(call.bed)} {entry.bed or entry.ball}{named}"
    )


def _asked_for(call: Call | None, about: Subject) -> PlantingCall | None:
    """What the round says of the planting that was felt, where it has water for it."""
    if call is None or about.meant is None:
        return None
    mine = next((one for one in call.plantings if one.planting == about.meant.name), None)
    return mine if mine and mine.litres_each else None


def _wetter_than_reckoned(felt: Felt) -> bool:
    """Whether a finger found more water in a store than was expected there."""
    return any(
        CLASS_MIDS[one.felt] > CLASS_MIDS[class_of(one.expected_fraction)] for one in felt.squared
    )
