"""The one question of a morning: the one whose answer would narrow the reckoning's spread most."""

from collections.abc import Collection, Iterator

from soakbook.garden.tables.work import FLOW_TEST_DAYS
from soakbook.reckoning.advice.candidates import Candidate, of_bed
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.report import Question
from soakbook.reckoning.advice.supply import flow_on

BY_HAND = ("feel", "look")
LEAST_WORTH_ASKING = 0.02  # share of available water, one standard deviation


def question_of(judgement: Judgement, felt_anyway: Collection[str] = ()) -> Question | None:
    """The question worth most this morning, if any is worth asking.

    Parameters
    ----------
    judgement : Judgement
    felt_anyway : collection of str
        Keys of beds that the round sends a finger to already: no second one is asked for there.
    """
    found = sorted(
        (
            one
            for one in _candidates(judgement)
            if one.question.about not in BY_HAND or one.question.bed not in felt_anyway
        ),
        key=lambda one: (-one.worth, one.question.about, one.question.bed or ""),
    )
    return found[0].question if found and found[0].worth >= LEAST_WORTH_ASKING else None


def _candidates(judgement: Judgement) -> Iterator[Candidate]:
    for bed in judgement.season.beds:
        yield from of_bed(judgement, bed)
    yield from _hose_tests(judgement)


def _hose_tests(judgement: Judgement) -> Iterator[Candidate]:
    pages, day = judgement.season.pages, judgement.dawn.day
    for tap in pages.taps:
        used = any(
            supply.tap == tap.key and supply.means == "hose"
            for supply in judgement.supplies.values()
        )
        past = [flow.tested_on for flow in tap.flows if flow.tested_on <= day]
        if used and past and flow_on(tap, day) and (day - max(past)).days > FLOW_TEST_DAYS:
            ask = (
                f"Tap {tap.key} was last tested {(day - max(past)).days} days ago. How many seconds does it "
                "take to fill a 10 L can now?"
            )
            yield Candidate(
                LEAST_WORTH_ASKING,
                Question("flow", None, ask, f"soakbook tap {tap.key} --fill 10l 43s"),
            )
