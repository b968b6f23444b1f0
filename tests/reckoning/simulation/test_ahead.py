"""The morning as it stands and the evenings to come, nobody coming."""

from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.pages import Pages
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.simulation.ahead import (
    Evening,
    Standing,
    evening_before,
    evenings,
    standing,
)
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    mulch,
    pages,
    rain,
    roses,
    season,
    soak,
    weather,
)

MORNING = PLANTED + timedelta(days=8)
YESTERDAY = MORNING - timedelta(days=1)


def reckoned(book: Pages, members: int = 1) -> tuple[Season, Dawn, Standing]:
    laid_out = season(book, MORNING, members)
    dawn = run(laid_out)[0]
    return laid_out, dawn, standing(dawn)


def book(*entries: AnyEntry, soil: str = "loam") -> Pages:
    return pages([roses()], entries, beds=[bed(soil=soil)], days=weather(days=45))


def plain(value: object) -> float:
    return float(np.asarray(value)[0, 0])


def gained(dawn: Dawn, morning: Standing) -> float:
    """Litres that came to ball, reach and beyond since the evening, those that drained included."""
    held = [sum(plain(store) for store in stores[3:6]) for stores in (dawn.stores, morning.stores)]
    return held[1] - held[0] + plain(morning.received.drained_l)


def test_a_dry_morning_stands_as_the_evening_left_it() -> None:
    _, dawn, morning = reckoned(book(soil="sand"))
    assert all(np.array_equal(a, b) for a, b in zip(morning.stores, dawn.stores, strict=True))
    assert plain(morning.received.intake_mm) == 0.0


def test_rain_since_five_has_gone_in_before_anything_is_drunk() -> None:
    """6 mm on bare ground: 6 L more over a square metre, of which some drains on."""
    wet_evening = rain(at(MORNING, 6, 30), 6.0, at(YESTERDAY, 18), kind="gentle")
    _, dawn, morning = reckoned(book(wet_evening))
    assert gained(dawn, morning) == pytest.approx(6.0)
    assert plain(morning.received.ball_from_rain_l) == pytest.approx(6.0 * np.pi * 0.11**2)


def test_an_evening_soak_has_gone_in_and_is_in_no_step_before() -> None:
    _, dawn, morning = reckoned(book(soak(at(YESTERDAY, 19), 20.0)))
    _, dry, _ = reckoned(book())
    assert plain(dawn.stores.ball_store_l) == plain(dry.stores.ball_store_l)
    assert gained(dawn, morning) == pytest.approx(2.0 * 0.9)


def test_the_leading_store_is_weighed_by_the_balls_share() -> None:
    _, _, morning = reckoned(book(), members=8)
    wet, roots = morning.wetness, morning.roots
    assert np.allclose(wet.ball, morning.stores.ball_store_l / np.asarray(roots.ball_capacity_l))
    assert np.allclose(wet.bed, morning.stores.reach_store_l / np.asarray(roots.reach_capacity_l))
    assert np.allclose(wet.lead, wet.ball_share * wet.ball + (1 - wet.ball_share) * wet.bed)
    limits = wet.ball_share * wet.ball_limit + (1 - wet.ball_share) * wet.bed_limit
    assert np.allclose(wet.lead_limit, limits)


def test_todays_threshold_is_that_of_the_last_ten_days_air() -> None:
    """(33): p = 0.5 + 0.04 (5 - 0.7 x 4) = 0.588, so the limit is 0.412; ball and bed have one p."""
    _, _, morning = reckoned(book())
    assert plain(morning.wetness.ball_limit) == pytest.approx(0.412)
    assert plain(morning.wetness.bed_limit) == pytest.approx(0.412)


@pytest.mark.parametrize(("litres", "is_sodden"), [(0.0, 0.0), (400.0, 0.0), (450.0, 1.0)])
def test_sodden_is_a_quarter_of_the_room_above_capacity(litres: float, is_sodden: float) -> None:
    """Of reach and beyond together: 40 L a rose fill 0.22 of that room in clay, 45 L 0.35."""
    given = [soak(at(YESTERDAY, 19), litres)] if litres else []
    _, _, morning = reckoned(book(*given, soil="clay"))
    assert plain(morning.sodden) == is_sodden
    roots, stores = morning.roots, morning.stores
    held = plain(stores.reach_store_l) + plain(stores.beyond_store_l)
    capacity = plain(roots.reach_capacity_l) + plain(roots.beyond_capacity_l)
    room = plain(roots.reach_saturation_l) + plain(roots.beyond_saturation_l) - capacity
    assert (held > capacity + 0.25 * room) == bool(is_sodden)


