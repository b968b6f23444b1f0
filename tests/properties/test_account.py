"""What holds of the account of any book: it adds up, and every litre entered is somewhere in it, once."""

import math
from datetime import date, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soakbook.account.days import days_frame, no_days
from soakbook.account.months import weather_frame
from soakbook.account.reviewed import Account
from soakbook.account.season import Span
from soakbook.account.visits import visits_frame
from soakbook.account.waits import waits_frame
from soakbook.garden.entries import AnyEntry, Loss, Soak, When
from soakbook.garden.pages import Pages
from soakbook.garden.records import FeltClass, HandMethod, Planting
from soakbook.reckoning.advice.course import course_of
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.season import season_of
from tests.account.adding_up import adds_up
from tests.reckoning.gardens import PLANTED, WRITTEN, at, bed, feel, pages, roses, soak, weather

DAYS = 14
BEDS = ("bed", "other")
METHODS: tuple[HandMethod, ...] = ("can", "lance", "spray", "drip", "broadcast")
CLASSES: tuple[FeltClass, ...] = ("dust", "dry", "moist", "wet", "sour")

whens = st.builds(
    lambda number, hour: (
        PLANTED + timedelta(days=number)
        if hour is None
        else at(PLANTED + timedelta(days=number), hour)
    ),
    st.integers(0, DAYS),
    st.none() | st.integers(0, 23),
)


def gone(uid: str, of: Planting, when: When, count: int, cause: str) -> Loss:
    return Loss(
        uid=uid, happened_at=when, written_at=WRITTEN, bed_uid=of.bed_uid, planting_uid=of.uid,
        count=count, cause=cause,
    )  # fmt: skip


@st.composite
def plantings(draw: st.DrawFn) -> tuple[list[Planting], list[AnyEntry]]:
    """One to three, potted or bare; of some a part dies, of some a part moves to the other bed."""
    found, entries = [], list[AnyEntry]()
    for n in range(draw(st.integers(1, 3))):
        bare = draw(st.booleans())
        one = roses(
            draw(st.sampled_from(BEDS)), name=f"p{n}", count=draw(st.integers(2, 9)),
            origin="bare" if bare else "pot", ball_volume_l=0.0 if bare else 5.0,
            ball_diameter_m=0.0 if bare else 0.22, planted_on=PLANTED + timedelta(days=draw(st.integers(0, 9))),
        )  # fmt: skip
        found.append(one)
        left = one.count
        for cause in draw(st.lists(st.sampled_from(["drought", "frost", "moved"]), max_size=2)):
            day = one.planted_on + timedelta(days=draw(st.integers(0, 6)))
            count = draw(st.integers(1, left)) if left else 0
            if not count:
                continue
            left -= count
            when = (
                day if cause == "moved" else draw(st.sampled_from([day, at(day, 9), at(day, 19)]))
            )
            entries.append(gone(f"{cause} {one.uid} {left}", one, when, count, cause))
            if cause == "moved":
                there = BEDS[1 - BEDS.index(one.bed_uid)]
                uid, name = f"{one.uid} moved {left}", f"{one.name} moved {left}"
                found.append(
                    one._replace(
                        uid=uid,
                        name=name,
                        bed_uid=there,
                        planted_on=day,
                        count=count,
                        came_from=one.uid,
                    )
                )
    return found, entries


@st.composite
def books(draw: st.DrawFn) -> Pages:
    """Two beds, soaks of any kind at any hour, fingers, rain; the weather may begin late or not at all."""
    planted, entries = draw(plantings())
    names = [None, *(one.uid for one in planted)]
    beds_of = {one.uid: one.bed_uid for one in planted}
    for n, when in enumerate(draw(st.lists(whens, max_size=8))):
        about = draw(st.sampled_from(names))
        key = beds_of[about] if about else draw(st.sampled_from(BEDS))
        litres, method = draw(st.floats(0.1, 300.0)), draw(st.sampled_from(METHODS))
        entries.append(soak(when, litres, key, uid=f"soak {n}", planting_uid=about, method=method))
    for n, when in enumerate(draw(st.lists(whens, max_size=4))):
        felt = draw(st.tuples(*[st.sampled_from([None, *CLASSES])] * 2).filter(any))
        key = draw(st.sampled_from(BEDS))
        entries.append(feel(when, key, uid=f"feel {n}", ball=felt[0], bed=felt[1]))
    rain = {
        PLANTED + timedelta(days=n): mm
        for n, mm in draw(
            st.dictionaries(st.integers(0, DAYS), st.floats(0.1, 60.0), max_size=4)
        ).items()
    }
    late = draw(st.sampled_from([0, 0, 0, 5, DAYS + 1]))
    sky = weather(PLANTED, DAYS + 3, rain=rain)[late:]
    told = pages(planted, entries, beds=[bed(key, area_m2=90.0) for key in BEDS], days=sky)
    return told._replace(weather=sky)


