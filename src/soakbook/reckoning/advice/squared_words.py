"""What a feel changed, in words: reckoned beside felt, how far it was moved, what is thought of the bed since."""

from collections import defaultdict
from collections.abc import Sequence

from soakbook.garden.entries import Feel
from soakbook.quantities.saying import names
from soakbook.reckoning.advice.report import Felt, SquaredUp, State
from soakbook.reckoning.advice.stages import state_of
from soakbook.reckoning.simulation.squaring import class_of
from soakbook.reckoning.simulation.start import CLASS_MIDS
from soakbook.reckoning.simulation.touches import Squared

HARDLY = 0.05
WORTH_SAYING_SD = 0.25

PARTS = (
    (0.15, "a little"),
    (0.29, "a quarter of the way"),
    (0.41, "a third of the way"),
    (0.58, "half-way"),
    (0.70, "two thirds of the way"),
    (0.85, "most of the way"),
)
ALL_THE_WAY = "all the way"

LEARNED: dict[str, tuple[str, str]] = {
    "ball": ("the ball keeps less", "the ball keeps more"),
    "aw": ("the soil holds less", "the soil holds more"),
    "exposure": ("the place dries more slowly", "the place dries faster"),
    "share": ("less of the rain gets there", "more of the rain gets there"),
    "kcb": ("they drink less", "they drink more"),
    "root": ("roots stand less far out", "roots stand further out"),
}
"""What it means that a multiplier fell, or rose; the rest tells a gardener nothing."""


def felt_of(feel: Feel | None, squared: Sequence[Squared]) -> Felt | None:
    """A feel as a report shows it, with what it changed.

    Parameters
    ----------
    feel : Feel or None
    squared : sequence of Squared
        All that the morning knows of; those of this feel are picked out.
    """
    if feel is None:
        return None
    mine = [one for one in squared if one.feel_uid == feel.uid]
    return Felt(
        ball=feel.ball,
        bed=feel.bed,
        at=feel.happened_at.isoformat(),
        by=feel.by,
        unsure=feel.unsure,
        squared=tuple(_squared_up(one) for one in mine),
        say=said(mine),
    )


def said(squared: Sequence[Squared]) -> str:
    """What one feel changed, in two or three sentences; nothing where nothing was reckoned."""
    if not squared:
        return ""
    then = names([f"{one.store} {_states(one)[0]}" for one in squared])
    moved = [part for one in squared if (part := _moved(one))]
    learned = _learned(squared)
    if not moved and not learned:
        if all(_as_felt(one) for one in squared):
            return f"Reckoned then: {then}, much as felt."
        return f"Reckoned then: {then}. I am too sure of that to move it much at once."
    did = [f"moved {names(moved)}"] if moved else []
    if learned:
        did.append(f"now think {names(learned)} than I had assumed")
    return f"Reckoned then: {then}. I have {' and '.join(did)}."


def _squared_up(one: Squared) -> SquaredUp:
    change = one.change()
    return SquaredUp(
        planting_uid=one.planting_uid,
        store=one.store,
        felt=one.felt,
        expected_fraction=max(0.0, change.expected),  # a store may stand a rounding below nothing
        now_fraction=max(0.0, change.now),
        expected_state=_states(one)[0],
        now_state=_states(one)[1],
    )


def _states(one: Squared) -> tuple[State, State]:
    """Of the store that was felt, before and since."""
    before, since = one.sodden
    change = one.change()
    return state_of(change.expected, one.limit, before), state_of(change.now, one.limit, since)


def _moved(one: Squared) -> str:
    """Which way a store was moved and how far; empty where it was much as felt."""
    before, after = _states(one)
    if before != after:
        return f"the {one.store} from {before} to {after}"
    expected, now, _ = one.change()
    if _as_felt(one) or abs(now - expected) < HARDLY:
        return ""
    share = (now - expected) / (CLASS_MIDS[one.felt] - expected)
    way = next((words for most, words in PARTS if share < most), ALL_THE_WAY)
    return f"the {one.store} {'up' if now > expected else 'down'} {way}"


def _as_felt(one: Squared) -> bool:
    return class_of(one.change().expected) == one.felt


def _learned(squared: Sequence[Squared]) -> list[str]:
    """What is thought of bed and planting since, the plainest first; at most two things."""
    moved: dict[str, float] = defaultdict(float)
    for one in squared:
        for name, by_sd in one.change().learned.items():
            moved[name] += by_sd
    plain = [
        (abs(by_sd), LEARNED[name][by_sd > 0])
        for name, by_sd in moved.items()
        if name in LEARNED and abs(by_sd) >= WORTH_SAYING_SD
    ]
    return [words for _, words in sorted(plain, reverse=True)[:2]]
