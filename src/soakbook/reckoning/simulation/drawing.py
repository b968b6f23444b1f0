"""What the members of a garden believe before anybody felt anything, and the parameters that follow."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.jars import Share
from soakbook.garden.records import Bed, Planting
from soakbook.reckoning.physics.records import Plot
from soakbook.reckoning.physics.settling import Fixed, settle
from soakbook.reckoning.simulation.beliefs import OF_BED, OF_PLANTING, Beliefs, Plain, believed
from soakbook.reckoning.simulation.lanes import full
from soakbook.reckoning.simulation.plots import drawn_of_bed, drawn_of_planting


def laid_out(plain: Plain, beliefs: Beliefs, bed_index: NDArray[np.intp]) -> tuple[Plot, Fixed]:
    """A garden's parameters as its members believe them.

    What members share is spread out all the same: numpy works through whole blocks a third faster than through
    rows that meet a column.
    """
    plot = believed(plain, beliefs.logs(bed_index, slice(None)))
    shape = (len(bed_index), beliefs.of_bed.shape[-1])
    whole = full(plot, shape)
    plot = Plot(*(np.ascontiguousarray(field) for field in whole))
    return plot, settle(plot)


def drawn_beliefs(
    beds: Sequence[Bed],
    shares: Sequence[Share | None],
    plantings: Sequence[Planting],
    members: int,
) -> Beliefs:
    """What the members believe before anybody felt anything."""
    of_bed = [drawn_of_bed(one, members, share) for one, share in zip(beds, shares, strict=True)]
    of_planting = [drawn_of_planting(one, members) for one in plantings]
    return Beliefs(
        of_bed=np.array([[logs[name] for name in OF_BED] for logs in of_bed]),
        of_planting=np.array([[logs[name] for name in OF_PLANTING] for logs in of_planting]),
        et0_moved_then=np.zeros((len(beds), members)),
        moved_on=(None,) * len(beds),
    )
