"""What calendars were told, kept and read again."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from soakbook.errors import InputError
from soakbook.store.book_file import BookFile
from soakbook.store.calendar_rows import EventRow, put_events, read_events

AT = datetime(2031, 5, 15, 6, 30, tzinfo=UTC)
FIRST = EventRow("a@soakbook", 0, {"summary": "Gießkanne", "start": "2031-05-15"}, AT, False)
SECOND = EventRow("b@soakbook", 3, {"summary": "Dole Bed", "alarm": None}, AT, True)


def test_events_come_back_as_they_were_in_their_order(book: BookFile) -> None:
    assert read_events(book) == ()
    put_events(book, [SECOND, FIRST])
    assert read_events(book) == (SECOND, FIRST)


def test_those_that_are_put_are_all_there_are(book: BookFile) -> None:
    put_events(book, [FIRST, SECOND])
    changed = FIRST._replace(sequence=1, said={"summary": "Chapel"}, cancelled=True)
    put_events(book, [changed])
    assert read_events(book) == (changed,)
    put_events(book, [])
    assert read_events(book) == ()


def test_an_event_that_changes_keeps_its_place(book: BookFile) -> None:
    put_events(book, [FIRST, SECOND])
    changed = FIRST._replace(sequence=1, changed_at=AT + timedelta(hours=1))
    put_events(book, [SECOND, changed])
    assert read_events(book) == (changed, SECOND)


def test_of_one_uid_the_last_counts(book: BookFile) -> None:
    put_events(book, [FIRST, FIRST._replace(sequence=7)])
    assert [one.sequence for one in read_events(book)] == [7]


def test_a_moment_is_kept_in_utc(book: BookFile) -> None:
    there = AT.astimezone(timezone(timedelta(hours=11)))
    put_events(book, [FIRST._replace(changed_at=there)])
    (found,) = read_events(book)
    assert (found.changed_at, found.changed_at.utcoffset()) == (AT, timedelta(0))


def test_a_moment_without_a_zone_is_refused_and_nothing_of_it_is_written(book: BookFile) -> None:
    put_events(book, [FIRST])
    with pytest.raises(InputError, match="changed_at"):
        put_events(book, [SECOND, FIRST._replace(changed_at=AT.replace(tzinfo=None))])
    assert read_events(book) == (FIRST,)
