"""What could be asked about a bed, each question with what its answer is worth.

Worth is how much of this morning's spread of the leading store's wetness goes with the answer: correlation x standard
deviation, less for an answer that is itself in doubt. What is not in the ensemble is measured by what it would change.
"""

from collections.abc import Iterator
from datetime import date
from math import sqrt
from typing import NamedTuple

import numpy as np

from soakbook.garden.jars import ONE_SHOWER_LOG_SD, measured_share, shares_caught
from soakbook.garden.records import Bed, Planting
from soakbook.garden.tables.soils import HEAVY_DRAIN_DAYS
from soakbook.quantities.saying import plural, quoted
from soakbook.reckoning.advice.diary import Diary
from soakbook.reckoning.advice.feel_first import HALF_WIDTH, half_width
from soakbook.reckoning.advice.judging import Judged, Judgement
from soakbook.reckoning.advice.report import Question
from soakbook.reckoning.simulation.draws import LOG_SD, Floats
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.mulching import mulch_on
from soakbook.reckoning.simulation.plots import ground_of
from soakbook.reckoning.simulation.squaring import reading_of
from soakbook.reckoning.simulation.start import CLASS_MIDS

LEAST_SPREAD = 1e-9

JAR_TELLS = sqrt(1 - (ONE_SHOWER_LOG_SD / LOG_SD["share"]) ** 2)
SQUEEZE_TELLS = sqrt(1 - 0.5**2)
SOIL_JAR_TELLS = sqrt(0.5)
"""Of the sd that goes with an unknown, the part its answer takes away: one jar leaves 0.10 of 0.15, a squeeze half of
the doubled sd; heights in a jar of soil are as doubtful as the class they settle. common practice, no source."""

HAND_VARIANCE = float(reading_of("moist").variance)

FADES = 0.5
"""What a finger tells is half gone in a week; what a test teaches stays. common practice, no source."""

RULER_DAYS = 30
THINNER = 2 / 3
RULER_DRYING_DAYS = 3.0
"""A mulch is measured again after a month; it may lie a third thinner. common practice, no source."""

HEFT_DAYS = 1
CLASSES = "dust | dry | moist | wet | sour"


class Candidate(NamedTuple):
    """A question and how much of the spread its answer would take away."""

    worth: float
    question: Question


def of_bed(judgement: Judgement, bed: Bed) -> Iterator[Candidate]:
    """What could be asked about a bed with living plantings."""
    mine = judgement.of_bed(bed)
    if not mine:
        return
    yield from _hole(bed, mine)
    yield from _jam_jar(judgement, bed, mine)
    yield from _soil(judgement, bed, mine)
    yield from _ruler(judgement, bed, mine)
    yield from _finger(judgement, bed, mine)
    yield from _heft(judgement, bed, mine)


def _hole(bed: Bed, mine: tuple[Judged, ...]) -> Iterator[Candidate]:
    if ground_of(bed).drain_days < HEAVY_DRAIN_DAYS or (bed.hole, bed.hole_mm_h) != (None, None):
        return
    # Drainage is not in the ensemble: how near the bed stands to being held back says what the answer is worth.
    doubt = max(one.sodden_share for one in mine)
    ask = f"In {bed.name}, does water still stand in a 30 cm hole after a day?"
    answer = f"soakbook bed {quoted(bed.key)} --hole standing | gone | 20mm/h"
    yield Candidate(doubt, Question("hole", bed.key, ask, answer))


def _jam_jar(judgement: Judgement, bed: Bed, mine: tuple[Judged, ...]) -> Iterator[Candidate]:
    if bed.place == "open" or bed.rain_share is not None:
        return
    if measured_share(bed, shares_caught(judgement.diaries[bed.uid].entries)):
        return
    worth = JAR_TELLS * _most(judgement, mine, judgement.season.plot.rain_share)
    ask = (
        f"How much of the rain reaches {bed.name}? A jam jar there in the next shower, with the gauge "
        "beside it, settles that."
    )
    answer = f"soakbook bed {quoted(bed.key)} --jam-jar 6mm --gauge 14mm"
    yield Candidate(worth, Question("rain_share", bed.key, ask, answer))


def _soil(judgement: Judgement, bed: Bed, mine: tuple[Judged, ...]) -> Iterator[Candidate]:
    if bed.sand_fraction is not None:
        return
    spread = _most(judgement, mine, judgement.season.plot.available_fraction)
    if ground_of(bed).guessed:
        ask = (
            f"What is the soil of {bed.name}? Wet a pinch and squeeze it between thumb and finger."
        )
        squeezes = '"falls apart" | "ball" | "short ribbon" | "ribbon" | "long ribbon"'
        answer = f"soakbook bed {quoted(bed.key)} --squeeze {squeezes}"
        yield Candidate(SQUEEZE_TELLS * spread, Question("soil", bed.key, ask, answer))
        return
    ask = (
        f"A jar of soil from {bed.name}, shaken and left two days: how high stand sand, silt and "
        "clay?"
    )
    answer = f"soakbook bed {quoted(bed.key)} --jar 6,3,1"
    yield Candidate(SOIL_JAR_TELLS * spread, Question("soil", bed.key, ask, answer))


