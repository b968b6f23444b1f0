"""What of one bed's plantings no feel changes, worked out once for all feels of a season."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from soakbook.garden.jars import Share
from soakbook.garden.records import Bed
from soakbook.reckoning.physics.settling import Fixed
from soakbook.reckoning.simulation.beliefs import OF_BED, OF_PLANTING, Plain, bounds, plain_rows
from soakbook.reckoning.simulation.draws import LOG_SD, Floats
from soakbook.reckoning.simulation.lanes import Rows, rows_at, taken
from soakbook.reckoning.simulation.plots import times_the_doubt


class BedCut(NamedTuple):
    """Some plantings of one bed."""

    numbers: tuple[int, ...]
    rows: Rows
    """The same, as arrays are cut by them: one after the other where they lie so, which copies nothing."""
    plain: Plain
    fixed: Fixed
    lowest: Floats  # bounds of the log multipliers, (planting, name, 1)
    highest: Floats
    sds: Floats  # of the log multipliers as they were drawn, (name,)


def bed_cut_of(
    bed: Bed, numbers: Sequence[int], plain: Plain, fixed: Fixed, share: Share | None
) -> BedCut:
    """The cut of the plantings `numbers` of a bed out of a garden's; `share` is what jars told of its rain."""
    rows = rows_at(numbers)
    plains = plain_rows(plain, rows)
    times = times_the_doubt(bed, share)
    sds = np.array([LOG_SD[name] * times.get(name, 1.0) for name in OF_BED + OF_PLANTING])
    return BedCut(tuple(numbers), rows, plains, taken(fixed, rows), *bounds(plains), sds)
