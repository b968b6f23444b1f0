"""From judged plantings to doses, times and the calls of beds."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from soakbook.garden.records import Bed
from soakbook.reckoning.advice.dose import (
    floor_l,
    pours_of,
    rewet_doses,
    rewet_pour_l,
    rounded_l,
    water_in_l,
)
from soakbook.reckoning.advice.judging import Judged, Judgement
from soakbook.reckoning.advice.needs import delivery_of
from soakbook.reckoning.advice.read_off import band
from soakbook.reckoning.advice.report import Aim, Band, DoseKind, Verdict
from soakbook.reckoning.advice.supply import Supply, Work, with_cans, work_of
from soakbook.reckoning.simulation.lanes import middle, plain
from soakbook.reckoning.simulation.plots import ground_of

USUAL_BELOW_WETNESS = 0.7
SMALL_PLANT_CELL_M2 = 0.3
MANY_PLANTS = 20
SMALL_DOSE_L = 0.5
REWET_WAIT_MIN = 25.0


class Dosed(NamedTuple):
    """One judged planting with its dose."""

    judged: Judged
    needed_l: Band
    floor_l: float
    litres_each: float
    usual: bool
    pours: int
    wait_min: float
    aim: Aim
    dropped: bool = False

    @property
    def goes(self) -> bool:
        """Whether somebody is to give it this morning."""
        return self.litres_each > 0 and not self.dropped

    @property
    def litres(self) -> float:
        """Litres for all its plants."""
        return self.judged.count * self.litres_each


class BedCall(NamedTuple):
    """A bed's plantings dosed, and the way they are watered."""

    bed: Bed
    supply: Supply
    rose_on: bool
    dosed: tuple[Dosed, ...]

    @property
    def verdict(self) -> Verdict:
        """The first that holds: soak, held back, wait for the rain, leave, laid by."""
        verdicts = {one.judged.verdict for one in self.dosed}
        if "soak" in verdicts:
            return "soak"
        if any(one.judged.held and one.judged.due for one in self.dosed):
            return "held_back"
        if self._sodden_share() > 0.5:
            return "held_back"
        if any(one.judged.dose_kind == "re_wet" for one in self.dosed):
            return "held_back"
        if "rain" in verdicts:
            return "rain"
        return "laid_by" if verdicts == {"laid_by"} else "leave"

    @property
    def going(self) -> tuple[Dosed, ...]:
        """What is to be given this morning."""
        return tuple(one for one in self.dosed if one.goes)

    @property
    def whole(self) -> "BedCall":
        """The call with nothing dropped."""
        return self._replace(dosed=tuple(one._replace(dropped=False) for one in self.dosed))

    @property
    def litres(self) -> float:
        """Litres of what is to be given."""
        return sum(one.litres for one in self.going)

    @property
    def work(self) -> Work:
        """Its time and trips."""
        return work_of(self.supply, self.litres, sum(one.judged.count for one in self.going))

    def _sodden_share(self) -> float:
        """How much of the ground is fuller than it can keep, over plantings and members."""
        ground = [one.judged.count * one.judged.cell_m2 for one in self.dosed]
        shares = [one.judged.sodden_share for one in self.dosed]
        return sum(m2 * share for m2, share in zip(ground, shares, strict=True)) / sum(ground)

    def without(self, planting_uid: str) -> "BedCall":
        """The call with one planting dropped for want of time."""
        dosed = tuple(
            one._replace(dropped=True) if one.judged.planting.uid == planting_uid else one
            for one in self.dosed
        )
        return self._replace(dosed=dosed)


def bed_calls(judgement: Judgement) -> tuple[BedCall, ...]:
    """The calls of all beds with living plantings, in the book's order."""
    calls = []
    for bed in judgement.season.beds:
        mine = judgement.of_bed(bed)
        if mine:
            calls.append(_bed_call(judgement, bed, mine))
    return tuple(calls)


def dosed_as(judgement: Judgement, call: BedCall, one: Judged, kind: DoseKind) -> Dosed:
    """A planting of a bed with a dose of some kind, whatever its verdict."""
    return _dosed(judgement, one._replace(dose_kind=kind), call.supply)


def _bed_call(judgement: Judgement, bed: Bed, mine: Sequence[Judged]) -> BedCall:
    supply = judgement.supplies[bed.uid]
    rose_on = supply.means in ("hose", "cans") and _small_and_many(judgement, mine)
    if rose_on:
        supply = with_cans(supply)
    return BedCall(bed, supply, rose_on, tuple(_dosed(judgement, one, supply) for one in mine))


def _small_and_many(judgement: Judgement, mine: Sequence[Judged]) -> bool:
    """Many small plants close together that want little: a hose would give twice what they need."""
    wanted = [one for one in mine if one.verdict == "soak"]
    cells = judgement.season.plot.cell_m2
    return bool(wanted) and all(
        one.count >= MANY_PLANTS
        and plain(cells, one.row) <= SMALL_PLANT_CELL_M2
        and raw_dose(judgement, one)[0].p50 <= SMALL_DOSE_L
        for one in wanted
    )


def raw_dose(judgement: Judgement, one: Judged) -> tuple[Band, float]:
    """(42) at the nozzle, unrounded, and the floor it was held to."""
    diary = judgement.diaries[one.bed.uid]
    floor = floor_l(one.planting, one.stage, diary.hours_since_soak(one.planting))
    need = judgement.need
    litres = np.minimum(
        np.maximum(need.nozzle_l[one.row], floor), np.maximum(need.room_l[one.row], floor)
    )
    return band(litres), floor


def _dosed(judgement: Judgement, one: Judged, supply: Supply) -> Dosed:
    needed, floor = raw_dose(judgement, one)
    by_can = supply.means == "cans"
    usual = False
    litres = 0.0
    pours, wait = 1, 0.0
    if one.dose_kind == "re_wet":
        aim, efficiency = delivery_of(judgement.season, one.row, supply)
        short = middle(judgement.need.ball_l, one.row)
        pours, litres = rewet_doses(rewet_pour_l(one.planting, short, aim, efficiency))
        wait = REWET_WAIT_MIN
    elif one.dose_kind is not None:
        usual = (
            one.planting.usual_dose_l is not None
            and one.soil.p50 < USUAL_BELOW_WETNESS
            and one.due
            and one.dose_kind != "water_in"
        )
        wish = one.planting.usual_dose_l if usual else needed.p50
        litres = rounded_l(
            water_in_l(one.planting) if one.dose_kind == "water_in" else wish or 0.0, by_can
        )
        bowl = plain(judgement.season.fixed.bowl_m2, one.row)
        pours, wait = pours_of(one.bed, one.planting, bowl, litres, ground_of(one.bed).intake_mm_h)
    return Dosed(one, needed, floor, litres, usual, pours, wait, _aim(judgement, one))


def _aim(judgement: Judgement, one: Judged) -> Aim:
    """Where the water is to go: the ball alone while the soil round it holds, the bed once it leads."""
    if one.dose_kind in ("re_wet", "water_in"):
        return "ball"
    need = judgement.need
    if one.ball_leads:
        return "ball" if one.bed_state == "holding" else "ball_and_ring"
    round_it = middle(need.reach_l + need.ring_l, one.row)
    return "bed" if round_it > middle(need.ball_l, one.row) else "ball_and_ring"
