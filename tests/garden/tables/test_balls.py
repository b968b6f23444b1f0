"""Pots, balls and mixes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.garden.tables.balls import (
    DEFAULT_POTS_L,
    DUG_BALLS_L,
    MIXES,
    POT_WIDTHS_M,
    dug_ball,
    mix_key,
    pot_diameter_m,
)
from soakbook.garden.tables.kinds import ROWS
from soakbook.garden.tables.lines import between


@pytest.mark.parametrize(
    ("pot_l", "width_cm"),
    [
        (0.5, 9),
        (1, 12),
        (2, 15),
        (3, 18),
        (4, 20),
        (5, 22),
        (7.5, 25),
        (10, 28),
        (12, 29),
        (20, 35),
        (45, 45),
        (2.5, 16.5),
        (8.75, 26.5),
        (32.5, 40),
    ],
)
def test_widths_of_pots(pot_l: float, width_cm: float) -> None:
    """Common practice, no source: the trade's pots, and half-way between two of them."""
    assert pot_diameter_m(pot_l) == pytest.approx(width_cm / 100)


@given(st.floats(0.01, 2000), st.floats(1.001, 10))
def test_a_larger_pot_is_wider(pot_l: float, times: float) -> None:
    assert pot_diameter_m(pot_l * times) > pot_diameter_m(pot_l)


@given(st.floats(0.05, 300))
def test_a_pot_is_never_absurdly_deep_or_flat(pot_l: float) -> None:
    """Depth of a cylinder of that width and volume, against the width."""
    width = pot_diameter_m(pot_l)
    depth = pot_l / 1000 / (3.141592653589793 * width**2 / 4)
    assert 0.5 < depth / width < 1.0


@pytest.mark.parametrize(
    ("width_cm", "litres"), [(20, 5), (30, 12), (40, 20), (45, 30), (25, 8.5), (42.5, 25)]
)
def test_dug_balls_by_spades(width_cm: float, litres: float) -> None:
    """Common practice, no source: a spade across, one and a half, two, and 45 cm."""
    assert dug_ball(width_cm / 100) == pytest.approx(litres)


def test_a_ball_dug_deep() -> None:
    assert dug_ball(0.45, deep=True) == pytest.approx(40)


@given(st.floats(0.05, 2), st.floats(1.001, 3))
def test_a_wider_ball_holds_more(width_m: float, times: float) -> None:
    assert dug_ball(width_m * times) > dug_ball(width_m)
    assert dug_ball(width_m, deep=True) > dug_ball(width_m)


@pytest.mark.parametrize(
    ("mix", "kept"), [("peat-based", 0.176), ("peat-free", 0.165), ("loam-based", 0.176)]
)
def test_what_a_mix_keeps_in_the_ground(mix: str, kept: float) -> None:
    assert MIXES[mix].in_ground_fraction == pytest.approx(kept, abs=5e-4)


def test_what_is_kept_is_within_what_was_measured() -> None:
    """Nelms & Spomer 1983: 30 to 85 per cent of it is lost, 15 to 70 kept (peat and bark)."""
    for name in ("peat-based", "peat-free"):
        assert 0.15 <= MIXES[name].kept_fraction <= 0.70


def test_words_for_a_mix() -> None:
    assert mix_key("bark-based") == "peat-free"
    assert mix_key("Peat based") == "peat-based"
    with pytest.raises(InputError):
        mix_key("mud")


def test_usual_pots_are_of_plants_that_are_known() -> None:
    assert set(DEFAULT_POTS_L) == set(ROWS) - {"whip"}


ROW_TABLES = [POT_WIDTHS_M, DUG_BALLS_L]


@pytest.mark.parametrize("rows", ROW_TABLES)
def test_tables_rise(rows: tuple[tuple[float, float], ...]) -> None:
    assert list(rows) == sorted(rows)
    assert [y for _, y in rows] == sorted(y for _, y in rows)


@given(st.sampled_from(ROW_TABLES), st.floats(0.01, 100), st.sampled_from([0.0, 1 / 3, 3.0]))
def test_between_rows_and_beyond_without_a_jump(
    rows: tuple[tuple[float, float], ...], x: float, power: float
) -> None:
    assert between(rows, x * (1 + 1e-9), power) == pytest.approx(between(rows, x, power), rel=1e-7)


def test_beyond_the_table_things_keep_their_shape() -> None:
    """A pot of eight times the litres is twice as wide."""
    assert pot_diameter_m(8 * 45) == pytest.approx(2 * 0.45)
    assert pot_diameter_m(0.5 / 8) == pytest.approx(0.09 / 2)
    assert dug_ball(0.90) == pytest.approx(8 * 30)
