"""Gauge readings and daily totals brought into steps. Times are London's; BST is UTC+1."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import InputError
from soakbook.garden.entries import Rain, RainKind, When
from soakbook.garden.rainfall import (
    RainPiece,
    began_at,
    days_without_rain,
    fallen_before,
    pieces,
    step_day,
)

LONDON = ZoneInfo("Europe/London")
WRITTEN = datetime(2031, 5, 20, 12, tzinfo=UTC)


def at(day: int, hour: int, minute: int = 0, month: int = 5) -> datetime:
    return datetime(2031, month, day, hour, minute, tzinfo=LONDON)


def reading(
    rain_mm: float,
    begin: datetime,
    end: When,
    *,
    written_at: datetime = WRITTEN,
    kind: RainKind | None = None,
    uid: str = "r",
) -> Rain:
    return Rain(
        uid=uid,
        happened_at=end,
        written_at=written_at,
        rain_mm=rain_mm,
        typed=f"{rain_mm}mm",
        began_at=begin,
        kind=kind,
    )


def test_an_evening_shower_is_drunk_the_next_day() -> None:
    """The specimen garden: 15.6 mm on 14 May between 18:00 and 21:00 stand in the 15th's step."""
    found = pieces((reading(15.6, at(14, 18), at(14, 21), kind="burst"),), {}, LONDON)
    assert found == (RainPiece(date(2031, 5, 15), 15.6, 3.0, "burst"),)


def test_a_window_over_five_oclock_is_shared_by_hours() -> None:
    """8 mm from 15:00 to 19:00: two hours before the cut, two after."""
    found = pieces((reading(8.0, at(14, 15), at(14, 19)),), {}, LONDON)
    assert found == (
        RainPiece(date(2031, 5, 14), 4.0, 2.0, None),
        RainPiece(date(2031, 5, 15), 4.0, 2.0, None),
    )


def test_three_missed_mornings_are_one_window_over_four_steps() -> None:
    """12 mm from the 10th 07:00 to the 13th 07:00: 10 h, 24 h, 24 h and 14 h of 72."""
    found = pieces((reading(12.0, at(10, 7), at(13, 7)),), {}, LONDON)
    assert [piece.step_day.day for piece in found] == [10, 11, 12, 13]
    assert [piece.hours_known for piece in found] == [10.0, 24.0, 24.0, 14.0]
    assert [piece.rain_mm for piece in found] == pytest.approx([10 / 6, 4.0, 4.0, 14 / 6])


def test_a_daily_total_stays_on_its_day_without_hours() -> None:
    found = pieces(
        (), {date(2031, 5, 14): 6.2, date(2031, 5, 15): 0.0, date(2031, 5, 16): None}, LONDON
    )
    assert found == (RainPiece(date(2031, 5, 14), 6.2, None, None),)


def test_a_gauge_that_owns_the_day_leaves_the_station_nothing() -> None:
    """The gauge says 5 mm from midnight to midnight, the station 20 mm: the gauge is believed."""
    found = pieces((reading(5.0, at(14, 0), at(15, 0)),), {date(2031, 5, 14): 20.0}, LONDON)
    assert sum(piece.rain_mm for piece in found) == pytest.approx(5.0)
    assert all(piece.hours_known is not None for piece in found)


def test_what_the_station_has_beyond_the_gauge_counts_for_the_hours_left() -> None:
    """Gauge 2 mm from 00:00 to 06:00, station 10 mm: (10 - 2) x 18/24 = 6 mm more. Common practice,
    no source.
    """
    found = pieces((reading(2.0, at(14, 0), at(14, 6)),), {date(2031, 5, 14): 10.0}, LONDON)
    assert found == (
        RainPiece(date(2031, 5, 14), 2.0, 6.0, None),
        RainPiece(date(2031, 5, 14), 6.0, None, None),
    )


def test_a_station_below_the_gauge_adds_nothing() -> None:
    found = pieces((reading(2.0, at(14, 0), at(14, 6)),), {date(2031, 5, 14): 1.0}, LONDON)
    assert found == (RainPiece(date(2031, 5, 14), 2.0, 6.0, None),)


