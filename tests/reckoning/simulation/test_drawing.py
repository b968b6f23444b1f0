"""What the members of a garden believe before anybody felt anything."""

from datetime import timedelta

import numpy as np
import pytest

from soakbook.reckoning.simulation.beliefs import OF_BED, OF_PLANTING, side_by_side
from soakbook.reckoning.simulation.drawing import drawn_beliefs, laid_out
from soakbook.reckoning.simulation.plots import drawn_of_bed, drawn_of_planting, plain_of
from tests.reckoning.gardens import PLANTED, bed, plot_of, roses

MEMBERS = 30
BEDS = [bed("bed"), bed("far", soil="clay", place="south wall foot")]
PLANTINGS = [roses(), roses("far"), roses(name="asters", ball_volume_l=2.0)]
INDEX = np.array([0, 1, 0])
NOTHING_CAUGHT = [None, None]


def test_beds_and_plantings_are_drawn_by_their_own_uids() -> None:
    found = drawn_beliefs(BEDS, NOTHING_CAUGHT, PLANTINGS, MEMBERS)
    assert found.of_bed.shape == (2, len(OF_BED), MEMBERS)
    assert found.of_planting.shape == (3, len(OF_PLANTING), MEMBERS)
    for number, one in enumerate(BEDS):
        logs = drawn_of_bed(one, MEMBERS, None)
        assert np.array_equal(found.of_bed[number], [logs[name] for name in OF_BED])
    for number, planting in enumerate(PLANTINGS):
        logs = drawn_of_planting(planting, MEMBERS)
        assert np.array_equal(found.of_planting[number], [logs[name] for name in OF_PLANTING])


def test_the_first_member_believes_what_is_plain_and_nobody_has_felt_anything() -> None:
    found = drawn_beliefs(BEDS, NOTHING_CAUGHT, PLANTINGS, MEMBERS)
    assert not found.of_bed[..., 0].any()
    assert not found.of_planting[..., 0].any()
    assert found.of_bed[..., 1:].std() > 0.05
    assert found.moved_on == (None, None)
    assert not found.et0_moved_then.any()
    assert found.et0_moved(PLANTED + timedelta(days=3)) is None


def test_a_bed_or_planting_more_changes_no_others_draw() -> None:
    few = drawn_beliefs(BEDS[1:], [None], PLANTINGS[1:2], MEMBERS)
    every = drawn_beliefs(BEDS, NOTHING_CAUGHT, PLANTINGS, MEMBERS)
    assert np.array_equal(few.of_bed[0], every.of_bed[1])
    assert np.array_equal(few.of_planting[0], every.of_planting[1])


def test_every_planting_is_laid_out_in_full_on_its_own_beds_draw() -> None:
    """(planting, member), whole in memory; each row as that planting alone in its bed."""
    cells = (1.0, 1.5, 0.4)
    plains = side_by_side(
        [
            plain_of(BEDS[where], one, cell, None)
            for where, one, cell in zip(INDEX, PLANTINGS, cells, strict=True)
        ]
    )
    plot, fixed = laid_out(plains, drawn_beliefs(BEDS, NOTHING_CAUGHT, PLANTINGS, MEMBERS), INDEX)
    for field in plot:
        assert np.shape(field) == (3, MEMBERS)
        assert np.asarray(field).flags["C_CONTIGUOUS"]
    assert np.shape(fixed.ball_capacity_l) == (3, MEMBERS)
    for row, (where, one, cell) in enumerate(zip(INDEX, PLANTINGS, cells, strict=True)):
        alone = plot_of(BEDS[where], one, cell, MEMBERS)
        for mine, its in zip(plot, alone, strict=True):
            assert np.asarray(mine)[row] == pytest.approx(np.broadcast_to(its, MEMBERS))
