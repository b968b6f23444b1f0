"""What holds of any season of feels: the ledger closes with what they moved, every store keeps within bounds."""

from datetime import timedelta
from random import Random

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from soakbook.garden.pages import Pages
from soakbook.garden.records import FeltClass, Planting
from soakbook.reckoning.physics.ledger import held_l
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.simulation.beliefs import bounds
from soakbook.reckoning.simulation.lanes import grid
from soakbook.reckoning.simulation.run import Dawn, run
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    feel,
    pages,
    rain,
    roses,
    season,
    soak,
    weather,
)

DAYS = 18
MORNING = PLANTED + timedelta(days=DAYS)
CLASSES: list[FeltClass] = ["dust", "dry", "moist", "wet", "sour"]
SOILS = ("sand", "loamy sand", "loam", "clay loam", "clay", "unknown")
SIGNED = {
    "rain_l": 1, "soak_l": 1, "given_lost_l": -1, "transpired_l": -1, "soil_evaporated_l": -1,
    "mulch_evaporated_l": -1, "drained_l": -1, "run_off_l": -1,
}  # fmt: skip


@st.composite
def plantings(draw: st.DrawFn) -> list[Planting]:
    """One to four in two beds: pots of half a litre and up, dug balls, bare roots, planted within ten days."""
    found = []
    for n in range(draw(st.integers(1, 4))):
        litres = draw(st.sampled_from([0.5, 2.0, 10.0, 60.0]))
        wide = 2 * (litres / 2000 / np.pi) ** (1 / 3)
        origin = draw(st.sampled_from(["pot", "dug", "bare"]))
        cell = (
            draw(st.sampled_from([1.3, 3.0, 12.0])) * np.pi * wide**2 / 4
            if origin != "bare"
            else 0.5
        )
        found.append(
            roses(
                draw(st.sampled_from(["bed", "other"])), name=f"p{n}", origin=origin, cell_m2=cell,
                ball_volume_l=0.0 if origin == "bare" else litres,
                ball_diameter_m=0.0 if origin == "bare" else wide,
                canopy_start_m2=0.1 * cell, canopy_full_m2=cell, count=n + 1,
                planted_on=PLANTED + timedelta(days=draw(st.integers(0, 10))),
            )
        )  # fmt: skip
    return found


@st.composite
def gardens(draw: st.DrawFn) -> Pages:
    """Two beds with soaks, a gauge, and up to thirty feels at any hour, named or not, sure or not."""
    planted = draw(plantings())
    names = [None, *(one.uid for one in planted)]
    feels, soaks, rains = [], [], []
    for n in range(draw(st.integers(1, 30))):
        moment = at(
            PLANTED + timedelta(days=draw(st.integers(0, DAYS))), draw(st.integers(0, 23)), n
        )
        about = draw(st.sampled_from(names))
        key = about.split("/")[0] if about else draw(st.sampled_from(["bed", "other"]))
        felt = draw(st.tuples(*[st.sampled_from([None, *CLASSES])] * 2).filter(any))
        more = {"planting_uid": about, "unsure": draw(st.booleans()), "uid": f"feel {n}"}
        feels.append(feel(moment, key, ball=felt[0], bed=felt[1], **more))
    for n, litres in enumerate(draw(st.lists(st.floats(0.1, 200.0), max_size=8))):
        when = at(PLANTED + timedelta(days=2 * n), draw(st.integers(0, 23)))
        soaks.append(soak(when, litres, draw(st.sampled_from(["bed", "other"])), uid=f"soak {n}"))
    for n, fallen in enumerate(draw(st.lists(st.floats(0.0, 60.0), max_size=5))):
        day = PLANTED + timedelta(days=3 * n + 1)
        rains.append(rain(at(day, 9), fallen, at(day - timedelta(days=1), 9)))
    soils = draw(st.tuples(*[st.sampled_from(SOILS)] * 2))
    beds = [
        bed(key, soil=soil, area_m2=500.0)
        for key, soil in zip(("bed", "other"), soils, strict=True)
    ]
    return pages(
        planted, [*feels, *soaks, *rains], beds=beds, days=weather(et0_mm=draw(st.floats(0.0, 9.0)))
    )