def test_an_empty_gauge_still_owns_its_hours() -> None:
    """0 mm from 00:00 to 12:00 against a station's 10 mm: half the day is left, so 5 mm."""
    found = pieces((reading(0.0, at(14, 0), at(14, 12)),), {date(2031, 5, 14): 10.0}, LONDON)
    assert found == (RainPiece(date(2031, 5, 14), 5.0, None, None),)


def test_the_later_written_of_two_readings_owns_the_overlap() -> None:
    """Ann: 6 mm from 00:00 to 12:00. Bob, written later: 1 mm from 06:00 to 12:00. Ann keeps her
    first six hours.
    """
    ann = reading(6.0, at(14, 0), at(14, 12), uid="ann")
    bob = reading(1.0, at(14, 6), at(14, 12), written_at=WRITTEN + timedelta(hours=1), uid="bob")
    expected = (
        RainPiece(date(2031, 5, 14), 3.0, 6.0, None),
        RainPiece(date(2031, 5, 14), 1.0, 6.0, None),
    )
    assert pieces((ann, bob), {}, LONDON) == expected
    assert pieces((bob, ann), {}, LONDON) == expected


def test_a_reading_inside_another_splits_it() -> None:
    """10 mm from 00:00 to 10:00, later 7 mm from 04:00 to 05:00: nine hours at 1 mm, one of 7."""
    day = reading(10.0, at(14, 0), at(14, 10), uid="day")
    cloudburst = reading(
        7.0, at(14, 4), at(14, 5), written_at=WRITTEN + timedelta(hours=1), kind="burst"
    )
    found = pieces((day, cloudburst), {}, LONDON)
    assert found == (
        RainPiece(date(2031, 5, 14), 9.0, 9.0, None),
        RainPiece(date(2031, 5, 14), 7.0, 1.0, "burst"),
    )


def test_the_night_the_clocks_go_forward_has_an_hour_less() -> None:
    """30 March 2031: from 17:00 on the 29th to 17:00 on the 30th are 23 hours."""
    window = reading(23.0, at(29, 17, month=3), at(30, 17, month=3))
    assert pieces((window,), {}, LONDON) == (RainPiece(date(2031, 3, 30), 23.0, 23.0, None),)


def test_the_night_the_clocks_go_back_has_an_hour_more() -> None:
    """26 October 2031: the step has 25 hours; the station's remainder is taken of a day of 25."""
    window = reading(25.0, at(25, 17, month=10), at(26, 17, month=10))
    assert pieces((window,), {}, LONDON) == (RainPiece(date(2031, 10, 26), 25.0, 25.0, None),)
    # owned of the 26th: 18 of 25 hours, 18 mm; station 25 mm: 7 mm beyond, for 7 of 25 hours
    total = {date(2031, 10, 26): 25.0}
    assert pieces((window,), total, LONDON)[-1].rain_mm == pytest.approx(7 * 7 / 25)


def test_a_window_in_the_doubled_hour_is_as_long_as_it_was() -> None:
    """01:30 BST to 01:30 GMT on 26 October: the clock shows the same, an hour has gone."""
    first = datetime(2031, 10, 26, 1, 30, tzinfo=LONDON)
    second = first.replace(fold=1)
    (piece,) = pieces((reading(1.0, first, second),), {}, LONDON)
    assert piece.hours_known == 1.0


def test_a_reading_without_a_time_counts_at_the_round_hour() -> None:
    """14 May, no time: 07:00; or the book's own round hour."""
    noted = reading(4.0, at(13, 7), date(2031, 5, 14))
    assert [piece.hours_known for piece in pieces((noted,), {}, LONDON)] == [10.0, 14.0]
    assert [piece.hours_known for piece in pieces((noted,), {}, LONDON, time(9))] == [10.0, 16.0]


@pytest.mark.parametrize("end", [at(14, 6), at(14, 5)])
def test_a_window_that_does_not_begin_before_its_end_is_refused(end: datetime) -> None:
    with pytest.raises(InputError, match="rain from: '2031-05-14T06:00:00"):
        pieces((reading(1.0, at(14, 6), end),), {}, LONDON)


