"""How a call says why, in a gardener's words. Never a promise: by the reckoning, likely, about."""

from collections.abc import Sequence
from datetime import date

from soakbook.garden.tables.places import PLACES
from soakbook.quantities.dates import short_day
from soakbook.quantities.saying import names
from soakbook.reckoning.advice.calling import BedCall, Dosed
from soakbook.reckoning.advice.diary import DRY_CLASSES, Diary
from soakbook.reckoning.advice.feel_first import why_feel
from soakbook.reckoning.advice.judging import Judgement, moved_yesterday
from soakbook.reckoning.advice.promise_says import rain_not_waited_for, rain_waited_for
from soakbook.reckoning.advice.report import Aim, Stage
from soakbook.reckoning.simulation.lanes import plain

STAGE_SAYS: dict[Stage, str] = {
    "settling": "living in their balls",
    "knitting": "roots crossing the edge of the ball",
    "rooting_out": "roots in the bed",
    "own_feet": "on their own feet",
}

AIM_SAYS: dict[Aim, str] = {
    "ball": "On the ball, slowly; the bed needs none.",
    "ball_and_ring": "On the ball and a hand's breadth round it.",
    "bed": "Over the roots in the bed, not only at the stem.",
}

RAIN_WORTH_SAYING_MM = 2.0
WENT_IN_MM = 0.5
NEARLY_ALL = 0.95


def reason(judgement: Judgement, call: BedCall) -> str:
    """One or two sentences on a bed's verdict."""
    verdict = call.verdict
    left = _left_today(judgement, call)
    if left:
        return left
    if verdict == "soak":
        parts = (_because(judgement, call), _where(call), rain_not_waited_for(judgement, call))
        return " ".join(part for part in parts if part)
    if verdict == "rain":
        return rain_waited_for(judgement, call)
    if verdict == "held_back":
        return _held_back(judgement, call)
    if verdict == "laid_by":
        return "Leaf down and the soil moist: nothing more this season unless the winter is dry."
    return why_feel(judgement, call) or _left(judgement, call)


def rain_reached_mm(judgement: Judgement, call: BedCall) -> float:
    """What the soil of a bed took in of it, by the plain run; never said to be more than the gauge had."""
    row = call.dosed[0].judged.row
    yesterday = moved_yesterday(judgement, row)
    taken_in = plain(judgement.morning.received.intake_mm, row)
    taken_in += yesterday.intake_mm if yesterday else 0.0
    return min(taken_in, judgement.season.skies.rain_lately_mm())


def _because(judgement: Judgement, call: BedCall) -> str:
    going = call.going or call.dosed
    kinds = {one.judged.dose_kind for one in going}
    diary = judgement.diaries[call.bed.uid]
    if kinds == {"water_in"}:
        return "Planted today: water in, slowly; mulch after that, not before."
    if "rescue" in kinds:
        return "Parched by the reckoning: before the others, at any hour."
    due = [one for one in going if one.judged.due] or list(going)
    if any(
        diary.felt_dry_mid(one.judged.planting, one.judged.ball_leads) is not None for one in due
    ):
        return "Felt dry since the last soak: the hand overrules the reckoning."
    rain = _rain_did_little(judgement, call, due)
    if rain:
        return rain
    stages = sorted({one.judged.stage for one in due})
    return f"{names([STAGE_SAYS[stage] for stage in stages]).capitalize()}: by the reckoning {_short(due)}."


def _short(due: Sequence[Dosed]) -> str:
    balls = any(one.judged.ball_leads for one in due)
    beds = any(not one.judged.ball_leads for one in due)
    what = "ball and bed are" if balls and beds else "the ball is" if balls else "the soil is"
    return f"{what} low before the next visit"


def _rain_did_little(judgement: Judgement, call: BedCall, due: Sequence[Dosed]) -> str:
    came = judgement.season.skies.rain_lately_mm()
    if came < RAIN_WORTH_SAYING_MM:
        return ""
    reached = rain_reached_mm(judgement, call)
    place = PLACES[call.bed.place]
    keeper = (
        "the tree and the mulch"
        if place.tree
        else "the wall and the mulch"
        if place.wall_foot
        else "the mulch"
    )
    if reached < WENT_IN_MM:
        return f"Of {came:.1f} mm of rain next to nothing reached the soil: {keeper} kept it."
    balls = any(one.judged.ball_leads for one in due)
    tail = "; a ball catches little of that" if balls else ", too little for the roots"
    if reached > NEARLY_ALL * came:
        return f"{reached:.1f} mm of rain reached the soil{tail}."
    return f"Of {came:.1f} mm of rain {reached:.1f} reached the soil{tail}."


def _where(call: BedCall) -> str:
    aims = {one.aim for one in call.going if one.judged.dose_kind != "water_in"}
    return AIM_SAYS[aims.pop()] if len(aims) == 1 else ""


def _held_back(judgement: Judgement, call: BedCall) -> str:
    reached = rain_reached_mm(judgement, call)
    went_in = f" ({reached:.0f} mm went in)" if reached >= RAIN_WORTH_SAYING_MM else ""
    diary = judgement.diaries[call.bed.uid]
    felt = _felt_wet(diary) if diary.bed_felt_wet() else "is fuller than it can keep"
    sentence = f"Too wet: the soil round the balls {felt}{went_in}."
    if any(one.judged.dose_kind == "re_wet" for one in call.dosed):
        return f"{sentence} The ball is dry{_whose_word(judgement, call)}: re-wet the ball only, no water on the bed."
    return f"{sentence} More water now takes the roots' air."


def _felt_wet(diary: Diary) -> str:
    """`is felt wet` on the day of the feel, else `was felt wet`."""
    felt = [one for one in diary.feels() if one.bed]
    return "is felt wet" if felt and diary.days_since(felt[-1]) == 0 else "was felt wet"


def _whose_word(judgement: Judgement, call: BedCall) -> str:
    diary = judgement.diaries[call.bed.uid]
    wetted = [one.judged.planting for one in call.dosed if one.judged.dose_kind == "re_wet"]
    felt = any(diary.felt_since_soak(one, ball=True) in DRY_CLASSES for one in wetted)
    return ", as felt" if felt else " by the reckoning"


def _left_today(judgement: Judgement, call: BedCall) -> str:
    if not all(one.judged.left for one in call.dosed):
        return ""
    diary = judgement.diaries[call.bed.uid]
    visit = diary.left_today(call.dosed[0].judged.planting)
    return f"Left today: {visit.reason}." if visit else ""


def _left(judgement: Judgement, call: BedCall) -> str:
    reached = rain_reached_mm(judgement, call)
    if reached >= RAIN_WORTH_SAYING_MM:
        return f"{reached:.1f} mm reached the bed."
    bare = all(one.judged.ball is None for one in call.dosed)
    shown = min(call.dosed, key=lambda one: one.judged.bed_margin).judged
    if bare:
        return f"Bare root; bed {shown.bed_state}."
    balls = [one.judged for one in call.dosed if one.judged.ball]
    ball = min(balls, key=lambda one: one.ball.p50 if one.ball else 0.0).ball_state
    return (
        f"Ball and bed {ball}."
        if ball == shown.bed_state
        else f"Ball {ball}, bed {shown.bed_state}."
    )


def until(day: date | None) -> str:
    """The day until which a bed may be left."""
    return "for a fortnight or more" if day is None else f"until {short_day(day)}"
