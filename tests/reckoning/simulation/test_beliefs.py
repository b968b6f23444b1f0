"""From log multipliers to parameters, and what feels leave in the error of ET0."""

from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.garden.records import Bed, Planting
from soakbook.reckoning.simulation.beliefs import (
    FIELD_OF,
    OF_BED,
    OF_PLANTING,
    UNCERTAIN,
    Beliefs,
    Plain,
    believed,
    bounds,
    by_name,
    plain_rows,
    side_by_side,
)
from soakbook.reckoning.simulation.draws import DIMENSIONS, Floats
from soakbook.reckoning.simulation.plots import plain_of
from tests.reckoning.gardens import bed, roses

NAMES = OF_BED + OF_PLANTING
DAY = date(2031, 5, 10)


def plain(of_bed: Bed | None = None, planting: Planting | None = None) -> Plain:
    return plain_of(of_bed or bed(), planting or roses(), 1.0)


def logs(**given: float | list[float]) -> dict[str, Floats]:
    """The log multipliers named, the rest 0, (1, member)."""
    wide = max((np.size(one) for one in given.values()), default=1)
    every = {name: np.zeros((1, wide)) for name in NAMES}
    return every | {name: np.array(one, np.float64).reshape(1, -1) for name, one in given.items()}


def test_every_dimension_is_of_a_bed_or_of_a_planting() -> None:
    assert sorted(NAMES) == sorted(DIMENSIONS) == sorted(FIELD_OF)


def test_multipliers_of_one_leave_a_plot_as_it_was() -> None:
    one = plain()
    plot = believed(one, logs())
    for name, after, before in zip(plot._fields, plot, one.plot, strict=True):
        if name != "drainable_fraction":
            assert float(np.max(after)) == pytest.approx(float(before), rel=1e-15), name
    room = one.saturation - one.wilting_point - one.plot.available_fraction
    assert float(np.max(plot.drainable_fraction)) == pytest.approx(room)


@pytest.mark.parametrize("name", NAMES)
def test_a_multiplier_moves_its_own_parameter(name: str) -> None:
    """By a tenth up; nothing else that is uncertain but what hangs on it."""
    before, after = believed(plain(), logs()), believed(plain(), logs(**{name: np.log(1.1).item()}))
    moved = {
        field
        for field in UNCERTAIN
        if np.any(np.asarray(getattr(after, field)) != getattr(before, field))
    }
    hangs_on_it = {"aw": {"drainable_fraction"}, "p": {"ball_p"}}.get(name, set())
    assert moved == {FIELD_OF[name]} | hangs_on_it
    ratio = np.asarray(getattr(after, FIELD_OF[name])) / getattr(before, FIELD_OF[name])
    assert np.allclose(ratio, 1.1)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [("p", 0.2, 0.8), ("share", 0.05, 1.3), ("ball", 0.05, 0.40), ("exchange", 0.0, 0.3)],
)
def test_values_stay_within_their_bounds(name: str, low: float, high: float) -> None:
    """The bounds of section 2: outside them a multiplier changes nothing more."""
    plot = believed(plain(), logs(**{name: [-9.0, 9.0]}))
    assert np.asarray(getattr(plot, FIELD_OF[name]))[0] == pytest.approx([low, high], abs=1e-5)


def test_a_soil_keeps_room_above_what_a_member_thinks_it_holds() -> None:
    """SAT max(SAT, FC + 0.03); its wilting point is what it was."""
    one = plain()
    plot = believed(one, logs(aw=[0.0, 2.0]))
    full = np.asarray(plot.available_fraction + plot.drainable_fraction)[0]
    assert full[0] == pytest.approx(one.saturation - one.wilting_point)
    assert np.asarray(plot.drainable_fraction)[0, 1] == pytest.approx(0.03)


def test_a_log_on_its_bound_is_where_the_value_stops() -> None:
    lowest, highest = bounds(side_by_side([plain()]))
    for n, name in enumerate(NAMES):
        for edge, outward in ((lowest[0, n, 0], -1.0), (highest[0, n, 0], 1.0)):
            if np.isfinite(edge):
                values = believed(
                    plain(), logs(**{name: [edge, edge + outward, edge - 0.01 * outward]})
                )
                on, beyond, inside = np.asarray(getattr(values, FIELD_OF[name]))[0]
                assert beyond == pytest.approx(on)
                assert abs(inside - on) > 1e-4
    bounded = {name for n, name in enumerate(NAMES) if np.isfinite(highest[0, n, 0])}
    assert bounded == {"p", "share", "ball", "exchange"}


@pytest.mark.parametrize("share", [0.0, 0.02])
def test_a_plain_value_beyond_its_bounds_moves_no_multiplier(share: float) -> None:
    """A bed that gets no rain is reckoned with the least there is; nobody has learned so by a feel."""
    sheltered = plain(bed(rain_share=share))
    lowest, highest = bounds(side_by_side([sheltered]))
    assert np.all(lowest <= 0)
    assert np.all(highest >= 0)
    assert float(np.max(believed(sheltered, logs()).rain_share)) == 0.05


def test_plantings_side_by_side_are_each_their_own() -> None:
    two = [plain(), plain(bed(soil="sand"), roses(ball_volume_l=2.0))]
    together = side_by_side(two)
    every = {name: np.full((2, 3), 0.1) for name in NAMES}
    plot = believed(together, every)
    second = plain_rows(together, np.array([1]))
    assert np.asarray(second.plot.available_fraction).tolist() == [[two[1].plot.available_fraction]]
    for name in UNCERTAIN:
        alone = getattr(believed(two[1], logs(**{one: [0.1] * 3 for one in NAMES})), name)
        assert np.array_equal(np.asarray(getattr(plot, name))[1:], alone)


def test_logs_are_found_by_bed_and_planting() -> None:
    beliefs = Beliefs(
        np.arange(2 * 3 * 2.0).reshape(2, 3, 2), 100 + np.arange(3 * 5 * 2.0).reshape(3, 5, 2),
        np.zeros((2, 2)), (None, None),
    )  # fmt: skip
    beds = np.array([1, 0, 1])
    found = beliefs.logs(beds, slice(None))
    for n, name in enumerate(OF_BED):
        assert np.array_equal(found[name], beliefs.of_bed[beds, n])
    for n, name in enumerate(OF_PLANTING):
        assert np.array_equal(found[name], beliefs.of_planting[:, n])
    named = by_name(beliefs.of_bed[1], beliefs.of_planting[[0, 2]])
    assert np.array_equal(named["share"], found["share"][0])
    assert np.array_equal(named["kcb"], found["kcb"][[0, 2]])


def moved(*moved_on: date | None) -> Beliefs:
    count = len(moved_on)
    return Beliefs(np.zeros((count, 3, 2)), np.zeros((1, 5, 2)), np.ones((count, 2)), moved_on)


def test_what_a_feel_did_to_the_error_of_et0_fades_by_a_tenth_a_day() -> None:
    """With the memory of the error itself; each bed from its own evening."""
    beliefs = moved(DAY, DAY + timedelta(days=1), None)
    left = beliefs.et0_moved(DAY + timedelta(days=2))
    assert left is not None
    assert left[:, 0] == pytest.approx([0.81, 0.9, 0.0])
    assert moved(None, None).et0_moved(DAY) is None


def test_it_ends_with_the_year_as_the_error_does() -> None:
    eve = date(2031, 12, 30)
    beliefs = moved(eve)
    assert beliefs.et0_moved(eve + timedelta(days=1)) == pytest.approx(0.9)
    assert beliefs.et0_moved(eve + timedelta(days=2)) is None
