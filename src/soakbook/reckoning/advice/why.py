"""Why a bed is called or left: the very numbers its verdict was made from, set out as sums.

The litres shown are the plain run's (member 0), because one run adds up and middles do not; how many of the
members agree stands beside them, and what is to be poured is the middle of all.
"""

from collections.abc import Callable
from datetime import timedelta

import numpy as np

from soakbook.errors import UnreckonedError
from soakbook.garden.entries import Rain
from soakbook.quantities.saying import date_of
from soakbook.reckoning.advice.bed_report import verdict_of
from soakbook.reckoning.advice.calling import BedCall, Dosed
from soakbook.reckoning.advice.candidates import of_bed
from soakbook.reckoning.advice.due import PATIENCE
from soakbook.reckoning.advice.judging import Judgement, moved_yesterday
from soakbook.reckoning.advice.read_off import band
from soakbook.reckoning.advice.rounds import Morning, credits_due
from soakbook.reckoning.advice.squared_words import felt_of
from soakbook.reckoning.advice.stages import SOON_DAYS, coming_stage
from soakbook.reckoning.advice.symbols import symbols_of
from soakbook.reckoning.advice.unreckoned import UNRECKONED, standing_in
from soakbook.reckoning.advice.whose_rain import whose_rain
from soakbook.reckoning.advice.why_report import (
    WHY_SCHEMA,
    BallSums,
    BedSums,
    DoseSums,
    PlantingWhy,
    RainSums,
    RootSums,
    Why,
)
from soakbook.reckoning.advice.why_words import sentences
from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.simulation.lanes import middle, plain
from soakbook.reckoning.simulation.run import Dawn


def why_of(morning: Morning, bed_key: str) -> Why:
    """The sums behind one bed's call.

    Parameters
    ----------
    morning : Morning
        The morning the round was made from.
    bed_key : str
        A bed of the book.

    Raises
    ------
    UnreckonedError
        When nothing living and reckoned stands in the bed that morning.
    """
    judgement = morning.judgement
    call = next((one for one in morning.calls if one.bed.key == bed_key), None)
    if judgement is None or call is None:
        raise UnreckonedError("bed", bed_key, _why_not(morning, bed_key))
    feels = judgement.diaries[call.bed.uid].feels()
    plantings = tuple(_planting(morning, judgement, call, one) for one in call.dosed)
    rain = _rain(morning, judgement, call)
    questions = sorted(of_bed(judgement, call.bed), key=lambda one: -one.worth)
    return Why(
        schema=WHY_SCHEMA,
        garden=morning.pages.garden.name,
        morning=morning.day,
        bed=call.bed.key,
        name=call.bed.name,
        verdict=verdict_of(judgement, call),
        litres=call.litres,
        rain=rain,
        plantings=plantings,
        felt=felt_of(feels[-1] if feels else None, judgement.dawn.squared),
        least_known=questions[0].question.ask if questions else None,
        say=sentences(judgement, call, plantings, rain),
        credits=credits_due(morning.pages),
    )


def _why_not(morning: Morning, bed_key: str) -> str:
    """Why there is nothing to set out of a bed: no living plant, or what the round says of its weather."""
    bed = next((one for one in morning.pages.beds if one.key == bed_key), None)
    if bed is not None and bed.rests_from is not None and bed.rests_on(morning.day):
        return f"{bed.name}: at rest since {date_of(bed.rests_from, morning.day)}"
    if bed is not None and bed.parted_on is not None and morning.day < bed.parted_on:
        return f"{bed.name}: a part of another bed until {date_of(bed.parted_on, morning.day)}"
    if bed is None or not standing_in(morning.pages, bed, morning.day):
        name = bed.name if bed else bed_key
        return f"{name}: no living plants stand there on {date_of(morning.day, morning.day)}"
    return "\n".join(
        f"{bed.name}: {one.say}"
        for one in morning.findings
        if one.kind in UNRECKONED and one.bed in (bed_key, None)
    )


def _planting(morning: Morning, judgement: Judgement, call: BedCall, one: Dosed) -> PlantingWhy:
    judged = one.judged
    return PlantingWhy(
        planting=judged.planting.name,
        kind=judged.planting.plant_class,
        count=judged.count,
        verdict=judged.verdict,
        share_due=judged.prospect.share_due,
        ball=None if judged.ball is None else _ball(morning, judgement, judged.row),
        bed=_bed(morning, judgement, judged.row),
        dose=_dose(judgement, call, one),
        roots=_roots(judgement, one),
        symbols=symbols_of(judgement, judged.row),
    )


def _ball(morning: Morning, judgement: Judgement, row: int) -> BallSums:
    standing = judgement.morning
    patience = PATIENCE[morning.pages.garden.readiness]
    capacity = plain(standing.roots.ball_capacity_l, row)
    moved, received = moved_yesterday(judgement, row), standing.received
    return BallSums(
        holds_at_most_l=capacity,
        yesterday_l=_yesterday_l(morning.before, judgement, row, _ball_l),
        given_l=(moved.ball_from_soak_l if moved else 0.0) + plain(received.ball_from_soak_l, row),
        rain_l=(moved.ball_from_rain_l if moved else 0.0) + plain(received.ball_from_rain_l, row),
        gone_l=moved.ball_drunk_l if moved else 0.0,
        from_bed_l=moved.exchange_to_ball_l if moved else 0.0,
        felt_l=_felt_l(judgement, row, _ball_l),
        morning_l=plain(standing.stores.ball_store_l, row),
        tonight_l=plain(judgement.ahead[0].stores.ball_store_l, row),
        water_below_l=patience * middle(standing.wetness.ball_limit, row) * capacity,
    )


