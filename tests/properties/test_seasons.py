"""What holds of a whole season; each law in the form that holds."""

from datetime import timedelta
from math import pi
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting
from soakbook.garden.tables.balls import pot_diameter_m
from soakbook.reckoning.advice.rounds import morning_on
from soakbook.reckoning.physics.settling import settle
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season
from tests.properties.followed import (
    first_day,
    followed,
    last_day,
    measured,
    rained,
    trial_garden,
    undone_specimen,
)
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    judged_of,
    mulch,
    pages,
    roses,
    row_of,
    season,
    soak,
    weather,
)

SOILS = ("sand", "loamy sand", "sandy loam", "loam", "clay loam", "clay")
MORNING = PLANTED + timedelta(days=30)
RAIN = {PLANTED + timedelta(days=n): mm for n, mm in ((4, 3.0), (11, 17.0), (19, 42.0), (26, 6.0))}


def mixed_bed(count: int = 10) -> Pages:
    """A dressed bed of three plantings under showers, given 3 L, 0.6 L and 2 L a plant."""
    plantings = [
        roses(count=count),
        roses(name="asters", plant_class="perennial", leaf="dies_down", ball_volume_l=2.0, ball_diameter_m=0.15,
              cell_m2=0.3, count=3 * count),
        roses(name="whips", plant_class="whip", origin="bare", ball_volume_l=0.0, ball_diameter_m=0.0, count=count),
    ]  # fmt: skip
    given = [
        soak(at(PLANTED + timedelta(days=day), 8), each * one.count, planting_uid=one.uid)
        for day in range(2, 30, 4)
        for one, each in zip(plantings, (3.0, 0.6, 2.0), strict=True)
    ]
    dressing = mulch(PLANTED + timedelta(days=3), 5.0)
    beds = [bed(soil="clay loam", area_m2=400.0 * count)]
    return pages(plantings, [*given, dressing], beds=beds, days=weather(rain=RAIN))


def ended(book: Pages, members: int) -> tuple[Season, Dawn]:
    laid_out = season(book, MORNING, members)
    return laid_out, run(laid_out)[0]


def test_permuting_plantings_permutes_results() -> None:
    """The book's order decides nothing; nor do the uids' own order and the beds'."""
    book = mixed_bed()
    turned = book._replace(plantings=book.plantings[::-1], entries=book.entries[::-1])
    (first, one), (second, other) = ended(book, 6), ended(turned, 6)
    for planting in book.plantings:
        rows = row_of(first, planting.uid), row_of(second, planting.uid)
        for a, b in zip(one.stores, other.stores, strict=True):
            assert np.array_equal(np.asarray(a)[rows[0]], np.asarray(b)[rows[1]])


def test_permuting_members_permutes_results() -> None:
    """Parameters and daily errors with their members in another order: the same lanes in that order."""
    unsoaked = mixed_bed()._replace(
        entries=tuple(one for one in mixed_bed().entries if one.uid.startswith("mulch")),
    )
    laid_out, dawn = ended(unsoaked, 9)
    order = np.random.default_rng(5).permutation(9)

    def mixed(values: Any) -> Any:
        return np.asarray(values)[..., order]

    plot = type(laid_out.plot)(*(mixed(field) for field in laid_out.plot))
    errors, rows = laid_out.errors, range(laid_out.errors.days)
    errors = errors._replace(
        et0_factor={row: mixed(errors.et0_factor[row]) for row in rows},
        rain_factor={row: mixed(errors.rain_factor[row]) for row in rows},
        unsaid_rain_hours={row: mixed(errors.unsaid_rain_hours[row]) for row in rows},
    )
    turned = laid_out._replace(plot=plot, fixed=settle(plot), errors=errors, cuts={})
    for a, b in zip(run(turned)[0].stores, dawn.stores, strict=True):
        assert np.array_equal(a, mixed(b))


@pytest.mark.parametrize("count", [1, 7])
def test_like_plants_are_one_plant_so_many_times(count: int) -> None:
    """Ten roses stand as one does; their call is ten times its litres."""
    ten, few = ended(mixed_bed(10), 6)[1], ended(mixed_bed(count), 6)[1]
    for a, b in zip(ten.stores, few.stores, strict=True):
        assert np.allclose(a, b, rtol=1e-12, atol=1e-12)
    calls = [morning_on(mixed_bed(n), MORNING, 6).calls[0] for n in (10, count)]
    assert [one.litres_each for one in calls[0].dosed] == [
        one.litres_each for one in calls[1].dosed
    ]
    assert calls[0].litres * count == pytest.approx(calls[1].litres * 10)
    assert calls[0].litres > 0


def test_one_member_with_multipliers_of_one_is_member_0() -> None:
    alone, among = ended(mixed_bed(), 1)[1], ended(mixed_bed(), 30)[1]
    for a, b in zip(alone.stores, among.stores, strict=True):
        assert np.array_equal(np.asarray(a)[:, 0], np.asarray(b)[:, 0])


