"""Soaks as entered, shared over plantings and booked to the step that drinks them."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from math import pi
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np

from soakbook.garden.entries import Loss, Soak, When
from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import step_day
from soakbook.garden.records import HandMethod, Planting, Uid
from soakbook.garden.tables.causes import PARTED
from soakbook.garden.tables.methods import METHODS
from soakbook.reckoning.physics.records import Hand
from soakbook.reckoning.simulation.draws import given_factors

LEAST_SHARE_L = 0.5
SHARE_OF_BALL = 0.25


class Given(NamedTuple):
    """What one planting was given in one step, litres a plant at the nozzle.

    Efficiency and aim are means weighted by litres, which is exact: the step is linear in both.
    """

    soak_l: float = 0.0
    reached_l: float = 0.0
    aimed_l: float = 0.0
    broadcast_l: float = 0.0
    broadcast_reached_l: float = 0.0

    def plus(self, litres: float, method: HandMethod, aim_fraction: float) -> "Given":
        """With one soak more."""
        reached = litres * METHODS[method].delivery_efficiency
        if method == "broadcast":
            return self._replace(
                broadcast_l=self.broadcast_l + litres,
                broadcast_reached_l=self.broadcast_reached_l + reached,
            )
        return self._replace(
            soak_l=self.soak_l + litres,
            reached_l=self.reached_l + reached,
            aimed_l=self.aimed_l + reached * aim_fraction,
        )


def soak_step(happened_at: When, zone: ZoneInfo) -> date:
    """The step that drinks a soak: its day, or the next one's when it was given after 17:00."""
    return step_day(happened_at, zone) if isinstance(happened_at, datetime) else happened_at


def local_day(happened_at: When, zone: ZoneInfo) -> date:
    """The calendar day of a moment in the garden's zone."""
    return happened_at.astimezone(zone).date() if isinstance(happened_at, datetime) else happened_at


def living_count(planting: Planting, losses: Iterable[Loss], day: date, zone: ZoneInfo) -> int:
    """Plants of a planting that stand on the morning of a day, in whatever bed; before it is planted, none."""
    if day < planting.planted_on:
        return 0
    lost = sum(
        loss.count
        for loss in losses
        if loss.planting_uid == planting.uid and _gone_by(loss, day, zone)
    )
    return max(0, planting.count - lost)


def losses_by_bed(pages: Pages) -> Mapping[Uid, Sequence[Loss]]:
    """All losses by the bed of what was lost: a book of years has too many to go through for every soak."""
    bed_of = {planting.uid: planting.bed_uid for planting in pages.plantings}
    found: dict[Uid, list[Loss]] = defaultdict(list)
    for entry in pages.entries:
        if isinstance(entry, Loss) and entry.planting_uid in bed_of:
            found[bed_of[entry.planting_uid]].append(entry)
    return found


def share_weight_l(planting: Planting) -> float:
    """How much of an unnamed soak one plant of a planting draws beside its neighbours."""
    return planting.usual_dose_l or max(SHARE_OF_BALL * planting.ball_volume_l, LEAST_SHARE_L)


def aim_fraction(planting: Planting, method: HandMethod, bowl_m2: float) -> float:
    """Share of a soak that is aimed at the ball by this method; with a made bowl the ball's share of it."""
    fixed = METHODS[method].aim_fraction
    if fixed is not None and (method == "drip" or planting.bowl_m2 is None):
        return fixed
    ball_m2 = pi * (planting.ball_diameter_m / 2) ** 2
    return min(1.0, ball_m2 / bowl_m2)


def given_by_step(
    pages: Pages,
    plantings: Sequence[Planting],
    bowls_m2: Mapping[Uid, float],
    morning: date,
    since: date | None = None,
) -> Mapping[date, Mapping[Uid, Given]]:
    """All soaks of the book, or those of steps from `since` on, by step and planting.

    On the morning asked for, what was given after 17:00 too.
    """
    zone = ZoneInfo(pages.garden.timezone)
    losses = losses_by_bed(pages)
    planted: dict[Uid, tuple[Planting, ...]] = defaultdict(tuple)
    for planting in pages.plantings:
        planted[planting.bed_uid] += (planting,)
    of_bed = {uid: pages._replace(plantings=mine) for uid, mine in planted.items()}
    reckoned = {planting.uid for planting in plantings}
    given: dict[date, dict[Uid, Given]] = defaultdict(lambda: defaultdict(Given))
    for soak in pages.entries:
        if isinstance(soak, Soak):
            day = min(soak_step(soak.happened_at, zone), morning)
            if since is not None and day < since:
                continue
            uid = soak.bed_uid
            if uid not in of_bed:
                continue
            for planting, litres in soak_shares(soak, of_bed[uid], losses.get(uid, ()), zone):
                if planting.uid in reckoned:
                    aim = aim_fraction(planting, soak.method, bowls_m2[planting.uid])
                    of_day = given[day]
                    of_day[planting.uid] = of_day[planting.uid].plus(litres, soak.method, aim)
    return given


def soak_shares(
    soak: Soak, pages: Pages, losses: Iterable[Loss], zone: ZoneInfo
) -> list[tuple[Planting, float]]:
    """Litres a plant that each planting of the bed had of one soak.

    Notes
    -----
    Shared by count x (usual dose, else a quarter of the ball's litres, at least 0.5 L) unless a planting is
    named; never by that morning's advice.
    """
    losses = tuple(losses)
    day = local_day(soak.happened_at, zone)
    standing = [
        (planting, living_count(planting, losses, day, zone))
        for planting in pages.plantings
        if planting.bed_uid == soak.bed_uid and soak.planting_uid in (None, planting.uid)
    ]
    weight = sum(count * share_weight_l(planting) for planting, count in standing)
    if weight == 0:
        return []
    return [
        (planting, soak.litres * share_weight_l(planting) / weight)
        for planting, count in standing
        if count > 0
    ]


def _gone_by(loss: Loss, day: date, zone: ZoneInfo) -> bool:
    """Whether lost plants are no longer there on a morning: what died that day stood in it still."""
    lost_on = local_day(loss.happened_at, zone)
    return lost_on < day or (lost_on == day and loss.cause == PARTED)


def hand_of(
    given: Sequence[Given | None], plantings: Sequence[Planting], day: date, members: int
) -> Hand:
    """Litres of one step as arrays: what each member believes of each planting's soak."""
    soak = np.zeros((len(given), members))
    broadcast = np.zeros((len(given), members))
    aim, efficiency, thrown = (np.ones((len(given), 1)) for _ in range(3))
    for row, (one, planting) in enumerate(zip(given, plantings, strict=True)):
        if one is None:
            continue
        believed = given_factors(planting.uid, day, members)
        soak[row] = one.soak_l * believed
        broadcast[row] = one.broadcast_l * believed
        if one.soak_l > 0:
            efficiency[row] = one.reached_l / one.soak_l
            aim[row] = one.aimed_l / one.reached_l
        if one.broadcast_l > 0:
            thrown[row] = one.broadcast_reached_l / one.broadcast_l
    return Hand(soak, aim, efficiency, broadcast, thrown)
