"""The sums of a why in sentences, paragraph by paragraph; what has nothing in it is left out."""

from collections.abc import Sequence

from soakbook.garden.tables.places import PLACES
from soakbook.quantities.dates import month_day, short_day
from soakbook.quantities.saying import counted, litres, names, plural
from soakbook.reckoning.advice.calling import BedCall, Dosed
from soakbook.reckoning.advice.candidates import of_bed
from soakbook.reckoning.advice.dose import LEAST_BY_CAN_L, LEAST_BY_HOSE_L
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.report import Means, Stage
from soakbook.reckoning.advice.squared_words import said
from soakbook.reckoning.advice.why_report import PlantingWhy, RainSums
from soakbook.reckoning.advice.words import reason, until

STAGE_GLOSS: dict[Stage, str] = {
    "settling": "settling (lives in its ball)",
    "knitting": "knitting (roots crossing the edge of the ball)",
    "rooting_out": "rooting out (roots in the bed)",
    "own_feet": "on its own feet",
}

BARE_GLOSS: dict[Stage, str] = STAGE_GLOSS | {
    "settling": "settling (no new roots yet)",
    "knitting": "knitting (first new roots)",
}

BY: dict[Means, str] = {"cans": "can", "none": "can"}

COMING: dict[Stage, str] = {
    "settling": "Settling",
    "knitting": "Knitting",
    "rooting_out": "Rooting out",
    "own_feet": "On its own feet",
}


def sentences(
    judgement: Judgement, call: BedCall, plantings: Sequence[PlantingWhy], rain: RainSums | None
) -> tuple[str, ...]:
    """The paragraphs of one bed's why."""
    paragraphs = [reason(judgement, call)]
    if call.verdict in ("leave", "laid_by"):
        wanted = min(
            (day for one in call.dosed if (day := one.judged.prospect.wanted_on)), default=None
        )
        paragraphs.append(f"It can likely be left {until(wanted)}.")
    if rain:
        paragraphs.append(_rain(call, rain))
    for one, why in zip(call.dosed, plantings, strict=True):
        if one.litres_each > 0:
            paragraphs.append(_dose(call, one, why))
    paragraphs += _unique([_stage(why) for why in plantings])
    felt = _felt(judgement, call)
    if felt:
        paragraphs.append(felt)
    questions = sorted(of_bed(judgement, call.bed), key=lambda one: -one.worth)
    if questions:
        best = questions[0].question
        paragraphs.append(f"What would tell most: {best.ask} ({best.answer})")
    return tuple(paragraphs)


def _rain(call: BedCall, rain: RainSums) -> str:
    place = PLACES[call.bed.place]
    came = f"{rain.gauge_mm:.1f} mm {rain.told}; {rain.came_mm:.1f} came to the bed"
    if rain.share_fraction != 1.0:
        came += f" (its share{'' if place.name == 'open' else ', ' + place.name}: about {rain.share_fraction:g})"
    parts = [came]
    if rain.mulch_drank_mm >= 0.05:
        parts.append(f"the mulch drank {rain.mulch_drank_mm:.1f}")
    if rain.ran_off_mm >= 0.05:
        parts.append(f"{rain.ran_off_mm:.1f} ran off")
    parts.append(f"{rain.soil_mm:.1f} mm went into the soil")
    sentence = "Where the rain went: " + "; ".join(parts) + "."
    if rain.balls_caught_l:
        caught = names([f"{one:.2f} L" for one in rain.balls_caught_l])
        sentence += f" The balls caught {caught} of it: that is all their own width takes."
    return sentence


def _whom(why: PlantingWhy) -> str:
    """`each of the climbing roses`, or the only one's name."""
    return f"each of the {plural(why.planting, why.count)}" if why.count > 1 else why.planting


def _by_feel(why: PlantingWhy) -> str:
    """Where a finger found the ball drier than it is reckoned, more is given than the table says it lacks."""
    ball = why.ball
    if ball is None or why.dose.ball_lacks_l <= ball.holds_at_most_l - ball.morning_l + 1e-9:
        return ""
    return ", felt drier than reckoned,"


def _rounding(call: BedCall) -> str:
    means = call.supply.means
    least = LEAST_BY_CAN_L if means == "cans" else LEAST_BY_HOSE_L
    return f"by {BY.get(means, means)} at least {litres(least)}, and up to what a hand can give"