def test_without_air_or_rain_water_only_drains() -> None:
    """ET0 0: what is lost is what drained, from the planting day's soak on."""
    still = pages([roses()], [soak(at(PLANTED, 8), 900.0)], days=weather(et0_mm=0.0))
    laid_out = season(still, MORNING)
    drained, held = [], []

    def watch(dawn: Dawn) -> None:
        held.append(sum(float(np.max(store)) for store in dawn.stores[3:6]))
        if dawn.flows is not None:
            drained.append(float(np.max(dawn.flows.drained_l)))
            assert float(np.max(dawn.flows.transpired_l)) == 0.0
            assert float(np.max(dawn.flows.soil_evaporated_l)) == 0.0

    run(laid_out, watch=watch)
    assert held[1] - held[-1] == pytest.approx(sum(drained[1:]))
    assert sum(drained[1:]) > 1.0


@st.composite
def plantings(draw: st.DrawFn) -> Planting:
    """Pots of 0.5 to 100 L in cells that have room for a bowl of the usual size, 2.5 ball areas."""
    litres = draw(st.floats(0.5, 100.0))
    wide = pot_diameter_m(litres)
    cell = draw(st.floats(2.6, 12.0)) * pi * (wide / 2) ** 2
    full = cell * draw(st.floats(0.1, 1.0))
    return roses(
        ball_volume_l=litres,
        ball_diameter_m=wide,
        cell_m2=cell,
        canopy_full_m2=full,
        canopy_start_m2=full * draw(st.floats(0.1, 1.0)),
        count=1,
    )


SOAKS_IN_BALLS = st.floats(0.01, 1.5)


@settings(max_examples=40)
@given(
    planting=plantings(),
    soil=st.sampled_from(SOILS),
    days=st.integers(2, 15),
    et0_mm=st.floats(0.0, 9.0),
    soaks=st.tuples(SOAKS_IN_BALLS, SOAKS_IN_BALLS, SOAKS_IN_BALLS),
)
def test_a_larger_soak_never_leaves_less_nor_asks_for_more(
    planting: Planting, soil: str, days: int, et0_mm: float, soaks: tuple[float, float, float]
) -> None:
    """On a morning the season has reached, a soak behind it. The next dose grows by 0.1 L at most."""
    today = PLANTED + timedelta(days=days)
    first = soak(at(PLANTED + timedelta(days=1), 8), soaks[0] * planting.ball_volume_l)
    held, asked = [], []
    for balls in sorted(soaks[1:]):
        given = [first, soak(at(today, 7, 30), balls * planting.ball_volume_l)]
        days_alike = weather(et0_mm=et0_mm, rain=RAIN)
        book = pages([planting], given, beds=[bed(soil=soil)], days=days_alike)
        judgement = morning_on(book, today + timedelta(days=1), members=1).judgement
        assert judgement is not None
        stores = judgement.dawn.stores
        in_mulch = float(np.max(judgement.season.plot.cell_m2)) * float(
            np.max(stores.mulch_store_mm)
        )
        held.append(in_mulch + sum(float(np.max(one)) for one in stores[3:6]))
        asked.append(float(judgement.need.nozzle_l[0, 0]))
    assert held[1] >= held[0] - 1e-9
    assert asked[1] <= asked[0] + 0.1


DE_BILT = ("debilt_nl_daily_2014_2019.csv", 52.10, 2.0)
BEDFORD = ("uscrn_bedford_in_daily_2010_2017.csv", 38.89, 232.0)


def a_garden(name: str) -> Pages:
    """The specimen, or five plantings from shrub to tree on a measured year."""
    if name == "specimen":
        return undone_specimen()
    place, year = name.split()
    return trial_garden(measured(*{"de-bilt": DE_BILT, "bedford": BEDFORD}[place], int(year)))


@pytest.mark.parametrize("name", ["specimen", "de-bilt 2018", "de-bilt 2016", "bedford 2012"])
def test_a_fifth_more_rain_never_raises_a_seasons_litres(name: str) -> None:
    """The same seeds; one per cent of grace, for thresholds are crossed on other days."""
    book = a_garden(name)
    span = first_day(book), last_day(book)
    dry, wet = (followed(rained(book, factor), *span, members=20).total_l for factor in (1.0, 1.2))
    assert 1000 < wet <= 1.01 * dry


def test_a_soaked_morning_asks_for_less_than_a_dry_one() -> None:
    """The plain sense of it, on a whole morning: given as advised yesterday, due share falls."""
    dry = morning_on(pages([roses()]), MORNING, members=20)
    given = soak(at(MORNING - timedelta(days=1), 7), dry.calls[0].litres)
    soaked = morning_on(pages([roses()], [given]), MORNING, members=20)
    before, after = judged_of(dry), judged_of(soaked)
    assert after.lead.p50 > before.lead.p50
    assert after.prospect.share_due <= before.prospect.share_due
