"""What a feel changed, in words: reckoned beside felt, how far it was moved, what is thought of the bed since."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import NamedTuple

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
    mine = [_Changed(one, *one.change()) for one in squared if one.feel_uid == feel.uid]
    return Felt(
        ball=feel.ball,
        bed=feel.bed,
        at=feel.happened_at.isoformat(),
        by=feel.by,
        unsure=feel.unsure,
        squared=tuple(one.reported() for one in mine),
        say=_said(mine),
    )


def said(squared: Sequence[Squared]) -> str:
    """What one feel changed, in two or three sentences; nothing where nothing was reckoned."""
    return _said([_Changed(one, *one.change()) for one in squared])


class _Changed(NamedTuple):
    """One store of a feel with what it changed, worked out."""

    squared: Squared
    expected: float
    now: float
    learned: Mapping[str, float]

    def states(self) -> tuple[State, State]:
        """Of the store that was felt, before and since."""
        (before, since), limit = self.squared.sodden, self.squared.limit
        return state_of(self.expected, limit, before), state_of(self.now, limit, since)

    def as_felt(self) -> bool:
        """Whether the finger found what was expected."""
        return class_of(self.expected) == self.squared.felt

    def moved(self) -> str:
        """Which way the store was moved and how far; empty where it was much as felt."""
        store, (before, after) = self.squared.store, self.states()
        if before != after:
            return f"the {store} from {before} to {after}"
        if self.as_felt() or abs(self.now - self.expected) < HARDLY:
            return ""
        share = (self.now - self.expected) / (CLASS_MIDS[self.squared.felt] - self.expected)
        way = next((words for most, words in PARTS if share < most), ALL_THE_WAY)
        return f"the {store} {'up' if self.now > self.expected else 'down'} {way}"

    def reported(self) -> SquaredUp:
        """As a report has it."""
        return SquaredUp(
            planting_uid=self.squared.planting_uid,
            store=self.squared.store,
            felt=self.squared.felt,
            expected_fraction=max(0.0, self.expected),  # a store may stand a rounding below nothing
            now_fraction=max(0.0, self.now),
            expected_state=self.states()[0],
            now_state=self.states()[1],
        )


def _said(changed: Sequence[_Changed]) -> str:
    if not changed:
        return ""
    then = names([f"{one.squared.store} {one.states()[0]}" for one in changed])
    moved = [part for one in changed if (part := one.moved())]
    learned = _learned(changed)
    if not moved and not learned:
        if all(one.as_felt() for one in changed):
            return f"Reckoned then: {then}, much as felt."
        return f"Reckoned then: {then}. I am too sure of that to move it much at once."
    did = [f"moved {names(moved)}"] if moved else []
    if learned:
        did.append(f"now think {names(learned)} than I had assumed")
    return f"Reckoned then: {then}. I have {' and '.join(did)}."


def _learned(changed: Sequence[_Changed]) -> list[str]:
    """What is thought of bed and planting since, the plainest first; at most two things."""
    moved: dict[str, float] = defaultdict(float)
    for one in changed:
        for name, by_sd in one.learned.items():
            moved[name] += by_sd
    plain = [
        (abs(by_sd), LEARNED[name][by_sd > 0])
        for name, by_sd in moved.items()
        if name in LEARNED and abs(by_sd) >= WORTH_SAYING_SD
    ]
    return [words for _, words in sorted(plain, reverse=True)[:2]]