class Account:
    """What each planting had when it came in, what has moved since, and what is held now; litres."""

    def __init__(self) -> None:
        self.began = np.zeros((0, 0))
        self.moved = np.zeros((0, 0))
        self.held = np.zeros((0, 0))

    def __call__(self, dawn: Dawn) -> None:
        """Book the step that ended at this dawn and the feels of the dawn."""
        shape = (dawn.size, dawn.season.members)
        cells = np.asarray(dawn.season.plot.cell_m2)[: dawn.size]
        held = grid(held_l(cells, dawn.stores), shape)
        corrected = np.zeros(shape) if dawn.corrected_l is None else dawn.corrected_l
        had = len(self.moved)
        if dawn.flows is not None:
            for name, sign in SIGNED.items():
                self.moved += sign * grid(getattr(dawn.flows, name), self.moved.shape)
        started = (held - corrected)[had:]
        self.began = np.concatenate([self.began.reshape(had, shape[1]), started])
        self.moved = np.concatenate([self.moved.reshape(had, shape[1]), np.zeros(started.shape)])
        self.moved += corrected
        self.held = held


@settings(max_examples=40)
@given(book=gardens(), members=st.sampled_from([1, 2, 9]))
def test_with_the_litres_that_feels_moved_the_seasons_ledger_closes(
    book: Pages, members: int
) -> None:
    """(46) over every season to 1e-9 mm, by planting and member; without them it does not."""
    laid_out, account = season(book, MORNING, members), Account()
    last = run(laid_out, watch=account)[-1]
    assert last.squared or not laid_out.touches or min(laid_out.touches) > MORNING
    for row, planting in enumerate(laid_out.plantings):
        gap = account.held[row] - account.began[row] - account.moved[row]
        cell = float(np.max(np.asarray(laid_out.plot.cell_m2)[row]))
        assert np.max(np.abs(gap)) / cell < 1e-9, planting.name


@settings(max_examples=40)
@given(book=gardens(), members=st.sampled_from([1, 2, 9]))
def test_no_feel_drives_a_store_or_a_belief_out_of_its_bounds(book: Pages, members: int) -> None:
    """Dust on sodden soil, sour on dry: nothing below nothing, no ball over its capacity, no soil over saturation."""

    def watch(dawn: Dawn) -> None:
        plot, fixed = dawn.season.parameters(slice(0, dawn.size))
        roots, stores = geometry(plot, fixed, dawn.stores.warm_days), dawn.stores
        for held, most in (
            (stores.ball_store_l, roots.ball_capacity_l),
            (stores.reach_store_l, roots.reach_saturation_l),
            (stores.beyond_store_l, roots.beyond_saturation_l),
        ):
            assert np.all(np.asarray(held) >= -1e-9)
            assert np.all(np.asarray(held) <= np.asarray(most) + 1e-9)

    last = run(season(book, MORNING, members), watch=watch)[-1]
    lowest, highest = bounds(last.season.plain)
    every = last.season.beliefs.logs(last.season.bed_index, slice(None))
    felt = {one.bed_uid for one in last.squared}
    for n, values in enumerate(every.values()):
        assert np.all(np.isfinite(values))
        for row, planting in enumerate(last.season.plantings):
            if planting.bed_uid in felt and n < 3:
                assert np.all(values[row] >= lowest[row, n] - 1e-12)
                assert np.all(values[row] <= highest[row, n] + 1e-12)


def _same(one: Dawn, other: Dawn) -> bool:
    """Stores and records alike, but for the limit of a day whose ET0 is not known yet."""
    records = [
        [(each[:6], each.sodden, each.innovation, each.change()) for each in dawn.squared]
        for dawn in (one, other)
    ]
    stores = zip(one.stores, other.stores, strict=True)
    return records[0] == records[1] and all(np.array_equal(a, b) for a, b in stores)


@settings(max_examples=25)
@given(book=gardens(), random=st.randoms(use_true_random=False))
def test_the_same_entries_in_any_order_give_the_same_season(book: Pages, random: Random) -> None:
    shuffled = list(book.entries)
    random.shuffle(shuffled)
    turned = book._replace(entries=tuple(shuffled))
    assert _same(*(run(season(each, MORNING, 5))[-1] for each in (book, turned)))


@settings(max_examples=25)
@given(book=gardens())
def test_a_season_may_be_split_at_any_morning(book: Pages) -> None:
    """Asked on every morning or on the last alone: what feels did to the days behind is the same."""
    at_dawn = {dawn.day: dawn for dawn in run(season(book, MORNING, 4), last=DAYS + 1)}
    middle = MORNING - timedelta(days=5)
    assert _same(run(season(book, middle, 4))[-1], at_dawn[middle])