def test_rain_is_unknown_only_where_neither_gauge_nor_station_tells() -> None:
    """13th: no word. 14th: gauge from midnight to midnight. 15th: gauge till 07:00. 16th: a dry
    station.
    """
    totals = {date(2031, 5, day): None for day in (13, 14, 15)} | {date(2031, 5, 16): 0.0}
    dry = reading(0.0, at(14, 0), at(15, 7))
    assert days_without_rain((dry,), totals, LONDON) == (date(2031, 5, 13), date(2031, 5, 15))


def test_a_moment_belongs_to_its_day_until_five_oclock() -> None:
    assert step_day(at(14, 17), LONDON) == date(2031, 5, 14)
    assert step_day(at(14, 17, 1), LONDON) == date(2031, 5, 15)
    # 16:30 UTC is 17:30 in London's summer
    assert step_day(datetime(2031, 5, 14, 16, 30, tzinfo=UTC), LONDON) == date(2031, 5, 15)


def test_a_window_begins_at_the_last_reading_within_a_week() -> None:
    last = reading(1.0, at(9, 7), at(10, 7))
    older = reading(1.0, at(8, 7), at(9, 7))
    assert began_at([last, older], at(14, 7)) == (at(10, 7), False)
    assert began_at([last], at(17, 7)) == (at(10, 7), False)
    assert began_at([last], at(17, 8)) == (at(16, 8), True)


def test_a_first_reading_is_taken_for_24_hours_and_said_so() -> None:
    assert began_at([], at(14, 7)) == (at(13, 7), True)
    # over the night the clocks go forward, 24 hours before 07:00 is 06:00
    assert began_at([], at(30, 7, month=3)) == (at(29, 6, month=3), True)


def test_a_reading_entered_late_looks_only_at_what_came_before_it() -> None:
    later = reading(1.0, at(14, 7), at(15, 7))
    same = reading(1.0, at(13, 7), at(14, 7))
    undated = reading(1.0, at(11, 7), date(2031, 5, 12))
    assert began_at([later, same, undated], at(14, 7)) == (at(12, 7), False)


def before(moment: datetime, *readings: Rain) -> tuple[RainPiece, ...]:
    (found,) = fallen_before([moment], readings, {}, LONDON)
    return found


def test_what_fell_before_a_moment_is_the_part_of_its_step_that_is_over() -> None:
    """12 mm from noon to noon: by 7:00 14 of 24 hours since 17:00; by 17:00 of the first day 5; then none yet."""
    noon = reading(12.0, at(14, 12), at(15, 12), kind="gentle")
    assert before(at(15, 7), noon) == (RainPiece(date(2031, 5, 15), 7.0, 14.0, "gentle"),)
    assert before(at(14, 17), noon) == (RainPiece(date(2031, 5, 14), 2.5, 5.0, "gentle"),)
    assert before(at(14, 17, 30), noon) == (RainPiece(date(2031, 5, 15), 0.25, 0.5, "gentle"),)
    assert before(at(14, 11), noon) == before(at(15, 17, 1), noon) == ()


def test_what_fell_before_a_moment_has_a_piece_a_reading() -> None:
    """A later reading owns an hour in the middle of a longer one: what is left of that is one piece of 13 hours."""
    long = reading(28.0, at(14, 17), at(15, 7), uid="long")
    short = reading(
        3.0, at(14, 20), at(14, 21), uid="short", written_at=WRITTEN + timedelta(days=1)
    )
    found = before(at(15, 7), long, short)
    assert sorted((piece.hours_known, piece.rain_mm) for piece in found) == [
        (1.0, 3.0),
        (13.0, 26.0),
    ]


def test_moments_are_answered_in_their_order() -> None:
    one, other = reading(2.0, at(13, 7), at(14, 7)), reading(4.0, at(14, 7), at(15, 7))
    moments = [at(15, 7), at(13, 12), at(14, 7)]
    found = fallen_before(moments, (one, other), {}, LONDON)
    assert found == [before(moment, one, other) for moment in moments]
    assert [round(sum(piece.rain_mm for piece in each), 4) for each in found] == [
        2.3333,
        0.4167,
        1.1667,
    ]
    assert fallen_before(moments, (), {}, LONDON) == [(), (), ()]
