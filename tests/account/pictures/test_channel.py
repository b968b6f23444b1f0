"""The stream adds up: every branch is as broad as its litres, and the trunk as what runs in it."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.account.pictures import channel
from soakbook.account.pictures.channel import Branch, Course, Flow, Page, course

PAGE = Page(576.0, 46.0)
LITRES = st.lists(st.floats(0.01, 1e5), min_size=1, max_size=9)


def flows(litres: list[float]) -> list[Flow]:
    return [Flow(f"flow {number}", one) for number, one in enumerate(litres)]


def levels(branch: Branch) -> np.ndarray:
    """Where a branch's outline ends at the edge of the page, or at top or foot: the two corners farthest out."""
    x, y = branch.outline.T
    if branch.side == "through":
        return branch.outline[2:, 0]
    outer = x.min() if branch.side == "left" else x.max()
    found: np.ndarray = y[np.isclose(x, outer)]
    return found


def crossing(branch: Branch, y: float) -> tuple[float, float] | None:
    """Left and right edge of the part of a branch that runs down the trunk at a height."""
    trunk = (PAGE.width_pt - channel.TRUNK_PT) / 2
    outline = np.concatenate([branch.outline, branch.outline[:1]])
    found = []
    for (x0, y0), (x1, y1) in pairwise(outline):
        inside = trunk - 1e-6 <= x0 <= trunk + channel.TRUNK_PT + 1e-6
        if inside and x0 == x1 and min(y0, y1) <= y < max(y0, y1):
            found.append(float(x0))
    return (min(found), max(found)) if len(found) == 2 else None


def made(into: list[float], out: list[float], *, top: bool = True, foot: bool = True) -> Course:
    scale = sum(into) / sum(out)
    return course(
        flows(into), flows([one * scale for one in out]), PAGE, from_top=top, to_foot=foot
    )


@given(LITRES, LITRES, st.booleans(), st.booleans())
def test_every_branch_is_as_broad_as_its_litres(
    into: list[float], out: list[float], top: bool, foot: bool
) -> None:
    way = made(into, out, top=top, foot=foot)
    for branches in (way.joining, way.leaving):
        total = sum(one.flow.litres for one in branches)
        assert sum(one.width_pt for one in branches) == pytest.approx(channel.TRUNK_PT)
        for one in branches:
            right = channel.TRUNK_PT * one.flow.litres / total
            assert one.width_pt == pytest.approx(right)
            assert np.ptp(levels(one)) == pytest.approx(right, abs=1e-6)


@given(LITRES, LITRES, st.booleans(), st.booleans())
def test_at_the_waist_both_halves_fill_the_trunk_side_by_side(
    into: list[float], out: list[float], top: bool, foot: bool
) -> None:
    way = made(into, out, top=top, foot=foot)
    left = (PAGE.width_pt - channel.TRUNK_PT) / 2
    for branches, y in ((way.joining, way.waist_pt - 1.0), (way.leaving, way.waist_pt + 1.0)):
        edges = sorted(edge for one in branches if (edge := crossing(one, y)))
        assert len(edges) == len(branches)
        assert edges[0][0] == pytest.approx(left)
        assert edges[-1][1] == pytest.approx(left + channel.TRUNK_PT)
        assert [one for _, one in edges[:-1]] == pytest.approx([one for one, _ in edges[1:]])


def test_in_the_bend_a_branch_keeps_its_breadth() -> None:
    way = made([3.0, 5.0], [4.0, 2.0, 2.0])
    side = next(one for one in way.leaving if one.side == "left")
    outer, inner = side.banks
    bend = inner[:25]
    middle = np.array([bend[-1, 0], bend[0, 1]])
    far, near = (np.hypot(*(one - middle).T) for one in (bend, outer[1:26]))
    assert np.allclose(far - near, side.width_pt)


def test_words_have_room_above_their_branch() -> None:
    way = made([3.0, 5.0, 1.0, 2.0, 0.5], [4.0, 2.0, 2.0, 1.0, 0.1, 0.2, 3.0])
    for side in ("left", "right"):
        branches = [one for one in (*way.joining, *way.leaving) if one.side == side]
        ends = sorted((float(levels(one).min()), float(levels(one).max())) for one in branches)
        assert ends[0][0] >= PAGE.words_pt
        for (_, above), (below, _) in pairwise(ends):
            assert below - above >= PAGE.words_pt - 1e-6
    assert way.leaving[-1].words[1] + PAGE.words_pt <= way.height_pt


def test_what_is_named_first_and_last_goes_straight_when_asked() -> None:
    way = made([1.0, 2.0], [2.0, 1.0])
    assert [one.side for one in way.joining] == ["through", "left"]
    assert [one.side for one in way.leaving] == ["left", "through"]
    way = made([1.0], [2.0, 1.0], top=False, foot=False)
    assert [one.side for one in (*way.joining, *way.leaving)] == ["left", "right", "left"]
