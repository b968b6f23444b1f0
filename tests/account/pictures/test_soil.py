"""Darker when wetter; states are told apart without colour."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.account.pictures import soil
from soakbook.account.pictures.ink import EARTH, INK, luminance
from soakbook.account.pictures.soil import Band

BAND = Band(100.0, 136.0, 9)


def area(outline: np.ndarray) -> float:
    """Of an outline, by the shoelace rule."""
    x, y = outline.T
    return float(abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1))) / 2)


def share(fraction: float) -> float:
    """Share of a band's paper that its strokes cover, of soil that stays as wet all along."""
    strokes = soil.engraved(BAND, np.linspace(0, 50, 11), np.full(10, fraction))
    return sum(map(area, strokes)) / (50 * 36)


def test_wetter_is_darker_up_to_a_full_store() -> None:
    shares = [share(one) for one in (-0.1, 0.0, 0.25, 0.5, 0.75, 1.0, 1.3)]
    assert shares[0] == pytest.approx(shares[1]) == pytest.approx(soil.DRIEST_SHARE)
    assert shares[1:6] == sorted(set(shares[1:6]))
    assert shares[-1] == pytest.approx(shares[-2]) == pytest.approx(soil.WETTEST_SHARE)


def test_states_get_lighter_from_sodden_to_parched_in_grey() -> None:
    """Light of a piece 70 points long: what lies under ink and what is cut out of it again."""
    left, right = 0.0, 70.0
    whole = (right - left) * (BAND.bottom_pt - BAND.top_pt)

    def light(inked: float, ink: str) -> float:
        return 1 - inked * (1 - luminance(ink))

    white = sum(
        np.hypot(*(end - begin)) * soil.SLANT_PEN_PT
        for begin, end in soil.slants(BAND, left, right)
    )
    cracked = sum(
        float(np.hypot(*np.diff(one, axis=0).T).sum()) * 0.9
        for one in soil.cracks(BAND, left, right)
    )
    cut = sum(map(area, soil.cuts(BAND, left, right))) / whole
    found = [
        light(1 - white / whole, INK),
        light(share(1.0), EARTH),
        light(share(0.5), EARTH),
        light(share(0.3) * (1 - cut), EARTH),
        light(cracked / whole, INK),
    ]
    assert found == sorted(found)
    assert min(np.diff(found)) > 0.01
    assert 0.3 < cut < 0.6


@given(st.lists(st.one_of(st.floats(-0.2, 1.4), st.just(float("nan"))), min_size=1, max_size=60))
def test_strokes_follow_every_day_and_leave_out_days_without_soil(fractions: list[float]) -> None:
    edges = np.linspace(0, 10.0 * len(fractions), len(fractions) + 1)
    strokes = soil.engraved(BAND, edges, np.array(fractions))
    pitch = 4.0
    top_ones = [one for one in strokes if one[:, 1].mean() < BAND.top_pt + pitch]
    for day, fraction in enumerate(fractions):
        noon = 10.0 * day + 5
        here = [one for one in top_ones if one[:, 0].min() <= noon <= one[:, 0].max()]
        assert len(here) == (0 if np.isnan(fraction) else 1)
        if here:
            half = len(here[0]) // 2
            upper = np.interp(noon, here[0][:half, 0], here[0][:half, 1])
            thick = 2 * (BAND.top_pt + pitch / 2 - upper)
            right = float(soil.inked_share(np.array(fraction))) * pitch
            assert thick == pytest.approx(right, abs=1.01 * soil.UNSEEN_FRACTION * pitch)
    assert len(strokes) == BAND.strokes * len(top_ones)


@given(st.floats(0, 500), st.floats(0.3, 400))
def test_what_is_cut_in_stays_inside_and_is_never_missing(left: float, width: float) -> None:
    right = left + width
    for shapes in (soil.cuts, soil.slants, soil.cracks):
        found = shapes(BAND, left, right)
        assert found
        points = np.concatenate(found)
        assert points[:, 0].min() >= left - 1e-6
        assert points[:, 0].max() <= right + 1e-6
        assert points[:, 1].min() >= BAND.top_pt - 1e-6
        assert points[:, 1].max() <= BAND.bottom_pt + 1e-6
