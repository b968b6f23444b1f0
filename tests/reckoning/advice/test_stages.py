"""Where roots stand, and how a store is called."""

from dataclasses import dataclass
from datetime import timedelta
from math import pi
from typing import Any

import numpy as np
import pytest

from soakbook.garden.records import Planting
from soakbook.reckoning.advice.stages import (
    STAGES,
    coming_stage,
    stage_numbers,
    stages_of,
    state_of,
)
from soakbook.reckoning.simulation.season import Season
from tests.reckoning.gardens import PLANTED, bed, pages, roses, season, weather


def laid_out(
    planting: Planting, air_c: float = 16.0, soil: str = "loam", depth_m: float | None = None
) -> Season:
    days = weather(PLANTED - timedelta(days=20), 25, tmean_c=air_c)
    return season(pages([planting], beds=[bed(soil=soil, bed_depth_m=depth_m)], days=days), PLANTED)


def as_tall_as_wide(litres: float) -> float:
    return float((4 * litres / 1000 / pi) ** (1 / 3))


@dataclass(frozen=True)
class Case:
    """A planting of the rhythm's table, and the weeks to which it settles and knits at 12, 16 and 20 degC."""

    planting: Planting
    settling_to: tuple[str, str, str]
    knitting_to: tuple[str, str, str]
    soil: str = "loam"
    depth_m: float | None = None


POT = ("4.3", "2.6", "1.9")
CASES = {
    "shrub 10 L": Case(
        roses(ball_volume_l=10.0, ball_diameter_m=as_tall_as_wide(10.0), cell_m2=1.0), POT, ("16", "10", "7")
    ),
    "perennial 2 L": Case(
        roses(plant_class="perennial", ball_volume_l=2.0, ball_diameter_m=0.15, cell_m2=0.24),
        POT,
        ("9.6", "5.7", "4.1"),
    ),
    "dug rose 30 L": Case(
        roses(plant_class="dug_shrub", origin="dug", ball_volume_l=30.0, ball_diameter_m=0.45, cell_m2=1.2),
        ("8.3", "5.0", "3.6"),
        ("33", "20", "14"),
        "clay",
    ),
    "tree 45 L": Case(
        roses(
            plant_class="tree", ball_volume_l=45.0, ball_diameter_m=as_tall_as_wide(45.0), cell_m2=3.0,
            canopy_full_m2=1.2,
        ),
        POT,
        ("29", "17", "12"),
        depth_m=0.45,
    ),
}  # fmt: skip


def printed(days: int, like: str) -> str:
    """Weeks to as many digits as the page prints."""
    return f"{days / 7:.{len(like.partition('.')[2])}f}"


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize(("place", "air_c"), [(0, 12.0), (1, 16.0), (2, 20.0)])
def test_the_stages_that_follow(name: str, place: int, air_c: float) -> None:
    """By an earlier program of the same balance, to its printed digit; warm days are (39)'s (T - 6) / 12."""
    case = CASES[name]
    of = laid_out(case.planting, air_c, case.soil, case.depth_m)
    first = coming_stage(of, 0, 0.0)
    assert first is not None
    stage, settled_days = first
    assert (stage, printed(settled_days, case.settling_to[place])) == (
        "knitting",
        case.settling_to[place],
    )
    second = coming_stage(of, 0, settled_days * (air_c - 6) / 12)
    assert second is not None
    knit_days = settled_days + second[1]
    assert (second[0], printed(knit_days, case.knitting_to[place])) == (
        "rooting_out",
        case.knitting_to[place],
    )


def stage_at(planting: Planting, warm_days: float) -> str:
    of = laid_out(planting)
    (stage,) = stages_of(
        stage_numbers(planting.origin == "bare", of.plot, of.fixed, np.array([[warm_days]]))
    )
    return stage


WHIPS = roses(
    origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0, canopy_full_m2=0.08
)


@pytest.mark.parametrize(
    ("warm_days", "stage"),
    [
        (0.0, "settling"),
        (13.9, "settling"),
        (14.0, "knitting"),
        (53.9, "knitting"),
        (54.1, "rooting_out"),
    ],
)
def test_bare_roots_settle_through_their_lag_and_knit_ten_centimetres(
    warm_days: float, stage: str
) -> None:
    """14 warm days' lag, then 40 of 2.5 mm."""
    assert stage_at(WHIPS, warm_days) == stage


def test_on_its_own_feet_at_one_and_a_half_canopies_and_200_warm_days() -> None:
    """Full canopy 0.08 m2: radius 0.16 m, so 0.24 m of reach long before; then the clock decides."""
    assert stage_at(WHIPS, 199.9) == "rooting_out"
    assert stage_at(WHIPS, 200.0) == "own_feet"


def test_a_wide_canopy_keeps_a_plant_rooting_out() -> None:
    """1.5 x 0.50 m of canopy radius is more than the roots' 0.12 + 0.04 + 2.5 mm x 186."""
    wide = roses(origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0, canopy_full_m2=0.8,
                 canopy_start_m2=0.8, cell_m2=4.0)  # fmt: skip
    assert stage_at(wide, 200.0) == "rooting_out"
    assert stage_at(wide, 260.0) == "own_feet"


def test_roots_that_fill_their_cell_can_do_no_more() -> None:
    """A cell of twice the canopy, as it is by default, ends at 1.41 canopy radii: it must not bar the way for ever."""
    default = roses(cell_m2=None)
    assert stage_at(default, 199.0) == "rooting_out"
    assert stage_at(default, 260.0) == "own_feet"


def test_a_plant_on_its_own_feet_has_no_stage_before_it() -> None:
    of = laid_out(WHIPS)
    assert coming_stage(of, 0, 260.0) is None
    cold = laid_out(WHIPS, air_c=6.0)
    assert coming_stage(cold, 0, 0.0) is None


def test_the_middle_member_names_the_stage() -> None:
    assert stages_of(np.array([[0, 0, 2.0], [0, 2.0, 3.0]])) == ["settling", "rooting_out"]
    assert STAGES == ("settling", "knitting", "rooting_out", "own_feet")


@pytest.mark.parametrize(
    ("wetness", "limit", "state"),
    [
        (0.70, 0.40, "holding"),
        (0.69, 0.40, "drying"),
        (0.45, 0.40, "drying"),
        (0.44, 0.40, "wanting"),
        (0.20, 0.40, "wanting"),
        (0.19, 0.40, "parched"),
        (0.74, 0.70, "wanting"),
        (0.75, 0.70, "holding"),
        (0.35, 0.70, "wanting"),
        (0.34, 0.70, "parched"),
        (0.0, 0.40, "parched"),
        (1.2, 0.40, "holding"),
    ],
)
def test_states_by_the_morning_threshold(wetness: float, limit: float, state: Any) -> None:
    """Holding from max(0.70, threshold + 0.05), drying from + 0.05, wanting from half of it."""
    assert state_of(wetness, limit, sodden=False) == state


def test_sodden_comes_before_all_of_them() -> None:
    assert {state_of(wetness, 0.4, sodden=True) for wetness in (0.0, 0.5, 1.2)} == {"sodden"}