def _bed(morning: Morning, judgement: Judgement, row: int) -> BedSums:
    """Reach and beyond together; what a ball passes to the soil counts as gained, what it takes as gone."""
    standing = judgement.morning
    moved = moved_yesterday(judgement, row)
    gone = plain(standing.received.drained_l, row)
    if moved:
        gone += moved.transpired_l + moved.soil_evaporated_l - moved.ball_drunk_l + moved.drained_l
        gone += max(moved.exchange_to_ball_l, 0.0)
    yesterday = _yesterday_l(morning.before, judgement, row, _soil_l)
    now = _soil_l(standing.stores, row)
    felt = _felt_l(judgement, row, _soil_l)
    reach = plain(standing.roots.reach_capacity_l, row)
    patience = PATIENCE[morning.pages.garden.readiness]
    return BedSums(
        holds_at_most_l=reach + plain(standing.roots.beyond_capacity_l, row),
        yesterday_l=yesterday,
        gained_l=now - yesterday + gone - felt,
        gone_l=gone,
        felt_l=felt,
        morning_l=now,
        tonight_l=_soil_l(judgement.ahead[0].stores, row),
        reach_holds_at_most_l=reach,
        reach_morning_l=plain(standing.stores.reach_store_l, row),
        reach_water_below_l=patience * plain(standing.wetness.bed_limit, row) * reach,
    )


def _soil_l(stores: Stores, row: int) -> float:
    return plain(stores.reach_store_l, row) + plain(stores.beyond_store_l, row)


def _ball_l(stores: Stores, row: int) -> float:
    return plain(stores.ball_store_l, row)


def _felt_l(judgement: Judgement, row: int, held: Callable[[Stores, int], float]) -> float:
    """What this morning's feels moved into a store, or out of it."""
    dawn = judgement.dawn
    return 0.0 if dawn.unfelt is None else held(dawn.stores, row) - held(dawn.unfelt.stores, row)


def _yesterday_l(
    before: Dawn | None, judgement: Judgement, row: int, held: Callable[[Stores, int], float]
) -> float:
    """At yesterday's dawn; of a planting that starts today, at this one as nobody has felt it yet."""
    there = judgement.dawn.row_before(row)
    if before is not None and there is not None:
        return held(before.stores, there)
    return held((judgement.dawn.unfelt or judgement.dawn).stores, row)


def _dose(judgement: Judgement, call: BedCall, one: Dosed) -> DoseSums:
    row, need = one.judged.row, judgement.need
    return DoseSums(
        ball_lacks_l=plain(need.ball_l, row),
        ring_lacks_l=plain(need.reach_l + need.ring_l, row),
        needed_at_nozzle_l=band(np.minimum(need.nozzle_l[row], need.room_l[row])),
        least_l=one.floor_l or None,
        usual_l=one.judged.planting.usual_dose_l,
        usual_last_on=judgement.diaries[call.bed.uid].usual_last_given(one.judged.planting),
        said_l=one.litres_each,
        pours=one.pours,
    )


def _roots(judgement: Judgement, one: Dosed) -> RootSums:
    row, standing = one.judged.row, judgement.morning
    coming = coming_stage(judgement.season, row, plain(standing.stores.warm_days, row), SOON_DAYS)
    grown_m = middle(standing.roots.root_reach_m, row) - plain(
        judgement.season.plot.root_start_m, row
    )
    return RootSums(
        stage=one.judged.stage,
        root_reach_cm=100 * grown_m,
        next_stage=coming and coming[0],
        next_stage_on=coming and judgement.dawn.day + timedelta(days=coming[1]),
        ball_share_fraction=middle(standing.wetness.ball_share, row),
    )


def _rain(morning: Morning, judgement: Judgement, call: BedCall) -> RainSums | None:
    """Where the rain of this step and the one before went, by the plain run; None when none fell."""
    season, received = judgement.season, judgement.morning.received
    gauge = season.skies.rain_lately_mm()
    if gauge <= 0:
        return None
    row = call.dosed[0].judged.row
    moved = moved_yesterday(judgement, row)
    share = plain(
        season.plain.plot.rain_share, row
    )  # as set: a feel's multiplier is no measurement
    drank = plain(received.mulch_taken_mm, row) + (moved.mulch_taken_mm if moved else 0.0)
    soil = plain(received.intake_mm, row) + (moved.intake_mm if moved else 0.0)
    came = plain(season.plot.rain_share, row) * gauge
    readings = [one for one in morning.pages.entries if isinstance(one, Rain)]
    balls = [one.judged.row for one in call.dosed if one.judged.ball]
    return RainSums(
        gauge_mm=gauge,
        told=whose_rain(morning.pages, season.skies),
        kind=readings[-1].kind if readings else None,
        share_fraction=share,
        came_mm=came,
        mulch_drank_mm=drank,
        ran_off_mm=max(0.0, came - drank - soil),
        soil_mm=soil,
        balls_caught_l=tuple(_caught_l(judgement, ball) for ball in balls),
    )


def _caught_l(judgement: Judgement, row: int) -> float:
    moved = moved_yesterday(judgement, row)
    now = plain(judgement.morning.received.ball_from_rain_l, row)
    return now + (moved.ball_from_rain_l if moved else 0.0)
