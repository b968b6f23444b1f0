"""A whole morning out of a book's pages: the record that is printed, sent and kept."""

from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.pages import Pages
from soakbook.garden.records import Flow, Person, Tap
from soakbook.reckoning.advice.report import Round, as_json
from soakbook.reckoning.advice.rounds import Morning, morning_on, round_of
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    call_of,
    feel,
    garden,
    judged_of,
    left,
    pages,
    planting_of,
    rain,
    roses,
    soak,
    weather,
)

DAY = PLANTED + timedelta(days=20)
BEFORE = DAY - timedelta(days=1)
COOL = weather(PLANTED - timedelta(days=5), 25, et0_mm=2.0)
TAPS = (
    Tap("tap A", "A", flows=(Flow(12.0, PLANTED),)),
    Tap("tap B", "B", flows=(Flow(10.0, PLANTED),)),
)

ASTERS = roses(name="asters", plant_class="perennial", leaf="dies_down", ball_volume_l=2.0, ball_diameter_m=0.15,
               cell_m2=0.4, canopy_start_m2=0.04, canopy_full_m2=0.15)  # fmt: skip
WET = roses("wet", origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)


def book(*entries: AnyEntry, **fields: Any) -> Pages:
    """Roses and asters at tap A, roses at tap B further off, dug roses that have been soaked."""
    given: dict[str, Any] = {
        "beds": [bed("bed", tap="A"), bed("far", tap="B", walk_m=60.0), bed("wet", tap="A")],
        "taps": TAPS,
        "days": COOL,
    }
    soaked = soak(at(BEFORE, 8), 400.0, "wet")
    plantings = fields.pop("plantings", [roses(), ASTERS, roses("far"), WET])
    return pages(
        plantings, [soaked, left(BEFORE, "bed"), left(BEFORE, "far"), *entries], **given | fields
    )


def morning(of: Pages | None = None, day: date = DAY) -> Morning:
    return morning_on(of or book(), day, members=20)


def a_round(of: Pages | None = None) -> Round:
    return round_of(morning(of))


def test_calls_are_numbered_along_the_walk_and_the_rest_follow() -> None:
    found = a_round()
    assert [(one.bed, one.verdict, one.order) for one in found.calls] == [
        ("bed", "soak", 1),
        ("far", "soak", 2),
        ("wet", "leave", None),
    ]
    assert (found.schema, found.garden, found.morning) == ("soakbook.round/1", "The garden", DAY)


def test_totals_are_the_sums_of_the_walk() -> None:
    found = a_round()
    walked = [one for one in found.calls if one.order]
    totals = found.totals
    assert totals.calls == 2
    assert totals.litres == pytest.approx(sum(one.litres for one in walked))
    assert totals.minutes == pytest.approx(sum(one.minutes or 0 for one in walked))
    assert totals.minutes_on_foot == pytest.approx(sum(one.minutes_on_foot for one in walked))
    assert (totals.hours_available, totals.dropped) == (2.0, 0)


def test_a_beds_litres_are_its_plantings_doses() -> None:
    found = call_of(a_round())
    assert found.litres == pytest.approx(
        sum(one.count * one.litres_each for one in found.plantings)
    )
    assert found.minutes is not None
    assert found.minutes * 2 == pytest.approx(round(found.minutes * 2))
    assert 0 <= found.minutes - found.litres / 12.0 < 0.5
    for one in found.plantings:
        assert one.seconds_each == round(one.litres_each / 12.0 * 60)


def test_a_bed_shows_its_driest_ball_and_the_soil_that_lies_lowest() -> None:
    found = call_of(a_round())
    plantings = {one.planting: one for one in found.plantings}
    driest = min(
        plantings.values(), key=lambda one: one.ball_fraction.p50 if one.ball_fraction else 9
    )
    assert found.ball_fraction == driest.ball_fraction
    assert found.ball_state == driest.ball_state
    of = morning()
    lowest = min(
        (judged_of(of, f"bed/{name}") for name in plantings), key=lambda one: one.bed_margin
    )
    assert found.bed_state == lowest.bed_state
    assert plantings["asters"].ball_fraction != plantings["roses"].ball_fraction


