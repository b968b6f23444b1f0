"""The season run: it closes, it can be taken up on any morning, and plantings do not know of each other."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from soakbook.errors import LedgerError
from soakbook.garden.entries import AnyEntry, Soak
from soakbook.garden.pages import Pages
from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.physics.step import next_day
from soakbook.reckoning.simulation import run as running
from soakbook.reckoning.simulation.run import Dawn, blocks_of, next_dawn, run
from soakbook.reckoning.simulation.season import Season, season_at
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    loss,
    mulch,
    pages,
    rain,
    roses,
    row_of,
    season,
    soak,
    weather,
)

MORNING = PLANTED + timedelta(days=40)
ASTERS = roses(
    name="asters", plant_class="perennial", leaf="dies_down", count=30, ball_volume_l=2.0, ball_diameter_m=0.15,
    cell_m2=0.2, planted_on=PLANTED + timedelta(days=12),
)  # fmt: skip
WHIPS = roses(
    "hedge", name="whips", plant_class="whip", origin="bare", ball_volume_l=0.0, ball_diameter_m=0.0
)


def eventful() -> Pages:
    """Two beds, three plantings, rain, soaks, mulch and a loss."""
    day = PLANTED
    entries: list[AnyEntry] = [
        soak(at(day + timedelta(days=6), 8), 40.0),
        soak(at(day + timedelta(days=15), 19), 60.0, method="spray"),
        soak(at(day + timedelta(days=15), 8), 60.0, method="broadcast"),
        soak(day + timedelta(days=25), 30.0, "hedge", planting_uid="hedge/whips"),
        mulch(day + timedelta(days=10), 5.0),
        loss(at(day + timedelta(days=20), 18), 3),
        rain(
            at(day + timedelta(days=30), 6, 30),
            24.0,
            at(day + timedelta(days=29), 18),
            kind="burst",
        ),
    ]
    fallen = {day + timedelta(days=3): 9.0, day + timedelta(days=22): 31.0}
    return pages(
        [roses(), ASTERS, WHIPS],
        entries,
        beds=[bed(soil="clay"), bed("hedge")],
        days=weather(rain=fallen),
    )


def equal(one: Stores, other: Stores) -> bool:
    return all(np.array_equal(a, b) for a, b in zip(one, other, strict=True))


def row(dawn: Dawn, of: Season, uid: str) -> list[list[float]]:
    place = row_of(of, uid)
    return [np.asarray(field)[place].tolist() for field in dawn.stores]


def test_every_morning_is_told_and_the_last_ones_are_kept() -> None:
    told: list[date] = []
    kept = run(season(eventful(), MORNING), last=3, watch=lambda dawn: told.append(dawn.day))
    assert told == [PLANTED + timedelta(days=n) for n in range(41)]
    assert [dawn.day for dawn in kept] == [MORNING - timedelta(days=n) for n in (2, 1, 0)]


def test_on_the_planting_day_there_is_one_dawn_and_nothing_has_moved() -> None:
    book = eventful()._replace(weather=weather(PLANTED - timedelta(days=5)))
    kept = run(season(book, PLANTED), last=2)
    assert len(kept) == 1
    assert kept[0].flows is None
    assert kept[0].size == 2  # the asters come later


def test_plantings_take_part_from_their_own_day() -> None:
    sizes: dict[date, int] = {}
    run(season(eventful(), MORNING), watch=lambda dawn: sizes.update({dawn.day: dawn.size}))
    assert sizes[PLANTED + timedelta(days=11)] == 2
    assert sizes[PLANTED + timedelta(days=12)] == 3


@pytest.mark.parametrize("days", [1, 11, 12, 13, 29, 39])
def test_a_run_taken_up_on_any_morning_ends_the_same(days: int) -> None:
    laid_out = season(eventful(), MORNING, members=4)
    dawns: list[Dawn] = []
    run(laid_out, watch=dawns.append)
    dawn = dawns[days]
    while dawn.day < MORNING:
        dawn = next_dawn(dawn)
    assert equal(dawn.stores, dawns[-1].stores)


@pytest.mark.parametrize("days", [5, 12, 16, 30])
def test_what_comes_after_a_morning_does_not_change_it(days: int) -> None:
    """The season asked for on a morning equals that morning in the longer season, entries to come and all."""
    morning = PLANTED + timedelta(days=days)
    dawns: dict[date, Dawn] = {}
    run(season(eventful(), MORNING, members=4), watch=lambda dawn: dawns.update({dawn.day: dawn}))
    assert equal(run(season(eventful(), morning, members=4))[0].stores, dawns[morning].stores)


def run_of(book: Pages, members: int = 6) -> tuple[Season, Dawn]:
    laid_out = season(book, MORNING, members)
    return laid_out, run(laid_out)[0]


@pytest.mark.parametrize("planted_after_days", [-6, 0, 25])
@pytest.mark.parametrize("bed_key", ["bed", "new"])
def test_another_planting_changes_nobodys_last_bit(planted_after_days: int, bed_key: str) -> None:
    """Planted before the others, with them or later; beside them or in a bed of its own."""
    book = eventful()._replace(weather=weather(PLANTED - timedelta(days=10), 80))
    more = roses(
        bed_key, name="more", planted_on=PLANTED + timedelta(days=planted_after_days), cell_m2=0.5
    )
    named = tuple(
        replace(one, planting_uid=one.planting_uid or "bed/roses") if isinstance(one, Soak) else one
        for one in book.entries
    )
    book = book._replace(entries=named)
    beds = book.beds if bed_key == "bed" else (bed("new"), *book.beds)
    grown = book._replace(plantings=(more, *book.plantings), beds=beds)
    before, after = run_of(book), run_of(grown)
    for uid in ("bed/roses", "bed/asters", "hedge/whips"):
        assert row(before[1], before[0], uid) == row(after[1], after[0], uid)


def test_the_order_of_the_book_changes_nothing() -> None:
    book = eventful()
    turned = book._replace(plantings=book.plantings[::-1], beds=book.beds[::-1])
    assert equal(run_of(book)[1].stores, run_of(turned)[1].stores)


@pytest.mark.parametrize("lanes", [1, 6, 13])
def test_the_size_of_blocks_changes_nothing(lanes: int, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = run_of(eventful())[1].stores
    monkeypatch.setattr(running, "BLOCK_LANES", lanes)
    assert equal(run_of(eventful())[1].stores, whole)


def test_blocks_are_whole_plantings() -> None:
    assert list(blocks_of(5, 3000)) == [slice(0, 2), slice(2, 4), slice(4, 5)]
    assert list(blocks_of(2, 50000)) == [slice(0, 1), slice(1, 2)]
    assert list(blocks_of(0, 200)) == []


def corrupted(monkeypatch: pytest.MonkeyPatch, name: str, amount: float) -> None:
    """From 20 May on the named flow of the second planting is wrong in member 3."""
    honest = next_day

    def wrong(sky: Any, hand: Any, ground: Any, plot: Any, fixed: Any, stores: Any) -> Any:
        after, flows = honest(sky, hand, ground, plot, fixed, stores)
        shape = np.shape(stores.ball_store_l)
        if np.max(stores.warm_days) > 10:
            value = np.array(np.broadcast_to(getattr(flows, name), shape))
            value[1, 3] += amount
            flows = flows._replace(**{name: value})
        return after, flows

    monkeypatch.setattr(running, "next_day", wrong)


@pytest.mark.parametrize("name", ["rain_l", "transpired_l", "drained_l", "mulch_evaporated_l"])
@pytest.mark.parametrize("amount", [1e-6, float("nan")])
def test_a_wrong_flow_is_caught_and_named(
    name: str, amount: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    laid_out = season(eventful(), MORNING, members=4)
    corrupted(monkeypatch, name, amount)
    with pytest.raises(LedgerError) as caught:
        run(laid_out)
    error = caught.value
    assert error.planting == laid_out.plantings[1].name
    assert error.member == 3
    assert date.fromisoformat(error.day) > PLANTED
    assert {"imbalance_mm", name, "rain_l", "soak_l", "run_off_l"} <= set(error.terms)
    assert name in str(error)


def test_a_flow_outside_the_ledger_is_not_its_business(monkeypatch: pytest.MonkeyPatch) -> None:
    corrupted(monkeypatch, "asked_l", 1.0)
    run(season(eventful(), MORNING, members=4))


def test_the_ledger_of_a_season_closes_in_litres() -> None:
    """Summed over forty days: what came less what went is what the stores gained, plant by plant."""
    laid_out = season(eventful(), MORNING, members=4)
    dawns: list[Dawn] = []
    run(laid_out, watch=dawns.append)
    came = gone = np.zeros((2, 4))
    for dawn in dawns[1:]:
        flows = dawn.flows
        assert flows is not None
        came = came + (flows.rain_l + flows.soak_l)[:2]  # type: ignore[index]
        for name in ("given_lost_l", "transpired_l", "soil_evaporated_l", "mulch_evaporated_l", "drained_l",
                     "run_off_l"):  # fmt: skip
            gone = gone + getattr(flows, name)[:2]
    held = [
        np.asarray(laid_out.plot.cell_m2)[:2] * one.stores.mulch_store_mm[:2]  # type: ignore[index]
        + sum(np.asarray(store)[:2] for store in one.stores[3:6])
        for one in (dawns[0], dawns[-1])
    ]
    assert np.allclose(came - gone, held[1] - held[0], atol=1e-9)
    assert came.min() > 20.0


def test_a_season_moved_to_yesterday_knows_less_and_the_same_plantings() -> None:
    laid_out = season(eventful(), MORNING, members=2)
    yesterday = season_at(laid_out, eventful(), MORNING - timedelta(days=1))
    assert len(yesterday.skies.steps) == len(laid_out.skies.steps) - 1
    assert yesterday.plantings is laid_out.plantings
