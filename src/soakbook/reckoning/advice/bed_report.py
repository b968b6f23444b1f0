"""A bed's call as the report gives it."""

import math
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np

from soakbook.reckoning.advice.calling import BedCall, Dosed
from soakbook.reckoning.advice.feel_first import days_since_felt, feel_first
from soakbook.reckoning.advice.judging import Judged, Judgement
from soakbook.reckoning.advice.read_off import band
from soakbook.reckoning.advice.report import Aim, Band, Call, DoseKind, PlantingCall, Verdict
from soakbook.reckoning.advice.squared_words import felt_of
from soakbook.reckoning.advice.stages import SOON_DAYS, coming_stages
from soakbook.reckoning.advice.words import rain_reached_mm, reason
from soakbook.reckoning.simulation.lanes import grid

PRESSING: tuple[DoseKind, ...] = ("re_wet", "rescue", "water_in", "soak")


class Place(NamedTuple):
    """Where a bed stands in the round."""

    order: int | None
    meanwhile: str | None
    silent: bool


def verdict_of(judgement: Judgement, call: BedCall) -> Verdict:
    """The bed's verdict; where nothing is due and the reckoning is unsure, go and feel."""
    verdict = call.verdict
    return "feel" if verdict == "leave" and feel_first(judgement, call) else verdict


def stages_until(judgement: Judgement) -> Sequence[date | None]:
    """When each planting's next stage likely begins, by its row; None where it is farther off than can be said."""
    clocks = np.array(
        grid(judgement.morning.stores.warm_days, judgement.morning.sodden.shape)[:, 0]
    )
    coming = coming_stages(judgement.season, slice(0, len(clocks)), clocks, SOON_DAYS)
    return [one and judgement.dawn.day + timedelta(days=one[1]) for one in coming]


def call_report(
    judgement: Judgement, call: BedCall, place: Place, until: Sequence[date | None]
) -> Call:
    """One bed's entry on the round, `until` as by `stages_until`."""
    diary = judgement.diaries[call.bed.uid]
    verdict = verdict_of(judgement, call)
    given = diary.given_on(diary.morning)
    ball = _shown_ball(call)
    soil = min(call.dosed, key=lambda one: one.judged.bed_margin).judged
    work = call.work
    going = call.going
    feels, soaks = diary.feels(), diary.soaks()
    pours = max((one.pours for one in going), default=1)
    return Call(
        order=place.order,
        bed=call.bed.key,
        name=call.bed.name,
        verdict=verdict,
        feel_first=place.silent or feel_first(judgement, call),
        dose_kind=_dose_kind(going),
        ball_state=ball.ball_state if ball else None,
        bed_state=soil.bed_state,
        ball_fraction=ball.ball if ball else None,
        bed_fraction=_bed_fraction(judgement, call),
        felt=felt_of(feels[-1] if feels else None, judgement.dawn.squared),
        litres=call.litres,
        given_today_l=sum(one.litres for one in given),
        given_today_by=given[-1].by if given else None,
        given_today_at=given[-1].happened_at.isoformat() if given else None,
        minutes=work.minutes,
        minutes_on_foot=work.minutes_on_foot,
        cans=_whole_cans(call),
        tanks=work.tanks,
        means=call.supply.means,
        rose_on=call.rose_on and bool(going),
        plants_a_can=int(call.supply.can_l // min(one.litres_each for one in going))
        if call.rose_on and going
        else None,
        pours=pours,
        pour_wait_min=math.ceil(max(one.wait_min for one in going if one.pours > 1))
        if pours > 1
        else None,
        pour_meanwhile=place.meanwhile,
        tap=call.supply.tap,
        aim=_aim(going),
        wanted_on=_earliest([one.judged.prospect.wanted_on for one in call.dosed]),
        last_safe=_last_safe(call),
        dropped=any(one.dropped for one in call.dosed),
        days_since_felt=days_since_felt(diary),
        days_since_water=diary.days_since(soaks[-1]) if soaks else None,
        rain_reached_mm=rain_reached_mm(judgement, call),
        reason=reason(judgement, call),
        plantings=tuple(_planting(call, one, until[one.judged.row]) for one in call.dosed),
    )


def _planting(call: BedCall, one: Dosed, until: date | None) -> PlantingCall:
    judged, flow = one.judged, call.supply.flow_l_per_min
    seconds = (
        None if flow is None or call.supply.means == "cans" else round(one.litres_each / flow * 60)
    )
    return PlantingCall(
        planting=judged.planting.name,
        kind=judged.planting.plant_class,
        count=judged.count,
        stage=judged.stage,
        stage_until=until,
        ball_fraction=judged.ball,
        bed_fraction=judged.soil,
        ball_state=judged.ball_state,
        bed_state=judged.bed_state,
        verdict=judged.verdict,
        litres_each=one.litres_each,
        seconds_each=seconds if one.litres_each > 0 else None,
        while_there=judged.while_there,
        dropped=one.dropped,
        usual=one.usual,
        bare_root=judged.planting.origin == "bare",
        share_due=judged.prospect.share_due,
        wanted_on=judged.prospect.wanted_on,
        last_safe=judged.prospect.last_safe,
    )


def _shown_ball(call: BedCall) -> Judged | None:
    """The planting with the lowest median in its ball."""
    with_ball = [one.judged for one in call.dosed if one.judged.ball]
    return min(with_ball, key=lambda one: one.ball.p50 if one.ball else 0.0, default=None)


def _bed_fraction(judgement: Judgement, call: BedCall) -> Band:
    """(sum of Sr + Su) / (sum of Cr + Cu) over the bed's cells, counts and all."""
    rows = [one.judged.row for one in call.dosed]
    shape = judgement.morning.sodden.shape
    stores, roots = judgement.morning.stores, judgement.morning.roots
    held = grid(stores.reach_store_l + stores.beyond_store_l, shape)[rows]
    capacity = grid(roots.reach_capacity_l + roots.beyond_capacity_l, shape)[rows]
    counts = np.array([[one.judged.count] for one in call.dosed])
    return band((counts * held).sum(axis=0) / (counts * capacity).sum(axis=0))


def _dose_kind(going: tuple[Dosed, ...]) -> DoseKind | None:
    """The most pressing kind among the doses of a bed."""
    kinds = [one.judged.dose_kind for one in going]
    return next((kind for kind in PRESSING if kind in kinds), None)


def _aim(going: tuple[Dosed, ...]) -> Aim | None:
    aims = {one.aim for one in going}
    if not aims:
        return None
    return aims.pop() if len(aims) == 1 else "ball_and_ring"


def _whole_cans(call: BedCall) -> int | None:
    """The same litres in cans, for a bed within a can's walk of water."""
    if not call.going or call.supply.means == "barrow":
        return None
    return math.ceil(call.litres / call.supply.can_l - 1e-9)


def _earliest(days: list[date | None]) -> date | None:
    return min((day for day in days if day), default=None)


def _last_safe(call: BedCall) -> date | None:
    """The earliest last safe morning among the plantings; None where one cannot wait, or none needs to be counted."""
    wanted = [one.judged.prospect for one in call.dosed if one.judged.due] or [
        one.judged.prospect for one in call.dosed
    ]
    if not all(one.can_wait for one in wanted):
        return None
    return _earliest([one.last_safe for one in wanted])
