"""Limp leaves asked after: from what was seen and felt to the next question, or to one thing to do.

A wilt is not explained here: heat, thirst and drowned roots look alike, and only the hour and a finger
tell them apart. The rules stand as data. What was seen comes from `sightings`; litres come from the dose.
"""

from datetime import time
from typing import Literal, NamedTuple

from soakbook.garden.entries import CONTRADICTING
from soakbook.garden.records import FeltClass, Origin

Action = Literal["water", "re_wet", "hold", "shade", "cut_back", "wait"]
Step = Literal["dusk", "dawn", "ball", "bed", "tug", "done"]
"""The question that comes next: what is seen at dusk or dawn, what a finger finds, what a tug tells."""
Phase = Literal["dawn", "noon", "dusk"]
Hand = Literal["dry", "moist", "wet"]

DAWN, NOON, DUSK = time(4), time(12), time(18)
"""When a morning, an afternoon, an evening begin for a leaf. common practice, no source."""

FLAGS_A_WEEK = 3
"""So many afternoons limp in a week tell of the wrong place or dose. common practice, no source."""

LATELY_DAYS: dict[Origin, int] = {"dug": 42, "bare": 42, "pot": 14}
"""How long cut or checked roots may be what leaves flag for. common practice, no source."""

HANDS: dict[FeltClass, Hand] = {
    "dust": "dry",
    "dry": "dry",
    "moist": "moist",
    "wet": "wet",
    "sour": "wet",
}


class Seen(NamedTuple):
    """What was seen and felt of one planting in two days, as far as it still counts."""

    phase: Phase | None
    """Of the look that decides; None where its hour was not said."""
    hour: str = ""
    """Of the last look."""
    upright: bool = False
    soaked_since: bool = False
    dusk_gone: bool = False
    """Whether the dusk after a limp afternoon is over."""
    ball: FeltClass | None = None
    bed: FeltClass | None = None
    has_ball: bool = True
    moved_lately: bool = False
    soft_leaves: bool = False
    afternoons: int = 0
    """Limp ones at the bed in a week."""


class Triage(NamedTuple):
    """Where the asking stands: the question that comes next, and what to do meanwhile or at last."""

    step: Step
    action: Action | None
    say: str
    ask: str | None

    @property
    def by_hand(self) -> bool:
        """Whether a finger has decided."""
        return self.step == "tug" or (self.step == "done" and self.action != "wait")

    @property
    def to_feel(self) -> bool:
        """Whether a finger is wanted before anything is given."""
        return self.step in ("ball", "bed")


class Rule(NamedTuple):
    """What a finger's two answers come to."""

    action: Action
    say: str
    step: Step = "done"


# common practice, no source: thirst is what is left when both are dry at the roots.
THIRST = Rule("water", "{felt}: likely thirst. Water, slowly, at any hour; shade them meanwhile.")
# Small pours, half an hour apart: the RHS for peat-free mixes, at second hand. A ball loses its water to
# finer soil within hours: Nelms and Spomer 1983. Cane holes: common practice, no source.
RE_WET = Rule(
    "re_wet",
    "Dry ball in a {bed} bed. Re-wet the ball only, in small pours 20 to 30 min apart, a cane hole or "
    "two; no water on the bed. Shade them; look at dusk.",
)
# common practice, no source: a ball in dry soil is drawn dry, and roots do not leave it.
RING = Rule(
    "water",
    "{felt}: the bed draws the ball dry, and roots do not go into it. Water a hand's breadth round the ball, "
    "little on it.",
)
# common practice, no source; more new shrubs are drowned so than dried out, say several nurseries.
HOLD = Rule(
    "hold",
    "{felt}: the roots likely have too little air, which looks like thirst. No water until it feels "
    "moist. Pull the mulch back, open a slit for it to drain, and look at the graft and the collar; "
    "some leaves may yellow and drop.",
)
# Cut back to balance the roots: gardeners who moved roses, a quarter to a third, at second hand.
CUT_BACK = Rule(
    "cut_back",
    "{felt}, and moved lately: likely fewer roots than leaves, not want of water. Shade them, cut the "
    "top back by a third, strip the flowers, mist morning and evening.",
)
# common practice, no source.
WAIT = Rule(
    "wait",
    "{felt}: likely not want of water. Wait, and look for wind or for harm at the root: a plant that "
    "rocks or lifts may have lost its roots to vine weevil.",
    "tug",
)

BY_HAND: dict[tuple[Hand | None, Hand], Rule] = {
    ("dry", "dry"): THIRST,
    ("dry", "moist"): RE_WET,
    ("dry", "wet"): RE_WET,
    ("moist", "dry"): RING,
    ("moist", "moist"): WAIT,
    ("moist", "wet"): HOLD,
    ("wet", "dry"): RING,
    ("wet", "moist"): HOLD,
    ("wet", "wet"): HOLD,
    (None, "dry"): THIRST,
    (None, "moist"): WAIT,
    (None, "wet"): HOLD,
}
"""By what is in the ball (None for bare roots) and a hand's breadth outside it."""

