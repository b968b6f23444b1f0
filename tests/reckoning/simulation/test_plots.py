"""From what the book says of a bed and a planting to the numbers of the step: DEVELOPERS.md, Constants and spread."""

from math import exp, pi
from typing import Any

import numpy as np
import pytest

from soakbook.garden.records import Bed, Planting
from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.garden.tables.soils import SOILS
from soakbook.reckoning.physics.records import Plot
from soakbook.reckoning.physics.roots import canopy_m2
from soakbook.reckoning.physics.settling import settle
from soakbook.reckoning.physics.soil import soil_water
from soakbook.reckoning.simulation.draws import LOG_SD, log_multipliers
from soakbook.reckoning.simulation.plots import (
    drain_days_of,
    drains_slowly,
    ground_of,
)
from tests.reckoning.gardens import bed, plot_of, roses, stacked

MEMBERS = 200


def plot(of_bed: Bed | None = None, planting: Planting | None = None, members: int = 1) -> Plot:
    return plot_of(of_bed or bed(), planting or roses(), 1.0, members)


def one(value: object) -> float:
    """The plain run's value."""
    return float(np.ravel(np.asarray(value))[0])


def test_the_plain_run_has_the_defaults() -> None:
    """A rose from a 5 L pot of peat-free mix, 22 cm across, on loam in the open: the trade's tables."""
    expected = {
        "cell_m2": 1.0,
        "bed_depth_m": 0.35,
        "available_fraction": 0.143,
        "drainable_fraction": 0.459 - 0.280,
        "tew_mm": 21.1,
        "rew_mm": 9.0,
        "intake_mm_h": 15.0,
        "ponding_mm": 5.0,
        "drain_fraction": 1 - exp(-1.0),
        "ball_volume_l": 5.0,
        "ball_radius_m": 0.11,
        "ball_depth_m": 0.005 / (pi * 0.11**2),
        "ball_available_fraction": 0.165,
        "root_start_m": 0.0,
        "root_mm_per_warm_day": 2.5,
        "root_lag_days": 7.0,
        "root_density_ratio": 0.35,
        "draw_m": 0.04,
        "exchange_per_day": 0.05,
        "kcb": 0.70,
        "ball_p": 0.50,
        "bed_p": 0.50,
        "canopy_start_m2": 0.10,
        "canopy_full_m2": 0.40,
        "canopy_days": 5.6 * 12,
        "canopy_shade_fraction": 0.7,
        "exposure_factor": 1.0,
        "rain_share": 1.0,
        "bowl_m2": 2.5 * pi * 0.11**2,
    }
    found = {name: one(value) for name, value in plot()._asdict().items()}
    assert found == pytest.approx(expected, abs=1e-3, rel=2e-3)  # the tables' printed digits


def test_bare_root_has_no_ball_and_roots_12_cm_out() -> None:
    whips = roses(origin="bare", plant_class="whip", ball_volume_l=2.0, ball_diameter_m=0.2)
    found = plot(planting=whips)
    assert (found.ball_volume_l, found.ball_radius_m, found.ball_depth_m) == (0.0, 0.0, 0.25)
    assert (found.root_start_m, found.root_lag_days, found.bowl_m2) == (0.12, 14, 0.126)


@pytest.mark.parametrize(("origin", "lag"), [("pot", 7), ("dug", 21), ("bare", 14)])
def test_roots_wait_by_origin(origin: Any, lag: int) -> None:
    assert plot(planting=roses(origin=origin)).root_lag_days == lag


def test_a_tree_has_deeper_soil_unless_the_bed_says_otherwise() -> None:
    tree = roses(plant_class="tree")
    assert plot(planting=tree).bed_depth_m == 0.45
    assert plot(bed(bed_depth_m=0.25), tree).bed_depth_m == 0.25


@pytest.mark.parametrize(
    ("mix", "kept"), [("peat-based", 0.176), ("peat-free", 0.165), ("loam-based", 0.176)]
)
def test_a_pot_keeps_what_its_mix_keeps_in_the_ground(mix: str, kept: float) -> None:
    assert one(plot(planting=roses(mix=mix)).ball_available_fraction) == pytest.approx(kept)


def test_a_dug_ball_is_of_the_soil_it_was_dug_from() -> None:
    """Clay holds 0.123, loam 0.143 for plants, by Saxton and Rawls 2006."""
    dug = roses(origin="dug")
    assert one(plot(bed(soil="clay"), dug).ball_available_fraction) == pytest.approx(
        0.123, abs=6e-4
    )
    from_loam = dug._replace(dug_from_soil="loam")
    assert one(plot(bed(soil="clay"), from_loam).ball_available_fraction) == pytest.approx(
        0.143, abs=6e-4
    )


