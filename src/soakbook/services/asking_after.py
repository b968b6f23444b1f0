"""Limp leaves asked after, as an answer says it: what to do with its litres, and what to enter next."""

from typing import Any, NamedTuple

from soakbook.quantities import saying
from soakbook.quantities.saying import quoted
from soakbook.reckoning.advice.calling import Dosed, dosed_as
from soakbook.reckoning.advice.diary import diary_of
from soakbook.reckoning.advice.report import DoseKind
from soakbook.reckoning.advice.sightings import seen_of
from soakbook.reckoning.advice.triage import Action, Seen, Triage, triage_of
from soakbook.reckoning.simulation.knowing import known_now
from soakbook.services.desk import Desk
from soakbook.services.outlook import Outlook, States, says
from soakbook.services.subjects import Subject

CLASSES = "dust, dry, moist, wet, sour"
DOSES: dict[Action, DoseKind] = {"water": "soak", "re_wet": "re_wet"}
REASONS: dict[Action, str] = {"hold": "limp, and wet", "cut_back": "shaded, cut back by a third"}
"""Why a limp bed is left, as it may be entered."""

SODDEN = "Give nothing on the strength of a wilt alone."
SODDEN_FELT_DRY = "The finger says otherwise: feel in a second place before you pour."


class Asked(NamedTuple):
    """Where the asking after a planting stands, and the paragraph that says so."""

    triage: Triage
    say: str
    open: bool
    """Whether they are limp still, as far as was seen, and nothing was given since."""

    @property
    def changed(self) -> dict[str, Any]:
        """For machines."""
        return {name: getattr(self.triage, name) for name in ("step", "action", "ask")}


def asked_after(desk: Desk, look: Outlook, about: Subject) -> Asked | None:
    """Where the asking stands by what is in the book now; None when nobody looked in two days.

    Parameters
    ----------
    desk : Desk
        Its pages read after the entry.
    look : Outlook
        The round that the entry bears on.
    about : Subject
    """
    if about.meant is None:
        return None
    known = known_now(desk.pages, desk.now)
    seen = seen_of(diary_of(known, about.bed, desk.today), about.meant, desk.now)
    if seen is None:
        return None
    triage = triage_of(seen)
    dosed = _dosed(look, about, triage.action)
    say = " ".join(filter(None, (triage.say, _litres(triage, dosed))))
    say += _next(about, seen, triage, dosed)
    return Asked(triage, say, not seen.upright and not seen.soaked_since)


def beside(asked: Asked | None, look: Outlook, about: Subject, found: States | None) -> str:
    """What the reckoning and the round have to say beside it, in a sentence or two."""
    reckoned = f"{about.bed.name} is reckoned {found}." if found else ""
    action = asked.triage.action if asked else None
    if found and "sodden" in found and action not in ("hold", "re_wet"):
        reckoned += f" {SODDEN_FELT_DRY if action == 'water' else SODDEN}"
    return f"{reckoned} {of_the_round(asked, look, about)}".strip()


def of_the_round(asked: Asked | None, look: Outlook, about: Subject) -> str:
    """What the round says of the bed, as far as the asking after it lets it stand."""
    call, triage = look.call(about.bed), asked.triage if asked else None
    if triage is None or not (triage.by_hand or triage.to_feel):
        return says(look, about.bed)
    if call is None or call.verdict != "soak" or not call.litres or triage.action == "water":
        return ""
    amount = saying.litres(call.litres)
    if triage.to_feel:
        return f"The round has {amount} for it: feel first."
    return f"By the reckoning the round has {amount} for it; the finger knows better."


def _dosed(look: Outlook, about: Subject, action: Action | None) -> Dosed | None:
    """The dose of what is to be given; None where nothing is, or where nothing can be reckoned."""
    judgement, planting = look.reckoned.judgement, about.meant
    if action not in DOSES or judgement is None or planting is None:
        return None
    call = next((one for one in look.reckoned.calls if one.bed.uid == about.bed.uid), None)
    dosed = call.whole.dosed if call else ()
    mine = next((one for one in dosed if one.judged.planting.uid == planting.uid), None)
    if call is None or mine is None:
        return None
    if action == "water" and mine.goes and mine.judged.dose_kind != "re_wet":
        return mine
    return dosed_as(judgement, call, mine.judged, DOSES[action])


def _litres(triage: Triage, dosed: Dosed | None) -> str:
    if dosed is None:
        return ""
    count = dosed.judged.count
    each = f"{saying.litres(dosed.litres_each / dosed.pours)} a plant"
    if dosed.pours > 1:
        each = f"{dosed.pours} pours of {each}"
    many = saying.plural(dosed.judged.planting.name, count)
    whole = f", {saying.litres(dosed.litres)} for all {count} {many}" if count > 1 else ""
    return f"{each[:1].upper()}{each[1:]}{whole}."


def _next(about: Subject, seen: Seen, triage: Triage, dosed: Dosed | None) -> str:
    """The command for what is to be entered next, with what its gaps take; empty where nothing is."""
    key, named = quoted(about.bed.key), _named(about, when=about.planting is not None)
    fingers = "--ball ? --bed ?" if seen.has_ball else "--bed ?"
    if triage.step in ("dusk", "dawn"):
        return (
            f"\n  soakbook wilt {key} {fingers}{named}        ({CLASSES})"
            f"\n  soakbook wilt {key} --upright{named}        # they stand"
        )
    if triage.step in ("ball", "bed"):
        gaps = fingers if triage.step == "ball" else "--bed ?"
        return f"\n  soakbook feel {key} {gaps}{named}        ({CLASSES})"
    if triage.action in DOSES:
        given = _named(about, when=about.planting is not None or len(about.living) > 1)
        litres = f"{dosed.litres:g}l" if dosed else "?l"
        kind = " --kind re-wet" if triage.action == "re_wet" else ""
        return f"\n  soakbook soak {key} {litres}{kind}{given}"
    if triage.step == "tug":
        return f"\n  soakbook left {key} ?{named}        (windy, weevil grubs, nothing seen)"
    reason = REASONS.get(triage.action) if triage.action else None
    return f"\n  soakbook left {key} {quoted(reason)}{named}" if reason else ""


def _named(about: Subject, *, when: bool) -> str:
    return f" --planting {quoted(about.meant.name)}" if when and about.meant else ""