# What the hour says: common practice, no source. Soft leaves: a nursery's answer, at second hand.
AFTERNOON = "Limp at {hour} in the sun is a note, not a call. "
SHADE = "Shade them; look at dusk, and at dawn."
SOFT_LEAVES = " Big soft leaves flag with wet roots too."
EVENING = "Limp at {hour}: look again at dawn."
ANY_HOUR = "Look again at dawn."
AT_DAWN = " Upright then: no water for the wilt's sake. Still limp: feel {place}."
MORNING = "Limp at {hour}, before the heat: feel {place} before anything is given."
SINCE_MORNING = "Limp at {hour}, and in the morning already: feel {place} before anything is given."
NO_HOUR = "Without its hour a wilt says little: three in the afternoon is not dawn. Feel {place}."
ONE_FELT = "{felt}: feel the other place too before anything is given."
UPRIGHT = "They stand{hour}: no water for the wilt's sake."
ONCE_MORE = " Look once more at dawn."
WATERED = "Soaked since: look again at dusk, and at dawn. Still limp then: feel."
BOTH_PLACES = "the ball and a hand's breadth outside"
BARE_PLACE = "the soil a hand's breadth from the stem"
AGAIN = "{felt}: {why}. Feel again, in another of them."
AFTERNOONS = "Limp on {count} afternoons in a week: likely the wrong place or dose{not_water}. "
NOT_WATER = ", not want of water"

ASK: dict[Step, str | None] = {
    "dusk": "Do they stand at dusk?",
    "dawn": "Do they stand at dawn?",
    "ball": "What is felt in the ball, two knuckles down?",
    "bed": "What is felt a hand's breadth outside?",
    "tug": "Is it windy there, or does one rock when it is tugged?",
    "done": None,
}


def triage_of(seen: Seen) -> Triage:
    """The next question about limp leaves, or the one thing to do.

    Parameters
    ----------
    seen : Seen
        One planting, limp or upright again.

    Notes
    -----
    The hour first: limp in the afternoon is noted, limp at dawn is felt. Then the ball, then the bed. A finger that
    finds the leading one dry or wet outranks the hour. common practice, no source, but where a rule says otherwise.
    """
    if seen.upright:
        return _upright(seen)
    if seen.soaked_since:
        return _asking("dawn" if seen.phase == "dusk" else "dusk", "wait", WATERED)
    triage = _by_hand(seen) or _by_hour(seen)
    return triage._replace(say=_of_the_week(seen, triage) + triage.say)


def phase_of(hour: time) -> Phase:
    """The part of a leaf's day in which an hour lies."""
    return "dawn" if DAWN <= hour < NOON else "noon" if NOON <= hour < DUSK else "dusk"


def _upright(seen: Seen) -> Triage:
    say = UPRIGHT.format(hour=f" at {seen.hour}" if seen.hour else "")
    if seen.phase == "dusk":
        return _asking("dawn", "wait", say + ONCE_MORE)
    return _asking("done", "wait", say)


def _by_hand(seen: Seen) -> Triage | None:
    """What a finger's answers come to; None where none counts, or where a moist one leaves it to the hour."""
    lead = seen.ball if seen.has_ball else seen.bed
    if lead is None or (HANDS[lead] == "moist" and seen.phase != "dawn"):
        return None
    why = CONTRADICTING.get((seen.ball, seen.bed))
    if why:
        return _asking("ball", None, AGAIN.format(felt=_felt(seen), why=why))
    if seen.ball == "sour":
        return _ruled(seen, HOLD)
    if seen.bed is None:
        return _asking("bed", None, ONE_FELT.format(felt=_felt(seen)))
    return _ruled(seen, BY_HAND[HANDS[seen.ball] if seen.ball else None, HANDS[seen.bed]])


def _ruled(seen: Seen, rule: Rule) -> Triage:
    if rule is WAIT and seen.moved_lately:
        rule = CUT_BACK
    say = rule.say.format(felt=_felt(seen), bed=seen.bed)
    return _asking(rule.step, rule.action, say)


def _by_hour(seen: Seen) -> Triage:
    felt = f"{_felt(seen)}. " if seen.ball or seen.bed else ""
    place = BOTH_PLACES if seen.has_ball else BARE_PLACE
    if seen.phase == "dawn" or (seen.phase is None and not felt):
        say = felt + _to_feel(seen).format(hour=seen.hour, place=place)
        return _asking("ball" if seen.has_ball else "bed", None, say)
    at_dawn = AT_DAWN.format(place=place)
    if seen.phase != "noon":
        look = EVENING.format(hour=seen.hour) if seen.phase else ANY_HOUR
        return _asking("dawn", "wait", felt + look + at_dawn)
    say = felt + AFTERNOON.format(hour=seen.hour)
    if seen.dusk_gone:
        return _asking("dawn", "wait", f"{say}{ANY_HOUR}{at_dawn}")
    return _asking("dusk", "shade", say + SHADE + (SOFT_LEAVES if seen.soft_leaves else ""))


def _to_feel(seen: Seen) -> str:
    if seen.phase is None:
        return NO_HOUR
    return MORNING if _hour_now(seen) == "dawn" else SINCE_MORNING


def _of_the_week(seen: Seen, triage: Triage) -> str:
    if seen.afternoons < FLAGS_A_WEEK or _hour_now(seen) != "noon":
        return ""
    not_water = "" if triage.by_hand else NOT_WATER
    return AFTERNOONS.format(count=seen.afternoons, not_water=not_water)


def _hour_now(seen: Seen) -> Phase | None:
    """The part of the day of the last look, which need not be the one that decides."""
    return phase_of(time.fromisoformat(seen.hour)) if seen.hour else None


def _felt(seen: Seen) -> str:
    """`Ball dry, bed wet`."""
    found = [f"{what} {one}" for what, one in (("ball", seen.ball), ("bed", seen.bed)) if one]
    return ", ".join(found).capitalize()


def _asking(step: Step, action: Action | None, say: str) -> Triage:
    return Triage(step, action, say, ASK[step])
