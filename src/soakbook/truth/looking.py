"""Where a record is looked at: in the compared months if it can be, else wherever a soaking can be found."""

import numpy as np

from soakbook.reckoning.simulation.draws import Floats
from soakbook.truth.runs import Run
from soakbook.truth.scores import Mask
from soakbook.truth.wetness import LESSER_DRAINED_MM, LOOK_DRAINED_MM, Look, soaked_look

OVERFULL = "the class cannot hold what was read: soil unlike its name; trust the feels"


def look_of(run: Run, theta: Floats, compared: Mask, findings: list[str]) -> Look | None:
    """The first soaked look of a record: on a compared day, else any, else after a lesser soaking.

    Parameters
    ----------
    run : Run
        The plain run of the record.
    theta : ndarray, shape (day,)
        Measured.
    compared : ndarray of bool, shape (day,)
        Days that count.
    findings : list of str
        What should be known of the look is added.
    """
    settled = ~np.isnan(theta) & ~run.series.frozen & run.course.settled
    elsewhere = "outside the days compared, in which no reading follows a soaking"
    lesser = f"after a soaking that drained {LESSER_DRAINED_MM:g} mm only; the record has none of {LOOK_DRAINED_MM:g}"
    ways = (
        (compared, LOOK_DRAINED_MM, ""),
        (settled, LOOK_DRAINED_MM, elsewhere),
        (compared, LESSER_DRAINED_MM, lesser),
        (settled, LESSER_DRAINED_MM, f"outside the days compared, {lesser}"),
    )
    for among, drained_mm, words in ways:
        look = soaked_look(run.forcing, run.course, run.series.days, theta, among, drained_mm)
        if look is not None:
            if words:
                findings.append(f"the soaked look, {look.day}, lies {words}")
            return look
    findings.append("no soaked look: no reading two to four days after a soaking")
    return None


def overfull(run: Run, measured: float) -> bool:
    """Whether a reading is more than the record's soil holds when every pore is full."""
    return measured > float(np.asarray(run.zone.saturation))