def test_stones_hold_nothing() -> None:
    found = plot(bed(stone_fraction=0.5))
    assert one(found.available_fraction) == pytest.approx(0.143 / 2, abs=3e-4)
    assert one(found.drainable_fraction) == pytest.approx(0.179 / 2, abs=5e-4)
    assert one(found.tew_mm) == pytest.approx(21.1 / 2, abs=0.03)


def test_readily_evaporable_water_is_at_most_four_fifths_of_all() -> None:
    found = plot(bed(soil="loam", stone_fraction=0.6))
    assert one(found.rew_mm) == pytest.approx(0.8 * one(found.tew_mm))


@pytest.mark.parametrize(("slope", "ponding_mm"), [(0.0, 5.0), (0.25, 2.5), (0.4, 1.0), (1.0, 1.0)])
def test_a_slope_ponds_less(slope: float, ponding_mm: float) -> None:
    assert plot(bed(slope_fraction=slope)).ponding_mm == pytest.approx(ponding_mm)


@pytest.mark.parametrize(
    ("place", "exposure", "share"),
    [
        ("open", 1.0, 1.0),
        ("south wall foot", 1.2, 0.45),
        ("north wall foot", 0.7, 0.6),
        ("windy bank", 1.15, 0.8),
        ("half shade", 0.8, 0.9),
        ("under a tree canopy", 0.55, 0.4),
        ("sheltered court", 0.8, 0.7),
        ("under eaves", 0.9, 0.1),
    ],
)
def test_a_place_dries_and_is_rained_on_as_its_row_says(
    place: str, exposure: float, share: float
) -> None:
    """By its row in `garden.tables.places`: common practice, no source."""
    found = plot(bed(place=place))
    assert (one(found.exposure_factor), one(found.rain_share)) == pytest.approx((exposure, share))


def test_what_was_measured_comes_before_the_row_of_the_place() -> None:
    found = plot(
        bed(place="south wall foot", exposure_factor=1.05, rain_share=0.0, intake_mm_h=33.0)
    )
    assert one(found.exposure_factor) == pytest.approx(1.05)
    assert one(found.rain_share) == 0.05  # a member's share stays above 0.05
    assert found.intake_mm_h == 33.0


@pytest.mark.parametrize(
    ("hole", "mm_h", "days"),
    [
        (None, None, 4.0),
        ("gone", None, 4.0),
        ("standing", None, 8.0),
        (None, 101.0, 0.3),
        (None, 100.0, 4.0),
        (None, 25.0, 4.0),
        (None, 24.0, 4.0),
    ],
)
def test_the_drain_hole_has_its_say_on_clay(hole: Any, mm_h: float | None, days: float) -> None:
    assert drain_days_of(bed(hole=hole, hole_mm_h=mm_h), SOILS["clay"]) == days


def test_a_slow_hole_makes_loam_slow() -> None:
    assert drain_days_of(bed(hole_mm_h=24.0), SOILS["loam"]) == 3.0
    assert drain_days_of(bed(hole_mm_h=25.0), SOILS["loam"]) == 1.0


def test_clays_guard_is_on_in_slow_soil_and_where_nobody_has_looked() -> None:
    assert drains_slowly(bed(soil="clay"))
    assert not drains_slowly(bed(soil="clay", hole_mm_h=150.0))
    assert not drains_slowly(bed(soil="loam"))
    assert drains_slowly(bed(soil="loam", hole="standing"))
    assert drains_slowly(bed(soil="unknown"))


@pytest.mark.parametrize("said", [{"hole": "gone"}, {"hole_mm_h": 60.0}])
def test_a_drain_hole_takes_the_guard_off_a_soil_nobody_has_named(said: dict[str, Any]) -> None:
    assert not drains_slowly(bed(soil="unknown", **said))


def test_a_jar_names_the_soil() -> None:
    """Sand 0.6, silt 0.3, clay 0.1 in the jar: a sandy loam, by its own grains."""
    jar = ground_of(bed(soil="clay", sand_fraction=0.6, clay_fraction=0.1))
    water = soil_water("sandy loam", 0.6, 0.1)
    assert jar.soil.name == "sandy loam"
    assert jar.water == water
    assert not jar.guessed
    assert not ground_of(bed(soil="unknown", sand_fraction=0.6, clay_fraction=0.1)).guessed


def test_unknown_soil_is_loam_with_twice_the_spread() -> None:
    """A lognormal squared has twice its log sd: the very draws of the known bed, squared."""
    known, unknown = plot(bed(), members=MEMBERS), plot(bed(soil="unknown"), members=MEMBERS)
    m = np.exp(log_multipliers("bed", ("aw",), MEMBERS)["aw"])
    capacity = one(known.available_fraction)
    assert np.allclose(known.available_fraction, m * capacity, rtol=1e-12)
    assert np.allclose(unknown.available_fraction, m**2 * capacity, rtol=1e-12)
    assert np.log(np.asarray(unknown.available_fraction)[1:]).std() == pytest.approx(0.40, rel=0.02)


