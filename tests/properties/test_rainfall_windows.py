"""Water is neither made nor lost when windows are brought into steps."""

import math
from datetime import UTC, date, datetime, time, timedelta
from random import Random
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.entries import Rain
from soakbook.garden.rainfall import fallen_before, pieces

ZONES = st.sampled_from(
    [
        ZoneInfo(name)
        for name in (
            "UTC",
            "Europe/London",
            "America/St_Johns",
            "Australia/Lord_Howe",
            "Asia/Kolkata",
        )
    ]
)
START = datetime(2031, 1, 1, tzinfo=UTC)


@st.composite
def readings(draw: st.DrawFn) -> tuple[Rain, ...]:
    """Readings anywhere in a year, of a minute to nine days, overlapping or not."""
    number = draw(st.integers(1, 8))
    made = []
    for place in range(number):
        begin = START + timedelta(minutes=draw(st.integers(0, 365 * 1440)))
        end = begin + timedelta(minutes=draw(st.integers(1, 9 * 1440)))
        made.append(
            Rain(
                uid=f"{place}",
                happened_at=end,
                written_at=START + timedelta(minutes=draw(st.integers(0, 5))),
                rain_mm=draw(st.floats(0, 500)),
                typed="",
                began_at=begin,
            )
        )
    return tuple(made)


@given(readings(), ZONES)
def test_each_reading_alone_comes_out_whole(entries: tuple[Rain, ...], zone: ZoneInfo) -> None:
    for entry in entries:
        found = pieces((entry,), {}, zone)
        assert math.isclose(
            sum(piece.rain_mm for piece in found), entry.rain_mm, rel_tol=1e-9, abs_tol=1e-9
        )
        assert all(0 < (piece.hours_known or 0) <= 25 for piece in found)


@given(readings(), ZONES, st.randoms(use_true_random=False))
def test_the_order_of_the_readings_does_not_matter(
    entries: tuple[Rain, ...], zone: ZoneInfo, random: Random
) -> None:
    shuffled = list(entries)
    random.shuffle(shuffled)
    assert pieces(tuple(shuffled), {}, zone) == pieces(entries, {}, zone)


@given(readings(), ZONES)
def test_readings_together_bring_at_most_what_they_say(
    entries: tuple[Rain, ...], zone: ZoneInfo
) -> None:
    together = sum(piece.rain_mm for piece in pieces(entries, {}, zone))
    assert together <= sum(entry.rain_mm for entry in entries) * (1 + 1e-9)


@given(readings(), ZONES, st.floats(0, 200))
def test_a_day_has_at_least_the_gauge_and_at_most_gauge_and_station(
    entries: tuple[Rain, ...], zone: ZoneInfo, total_mm: float
) -> None:
    totals = {date(2031, 1, 1) + timedelta(days=n): total_mm for n in range(375)}
    gauge = sum(piece.rain_mm for piece in pieces(entries, {}, zone))
    both = sum(piece.rain_mm for piece in pieces(entries, totals, zone))
    assert gauge <= both * (1 + 1e-9)
    assert both <= (gauge + total_mm * len(totals)) * (1 + 1e-9)


@given(readings(), ZONES)
def test_by_17_oclock_all_of_a_step_has_fallen(entries: tuple[Rain, ...], zone: ZoneInfo) -> None:
    whole: dict[date, float] = {}
    for piece in pieces(entries, {}, zone):
        whole[piece.step_day] = whole.get(piece.step_day, 0.0) + piece.rain_mm
    ends = [datetime.combine(day, time(17), zone) for day in whole]
    for day, found in zip(whole, fallen_before(ends, entries, {}, zone), strict=True):
        fallen = sum(piece.rain_mm for piece in found)
        assert math.isclose(fallen, whole[day], rel_tol=1e-9, abs_tol=1e-9)
        assert all(piece.step_day == day for piece in found)
