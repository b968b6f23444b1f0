"""The course of a stream: bands that join from the sides, run down together, and branch off. Pure geometry, in points.

Every band is as broad as its litres, measured upright where it comes in or leaves, across in the bend and level in the
trunk. So the trunk is at any height as broad as what runs in it.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

Side = Literal["left", "right", "through"]

TRUNK_PT = 150.0
"""Breadth of everything together. [pt]"""
BEND_PT = 22.0
"""Inner radius of a bend. [pt]"""
MARGIN_PT = 14.0
"""From the page's edge to where side branches end. [pt]"""
FALL_PT, SWAY_PT = 14.0, 2.0
"""How far a side branch falls on its way, and sways. [pt]"""
RUNS_ON_PT = 6.0
"""How far the lines along the water run out beyond its end. [pt]"""
THROUGH_PT = 44.0
"""Length of what comes from the top, and of what runs out at the foot. [pt]"""
WAIST_PT = 30.0
"""Height at which all of it runs in one bed. [pt]"""
THREAD_PT = 6.0
"""Between the lines that are drawn along the water. [pt]"""


class Page(NamedTuple):
    """Width of the page, and the height that the words of a branch take above it [pt]."""

    width_pt: float
    words_pt: float


class Flow(NamedTuple):
    """Litres [above 0] and what they are."""

    name: str
    litres: float


class Branch(NamedTuple):
    """One flow on the page.

    `outline` is its water, `banks` the two lines at its edges as far as they are the stream's own, `threads` lines
    along it, all points of (x, y). `words` is the outer end of a side branch's upper bank; of what goes through, the
    middle of its end.
    """

    flow: Flow
    side: Side
    width_pt: float
    outline: "Points"
    banks: "tuple[Points, Points]"
    threads: "list[Points]"
    words: tuple[float, float]


class Course(NamedTuple):
    """A whole stream: what joins, what branches off, where it is one, and the height of the sheet [pt]."""

    joining: list[Branch]
    leaving: list[Branch]
    waist_pt: float
    height_pt: float


def course(
    joining: Sequence[Flow], leaving: Sequence[Flow], page: Page, *, from_top: bool, to_foot: bool
) -> Course:
    """A stream's course down a page.

    Parameters
    ----------
    joining, leaving : sequence of Flow
        Their litres add up to the same.
    page : Page
        Where it runs.
    from_top, to_foot : bool
        Whether the first that joins comes straight from the top, and the last that leaves runs on to the foot;
        otherwise all come and go by the sides.
    """
    # Both halves are laid out downwards from the waist; what joins is the mirror image of something that leaves.
    upper = _half(joining, page, through=from_top)
    lower = _half(leaving[::-1], page, through=to_foot)
    waist = upper.depth
    joined = [_moved(one, waist, down=-1) for one in upper.branches]
    left = [_moved(one, waist, down=1) for one in lower.branches]
    return Course(joined, left[::-1], waist, upper.depth + lower.depth)


class _Half(NamedTuple):
    branches: list[Branch]
    depth: float


def _half(flows: Sequence[Flow], page: Page, *, through: bool) -> _Half:
    """The stream below its waist, y counted from there; the flow farthest down comes first and lies innermost."""
    scale = TRUNK_PT / sum(flow.litres for flow in flows)
    straight, at_sides = (flows[:1], flows[1:]) if through else (flows[:0], flows)
    on_left, on_right = at_sides[::2], at_sides[1::2]
    middle = sum(flow.litres for flow in straight) * scale
    begins = page.width_pt / 2 - TRUNK_PT / 2 + sum(flow.litres for flow in on_left) * scale
    left = _side(on_left, scale, page, edge=begins, out=-1)
    right = _side(on_right, scale, page, edge=begins + middle, out=1)
    lowest = max(float(one.outline[:, 1].max()) for one in (*left, *right)) if at_sides else 0.0
    turned_off = (_turns_off(left), _turns_off(right))
    if not straight:
        branches = [*_inner_bank_free(left, turned_off[1]), *_inner_bank_free(right, turned_off[0])]
        return _Half(_in_order(flows, branches), lowest + page.words_pt + 4)
    foot = max(lowest, WAIST_PT / 2) + THROUGH_PT
    inside = _through(straight[0], (begins, begins + middle), turned_off, foot)
    return _Half(_in_order(flows, [*left, *right, inside]), foot + page.words_pt + 4)


