"""What is new, changed or off, and that each is told once: by cases, then by any story of a garden's calendar."""

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID

from hypothesis import given
from hypothesis import strategies as st

from soakbook.reminders.channels.calendar import calendar_text
from soakbook.reminders.channels.calendar_keeping import (
    KEPT_DAYS,
    CalendarEvent,
    Kept,
    published,
)
from tests.reminders.channels import rfc5545
from tests.reminders.channels.calendars import DAY, GARDEN, LONDON, at, by_uid, days, hour

NOW = at(5, 30)


def after(rows: Sequence[Kept], now: datetime, *events: CalendarEvent) -> tuple[Kept, ...]:
    return published(by_uid(rows), events, GARDEN, now)


def may(day: int, at_hour: int = 5) -> datetime:
    return at(at_hour, day=date(2031, 5, day))


def one(rows: Sequence[Kept]) -> Kept:
    (row,) = rows
    return row


def test_a_new_event_begins_at_nought() -> None:
    row = one(after((), NOW, days("bed a", 18)))
    assert (row.sequence, row.cancelled, row.changed_at) == (0, False, NOW.astimezone(UTC))
    assert row.said["first"] == row.said["last"] == "2031-05-18"
    assert json.loads(json.dumps(dict(row.said))) == row.said


def test_a_uid_is_a_uuid_that_says_nothing_and_is_the_gardens_own() -> None:
    """RFC 7986, 5.3. Not of version 4: it must come out the same again."""
    row = one(after((), NOW, days("bed a", 18)))
    assert str(UUID(row.uid)) == row.uid
    assert one(after((), NOW, days("bed a", 18))).uid == row.uid
    assert one(published({}, [days("bed a", 18)], "another", NOW)).uid != row.uid
    assert one(after((), NOW, days("bed b", 18))).uid != row.uid


def test_a_moved_date_is_the_same_event_changed() -> None:
    first = one(after((), NOW, days("bed a", 18)))
    moved = one(after([first], may(15, 9), days("bed a", 20)))
    assert (moved.uid, moved.sequence) == (first.uid, 1)
    assert moved.changed_at == may(15, 9).astimezone(UTC)
    called = one(after([moved], may(20), hour("bed a", 20)))
    assert (called.uid, called.sequence) == (first.uid, 2)


def test_what_has_not_changed_is_as_it_was() -> None:
    rows = after((), NOW, days("bed a", 18), hour("bed b", 15))
    assert after(rows, may(15, 6), hour("bed b", 15), days("bed a", 18)) == rows


def test_what_is_no_longer_wanted_is_called_off_once_and_comes_back_changed() -> None:
    first = after((), NOW, days("bed a", 18))
    off = one(after(first, may(16)))
    assert (off.cancelled, off.sequence, off.said["first"]) == (True, 1, "2031-05-18")
    assert after([off], may(17)) == (off,)
    back = one(after([off], may(17), days("bed a", 18)))
    assert (back.uid, back.sequence, back.cancelled) == (off.uid, 2, False)


def test_a_call_of_a_past_day_stays_and_the_next_is_another() -> None:
    called = after((), NOW, hour("bed a", 15))
    rows = after(called, may(16), days("bed a", 18))
    assert called[0] in rows
    assert len(rows) == 2
    (coming,) = [row for row in rows if row not in called]
    assert (coming.sequence, coming.said["first"]) == (0, "2031-05-18")
    assert one([row for row in after(rows, may(16, 9)) if row.uid == called[0].uid]) == called[0]


def test_a_call_soaked_before_its_hour_moves_on_and_one_soaked_after_it_stays() -> None:
    called = after((), NOW, hour("bed a", 15))
    early = one(after(called, at(6, 30), days("bed a", 18)))
    assert (early.uid, early.said["first"]) == (called[0].uid, "2031-05-18")
    late = after(called, at(7), days("bed a", 18))
    assert len(late) == 2
    assert called[0] in late
    assert len({row.uid for row in late}) == 2, "opened on the same day, and not the same event"


def test_what_remains_of_a_call_changes_the_call_of_that_day() -> None:
    called = after((), NOW, hour("bed a", 15))
    half = one(after(called, at(9), hour("bed a", 15, "Soak Bank: 8 L")))
    assert (half.uid, half.sequence, half.said["title"]) == (called[0].uid, 1, "Soak Bank: 8 L")


def test_a_call_that_nobody_answered_is_not_carried_over() -> None:
    """Whether Bank was soaked on the 15th nobody knows; that it was called stays in the calendar."""
    rows = after(after((), NOW, hour("bed a", 15)), may(16), hour("bed a", 16))
    assert [row.said["first"] for row in sorted(rows, key=lambda row: row.said["first"])] == [
        "2031-05-15",
        "2031-05-16",
    ]
    assert [row.sequence for row in rows] == [0, 0]


def test_days_that_have_begun_end_yesterday_and_may_go_on_after_all() -> None:
    heat = after((), NOW, days("heat", 14, 20))
    over = one(after(heat, may(17)))
    assert (over.said["last"], over.sequence, over.cancelled) == ("2031-05-16", 1, False)
    assert after([over], may(18)) == (over,)
    again = one(after([over], may(18), days("heat", 14, 19)))
    assert (again.uid, again.sequence, again.said["last"]) == (over.uid, 2, "2031-05-19")
    apart = after([over], may(18), days("heat", 22, 26))
    assert len(apart) == 2, "another spell is another event"