def _dose(call: BedCall, one: Dosed, why: PlantingWhy) -> str:
    dose, whom = why.dose, _whom(why)
    if one.judged.dose_kind == "water_in":
        them = "them" if why.count > 1 else "it"
        return f"Why {litres(one.litres_each)} for {whom}: to puddle {them} in on the planting day."
    if one.judged.dose_kind == "re_wet":
        each = litres(one.litres_each / one.pours)
        return (
            f"Why {counted(one.pours, 'pour')} of {each} for {whom}: the ball is dry in soil that is wet. Water runs "
            "past a dry ball, so it is given little by little, 20 to 30 min apart, and none on the bed."
        )
    lacks = f"the soil its roots have and are to grow into lacks {dose.ring_lacks_l:.1f} L"
    if one.judged.ball is not None:
        round_it = f"the soil its roots are to grow into {dose.ring_lacks_l:.1f} L"
        lacks = f"the ball{_by_feel(why)} lacks {dose.ball_lacks_l:.1f} L, {round_it}"
    sentence = (
        f"Why {litres(one.litres_each)} for {whom}: {lacks}, and some goes past: "
        f"{dose.needed_at_nozzle_l.p50:.1f} L to pour, by the middle of all sums."
    )
    if dose.least_l and dose.needed_at_nozzle_l.p50 <= dose.least_l + 1e-9:
        sentence += f" Not less than a quarter of the pot: {dose.least_l:.1f} L."
    if not one.usual:
        sentence += f" Said as {litres(one.litres_each)}: {_rounding(call)}."
    if dose.usual_l is not None:
        sentence += _usual(one, why)
    if one.judged.while_there:
        sentence += " Not due today, but wanted within two days: while you are there."
    if dose.needed_at_nozzle_l.p90 - dose.needed_at_nozzle_l.p10 > 10:
        low, high = dose.needed_at_nozzle_l.p10, dose.needed_at_nozzle_l.p90
        sentence += f" It may be anything from {litres(low)} to {litres(high)}: feel before the second half."
    return sentence


def _usual(one: Dosed, why: PlantingWhy) -> str:
    usual = litres(why.dose.usual_l or 0.0)
    if one.usual:
        return f" Your usual {usual}: the bed round it wants too, so all of it is given."
    last = f", last on {short_day(why.dose.usual_last_on)}" if why.dose.usual_last_on else ""
    return (
        f" Your usual {usual}: the ball cannot keep it and most would go past. Worth giving when the bed round it is "
        f"wanting{last}; not every time."
    )


def _stage(why: PlantingWhy) -> str:
    roots = why.roots
    gloss = BARE_GLOSS if why.ball is None else STAGE_GLOSS
    name = plural(why.planting, why.count)
    sentence = f"{name}: {gloss[roots.stage]}, by the reckoning {roots.root_reach_cm:.0f} cm out."
    if roots.next_stage and roots.next_stage_on:
        sentence += f" {COMING[roots.next_stage]} likely from {month_day(roots.next_stage_on)}."
    return sentence + (" Until then the ball leads." if roots.ball_share_fraction > 0.5 else "")


def _felt(judgement: Judgement, call: BedCall) -> str:
    feels = judgement.diaries[call.bed.uid].feels()
    if not feels:
        return ""
    last = feels[-1]
    found = names(
        [f"{what} {felt}" for what, felt in (("ball", last.ball), ("bed", last.bed)) if felt]
    )
    days = judgement.diaries[call.bed.uid].days_since(last)
    when = "today" if days == 0 else "yesterday" if days == 1 else f"{days} days ago"
    shown = min(call.dosed, key=lambda one: one.judged.bed_margin).judged
    ball = f"ball {shown.ball_state}, " if shown.ball_state else ""
    changed = said([one for one in judgement.dawn.squared if one.feel_uid == last.uid])
    now = f"This morning: {ball}bed {shown.bed_state}, by the reckoning."
    return " ".join(part for part in (f"Felt {when}: {found}.", changed, now) if part)


def _unique(lines: Sequence[str]) -> list[str]:
    return list(dict.fromkeys(lines))