def test_a_beds_fraction_is_of_all_the_water_in_its_cells() -> None:
    """(sum of Sr + Su) / (sum of Cr + Cu) over its cells, counts and all; quantiles over members."""
    few = roses(name="few", count=2, cell_m2=4.0, planted_on=PLANTED + timedelta(days=12))
    of = morning(book(plantings=[roses(), few]))
    judgement = of.judgement
    assert judgement is not None
    stores, roots = judgement.morning.stores, judgement.morning.roots
    held = np.asarray(stores.reach_store_l + stores.beyond_store_l)
    capacity = np.asarray(roots.reach_capacity_l + roots.beyond_capacity_l)
    counts = np.array([[one.count] for one in judgement.season.plantings])
    expected = (counts * held).sum(axis=0) / (counts * capacity).sum(axis=0)
    shown = call_of(round_of(of)).bed_fraction
    quantiles = np.quantile(expected, (0.1, 0.5, 0.9))
    assert (shown.p10, shown.p50, shown.p90) == pytest.approx(tuple(quantiles))


def test_a_bed_of_bare_roots_has_no_ball() -> None:
    whips = roses(origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0)
    found = call_of(a_round(book(plantings=[whips])))
    assert (found.ball_fraction, found.ball_state) == (None, None)
    assert planting_of(a_round(book(plantings=[whips]))).bare_root


def test_a_bed_cannot_wait_where_one_of_its_plantings_cannot() -> None:
    """Somebody on Wednesdays only: both are due, the large balls would bear the week, the small ones three days."""
    ann = Person("ann", "Ann", frozenset({DAY.weekday()}))
    small = roses(
        name="small", ball_volume_l=2.0, ball_diameter_m=0.15, canopy_start_m2=0.2, cell_m2=0.5
    )
    large = roses(
        name="large", origin="dug", ball_volume_l=30.0, ball_diameter_m=0.45, canopy_start_m2=0.2
    )
    given = soak(at(BEFORE, 18), 150.0)
    of = morning(book(given, plantings=[small, large], people=(ann,)))
    found = {name: judged_of(of, f"bed/{name}") for name in ("small", "large")}
    assert [one.due for one in found.values()] == [True, True]
    assert [one.prospect.can_wait for one in found.values()] == [False, True]
    assert found["small"].prospect.half_passed_in >= 1
    assert found["large"].prospect.last_safe is not None
    assert call_of(round_of(of)).last_safe is None


def test_a_call_carries_its_last_feel_and_its_days() -> None:
    felt = feel(at(DAY - timedelta(days=3), 6, 30), ball="dry", by="Ann")
    found = call_of(a_round(book(felt, soak(at(DAY - timedelta(days=6), 8), 5.0))))
    assert found.felt is not None
    assert (found.felt.ball, found.felt.bed, found.felt.by) == ("dry", None, "Ann")
    assert (found.days_since_felt, found.days_since_water) == (3, 6)


def test_second_pours_are_slotted_between_the_beds() -> None:
    """A slope drinks slowly: the other bed in between when it takes longer than the wait, else wait beside it."""
    slope = [bed("bed", tap="A", soil="loam", slope_fraction=0.2), bed("far", tap="B", walk_m=60.0)]
    plantings = [
        roses(count=40),
        roses("far", count=300, cell_m2=0.15, canopy_full_m2=0.1, canopy_start_m2=0.05),
    ]
    found = a_round(book(beds=slope, plantings=plantings, garden=garden(hours_by_default=9.0)))
    first = next(one for one in found.calls if one.order == 1)
    assert first.pours > 1
    assert first.pour_wait_min == 20
    after = {one.name for one in found.calls if (one.order or 0) > 1}
    assert first.pour_meanwhile in after


