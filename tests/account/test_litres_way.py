"""Litres' way against the ledger: a run of its own, whose flows are summed over living plants."""

import math
from collections import defaultdict
from datetime import date

import numpy as np
import pytest

from soakbook.account.litres_way import CAME, WENT, LitresWay, way_of
from soakbook.account.reviewed import Account
from soakbook.errors import InputError
from soakbook.reckoning.physics.ledger import held_l
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.lanes import grid
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import season_of
from soakbook.reckoning.simulation.watering import living_count, losses_by_bed
from tests.properties.followed import specimen
from tests.reckoning.gardens import ZONE

ASKED = date(2031, 11, 1)
FLOW_OF = {
    "rain_l": "rain_l",
    "given_l": "soak_l",
    "drunk_l": "transpired_l",
    "soil_evaporated_l": "soil_evaporated_l",
    "mulch_evaporated_l": "mulch_evaporated_l",
    "drained_l": "drained_l",
    "run_off_l": "run_off_l",
    "given_lost_l": "given_lost_l",
}


class Ledger:
    """What every dawn's flows come to, times the plants that stood on the morning of their day."""

    def __init__(self) -> None:
        self.book = specimen()
        self.losses = losses_by_bed(self.book)
        self.sums: dict[str, list[float]] = defaultdict(list)
        self.last: Dawn | None = None
        self.held = np.zeros(0)

    def __call__(self, dawn: Dawn) -> None:
        plot, _ = dawn.season.parameters(slice(0, dawn.size))
        held = grid(held_l(plot.cell_m2, dawn.stores), (dawn.size, dawn.season.members))[:, 0]
        before, there = self.last, len(self.held)
        for row, planting in enumerate(dawn.season.plantings[: dawn.size]):
            losses = self.losses.get(planting.bed_uid, ())
            now = living_count(planting, losses, dawn.day, ZONE)
            if row >= there:
                self.sums["held_first_l"].append(now * held[row])
                continue
            assert before is not None
            assert dawn.flows is not None
            then = living_count(planting, losses, before.day, ZONE)
            for name, flow in FLOW_OF.items():
                value = grid(getattr(dawn.flows, flow), (there, dawn.season.members))
                self.sums[name].append(then * value[row, 0])
            self.sums["gone_l"].append((then - now) * held[row])
            self.sums["squared_l"].append(then * dawn.corrected_l[row, 0])
            if dawn.day == ASKED:
                self.sums["held_last_l"].append(now * held[row])
        self.last, self.held = dawn, held


def test_every_arm_is_the_ledgers(reviewed_specimen: Account) -> None:
    season = season_of(known_on(specimen(), ASKED), ASKED, ahead_days=1)
    assert season is not None
    ledger = Ledger()
    run(season, watch=ledger)
    sums = {name: math.fsum(values) for name, values in ledger.sums.items()}
    way = reviewed_specimen.way()
    squared_l = sums.pop("squared_l")
    found = {**way.came, **way.went}
    for name, litres in sums.items():
        assert found[name] == pytest.approx(litres, abs=1e-6), name
    assert way.came["squared_up_l"] - way.went["squared_down_l"] == pytest.approx(squared_l)
    assert way.went["elsewhere_l"] == 0.0
    assert set(found) == {*sums, "squared_up_l", "squared_down_l", "elsewhere_l"}


def test_both_sides_come_to_the_same(reviewed_specimen: Account) -> None:
    ways = [reviewed_specimen.way(), *map(reviewed_specimen.way, reviewed_specimen.beds["bed_uid"])]
    for way in ways:
        assert (list(way.came), list(way.went)) == (list(CAME), list(WENT))
        assert math.fsum(way.came.values()) == pytest.approx(way.total_l)
        assert math.fsum(way.went.values()) == pytest.approx(way.total_l, abs=1e-6)
        for name, (low, high) in way.likely.items():
            assert 0 <= low <= high, name


def made(account: Account, given_l: float, evening_before_l: float = 0.0) -> LitresWay:
    return way_of(account.days, given_l, None, slice(None), evening_before_l)


def test_what_nothing_took_up_went_elsewhere(reviewed_specimen: Account) -> None:
    given_l = float(reviewed_specimen.days["given_l"].sum())
    assert made(reviewed_specimen, given_l + 50.0).went["elsewhere_l"] == pytest.approx(50.0)


def test_what_was_given_the_evening_before_was_held_at_the_start(
    reviewed_specimen: Account,
) -> None:
    given_l = float(reviewed_specimen.days["given_l"].sum())
    plain = made(reviewed_specimen, given_l)
    for way in (
        made(reviewed_specimen, given_l - 40.0, 40.0),
        made(reviewed_specimen, given_l - 40),
    ):
        assert way.came["held_first_l"] == pytest.approx(plain.came["held_first_l"] + 40.0)
        assert way.went["elsewhere_l"] == pytest.approx(0.0, abs=1e-9)
        assert way.total_l == pytest.approx(plain.total_l)


def test_days_that_are_torn_are_refused(reviewed_specimen: Account) -> None:
    """Without July it does not add up."""
    days = reviewed_specimen.days
    torn = days[days["day"].dt.month != 7]
    with pytest.raises(InputError, match="a frame of whole days"):
        way_of(torn, float(torn["given_l"].sum()), None, slice(None))