def test_under_a_tree_the_doubt_about_drying_is_doubled() -> None:
    under, beside = plot(bed(place="under a tree canopy"), members=MEMBERS), plot(members=MEMBERS)
    assert np.allclose(
        np.asarray(under.exposure_factor) / 0.55, np.asarray(beside.exposure_factor) ** 2
    )


def test_a_members_soil_keeps_room_above_its_capacity() -> None:
    """FC = WP + m (FC - WP); SAT at least FC + 0.03; TEW and REW as they were."""
    found = plot(bed(soil="clay"), members=MEMBERS)
    capacity, drainable = np.asarray(found.available_fraction), np.asarray(found.drainable_fraction)
    assert drainable.min() == pytest.approx(0.03)
    roomy = drainable > 0.03 + 1e-12
    assert np.ptp((capacity + drainable)[roomy]) == pytest.approx(0.0, abs=1e-12)
    assert np.ndim(found.tew_mm) == np.ndim(found.rew_mm) == 0


def test_members_stay_within_their_bounds() -> None:
    wild = roses(plant_class="conifer", mix="peat-based")
    found = plot(bed(place="under eaves", rain_share=1.25), wild, members=2000)
    assert 0.2 <= np.min(found.ball_p) < np.max(found.ball_p) <= 0.8
    assert np.max(found.rain_share) == 1.3
    assert np.max(found.ball_available_fraction) == 0.40
    assert np.min(found.ball_available_fraction) >= 0.05
    assert np.max(found.exchange_per_day) == 0.3
    assert found.ball_p is found.bed_p  # one draw, shared


def test_a_bed_doubts_its_soil_and_place_once_for_all_its_plantings() -> None:
    first, second = (plot(planting=roses(name=name, uid=name), members=50) for name in "ab")
    for name in ("available_fraction", "exposure_factor", "rain_share"):
        assert np.array_equal(getattr(first, name), getattr(second, name))
    for name in (
        "kcb",
        "ball_p",
        "ball_available_fraction",
        "root_mm_per_warm_day",
        "exchange_per_day",
    ):
        assert np.all(getattr(first, name)[1:] != getattr(second, name)[1:])


def test_each_multiplier_moves_its_own_parameter() -> None:
    found = plot(members=MEMBERS)
    logs = log_multipliers("bed/roses", tuple(LOG_SD), MEMBERS)
    drawn = {name: np.exp(one) for name, one in logs.items()}
    assert np.allclose(found.kcb, 0.7 * drawn["kcb"])
    assert np.allclose(found.root_mm_per_warm_day, 2.5 * drawn["root"])
    assert np.allclose(found.ball_p, np.clip(0.5 * drawn["p"], 0.2, 0.8))


def test_a_canopy_grows_towards_its_own_width_and_stops_at_the_cell() -> None:
    """Half grown from 0.1 to 3.1 m2 it would be 1.6; the cell is 1.0, reached three tenths of the way."""
    wide = stacked([plot(planting=roses(canopy_start_m2=0.1, canopy_full_m2=3.1))], members=1)
    days = one(wide.canopy_days)
    grown = [one(canopy_m2(wide, settle(wide), share * days)) for share in (0.0, 0.1, 0.5, 1.0)]
    assert grown == pytest.approx([0.1, 0.4, 1.0, 1.0])


@pytest.mark.parametrize("kind", PLANT_CLASSES.values(), ids=lambda kind: kind.key)
def test_each_class_drinks_as_its_row(kind: Any) -> None:
    found = plot(planting=roses(plant_class=kind.key))
    assert (one(found.kcb), one(found.ball_p)) == pytest.approx((kind.kcb, kind.p))
    assert one(found.root_mm_per_warm_day) == pytest.approx(kind.root_mm_per_warm_day)


def test_an_entered_bowl_is_the_bowl() -> None:
    assert plot(planting=roses(bowl_m2=0.3)).bowl_m2 == 0.3


def test_plantings_are_stacked_one_below_another() -> None:
    first, second = plot(members=7), plot(planting=roses(name="b", uid="b"), members=7)
    rows = stacked([first, second], 7)
    assert {np.shape(field) for field in rows} == {(2, 7)}
    assert np.array_equal(np.asarray(rows.kcb), np.vstack([first.kcb, second.kcb]))
    assert np.all(np.asarray(rows.cell_m2) == 1.0)
