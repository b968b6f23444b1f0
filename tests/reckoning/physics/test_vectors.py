"""Worked numbers of the specification: 20 plantings over 30 days, every store and flow to 1e-9.

They were computed by an implementation whose step agreed with a second, independent one to 1e-11 L.
Stores run on from the first day's start, so that a slip in any equation would grow over the month.
"""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from soakbook.reckoning.physics.ledger import imbalance_mm
from soakbook.reckoning.physics.records import Flows, Ground, Hand, Plot, Sky, Stores
from soakbook.reckoning.physics.settling import settle
from soakbook.reckoning.physics.step import next_day

VECTORS = Path(__file__).parents[2] / "published" / "engine-vectors.json"
TOLERANCE = 1e-9
FLOWS_GIVEN = 10  # the ledger's eight, asked and intake

PARAMETERS = {  # ours -> the file's, where they differ
    "available_fraction": "available",
    "drainable_fraction": "drainable",
    "ball_volume_l": "ball_l",
    "ball_available_fraction": "ball_available",
    "root_mm_per_warm_day": "root_mm",
    "root_lag_days": "root_lag",
    "root_density_ratio": "density_ratio",
    "exchange_per_day": "exchange",
    "canopy_shade_fraction": "shade",
    "exposure_factor": "exposure",
}
GROUND = {"mulch_cover_fraction": "mulch_cover", "leaf_fraction": "leaf"}
STORES = {
    "mulch_store_mm": "mulch_mm",
    "bowl_skin_depletion_mm": "bowl_skin_mm",
    "open_skin_depletion_mm": "open_skin_mm",
    "ball_store_l": "ball_l",
    "reach_store_l": "reach_l",
    "beyond_store_l": "beyond_l",
}

Worked = dict[str, Any]
CASES: Worked = json.loads(VECTORS.read_text())
PLANTINGS: list[Worked] = CASES["plantings"]
SKIES = [Sky(**day) for day in CASES["days"]]


def column(plantings: list[Worked], group: str, name: str) -> Any:
    """One quantity: a number for one planting, else an array of shape (planting, 1)."""
    values = [planting[group][name] for planting in plantings]
    return values[0] if len(values) == 1 else np.array(values)[:, None]


def plot_of(plantings: list[Worked]) -> Plot:
    names = [PARAMETERS.get(name, name) for name in Plot._fields]
    return Plot(*[column(plantings, "parameters", name) for name in names])


def hand_of(plantings: list[Worked], day: int) -> Hand:
    given = [{"day": planting["hand"][day]} for planting in plantings]
    efficiency = column(plantings, "parameters", "efficiency")
    return Hand(
        soak_l=column(given, "day", "soak_l"),
        aim_fraction=column(plantings, "parameters", "aim"),
        soak_efficiency=efficiency,
        broadcast_l=column(given, "day", "broadcast_l"),
        broadcast_efficiency=efficiency,
    )


def check_month(plantings: list[Worked]) -> None:
    plot = plot_of(plantings)
    fixed = settle(plot)
    ground = Ground(
        *[column(plantings, "ground", GROUND.get(name, name)) for name in Ground._fields]
    )
    stores = Stores(
        *[column(plantings, "start", STORES.get(name, name)) for name in Stores._fields]
    )
    for day, sky in enumerate(SKIES):
        before = stores
        stores, flows = next_day(sky, hand_of(plantings, day), ground, plot, fixed, before)
        for found, key in ((stores, "stores"), (flows[:FLOWS_GIVEN], "flows")):
            expected = np.array([planting["days"][day][key] for planting in plantings])
            lanes = np.array([np.broadcast_to(value, (len(plantings), 1)) for value in found])
            assert np.abs(lanes[:, :, 0].T - expected).max() < TOLERANCE, (day, key)
        assert np.abs(imbalance_mm(plot.cell_m2, before, stores, flows)).max() < TOLERANCE


def test_the_file_names_what_we_compare() -> None:
    assert [STORES.get(name, name) for name in Stores._fields] == CASES["stores"]
    assert list(Flows._fields[:FLOWS_GIVEN]) == CASES["flows"]
    assert len(SKIES) == 30


@pytest.mark.parametrize("number", range(20))
def test_one_planting_in_plain_numbers(number: int) -> None:
    check_month([PLANTINGS[number]])


def test_twenty_plantings_side_by_side() -> None:
    assert len(PLANTINGS) == 20
    check_month(PLANTINGS)
