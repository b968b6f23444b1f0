"""Lanes read off records of numbers, columns and whole grids alike."""

import numpy as np

from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.simulation.lanes import (
    full,
    grid,
    members_of,
    middle,
    plain,
    plain_columns,
    rows_of,
)

GRID = np.arange(15.0).reshape(3, 5)
COLUMN = np.array([[1.0], [2.0], [3.0]])
STORES = Stores(GRID, COLUMN, 7.0, GRID + 100, np.array([[9.0]]), GRID, COLUMN)


def test_rows_are_cut_and_single_numbers_stay() -> None:
    cut = rows_of(STORES, slice(1, 3))
    assert np.array_equal(cut.mulch_store_mm, GRID[1:3])
    assert np.array_equal(cut.bowl_skin_depletion_mm, COLUMN[1:3])
    assert cut.open_skin_depletion_mm == 7.0
    assert np.array_equal(cut.reach_store_l, [[9.0]])


def test_all_rows_are_the_record_itself() -> None:
    assert rows_of(STORES, slice(0, 3)) is STORES


def test_a_planting_is_read_in_all_members_in_the_plain_run_and_in_the_middle() -> None:
    assert members_of(GRID, 1).tolist() == [5, 6, 7, 8, 9]
    assert members_of(COLUMN, 2).tolist() == [3]
    assert members_of(7.0, 2).tolist() == [7]
    assert (plain(GRID, 1), middle(GRID, 1), plain(7.0, 2), middle(COLUMN, 2)) == (
        5.0,
        7.0,
        7.0,
        3.0,
    )


def test_plantings_in_the_plain_run_are_columns_of_single_lanes() -> None:
    one = plain_columns(STORES, slice(2, 3))
    assert all(np.shape(field) in ((), (1, 1)) for field in one)
    assert [float(np.max(field)) for field in one] == [10.0, 3.0, 7.0, 110.0, 9.0, 10.0, 3.0]
    two = plain_columns(STORES, slice(1, 3))
    assert {np.shape(field) for field in two} <= {(), (1, 1), (2, 1)}
    assert [float(np.ravel(field)[-1]) for field in two] == [float(np.max(field)) for field in one]


def test_spread_fields_have_every_lane() -> None:
    spread = full(STORES, (3, 5))
    assert {np.shape(field) for field in spread} == {(3, 5)}
    assert grid(GRID, (3, 5)) is GRID
    assert np.array_equal(grid(COLUMN, (3, 5))[:, 4], [1, 2, 3])
