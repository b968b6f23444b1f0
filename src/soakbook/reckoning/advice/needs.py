"""What all plantings of a morning lack: the dose's arrays laid out from supplies and diaries."""

from collections.abc import Mapping, Sequence

import numpy as np

from soakbook.garden.records import Uid
from soakbook.garden.tables.methods import METHODS
from soakbook.reckoning.advice.diary import Diary
from soakbook.reckoning.advice.dose import Delivery, Need, need_of
from soakbook.reckoning.advice.promised import Promised
from soakbook.reckoning.advice.read_off import Stood
from soakbook.reckoning.advice.supply import Supply
from soakbook.reckoning.simulation.ahead import Standing
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.watering import aim_fraction


def needs(
    season: Season,
    morning: Standing,
    stood: Sequence[Stood],
    supplies: Mapping[Uid, Supply],
    diaries: Mapping[Uid, Diary],
    promise: Promised | None,
) -> Need:
    """What the plantings lack, as each is watered and was felt, less rain to be counted on; beds by uid."""
    rows = slice(0, len(morning.sodden))
    aims, efficiencies, felt_short = [], [], []
    for row, planting in enumerate(season.plantings[rows]):
        aim, efficiency = delivery_of(season, row, supplies[planting.bed_uid])
        aims.append(aim)
        efficiencies.append(efficiency)
        # Of a leading bed the feel has moved what is reckoned; a floor of its own would count it twice.
        diary = diaries[planting.bed_uid]
        mid = diary.felt_dry_mid(planting, ball=True) if stood[row].ball_leads else None
        felt_short.append(0.0 if mid is None else 1.0 - mid)
    return need_of(
        *season.parameters(rows),
        morning,
        Delivery(_column(aims), _column(efficiencies)),
        _column(felt_short),
        0.0 if promise is None else promise.counted_mm[:, np.newaxis],
    )


def delivery_of(season: Season, row: int, supply: Supply) -> tuple[float, float]:
    """Share aimed at the ball and share that arrives, for one planting and its method."""
    bowl = plain(season.fixed.bowl_m2, row)
    aim = aim_fraction(season.plantings[row], supply.method, bowl)
    return aim, METHODS[supply.method].delivery_efficiency


def _column(values: Sequence[float]) -> Floats:
    return np.array(values, np.float64)[:, np.newaxis]