def _turns_off(side: list[Branch]) -> float:
    """How far down the innermost branch of a side begins to bend; a side without branches leaves its edge free."""
    return float(side[-1].banks[1][0, 1]) if side else 0.0


def _inner_bank_free(side: list[Branch], from_pt: float) -> list[Branch]:
    """A side whose innermost branch has nothing beside it once the other side has turned off."""
    if not side or _turns_off(side) <= from_pt:
        return side
    outer, inner = side[-1].banks
    return [*side[:-1], side[-1]._replace(banks=(outer, _from(from_pt, inner)))]


def _in_order(flows: Sequence[Flow], branches: list[Branch]) -> list[Branch]:
    placed = {one.flow.name: one for one in branches}
    return [placed[flow.name] for flow in flows]


def _through(
    flow: Flow, edges: tuple[float, float], free_from: tuple[float, float], foot: float
) -> Branch:
    """What runs straight down between two edges, each its own bank from where its side has turned off."""
    left, right = edges
    outline = np.array([(left, 0), (right, 0), (right, foot), (left, foot)])
    banks = (
        np.array([(left, free_from[0]), (left, foot)]),
        np.array([(right, free_from[1]), (right, foot)]),
    )
    threads = [np.array([(x, 0), (x, foot + RUNS_ON_PT)]) for x in _between(left, right)]
    middle = (left + right) / 2
    return Branch(flow, "through", right - left, outline, banks, threads, (middle, foot))


def _side(
    flows: Sequence[Flow], scale: float, page: Page, *, edge: float, out: int
) -> list[Branch]:
    """Branches of one side: `edge` is where the innermost lies, `out` -1 to the left and 1 to the right."""
    found = []
    outer = edge + out * sum(flow.litres for flow in flows) * scale
    free_from, bends_at = 0.0, WAIST_PT / 2
    for flow in reversed(flows):  # the outermost leaves first
        width = flow.litres * scale

        def bank(beyond: float, x: float = outer, bends: float = bends_at) -> "Points":
            return _bank((x - out * beyond, bends), BEND_PT + beyond, page, out)

        upper, lower = bank(0.0), bank(width)
        threads = [_from(0.0, bank(beyond)) for beyond in _between(0.0, width)]
        found.append(
            Branch(
                flow,
                "left" if out < 0 else "right",
                width,
                np.concatenate([_from(0.0, upper), _from(0.0, lower)[::-1]]),
                (_from(free_from, upper), lower),
                [np.concatenate([one, [one[-1] + (out * RUNS_ON_PT, 0)]]) for one in threads],
                (float(upper[-1, 0]), float(upper[-1, 1])),
            )
        )
        free_from, outer = bends_at, outer - out * width
        bends_at += width + page.words_pt
    return found


def _bank(begins: tuple[float, float], radius: float, page: Page, out: int) -> "Points":
    """A line along a side branch: round the bend, then falling and swaying a little to the page's edge."""
    x, y = begins
    turn = np.linspace(0, np.pi / 2, 25)
    middle = x + out * radius
    bend = np.column_stack([middle - out * radius * np.cos(turn), y + radius * np.sin(turn)])
    end = MARGIN_PT if out < 0 else page.width_pt - MARGIN_PT
    # All lines of a branch bend about one middle, so they fall together and keep their upright distance.
    gone = np.linspace(0, 1, 33)[1:]
    fall = FALL_PT * gone**1.5 + SWAY_PT * gone * np.sin(3 * np.pi * gone)
    along = np.column_stack([middle + (end - middle) * gone, y + radius + fall])
    return np.concatenate([bend, along])


def _from(top: float, bank: "Points") -> "Points":
    """A bank with the straight line that leads down to it."""
    return np.concatenate([[[bank[0, 0], top]], bank])


def _between(left: float, right: float) -> "NDArray[np.float64]":
    """Even places between two edges, none at the edges."""
    count = int((right - left) / THREAD_PT)
    return np.linspace(left, right, count + 2)[1:-1]


def _moved(branch: Branch, waist: float, *, down: int) -> Branch:
    """A branch of a half at its place on the page; its words stand above it, but under what runs out at the foot."""

    def turned(points: "Points") -> "Points":
        return points * (1, down) + (0, waist)

    first, second = turned(branch.banks[0]), turned(branch.banks[1])
    top = min(float(first[-1, 1]), float(second[-1, 1]))
    return branch._replace(
        outline=turned(branch.outline),
        banks=(first, second),
        threads=[turned(one) for one in branch.threads],
        words=(branch.words[0], top),
    )
