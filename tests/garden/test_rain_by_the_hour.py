"""Hours that a service told shape a reading and a day's total; they never bring water of their own."""

from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.entries import Rain
from soakbook.garden.hours import Hours
from soakbook.garden.rainfall import RainPiece, fallen_before, pieces

LONDON = ZoneInfo("Europe/London")
DAY = date(2031, 5, 14)
NEXT = DAY + timedelta(days=1)


def hours(**wet: float) -> tuple[float, ...]:
    """A day of 24 hours, dry but for some: h18=2.0."""
    return tuple(wet.get(f"h{n}", 0.0) for n in range(24))


def at(day: date, hour: int, minute: int = 0) -> datetime:
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=LONDON)


def reading(rain_mm: float, began: datetime, ended: datetime) -> Rain:
    return Rain(
        uid=f"{ended}",
        happened_at=ended,
        written_at=ended,
        rain_mm=rain_mm,
        typed="",
        began_at=began,
    )


EVENING = hours(h16=1.0, h18=2.0, h19=1.0)


def test_a_total_falls_in_its_hours_and_so_into_its_steps() -> None:
    """A quarter before 17:00, the rest after it, which the next day's step drinks; 8 mm, whosever they are."""
    assert pieces((), {DAY: 8.0}, LONDON, shapes={DAY: EVENING}) == (
        RainPiece(DAY, 2.0, None, None, 1.0),
        RainPiece(NEXT, 6.0, None, None, 2.0),
    )


def test_the_hour_that_begins_at_five_is_the_next_days() -> None:
    (piece,) = pieces((), {DAY: 1.0}, LONDON, shapes={DAY: hours(h17=1.0)})
    assert piece.step_day == NEXT


def test_a_reading_owns_its_hours() -> None:
    """Emptied at 18:30: of the service's 8 mm only what fell after that counts, half of an hour and one."""
    gauge = (reading(3.0, at(DAY, 7), at(DAY, 18, 30)),)
    found = pieces(gauge, {DAY: 8.0}, LONDON, shapes={DAY: EVENING})
    by_gauge = [one for one in found if one.hours_known is not None]
    (rest,) = [one for one in found if one.hours_known is None]
    assert sum(one.rain_mm for one in by_gauge) == pytest.approx(3.0)
    assert (rest.step_day, rest.lasted_h) == (NEXT, 2.0)
    assert rest.rain_mm == pytest.approx(4.0)


def test_a_reading_is_shared_as_it_rained() -> None:
    """7 to 7 o'clock, 4 mm: by time 10 of 24 hours are before 17:00, by the hours a quarter of the water."""
    gauge = (reading(4.0, at(DAY, 7), at(NEXT, 7)),)
    before, after = pieces(gauge, {}, LONDON, shapes={DAY: EVENING, NEXT: hours()})
    assert (before.rain_mm, before.lasted_h) == (1.0, 1.0)
    assert (after.rain_mm, after.lasted_h) == (3.0, 2.0)
    by_time, _ = pieces(gauge, {}, LONDON)
    assert by_time.rain_mm == pytest.approx(4.0 * 10 / 24)
    assert by_time.lasted_h is None


def test_where_the_service_saw_none_the_reading_is_shared_by_time() -> None:
    gauge = (reading(4.0, at(DAY, 7), at(NEXT, 7)),)
    dry = {DAY: hours(), NEXT: hours()}
    assert pieces(gauge, {DAY: 0.0}, LONDON, shapes=dry) == pieces(gauge, {}, LONDON)


def test_hours_that_nobody_knows_have_their_share_by_time() -> None:
    """10 mm from 7 to 7, a drizzle at eight in the morning; of the seven hours after midnight nobody knows."""
    gauge = (reading(10.0, at(DAY, 7), at(NEXT, 7)),)
    before, after = pieces(gauge, {}, LONDON, shapes={DAY: hours(h8=0.2)})
    assert before.rain_mm == pytest.approx(10 * 17 / 24)
    assert after.rain_mm == pytest.approx(10 * 7 / 24)


def test_what_the_known_hours_did_not_bring_fell_in_the_others() -> None:
    """Dry from seven to midnight: all of it after that."""
    gauge = (reading(10.0, at(DAY, 7), at(NEXT, 7)),)
    (night,) = pieces(gauge, {DAY: 0.0}, LONDON, shapes={DAY: hours()})
    assert night.step_day == NEXT
    assert night.rain_mm == pytest.approx(10.0)
    gauge = (reading(3.0, at(DAY, 7), at(NEXT, 17)),)
    (late,) = pieces(gauge, {}, LONDON, shapes={DAY: hours()[:17]})
    assert late.step_day == NEXT
    assert late.rain_mm == pytest.approx(3.0)


def test_a_finger_meets_what_fell_by_then() -> None:
    """At 19:30 the evening's first hour is in the soil and half of the second: 4 and 1 of 8 mm."""
    (found,) = fallen_before([at(DAY, 19, 30)], (), {DAY: 8.0}, LONDON, shapes={DAY: EVENING})
    assert sum(one.rain_mm for one in found) == pytest.approx(5.0)
    assert {one.step_day for one in found} == {NEXT}
    (none,) = fallen_before([at(DAY, 19, 30)], (), {DAY: 8.0}, LONDON)
    assert none == ()


@pytest.mark.parametrize(
    ("zone", "day", "length"),
    [
        ("Europe/London", date(2031, 3, 30), 23),
        ("Europe/London", date(2031, 10, 26), 25),
        ("Australia/Lord_Howe", date(2031, 4, 6), 25),
        ("Asia/Kolkata", date(2031, 5, 14), 24),
    ],
)
def test_days_of_other_lengths_keep_their_water(zone: str, day: date, length: int) -> None:
    """The clock goes back by half an hour on Lord Howe: its day has 24 1/2 hours, the last list item half of one."""
    found = pieces((), {day: 5.0}, ZoneInfo(zone), shapes={day: (0.2,) * length})
    assert sum(one.rain_mm for one in found) == pytest.approx(5.0)


AMOUNTS = st.lists(st.floats(0, 5), min_size=24, max_size=24)


@given(AMOUNTS, AMOUNTS, st.floats(0.1, 40), st.floats(0.1, 40))
def test_no_shape_brings_or_takes_water(
    one: list[float], other: list[float], first_mm: float, second_mm: float
) -> None:
    totals = {DAY: first_mm, NEXT: second_mm}
    found = pieces((), totals, LONDON, shapes={DAY: one, NEXT: other})
    assert sum(piece.rain_mm for piece in found) == pytest.approx(first_mm + second_mm)


@given(AMOUNTS, st.integers(0, 23), st.integers(1, 24))
def test_shares_of_a_span_add_up(one: list[float], begin: int, length: int) -> None:
    known = Hours({DAY: one, NEXT: one}, LONDON)
    first = at(DAY, begin)
    last = first + timedelta(hours=length)
    cut = first + timedelta(hours=length / 3)
    both = known.share(first, cut, first, last) + known.share(cut, last, first, last)
    assert both == pytest.approx(1.0)
