"""The one question of a morning: the one whose answer would narrow the reckoning's spread most."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from soakbook.garden.records import Bed
from soakbook.garden.tables.soils import HEAVY_DRAIN_DAYS
from soakbook.garden.tables.work import FLOW_TEST_DAYS
from soakbook.reckoning.advice.judging import Judged, Judgement
from soakbook.reckoning.advice.report import Question
from soakbook.reckoning.advice.supply import flow_on
from soakbook.reckoning.simulation.plots import ground_of

LEAST_SPREAD = 1e-9
LEAST_WORTH_ASKING = 0.02  # share of available water, one standard deviation


class Candidate(NamedTuple):
    """A question and how much of the spread its answer would take away."""

    worth: float
    question: Question


def question_of(judgement: Judgement) -> Question | None:
    """The question worth most this morning, if any is worth asking."""
    found = sorted(
        _candidates(judgement),
        key=lambda one: (-one.worth, one.question.about, one.question.bed or ""),
    )
    return found[0].question if found and found[0].worth >= LEAST_WORTH_ASKING else None


def _candidates(judgement: Judgement) -> Iterator[Candidate]:
    for bed in judgement.season.beds:
        yield from of_bed(judgement, bed)
    yield from _hose_tests(judgement)


def of_bed(judgement: Judgement, bed: Bed) -> Iterator[Candidate]:
    """What could be asked about a bed with living plantings."""
    mine = judgement.of_bed(bed)
    if not mine:
        return
    ground = ground_of(bed)
    plot = judgement.season.plot
    if ground.drain_days >= HEAVY_DRAIN_DAYS and bed.hole is None and bed.hole_mm_h is None:
        # Drainage is not in the ensemble: how near the bed stands to being held back says what the answer is worth.
        doubt = max(one.sodden_share for one in mine)
        ask = f"In {bed.name}, does water still stand in a 30 cm hole after a day?"
        yield Candidate(
            doubt,
            Question(
                "hole", bed.key, ask, f"soakbook bed {bed.key} --hole standing | gone | 20mm/h"
            ),
        )
    if bed.rain_share is None and bed.place != "open":
        worth = max(_explained(judgement, one, plot.rain_share) for one in mine)
        ask = (
            f"How much of the rain reaches {bed.name}? A jam jar there in the next shower, with the gauge "
            "beside it, settles that."
        )
        yield Candidate(
            worth, Question("rain_share", bed.key, ask, f"soakbook bed {bed.key} --share 0.45")
        )
    if bed.sand_fraction is None:
        worth = max(_explained(judgement, one, plot.available_fraction) for one in mine)
        if ground.guessed:
            ask = f"What is the soil of {bed.name}? Wet a pinch and squeeze it between thumb and finger."
            squeezes = '"falls apart" | "ball" | "short ribbon" | "ribbon" | "long ribbon"'
            answer = f"soakbook bed {bed.key} --squeeze {squeezes}"
        else:
            ask = f"A jar of soil from {bed.name}, shaken and left two days: how high stand sand, silt and clay?"
            answer = f"soakbook bed {bed.key} --jar 6,3,1"
        yield Candidate(worth, Question("soil", bed.key, ask, answer))


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


def _explained(judgement: Judgement, one: Judged, field: object) -> float:
    """How much of a planting's spread of wetness goes with one unknown: |correlation| x standard deviation."""
    unknown = np.asarray(field)[one.row]
    lead = judgement.morning.wetness.lead[one.row]
    if unknown.size < 2 or min(unknown.std(), lead.std()) < LEAST_SPREAD:
        return 0.0
    return float(abs(np.corrcoef(np.log(unknown), lead)[0, 1]) * lead.std())
