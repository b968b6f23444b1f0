"""The garden run on from a dawn as if nobody came: what each evening would find."""

from datetime import timedelta
from typing import NamedTuple

import numpy as np

from soakbook.reckoning.physics.drinking import Thresholds, thresholds
from soakbook.reckoning.physics.intake import Received, moisten
from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.physics.roots import Geometry, geometry, warm_days_of
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.lanes import full, grid, rows_of
from soakbook.reckoning.simulation.run import Dawn, next_dawn
from soakbook.reckoning.simulation.sodden import sodden


class Wetness(NamedTuple):
    """How wet a garden stands, as the decisions read it; every field (planting, member)."""

    ball: Floats  # wb: ball store over capacity, 0 without a ball
    bed: Floats  # wr: reach store over capacity
    lead: Floats  # w: the leading store
    ball_share: Floats  # fb
    ball_limit: Floats  # 1 - pb: what the ball may not fall below
    bed_limit: Floats  # 1 - ps
    lead_limit: Floats  # fb (1 - pb) + (1 - fb)(1 - ps)


class Evening(NamedTuple):
    """One evening ahead, nobody having come."""

    stores: Stores
    wetness: Wetness


class Standing(NamedTuple):
    """The garden on a morning: stores with the water since 17:00 gone in, and how wet they are."""

    stores: Stores
    roots: Geometry
    wetness: Wetness
    sodden: Floats  # 1 where the cell is fuller than it can keep, else 0
    received: Received  # what the water since 17:00 did


def standing(dawn: Dawn) -> Standing:
    """The morning's stores: what fell or was given since 17:00 has gone in and the excess has drained, (17)-(26)."""
    season, rows = dawn.season, slice(0, dawn.size)
    plot, fixed = season.parameters(rows)
    sky, ground = season.sky(dawn.day, rows), season.ground(dawn.day, rows)
    stores, received, roots = moisten(
        sky, season.hand(dawn.day, rows), ground, plot, fixed, dawn.stores
    )
    shape = (dawn.size, season.members)
    stores = full(stores, shape)
    limits = _limits(dawn, rows)
    return Standing(
        stores=stores,
        roots=roots,
        wetness=wetness_of(stores, roots, roots, limits, shape),
        sodden=sodden(stores, roots),
        received=received,
    )


def evenings(dawn: Dawn, days: int) -> list[Evening]:
    """The next `days` evenings from the dawn on."""
    season, found = dawn.season, []
    rows = slice(0, dawn.size)
    plot, fixed = season.parameters(rows)
    shape = (dawn.size, season.members)
    roots = geometry(plot, fixed, dawn.stores.warm_days)
    for _ in range(days):
        limits = _limits(dawn, rows)
        dawn = next_dawn(dawn)
        stores = rows_of(dawn.stores, rows)
        grown = geometry(plot, fixed, stores.warm_days)
        found.append(Evening(stores, wetness_of(stores, grown, roots, limits, shape)))
        dawn, roots = dawn._replace(stores=stores), grown
    return found


def wetness_of(
    stores: Stores,
    holding: Geometry,
    drinking: Geometry,
    limits: Thresholds,
    shape: tuple[int, int],
) -> Wetness:
    """Stores against the capacities `holding`, weighed by the shares of `drinking`."""
    ball = stores.ball_store_l / np.maximum(holding.ball_capacity_l, 1e-12)
    bed = stores.reach_store_l / np.maximum(holding.reach_capacity_l, 1e-12)
    share = drinking.ball_share_fraction
    ball_limit = 1 - limits.ball_depletion_fraction
    bed_limit = 1 - limits.bed_depletion_fraction
    fields = (
        ball,
        bed,
        share * ball + (1 - share) * bed,
        share,
        ball_limit,
        bed_limit,
        share * ball_limit + (1 - share) * bed_limit,
    )
    return Wetness(*(grid(field, shape) for field in fields))


def evening_before(dawn: Dawn) -> Evening:
    """The evening that a dawn comes out of, as its feels have left it: thresholds and shares are of the day gone by.

    It is asked of dawns after the season's first; whoever starts at the dawn is in it as planted. What fell or was
    given since 17:00 is not in it yet: that is `standing`.
    """
    season, rows, yesterday = dawn.season, slice(0, dawn.size), dawn.day - timedelta(days=1)
    plot, fixed = season.parameters(rows)
    warm_days = dawn.stores.warm_days
    grown = warm_days_of(season.skies.on(yesterday).soil_warmth_c)
    drinking = geometry(plot, fixed, np.maximum(0.0, warm_days - grown))
    limits = _limits(dawn._replace(day=yesterday), rows)
    shape = (dawn.size, season.members)
    holding = geometry(plot, fixed, warm_days)
    return Evening(dawn.stores, wetness_of(dawn.stores, holding, drinking, limits, shape))


def _limits(dawn: Dawn, rows: slice) -> Thresholds:
    season = dawn.season
    plot, _ = season.parameters(rows)
    kcb = plot.kcb * season.ground(dawn.day, rows).leaf_fraction
    return thresholds(plot, kcb, season.et0_mm(dawn.day, rows) * plot.exposure_factor)