def account_of(book: Pages, span: Span, members: int) -> Account:
    """The account of a book that was never written."""
    pages_then = book._replace(
        entries=tuple(one for one in book.entries if day_of(one.happened_at) < span.asked),
        plantings=tuple(one for one in book.plantings if one.here_from < span.asked),
        weather=tuple(one for one in book.weather if one.day < span.asked),
    )
    season = season_of(known_on(pages_then, span.asked), span.asked, members, ahead_days=1)
    course = None if season is None else course_of(season, span.first)
    days = no_days() if course is None else days_frame(course, span)
    visits = visits_frame(pages_then, span.first, span.until)
    none_put_off = waits_frame([], pages_then, days, visits, span.asked)
    sky = weather_frame(pages_then, span)
    return Account(pages_then, span, course, days, sky, visits, none_put_off)


def day_of(when: When) -> date:
    return when.date() if isinstance(when, datetime) else when


@settings(max_examples=40)
@given(
    book=books(),
    ends=st.tuples(st.integers(0, DAYS), st.integers(0, DAYS)).map(sorted),
    members=st.sampled_from([1, 3]),
)
def test_any_account_adds_up(book: Pages, ends: list[int], members: int) -> None:
    first, until = (PLANTED + timedelta(days=n) for n in ends)
    account = account_of(book, Span(2031, first, until, closed=False), members)
    adds_up(account)
    entered_l, evening_l = (
        math.fsum(
            one.litres
            for one in book.entries
            if isinstance(one, Soak) and counts(one.happened_at, first, until)
        )
        for counts in (in_span, on_the_evening_before)
    )
    way = account.way()
    assert way.came["given_l"] == pytest.approx(entered_l)
    assert account.sources["litres"].sum() == pytest.approx(entered_l)
    begun = account.course is not None and account.course.season.first < first
    taken_up_l = account.days["given_l"].sum() + way.went["elsewhere_l"]
    assert taken_up_l == pytest.approx(entered_l + evening_l * begun)


def in_span(when: When, first: date, until: date) -> bool:
    return first <= day_of(when) <= until


def on_the_evening_before(when: When, first: date, _: date) -> bool:
    evening = isinstance(when, datetime) and when.hour > 17
    return evening and day_of(when) == first - timedelta(days=1)


@settings(max_examples=25)
@given(book=books(), cut=st.integers(0, DAYS - 1))
def test_two_parts_of_a_time_are_the_whole(book: Pages, cut: int) -> None:
    """What went in the first days and in the others comes to what went in all.

    Fingers of the cut aside, and the water of plants moved on its very morning: the days before do not know of them.
    """
    until, last = PLANTED + timedelta(days=cut), PLANTED + timedelta(days=DAYS)
    without = book._replace(
        entries=tuple(one for one in book.entries if not one.uid.startswith("feel"))
    )
    whole, early, late = (
        account_of(without, Span(2031, first, end, closed=False), 1)
        for first, end in (
            (PLANTED, last),
            (PLANTED, until),
            (until + timedelta(days=1), last),
        )
    )
    for name in ("rain_l", "given_l", "drunk_l", "drained_l", "soil_evaporated_l", "given_lost_l"):
        parts = [early.days[name].sum(), late.days[name].sum()]
        assert sum(parts) == pytest.approx(whole.days[name].sum(), abs=1e-6), name
    assert len(early.days) + len(late.days) == len(whole.days)
    assert early.visits["litres"].sum() + late.visits["litres"].sum() == pytest.approx(
        whole.visits["litres"].sum()
    )


@settings(max_examples=40)
@given(book=books())
def test_no_plant_stands_twice(book: Pages) -> None:
    """Those that are moved from one bed to the other are counted there alone."""
    span = Span(2031, PLANTED, PLANTED + timedelta(days=DAYS), closed=False)
    account = account_of(book, span, 1)
    came = sum(one.count for one in book.plantings if one.came_from is None)
    if len(account.days):
        assert account.days.groupby("day")["count"].sum().max() <= came
    lost = sum(one.count for one in book.entries if isinstance(one, Loss) and one.cause != "moved")
    assert account.beds["lost"].sum() <= lost <= came
    assert np.all(account.beds["plants"] <= came)
