"""What the members believe: a log multiplier for everything uncertain, and the parameters that follow.

A feel moves the log multipliers; what is drawn at the start stands in `draws`, what a feel does to them in
`squaring`. The plain parameters of a planting stand in `plots`.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from soakbook.garden.jars import LEAST_SHARE
from soakbook.reckoning.physics.records import Number, Plot
from soakbook.reckoning.simulation.draws import ET0_MEMORY, Floats
from soakbook.reckoning.simulation.lanes import Rows, taken

OF_BED = ("aw", "exposure", "share")
"""One draw a bed and member, shared by its plantings."""

OF_PLANTING = ("kcb", "p", "ball", "root", "exchange")

LEAST_ROOM_ABOVE_CAPACITY = 0.03

BOUNDS: Mapping[str, tuple[float, float]] = {
    "p": (0.2, 0.8),
    "share": (LEAST_SHARE, 1.3),
    "ball": (0.05, 0.40),
    "exchange": (0.0, 0.3),
}
"""What a member's own value stays within, whatever its multiplier."""

FIELD_OF: Mapping[str, str] = {
    "aw": "available_fraction",
    "exposure": "exposure_factor",
    "share": "rain_share",
    "kcb": "kcb",
    "p": "bed_p",
    "ball": "ball_available_fraction",
    "root": "root_mm_per_warm_day",
    "exchange": "exchange_per_day",
}
UNCERTAIN = (*FIELD_OF.values(), "drainable_fraction", "ball_p")
"""The fields of a plot that members believe different things of."""

Logs = Mapping[str, Floats]


class Plain(NamedTuple):
    """Parameters with every multiplier 1, and what bounds a member's soil."""

    plot: Plot
    wilting_point: Number
    saturation: Number


class Beliefs(NamedTuple):
    """The log multipliers of a garden, and how far feels have moved the error of its ET0."""

    of_bed: Floats  # (bed, name of OF_BED, member)
    of_planting: Floats  # (planting, name of OF_PLANTING, member)
    et0_moved_then: Floats  # (bed, member), on the bed's day of `moved_on`
    moved_on: tuple[date | None, ...]  # the last evening of each bed that a feel squared up

    def logs(self, beds: NDArray[np.intp], rows: Rows) -> dict[str, Floats]:
        """Log multipliers by name, each (planting, member), of the plantings `rows` in `beds`."""
        found = {name: self.of_bed[beds, n] for n, name in enumerate(OF_BED)}
        return found | {name: self.of_planting[rows, n] for n, name in enumerate(OF_PLANTING)}

    def et0_moved(self, day: date) -> Floats | None:
        """What is left on a day of the error of ET0 that feels brought, (bed, member); None when nothing was."""
        left = [_left(moved_on, day) for moved_on in self.moved_on]
        if not any(left):
            return None
        return np.array(left)[:, np.newaxis] * self.et0_moved_then


def believed(plain: Plain, logs: Logs) -> Plot:
    """The parameters as each member believes them.

    Parameters
    ----------
    plain : Plain
        Fields of shape (planting, 1), or numbers.
    logs : mapping of str to ndarray, shape (planting, member)
        A log multiplier for each of `OF_BED` and `OF_PLANTING`.

    Returns
    -------
    Plot
        What is uncertain has shape (planting, member); the rest is as it was.
    """
    plot = plain.plot
    available = plot.available_fraction * np.exp(logs["aw"])
    capacity = plain.wilting_point + available
    full = np.maximum(plain.saturation, capacity + LEAST_ROOM_ABOVE_CAPACITY)
    p = _within("p", plot.bed_p, logs)
    return plot._replace(
        available_fraction=available,
        drainable_fraction=full - capacity,
        ball_available_fraction=_within("ball", plot.ball_available_fraction, logs),
        root_mm_per_warm_day=plot.root_mm_per_warm_day * np.exp(logs["root"]),
        exchange_per_day=_within("exchange", plot.exchange_per_day, logs),
        kcb=plot.kcb * np.exp(logs["kcb"]),
        ball_p=p,
        bed_p=p,
        exposure_factor=plot.exposure_factor * np.exp(logs["exposure"]),
        rain_share=_within("share", plot.rain_share, logs),
    )


def bounds(plain: Plain) -> tuple[Floats, Floats]:
    """Lowest and highest log multipliers that still change a value: beyond, they could not come back.

    Each has shape (planting, name, 1), names in the order of `OF_BED` and then `OF_PLANTING`.
    """
    lowest, highest = [], []
    for name in OF_BED + OF_PLANTING:
        low, high = BOUNDS.get(name, (0.0, np.inf))
        value = np.maximum(getattr(plain.plot, FIELD_OF[name]), 1e-12)
        # A plain value that lies outside itself keeps its multiplier of 1.
        lowest.append(np.log(np.minimum(low / value, 1.0)) if low else np.full_like(value, -np.inf))
        highest.append(np.log(np.maximum(high / value, 1.0)))
    return np.stack(lowest, axis=1), np.stack(highest, axis=1)


def side_by_side(plains: Sequence[Plain]) -> Plain:
    """Many plantings in one record, every field (planting, 1)."""

    def column(values: Sequence[Number]) -> Floats:
        return np.array(values, np.float64)[:, np.newaxis]

    plot = Plot(*(column(field) for field in zip(*(one.plot for one in plains), strict=True)))
    return Plain(
        plot,
        column([one.wilting_point for one in plains]),
        column([one.saturation for one in plains]),
    )


def by_name(of_bed: Floats, of_planting: Floats) -> dict[str, Floats]:
    """Log multipliers by name: the bed's (name, member) and its plantings' (planting, name, member)."""
    logs = dict(zip(OF_BED, of_bed, strict=True))
    return logs | {name: of_planting[:, n] for n, name in enumerate(OF_PLANTING)}


def plain_rows(plain: Plain, rows: Rows) -> Plain:
    """The parameters of some plantings."""
    return Plain(
        taken(plain.plot, rows),
        np.asarray(plain.wilting_point)[rows],
        np.asarray(plain.saturation)[rows],
    )


def _left(moved_on: date | None, day: date) -> float:
    """How much of a day's error of ET0 is left on a later one: it is begun anew each 1 January."""
    if moved_on is None or moved_on.year != day.year:
        return 0.0
    memory: float = ET0_MEMORY ** (day - moved_on).days
    return memory


def _within(name: str, value: Number, logs: Logs) -> Floats:
    low, high = BOUNDS[name]
    return np.asarray(np.minimum(np.maximum(value * np.exp(logs[name]), low), high))