def _ruler(judgement: Judgement, bed: Bed, mine: tuple[Judged, ...]) -> Iterator[Candidate]:
    """The mulch is not in the ensemble: what a third less of it would change is the worth.

    Three days of yesterday's drying of ball and reach come to what plain runs of the specimen's season differ by,
    C: their median 0.010, nine of ten under 0.029; this 0.009 and 0.026.
    """
    layings, day = judgement.season.layings.get(bed.uid, ()), judgement.dawn.day
    told = [*(one.laid_on for one in layings), *(at.day for one in layings for at in one.scaled)]
    lies, flows = mulch_on(day, layings), judgement.dawn.flows
    if flows is None or not lies.depth_cm or (day - max(told)).days <= RULER_DAYS:
        return
    thin = mulch_on(day, [one._replace(depth_cm=THINNER * one.depth_cm) for one in layings])
    faster = thin.evaporation_factor / lies.evaporation_factor - 1
    roots, worth = judgement.morning.roots, 0.0
    for one in mine:
        if one.row < np.shape(flows.asked_l)[0]:
            dried_l = RULER_DRYING_DAYS * faster * plain(flows.soil_evaporated_l, one.row)
            own = plain(roots.reach_m2, one.row) / one.cell_m2
            holds_l = plain(roots.ball_capacity_l, one.row) + plain(roots.reach_capacity_l, one.row)
            worth = max(worth, own * dried_l / holds_l)
    ask = f"How deep does the mulch of {bed.name} lie? A ruler in five spots tells."
    answer = f"soakbook bed {quoted(bed.key)} --ruler 4,5,3,5,4"
    yield Candidate(worth, Question("ruler", bed.key, ask, answer))


def _finger(judgement: Judgement, bed: Bed, mine: tuple[Judged, ...]) -> Iterator[Candidate]:
    """A finger where a ball leads, a hole where the soil does; not where the round asks for a feel by itself."""
    diary = judgement.diaries[bed.uid]
    if diary.felt_in_week() or diary.given_on(diary.morning):
        return
    if any(half_width(one.lead) > HALF_WIDTH for one in mine):
        return
    wetness = judgement.morning.wetness
    told = [
        (_felt(wetness.ball if one.ball_leads else wetness.bed, wetness.lead, one.row), one)
        for one in mine
    ]
    worth, one = max(told, key=lambda pair: pair[0])
    who, name = plural(one.planting.name), _named(bed, one.planting, mine)
    if one.ball_leads:
        ask = f"A finger in a ball of the {who} of {bed.name}, two knuckles down: what is it?"
        question = Question("feel", bed.key, ask, f"soakbook feel {name} --ball {CLASSES}")
    else:
        ask = (
            f"A hole a hand's breadth from one of the {who} of {bed.name}, an hour after its next soak: how "
            "far down is the soil wet?"
        )
        question = Question("look", bed.key, ask, f"soakbook feel {name} --look 20cm")
    yield Candidate(FADES * worth, question)


def _heft(judgement: Judgement, bed: Bed, mine: tuple[Judged, ...]) -> Iterator[Candidate]:
    """Whether a ball went in wet: full or dry, half and half, as long as nothing was given on it."""
    diary, share = judgement.diaries[bed.uid], judgement.morning.wetness.ball_share
    for one in mine:
        if _hefted(one.planting, diary, judgement.dawn.day):
            continue
        worth = plain(share, one.row) * (1 - CLASS_MIDS["dry"]) / 2
        plant = f"soakbook plant {quoted(bed.key)} {quoted(one.planting.name)} {one.planting.count}"
        who = plural(one.planting.name, one.planting.count)
        ask = f"Did the {who} of {bed.name} go in wet? A pot that is light in the hand is dry through."
        answer = f"{plant} --heft light | heavy"
        yield Candidate(worth, Question("heft", bed.key, ask, answer))


def _hefted(planting: Planting, diary: Diary, day: date) -> bool:
    """Whether how wet a ball went in is known, or is no matter any more."""
    known = planting.ball_felt is not None or "watered_in" in planting.said
    late = (day - planting.planted_on).days > HEFT_DAYS
    return known or late or planting.origin != "pot" or bool(diary.soaks(planting))


def _named(bed: Bed, planting: Planting, mine: tuple[Judged, ...]) -> str:
    """A bed, and one planting of it where there are several, as a command takes them."""
    key = quoted(bed.key)
    return key if len(mine) == 1 else f"{key} --planting {quoted(planting.name)}"


def _felt(felt: Floats, lead: Floats, row: int) -> float:
    """What of the leading store's sd a hand takes away in one store: the gain of (45), without its floor."""
    found, leading = felt[row], lead[row]
    if found.size < 2:
        return 0.0
    moved = np.mean((found - found.mean()) * (leading - leading.mean()))
    return float(abs(moved) / np.sqrt(found.var() + HAND_VARIANCE))


def _most(judgement: Judgement, mine: tuple[Judged, ...], field: object) -> float:
    return max(explained(judgement, one, field) for one in mine)


def explained(judgement: Judgement, one: Judged, field: object) -> float:
    """How much of a planting's spread of wetness goes with one unknown: |correlation| x standard deviation."""
    unknown = np.asarray(field)[one.row]
    lead = judgement.morning.wetness.lead[one.row]
    if unknown.size < 2 or min(unknown.std(), lead.std()) < LEAST_SPREAD:
        return 0.0
    return float(abs(np.corrcoef(np.log(unknown), lead)[0, 1]) * lead.std())