def test_the_gauge_is_shown_when_read_since_yesterdays_round() -> None:
    read = rain(at(DAY, 6, 30), 4.0, at(BEFORE, 6, 30), kind="gentle")
    shown = a_round(book(read)).gauge
    assert shown is not None
    assert (shown.rain_mm, shown.kind, shown.read_at) == (4.0, "gentle", at(DAY, 6, 30).isoformat())
    old = rain(at(BEFORE, 6, 30), 4.0, at(BEFORE - timedelta(days=1), 6, 30))
    assert a_round(book(old)).gauge is None
    assert a_round().gauge is None


def test_tomorrow_supposes_that_this_round_was_done() -> None:
    found = a_round()
    assert found.tomorrow is not None
    assert found.tomorrow.day == DAY + timedelta(days=1)
    days = weather(PLANTED - timedelta(days=5), 26, et0_mm=2.0)
    undone = round_of(morning(book(left(DAY, "bed"), days=days), DAY + timedelta(days=1)))
    assert found.tomorrow.litres < undone.totals.litres


def test_what_was_foreseen_for_tomorrow_is_tomorrows_round() -> None:
    """Everything given as advised and a day like the ten before: the likely list comes true."""
    found = a_round()
    given = [
        soak(
            at(DAY, 7), one.litres_each * one.count, of.bed, planting_uid=f"{of.bed}/{one.planting}"
        )
        for of in found.calls
        if of.order
        for one in of.plantings
        if one.litres_each
    ]
    following = DAY + timedelta(days=1)
    days = (*COOL, COOL[-1]._replace(day=DAY))
    came = round_of(morning(book(*given, days=days), following))
    assert found.tomorrow is not None
    assert (found.tomorrow.calls, found.tomorrow.litres) == (came.totals.calls, came.totals.litres)


def test_the_weather_seen_names_its_sources_and_its_age() -> None:
    measured: Any = {"rain_mm": ("own gauge", "measured", ""), "et0_mm": ("sheet", "measured", "")}
    known = [day._replace(sources=measured) for day in COOL]
    found = a_round(book(days=known)).weather
    assert (found.measured_to, found.forecast_to, found.age_days) == (BEFORE, None, 1)
    assert found.sources == ("own gauge", "sheet")


def test_those_who_come_are_named() -> None:
    people = (Person("ann", "Ann", frozenset({2})), Person("tom", "Tom", frozenset({3})))
    found = a_round(book(people=people))
    assert (found.people, found.totals.hours_available) == (("Ann",), 2.0)


def test_permuting_the_book_changes_no_round() -> None:
    of = book()
    turned = of._replace(beds=of.beds[::-1], plantings=of.plantings[::-1], taps=of.taps[::-1])
    straight, mixed = a_round(of), a_round(turned)
    assert [one.bed for one in mixed.calls] == [one.bed for one in straight.calls]
    for one in straight.calls:
        other = call_of(mixed, one.bed)
        assert (other.verdict, other.litres, other.last_safe) == (
            one.verdict,
            one.litres,
            one.last_safe,
        )
        assert {p.planting: p for p in other.plantings} == {p.planting: p for p in one.plantings}


def test_a_round_asked_for_again_is_the_same() -> None:
    of = book()
    assert as_json(a_round(of)) == as_json(a_round(of))


def test_what_happened_later_changes_no_earlier_round() -> None:
    """Asked on the day, and asked for that day three weeks later: entries, weather and plantings to come and all."""
    of = book()
    later = DAY + timedelta(days=2)
    grown = book(
        soak(at(DAY, 8), 90.0), feel(at(later, 8), ball="dust"), rain(at(later, 6), 30.0, at(DAY, 18)),
        plantings=[*of.plantings, roses(name="later", planted_on=later, count=60)],
        days=(*COOL, *weather(DAY, 30, rain={DAY: 20.0})),
    )  # fmt: skip
    assert as_json(a_round(grown)) == as_json(a_round(of))


def test_as_json_is_plain() -> None:
    plain = as_json(a_round())
    assert plain["morning"] == DAY.isoformat()
    assert isinstance(plain["calls"], list)
    assert set(plain["calls"][0]["ball_fraction"]) == {"p10", "p50", "p90"}
    assert plain["gauge"] is None
