"""Soil in section as an engraver draws it: level strokes, the broader the wetter. Pure geometry, in points, y down.

Dry is white paper with cracks, wet nearly all ink. Between them the strokes of wanting soil are cut into dots, and
sodden soil is all ink with white strokes through it: five states that no colour has to tell apart.
"""

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from soakbook.account.pictures.shapes import box, line, runs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

DRIEST_SHARE, WETTEST_SHARE = 0.05, 0.84
"""Of the paper under ink where no available water is left, and where all of it is there."""
UNSEEN_FRACTION = 0.02
"""A change of wetness that a stroke does not follow: less than a tenth of a point."""
CUT_EVERY_PT, CUT_PT = 4.0, 1.8
"""Wanting: how often strokes are cut, and how broad a cut is. [pt]"""
SLANT_EVERY_PT, SLANT_PT, SLANT_PEN_PT = 7.0, 9.0, 0.9
"""Sodden: white strokes lie so far apart, lean so far, and are so broad: less white than a full store has. [pt]"""
CRACK_EVERY_PT, CRACK_LEAN_PT = 7.0, 1.4
"""Parched: a crack for so much of the line, and how far it wanders. [pt]"""


class Band(NamedTuple):
    """One store's band on the page [pt] and how many strokes it is drawn with."""

    top_pt: float
    bottom_pt: float
    strokes: int


def inked_share(fraction: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """Share of the paper under ink for a fraction of available water: more for more, up to a full store."""
    within = np.clip(fraction, 0.0, 1.0)
    return DRIEST_SHARE + (WETTEST_SHARE - DRIEST_SHARE) * within


def engraved(
    band: Band, edges_pt: "NDArray[np.float64]", fraction: "NDArray[np.float64]"
) -> "list[Points]":
    """The strokes of a band, each an outline of (point, 2).

    Parameters
    ----------
    band : Band
        Where they lie.
    edges_pt : array (day + 1,)
        Where days begin, and where the last ends [pt].
    fraction : array (day,)
        Of available water; NaN where there is no such soil, and nothing is drawn.
    """
    pitch = (band.bottom_pt - band.top_pt) / band.strokes
    middles = band.top_pt + pitch * (np.arange(band.strokes) + 0.5)
    strokes = []
    for begin, end in runs(np.isfinite(fraction)):
        noon = (edges_pt[begin:end] + edges_pt[begin + 1 : end + 1]) / 2
        x = np.concatenate([[edges_pt[begin]], noon, [edges_pt[end]]])
        inside = fraction[begin:end]
        half = inked_share(np.concatenate([inside[:1], inside, inside[-1:]])) * pitch / 2
        kept = _bends(x, half, UNSEEN_FRACTION * pitch / 2)
        x, half = x[kept], half[kept]
        strokes += [
            np.column_stack(
                [np.concatenate([x, x[::-1]]), np.concatenate([y - half, (y + half)[::-1]])]
            )
            for y in middles
        ]
    return strokes


def _bends(x: "NDArray[np.float64]", y: "NDArray[np.float64]", near: float) -> "NDArray[np.bool_]":
    """Which points are needed for a line that passes all others within `near` (Douglas and Peucker 1973)."""
    kept = np.zeros(len(x), bool)
    kept[[0, -1]] = True
    open_ends = [(0, len(x) - 1)]
    while open_ends:
        begin, end = open_ends.pop()
        if end - begin < 2:
            continue
        straight = np.interp(x[begin : end + 1], x[[begin, end]], y[[begin, end]])
        off = np.abs(y[begin : end + 1] - straight)
        farthest = begin + int(np.argmax(off))
        if off.max() > near:
            kept[farthest] = True
            open_ends += [(begin, farthest), (farthest, end)]
    return kept


def cuts(band: Band, left_pt: float, right_pt: float) -> "list[Points]":
    """White bars that cut the strokes of wanting soil into dots; at least one."""
    count = max(int((right_pt - left_pt) / CUT_EVERY_PT), 1)
    middles = left_pt + (right_pt - left_pt) * (np.arange(count) + 0.5) / count
    half = min(CUT_PT, (right_pt - left_pt) / 2) / 2
    return [box(x - half, band.top_pt, x + half, band.bottom_pt) for x in middles]


def slants(band: Band, left_pt: float, right_pt: float) -> "list[Points]":
    """White strokes that lean through sodden soil, cut off where it ends; at least one, however narrow it is."""
    top, bottom = band.top_pt, band.bottom_pt
    if right_pt - left_pt <= SLANT_PT:
        return [line((left_pt, bottom), (right_pt, top))]
    rise = (bottom - top) / SLANT_PT
    found = []
    for foot in np.arange(left_pt - SLANT_PT + SLANT_EVERY_PT / 2, right_pt, SLANT_EVERY_PT):
        begin, end = max(foot, left_pt), min(foot + SLANT_PT, right_pt)
        ends = ((begin, bottom - (begin - foot) * rise), (end, bottom - (end - foot) * rise))
        found.append(line(*ends))
    return found


def cracks(band: Band, left_pt: float, right_pt: float) -> "list[Points]":
    """Zigzags down from the top of parched soil, long and short by turns; at least one."""
    count = max(int((right_pt - left_pt) / CRACK_EVERY_PT), 1)
    width = (right_pt - left_pt) / count
    wander = min(CRACK_LEAN_PT, width / 4)
    found = []
    for number in range(count):
        x = left_pt + width * (number + 0.5)
        depth = (band.bottom_pt - band.top_pt) * (0.85, 0.5, 0.65)[number % 3]
        sides = wander * np.array([0, 1, -0.6, 0.8, -0.3])
        found.append(np.column_stack([x + sides, band.top_pt + depth * np.linspace(0, 1, 5)]))
    return found