def test_days_that_are_over_are_not_told_of_as_news() -> None:
    assert after((), NOW, days("rule a", 1, 14)) == ()
    assert len(after((), NOW, days("rule a", 1, 15))) == 1


def test_what_is_past_leaves_the_file_and_what_is_off_is_seen_first() -> None:
    rows = after((), NOW, hour("bed a", 15), days("bed b", 18), days("bed c", 30))
    (called,) = [row for row in rows if row.said["key"] == "bed a"]
    off_day = DAY + timedelta(days=1)
    off = after(rows, at(5, day=off_day))
    last = at(5, day=DAY + timedelta(days=KEPT_DAYS))
    assert called in after(off, last)
    assert called not in after(off, last + timedelta(days=1))
    assert len(after(off, last + timedelta(days=1))) == 2, "off since the 16th"
    assert after(off, last + timedelta(days=2)) == ()


def test_a_clock_set_back_takes_nothing_back() -> None:
    rows = after((), may(15, 9), days("bed a", 18))
    changed = one(after(rows, NOW, days("bed a", 19)))
    assert (changed.sequence, changed.changed_at) == (1, rows[0].changed_at)


def test_a_day_is_the_gardens() -> None:
    """23:30 UTC on the 14th is the 15th in London: the 14th is over."""
    late = datetime(2031, 5, 14, 23, 30, tzinfo=UTC).astimezone(LONDON)
    assert after((), late, days("rule a", 14)) == ()


KEYS = ("bed a", "bed b", "rule a", "heat")


@st.composite
def an_event(draw: st.DrawFn, key: str) -> CalendarEvent:
    first = DAY + timedelta(days=draw(st.integers(-5, 20)))
    title, body = draw(st.sampled_from(["t", "u"])), draw(st.sampled_from(["", "b"]))
    if draw(st.booleans()):
        begin = at(draw(st.integers(0, 23)), day=first)
        return CalendarEvent(key, title, body, first, first, begin, 10, begin)
    last = first + timedelta(days=draw(st.integers(0, 6)))
    alarm = draw(st.none() | st.just(datetime.combine(first, time(7), LONDON)))
    return CalendarEvent(key, title, body, first, last, alarm=alarm)


@st.composite
def a_story(draw: st.DrawFn) -> list[tuple[datetime, list[CalendarEvent]]]:
    """Moments, each later than the one before, and what was to be in the calendar then."""
    now, story = NOW, []
    for _ in range(draw(st.integers(1, 8))):
        now += timedelta(hours=draw(st.sampled_from([1, 3, 20, 24, 50, 300])))
        keys = draw(st.sets(st.sampled_from(KEYS)))
        story.append((now, [draw(an_event(key)) for key in sorted(keys)]))
    return story


@given(story=a_story(), data=st.data())
def test_any_story_is_told_once_and_in_order(
    story: list[tuple[datetime, list[CalendarEvent]]], data: st.DataObject
) -> None:
    rows: tuple[Kept, ...] = ()
    seen: dict[str, Kept] = {}
    for now, events in story:
        before = by_uid(rows)
        rows = published(before, events, GARDEN, now)
        assert published(by_uid(rows), events, GARDEN, now) == rows, "asked twice, the same"
        shuffled = data.draw(st.permutations(events))
        assert published(dict(reversed(before.items())), shuffled, GARDEN, now) == rows
        for row in rows:
            check_step(seen.get(row.uid), row, now)
        for event in events:
            check_shown(event, rows, now)
        for row in before.values():
            check_past(row, by_uid(rows), events, now)
        seen.update(by_uid(rows))
        rfc5545.read(calendar_text(rows, "The Corrody", LONDON))


def check_step(before: Kept | None, row: Kept, now: datetime) -> None:
    """RFC 5545, 3.8.7.4: from nought, one more with each change, never less."""
    if before is None:
        assert (row.sequence, row.cancelled) == (0, False)
    elif (row.said, row.cancelled) == (before.said, before.cancelled):
        assert row == before
    else:
        assert row.sequence == before.sequence + 1
        assert row.changed_at == now.astimezone(UTC) >= before.changed_at


def check_shown(event: CalendarEvent, rows: Sequence[Kept], now: datetime) -> None:
    """What is to come stands in the calendar once; nothing else of its key is still to come."""
    coming = [
        row
        for row in rows
        if row.said["key"] == event.key and not row.cancelled and not row.closed(now)
    ]
    assert len(coming) <= 1
    if event.last < now.date():
        return
    shown = [
        row
        for row in rows
        if not row.cancelled
        and (row.said["key"], row.said["title"], row.said["first"], row.said["last"])
        == (event.key, event.title, event.first.isoformat(), event.last.isoformat())
        and (row.said["at"] is None) == (event.at is None)
    ]
    assert len(shown) == 1


def check_past(
    row: Kept, now_kept: dict[str, Kept], events: Sequence[CalendarEvent], now: datetime
) -> None:
    """What was over stays as it was, or is forgotten in time; only what goes on from it changes it."""
    if not row.closed(now):
        return
    goes_on = any(
        event.key == row.said["key"] and event.first <= row.last and event.last >= now.date()
        for event in events
    )
    after_it = now_kept.get(row.uid)
    if after_it is None:
        since = row.changed_at.date() if row.cancelled else row.last
        assert now.date() - since > timedelta(days=KEPT_DAYS)
    elif not goes_on:
        assert after_it == row