def test_a_bare_root_has_an_empty_ball_and_the_bed_leads() -> None:
    whips = roses(origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0)
    _, _, morning = reckoned(pages([whips]))
    wet = morning.wetness
    assert (plain(wet.ball), plain(wet.ball_share)) == (0.0, 0.0)
    assert plain(wet.lead) == plain(wet.bed)


def ahead(of: Pages, days: int, members: int = 1) -> tuple[Season, list[Evening]]:
    laid_out, dawn, _ = reckoned(of, members)
    return laid_out, evenings(dawn, days)


def test_the_evenings_ahead_are_the_season_run_on() -> None:
    """With weather that turned out like the ten days before, what was foreseen is what came."""
    _, foreseen = ahead(book(), 6, members=5)
    for n, evening in enumerate(foreseen, 1):
        came = run(season(book(), MORNING + timedelta(days=n), 5))[0]
        assert all(
            np.allclose(a, b, rtol=1e-12) for a, b in zip(evening.stores, came.stores, strict=True)
        )


def test_an_evening_is_weighed_by_the_day_just_run_against_the_nights_capacities() -> None:
    """(40): wb, wr against the capacities after growth; fb, pb, ps those of the day."""
    laid_out, dawn, morning = reckoned(book())
    first = evenings(dawn, 1)[0]
    grown = geometry(laid_out.plot, laid_out.fixed, first.stores.warm_days)
    assert plain(first.wetness.bed) == pytest.approx(
        plain(first.stores.reach_store_l) / plain(grown.reach_capacity_l)
    )
    assert plain(first.wetness.ball_share) == plain(morning.wetness.ball_share)
    assert plain(grown.ball_share_fraction) < plain(first.wetness.ball_share)


def test_only_the_mornings_own_rain_falls_ahead() -> None:
    wet_evening = rain(at(MORNING, 6, 30), 6.0, at(YESTERDAY, 18), kind="gentle")
    _, wet = ahead(book(wet_evening), 3)
    _, dry = ahead(book(), 3)
    more = [
        sum(plain(store) for store in a.stores[3:6]) - sum(plain(store) for store in b.stores[3:6])
        for a, b in zip(wet, dry, strict=True)
    ]
    assert 4.0 < more[0] < 6.0
    assert more[0] > more[1] > more[2]


def test_looking_ahead_leaves_the_dawn_as_it_was() -> None:
    _, dawn, _ = reckoned(book(), members=3)
    before = [np.array(field) for field in dawn.stores]
    evenings(dawn, 5)
    standing(dawn)
    assert all(np.array_equal(a, b) for a, b in zip(before, dawn.stores, strict=True))


def test_a_planting_to_come_is_not_among_the_evenings() -> None:
    later = roses(name="later")._replace(planted_on=MORNING + timedelta(days=2))
    laid_out, found = ahead(pages([roses(), later]), 4)
    assert len(laid_out.plantings) == 1
    assert np.shape(found[-1].wetness.lead) == (1, 1)


def test_the_evening_gone_by_is_the_one_that_was_ahead_of_it() -> None:
    """Every evening of six weeks, told by the dawn before it and by the one after it."""
    laid_out = season(book(mulch(PLANTED)), PLANTED + timedelta(days=42), 3)
    foreseen: dict[date, Evening] = {}

    def watch(dawn: Dawn) -> None:
        if dawn.flows is not None:
            for before, after in zip(foreseen[dawn.day], evening_before(dawn), strict=True):
                for there, here in zip(before, after, strict=True):
                    assert np.allclose(there, here, rtol=0, atol=1e-9)
        foreseen[dawn.day + timedelta(days=1)] = evenings(dawn, 1)[0]

    run(laid_out, watch=watch)
    assert len(foreseen) == 43
