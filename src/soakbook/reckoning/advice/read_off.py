"""How the plantings of a garden stand on a morning, read off their members for all of them at once."""

from typing import NamedTuple

import numpy as np

from soakbook.reckoning.advice.due import BALL_LEADS_FROM
from soakbook.reckoning.advice.report import Band, Stage
from soakbook.reckoning.advice.stages import bare_of, stage_numbers, stages_of
from soakbook.reckoning.simulation.ahead import Standing
from soakbook.reckoning.simulation.bands import middle_of, ranks
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.run import Dawn


class Stood(NamedTuple):
    """How one planting stands: bands of its members, and what the middle one says."""

    ball: Band | None
    """None for bare roots."""
    bed: Band
    lead: Band
    ball_limit: float
    bed_limit: float
    lead_limit: float
    ball_leads: bool
    """More than half the drinking is asked of the ball."""
    sodden_share: float
    """Of the members."""
    stage: Stage


def read_off(dawn: Dawn, morning: Standing) -> tuple[Stood, ...]:
    """How every planting of a dawn stands, in the order of its rows."""
    plantings = dawn.season.plantings[: dawn.size]
    plot, fixed = dawn.season.parameters(slice(0, dawn.size))
    numbers = stage_numbers(bare_of(plantings), plot, fixed, np.asarray(morning.stores.warm_days))
    wet = morning.wetness
    balls, beds, leads = _bands(wet.ball), _bands(wet.bed), _bands(wet.lead)
    limits = [
        middle_of(limit).tolist() for limit in (wet.ball_limit, wet.bed_limit, wet.lead_limit)
    ]
    ball_shares, stages = middle_of(wet.ball_share), stages_of(numbers)
    sodden_shares = morning.sodden.mean(axis=-1)
    return tuple(
        Stood(
            ball=None if planting.origin == "bare" else balls[row],
            bed=beds[row],
            lead=leads[row],
            ball_limit=limits[0][row],
            bed_limit=limits[1][row],
            lead_limit=limits[2][row],
            ball_leads=bool(ball_shares[row] > BALL_LEADS_FROM),
            sodden_share=float(sodden_shares[row]),
            stage=stages[row],
        )
        for row, planting in enumerate(plantings)
    )


def band(values: Floats) -> Band:
    """Where eight of ten members lie, and the middle one; shape (member,)."""
    return _bands(values[np.newaxis, :])[0]


def _bands(values: Floats) -> list[Band]:
    # A store may stand a rounding below nothing.
    columns = (np.maximum(0.0, one).tolist() for one in ranks(values, (0.1, 0.5, 0.9)))
    return [Band(*one) for one in zip(*columns, strict=True)]
