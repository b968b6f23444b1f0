"""When soil is fuller than it can keep."""

import numpy as np

from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.physics.roots import Geometry
from soakbook.reckoning.simulation.draws import Floats

SODDEN_SHARE = 0.25  # of the room between capacity and saturation


def sodden(stores: Stores, roots: Geometry) -> Floats:
    """1 where a cell holds more than a quarter of what it could take above capacity, else 0, (planting, member).

    The whole cell is asked: the reach alone would be called sodden by the plant's own soak. common practice,
    no source.
    """
    capacity = roots.reach_capacity_l + roots.beyond_capacity_l
    room = roots.reach_saturation_l + roots.beyond_saturation_l - capacity
    held = stores.reach_store_l + stores.beyond_store_l
    return np.asarray(held > capacity + SODDEN_SHARE * room, np.float64)
