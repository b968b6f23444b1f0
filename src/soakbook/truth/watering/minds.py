"""What the members of some plantings believe, each planting alone in its bed: log multipliers by row."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.physics.records import Plot
from soakbook.reckoning.simulation.beliefs import (
    OF_BED,
    OF_PLANTING,
    Plain,
    believed,
    bounds,
    plain_rows,
    side_by_side,
)
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.plots import drawn_of_bed, drawn_of_planting, plain_of
from soakbook.truth.watering.trial import Trial


class Minds(NamedTuple):
    """Log multipliers and what they multiply."""

    plain: Plain  # (row, 1)
    of_bed: Floats  # (row, name of OF_BED, member)
    of_planting: Floats  # (row, name of OF_PLANTING, member)

    def plot(self) -> Plot:
        """The parameters as each member believes them, (row, member) where they differ."""
        logs = {name: self.of_bed[:, n] for n, name in enumerate(OF_BED)}
        logs |= {name: self.of_planting[:, n] for n, name in enumerate(OF_PLANTING)}
        return believed(self.plain, logs)

    def take(self, rows: NDArray[np.intp]) -> "Minds":
        """Some rows, or one row several times."""
        return Minds(plain_rows(self.plain, rows), self.of_bed[rows], self.of_planting[rows])

    def put(self, rows: NDArray[np.intp], of_bed: Floats, of_planting: Floats) -> "Minds":
        """The same with other multipliers in some rows."""
        beds, plantings = self.of_bed.copy(), self.of_planting.copy()
        beds[rows], plantings[rows] = of_bed, of_planting
        return Minds(self.plain, beds, plantings)

    def bounded(self) -> "Minds":
        """The same, multipliers held to where they still change a value."""
        lowest, highest = bounds(self.plain)
        split = len(OF_BED)
        return Minds(
            self.plain,
            np.clip(self.of_bed, lowest[:, :split], highest[:, :split]),
            np.clip(self.of_planting, lowest[:, split:], highest[:, split:]),
        )


def minds_of(trials: Sequence[Trial], members: int) -> Minds:
    """What is drawn for some plantings before a finger has been near them."""
    plains = [plain_of(one.bed, one.planting, float(one.planting.cell_m2 or 0)) for one in trials]
    of_bed = [_named(drawn_of_bed(one.bed, members), OF_BED) for one in trials]
    of_planting = [_named(drawn_of_planting(one.planting, members), OF_PLANTING) for one in trials]
    return Minds(side_by_side(plains), np.array(of_bed), np.array(of_planting))


def _named(logs: Mapping[str, Floats], names: Sequence[str]) -> list[Floats]:
    return [logs[name] for name in names]
