"""A season's course: what is kept of every step adds up, plant by plant, and is what the run went through."""

from datetime import timedelta

import numpy as np
import pytest

from soakbook.garden.entries import AnyEntry, Loss
from soakbook.garden.pages import Pages
from soakbook.reckoning.advice.course import FLOWS, Course, course_of
from soakbook.reckoning.physics.ledger import held_l
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.lanes import grid
from soakbook.reckoning.simulation.run import Dawn, run
from tests.reckoning.gardens import (
    PLANTED,
    WRITTEN,
    at,
    bed,
    feel,
    loss,
    mulch,
    pages,
    rain,
    roses,
    season,
    soak,
    weather,
)

DAYS = 24
MORNING = PLANTED + timedelta(days=DAYS)
MEMBERS = 5
LEAST_L = 1e-9
RAIN = {PLANTED + timedelta(days=n): mm for n, mm in ((3, 12.0), (4, 30.0), (15, 2.0))}


def day(number: int) -> object:
    return PLANTED + timedelta(days=number)


def every_kind() -> Pages:
    """Roses of which some die and are replaced, whips planted later, a bed parted in two, fingers in both."""
    parted_on = PLANTED + timedelta(days=10)
    whole = bed()
    part = bed("part", parted_from="bed", parted_on=parted_on, area_m2=10.0)
    old = roses()
    fresh = roses(
        name="new", replaces=old.uid, count=3, planted_on=PLANTED + timedelta(days=8), uid="bed/new"
    )
    gone_over = roses(
        "part", uid="part/roses", count=4, came_from=old.uid, parted_on=parted_on
    )  # fmt: skip
    whips = roses(
        "hedge", name="whips", origin="bare", ball_volume_l=0.0, ball_diameter_m=0.0, count=7,
        planted_on=PLANTED + timedelta(days=5), cell_m2=0.3, plant_class="whip", canopy_full_m2=0.1,
        canopy_start_m2=0.02,
    )  # fmt: skip
    left = Loss(
        uid="parted", happened_at=parted_on, written_at=WRITTEN, bed_uid="bed", planting_uid=old.uid,
        count=4, cause="parted",
    )  # fmt: skip
    entries: list[AnyEntry] = [
        loss(PLANTED + timedelta(days=7), 3),
        left,
        mulch(PLANTED + timedelta(days=2)),
        rain(
            at(PLANTED + timedelta(days=4), 16),
            40.0,
            at(PLANTED + timedelta(days=4), 15),
            kind="burst",
        ),
        feel(at(PLANTED + timedelta(days=9), 7), ball="wet", bed="dry"),
        feel(at(PLANTED + timedelta(days=13), 18), "hedge", bed="wet"),
        soak(at(PLANTED + timedelta(days=6), 8), 60.0),
        soak(at(PLANTED + timedelta(days=11), 18), 20.0, "part"),
        soak(at(PLANTED + timedelta(days=12), 9), 40.0, "hedge", method="broadcast"),
    ]
    return pages(
        [old, fresh, gone_over, whips], entries, beds=[whole, part], days=weather(rain=RAIN)
    )


def taken(book: Pages, after: int = 0) -> Course:
    return course_of(season(book, MORNING, MEMBERS), PLANTED + timedelta(days=after))


def went(course: Course) -> Floats:
    """What a plant's stores should hold on the next morning, (day, planting)."""
    flow = course.flows
    came = course.opening_l + flow["rain_l"] + flow["soak_l"] + course.squared_l
    lost = flow["given_lost_l"] + flow["transpired_l"] + flow["drained_l"] + flow["run_off_l"]
    return came - lost - flow["soil_evaporated_l"] - flow["mulch_evaporated_l"]


def test_every_plants_day_adds_up() -> None:
    course = taken(every_kind())
    there = course.here()
    assert there.sum(axis=0).tolist() == [24, 19, 16, 14]
    assert np.abs(course.closing_l - went(course))[there].max() < LEAST_L
    assert np.abs(course.squared_l[there]).max() > 0.01
    assert course.flows["run_off_l"][there].max() > 0


