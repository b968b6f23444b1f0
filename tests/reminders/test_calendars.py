"""The garden's calendar brought up from the book: the same bytes twice, and a change told as a change."""

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import icalendar
import pytest

from soakbook.errors import InputError
from soakbook.reminders import errands
from soakbook.services.entries import soak
from soakbook.services.setup import restriction
from soakbook.store.book import open_book
from soakbook.store.calendar_rows import read_events
from tests.services.looking import at

MORNING = at(5, 15, 7)


def keep(book: Path, now: datetime = MORNING) -> dict[str, dict[str, Any]]:
    """The events of the calendar beside a book, by uid, brought up to a moment."""
    file = book.with_suffix(".ics")
    errands.keep_calendar(book, file, now)
    found = icalendar.Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    return {
        str(one["UID"]): {
            "summary": str(one["SUMMARY"]),
            "day": f"{one.decoded('DTSTART'):%Y-%m-%d}",
            "sequence": one.decoded("SEQUENCE"),
            "status": str(one.get("STATUS", "")),
        }
        for one in found
    }


def of_bed(events: dict[str, dict[str, Any]], name: str) -> list[str]:
    """Uids of the events about a bed."""
    return [uid for uid, one in events.items() if name in one["summary"]]


def test_twice_at_a_moment_is_the_same_to_the_byte(garden: Path) -> None:
    assert keep(garden)
    file = garden.with_suffix(".ics")
    before, rows = file.read_bytes(), events_of(garden)
    assert not errands.keep_calendar(garden, file, MORNING)
    assert (file.read_bytes(), events_of(garden)) == (before, rows)


def test_later_with_nothing_new_it_is_the_same_too(garden: Path) -> None:
    before = keep(garden)
    file = garden.with_suffix(".ics")
    text = file.read_bytes()
    assert keep(garden, MORNING + timedelta(minutes=5)) == before
    assert file.read_bytes() == text


def test_a_file_that_was_lost_is_written_again(garden: Path) -> None:
    keep(garden)
    file = garden.with_suffix(".ics")
    before = file.read_bytes()
    file.unlink()
    assert errands.keep_calendar(garden, file, MORNING)
    assert file.read_bytes() == before


def test_a_bed_that_moves_to_another_day_keeps_its_uid(garden: Path) -> None:
    """Soaked before its hour, it is wanted days later: the same event, told anew."""
    early = at(5, 15, 6, 40)
    before = keep(garden, early)
    (uid,) = of_bed(before, "Dole Bed")
    soak(garden, ["dole"], "140l", now=early + timedelta(minutes=5))
    after = keep(garden, early + timedelta(minutes=10))
    assert of_bed(after, "Dole Bed") == [uid]
    assert after[uid]["day"] > before[uid]["day"]
    assert after[uid]["sequence"] == before[uid]["sequence"] + 1


def test_another_rule_is_another_event_and_leaves_the_rest(garden: Path) -> None:
    before = keep(garden)
    restriction(
        garden, "18jul", "5sep", now=MORNING, tool="hose", source="mains", text="No hosepipes."
    )
    after = keep(garden, MORNING + timedelta(minutes=1))  # what is written then is known after it
    assert {uid: after[uid] for uid in before} == before
    (uid,) = after.keys() - before.keys()
    assert (after[uid]["day"], after[uid]["sequence"]) == ("2031-07-18", 0)


def test_a_copy_of_the_book_tells_the_same_events(garden: Path, tmp_path: Path) -> None:
    before = keep(garden)
    copied = tmp_path / "copied.book"
    copied.write_bytes(garden.read_bytes())
    keep(copied)
    assert copied.with_suffix(".ics").read_bytes() == garden.with_suffix(".ics").read_bytes()
    fresh = tmp_path / "fresh.book"
    fresh.write_bytes(garden.read_bytes())
    with open_book(fresh) as book, book.writing() as connection:
        connection.execute("DELETE FROM calendar_event")
    assert keep(fresh).keys() == before.keys()


def test_what_it_said_is_in_the_book_before_the_file_is_written(
    garden: Path, tmp_path: Path
) -> None:
    file = tmp_path / "not there" / "abbey.ics"
    with pytest.raises(InputError, match="calendar") as refused:
        errands.keep_calendar(garden, file, MORNING)
    assert "not there" in str(refused.value)
    assert events_of(garden)
    assert not file.parent.exists()
    file.parent.mkdir()
    assert errands.keep_calendar(garden, file, MORNING)


def test_the_round_of_the_book_is_not_another_for_it(garden: Path) -> None:
    with open_book(garden, read_only=True) as book:
        before = book.change_mark()
    keep(garden)
    with open_book(garden, read_only=True) as book:
        assert book.change_mark() == before


def events_of(book: Path) -> tuple[Any, ...]:
    with open_book(book, read_only=True) as opened:
        return read_events(opened)