def test_it_closes_as_the_next_day_opens() -> None:
    course = taken(every_kind())
    both = course.here()[1:] & course.here()[:-1]
    assert np.array_equal(course.closing_l[:-1][both], course.opening_l[1:][both])


def test_it_is_what_the_run_goes_through() -> None:
    """Stores and flows of the plain run, dawn by dawn, from another run of the same book."""
    book = every_kind()
    course, dawns = taken(book), dict[object, Dawn]()
    run(season(book, MORNING, MEMBERS), watch=lambda dawn: dawns.update({dawn.day: dawn}))
    for number in range(DAYS):
        dawn, after = dawns[day(number)], dawns[day(number + 1)]
        plot, _ = dawn.season.parameters(slice(0, dawn.size))
        shape = (dawn.size, MEMBERS)
        held = grid(held_l(plot.cell_m2, dawn.stores), shape)[:, 0]
        assert np.array_equal(course.opening_l[number, : dawn.size], held)
        assert np.isnan(course.opening_l[number, dawn.size :]).all()
        assert after.flows is not None
        for name in FLOWS:
            moved = grid(getattr(after.flows, name), shape)[:, 0]
            assert np.array_equal(course.flows[name][number, : dawn.size], moved), name


def test_what_went_is_summed_over_living_plants_in_every_member() -> None:
    course = taken(every_kind())
    for name, by_member in course.went_l.items():
        plain = np.nansum(course.flows[name] * course.standing[:-1], axis=0)
        assert by_member[:, 0] == pytest.approx(plain)
    assert np.ptp(course.went_l["transpired_l"], axis=1).min() > 0


def test_plants_parted_stand_once() -> None:
    """Ten, three dead, four gone over: never more than there are."""
    standing = taken(every_kind()).standing
    old, part = standing[:, 0], standing[:, 3]
    assert old.tolist() == [10] * 8 + [7] * 2 + [3] * 15
    assert part.tolist() == [0] * 10 + [4] * 15


def test_a_course_from_a_later_day_is_the_end_of_the_whole() -> None:
    whole, late = taken(every_kind()), taken(every_kind(), after=9)
    assert late.first == PLANTED + timedelta(days=9)
    for name in ("opening_l", "closing_l", "squared_l", "wanting_share"):
        assert np.array_equal(getattr(late, name), getattr(whole, name)[9:], equal_nan=True), name
    assert np.array_equal(late.ball.p10, whole.ball.p10[9:], equal_nan=True)
    assert np.array_equal(late.states["lead"], whole.states["lead"][9:])
    assert (late.dry_bed_days <= whole.dry_bed_days).all()


def test_bare_roots_have_no_ball() -> None:
    course = taken(every_kind())
    there = course.here()
    bare = np.array([one.origin == "bare" for one in course.plantings])
    assert np.isnan(course.ball.p50[:, bare]).all()
    assert not np.isnan(course.ball.p50[:, ~bare][there[:, ~bare]]).any()
    assert (course.bed.p10[there] <= course.bed.p90[there]).all()


def test_dry_days_grow_without_water_and_stop_with_the_last_plant() -> None:
    """No drop for 24 days: dry evenings in the end; where all died on the tenth day none is counted after it."""
    dry = taken(pages([roses()], days=weather()))
    assert (dry.dry_bed_days[0] > 5).all()
    assert dry.wanting_share[-1, 0] == 1.0
    dead = taken(pages([roses()], [loss(PLANTED + timedelta(days=9), 10)], days=weather()))
    assert (dead.dry_bed_days[0] <= dry.dry_bed_days[0] - 14).all()
    assert dead.here()[:, 0].tolist() == [True] * 10 + [False] * 14


def test_another_watcher_is_told_every_dawn() -> None:
    told: list[object] = []
    course_of(
        season(pages([roses()]), MORNING),
        MORNING - timedelta(days=2),
        lambda dawn: told.append(dawn.day),
    )
    assert told == [day(n) for n in range(DAYS + 1)]
