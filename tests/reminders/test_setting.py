"""How reminders are sent: what can be said of a kind, what is refused, and how it is told again."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from soakbook.errors import InputError
from soakbook.garden.reminding import Reminder
from soakbook.reminders.addresses import keep_person, keep_server
from soakbook.reminders.kinds import USUAL
from soakbook.reminders.setting import set_kind, settings_report
from soakbook.services import books
from soakbook.services.book_log import Wanted, log_report
from soakbook.services.people import person
from soakbook.store.book import open_book
from soakbook.store.garden_rows import read_records
from tests.cli.test_schemas import validate
from tests.reminders.garden_days import uid_of
from tests.reminders.secrets import PASSWORD, USER, gives_away
from tests.services.looking import Refused, at, said

pytestmark = pytest.mark.filterwarnings("ignore:'imghdr' is deprecated:DeprecationWarning")

NOW = at(5, 15, 9)


def put(book: Path, kind: str, **typed: str) -> str:
    """What is said of a change."""
    report = set_kind(book, kind, now=NOW, by="Ann", **typed)
    validate(report, "told")
    return said(report)


def kind_of(book: Path, kind: str) -> dict[str, Any]:
    """How a kind is sent, as `--json` has it."""
    report = settings_report(book, kind)
    validate(report, "reminders")
    (found,) = report["kinds"]
    assert isinstance(found, dict)
    return found


def logged(book: Path) -> list[str]:
    """What the history says of reminders."""
    found = log_report(book, Wanted(since="15may"), now=at(5, 15, 12))
    return [line["say"] for line in found["lines"] if line["what"] == "reminder"]


def records(book: Path) -> list[Reminder]:
    with open_book(book, read_only=True) as opened:
        return list(read_records(opened, Reminder))


@pytest.mark.parametrize(
    ("kind", "typed", "fields", "sentence"),
    [
        ("round", {"hour": "06:30"}, {"hour": "06:30"}, "Round: 06:30, for whose bed it is"),
        ("heat", {"hour": " 7:05 "}, {"hour": "07:05"}, "Heat: 07:05, for the head"),
        ("week", {"wanted": "no"}, {"wanted": False}, "Week: not sent."),
        ("Week", {"whom": "ALL"}, {"whom": "all"}, "Week: Sunday 17:00, for everybody;"),
        ("unheard", {"whom": "keeper"}, {"whom": "keeper"}, "Unheard: 18:00, for whose bed it"),
        ("promise", {"channel": "Mail"}, {"channel": "mail"}, "that day, by mail; quiet"),
        (
            "rule",
            {"quiet": "21:30 - 06:30"},
            {"quiet_from": "21:30", "quiet_until": "06:30"},
            "for everybody; quiet 21:30 to 06:30.",
        ),
        (
            "dry",
            {"quiet": "none", "channel": "push"},
            {"quiet_from": "00:00", "quiet_until": "00:00", "channel": "push"},
            "Dry: 17:00, for whose bed it is that day, by push.",
        ),
        (
            "feel",
            {"whom": "tom, zoe"},
            {"whom": "named", "people": ["Tom", "Zoe"]},
            "Feel: 07:00, for Tom and Zoe;",
        ),
        ("heat", {"whom": "Zoe"}, {"whom": "named", "people": ["Zoe"]}, "Heat: 16:00, for Zoe;"),
    ],
)
def test_what_is_said_of_a_kind_is_kept(
    garden: Path, kind: str, typed: dict[str, str], fields: dict[str, Any], sentence: str
) -> None:
    before = kind_of(garden, kind)
    assert not before["said"]
    assert sentence in put(garden, kind, **typed)
    assert kind_of(garden, kind) == before | fields | {"said": True}


def test_what_is_not_said_again_stays(garden: Path) -> None:
    put(garden, "heat", hour="15:00", whom="Ann,Tom", quiet="20:00-08:00")
    put(garden, "heat", channel="push")
    found = kind_of(garden, "heat")
    assert (found["hour"], found["people"], found["channel"]) == ("15:00", ["Ann", "Tom"], "push")
    put(garden, "heat", whom="head", channel="any")
    found = kind_of(garden, "heat")
    assert (found["hour"], found["whom"], found["people"]) == ("15:00", "head", [])
    assert found["channel"] == "any"
    assert found["quiet_until"] == "08:00"


def test_what_goes_with_the_rounds_hour_says_so(garden: Path) -> None:
    put(garden, "round", hour="05:30", quiet="none")
    said_of = put(garden, "promise", channel="mail")
    assert said_of.startswith(
        "Promise: 05:30, for whose bed it is that day, by mail; quiet 22:00 to"
    )
    assert "It is quiet at 05:30: it is sent at 06:00." in said_of
    assert kind_of(garden, "promise")["hour"] == "05:30"


def test_a_kind_switched_off_comes_back_as_it_was(garden: Path) -> None:
    put(garden, "week", hour="18:30")
    put(garden, "week", wanted="no")
    assert put(garden, "week", wanted="yes").startswith("Week: Sunday 18:30, for the head")


def test_as_usual_is_as_if_nobody_had_said_anything(garden: Path) -> None:
    before = settings_report(garden)
    put(garden, "heat", hour="15:00", whom="Tom", channel="push", quiet="none", wanted="no")
    assert put(garden, "heat", usual="yes") == "Heat: 16:00, for the head; quiet 22:00 to 06:00."
    assert settings_report(garden) == before


def test_a_name_with_a_comma_in_it_is_a_name(garden: Path) -> None:
    person(garden, "Lee, Ada", now=NOW)
    assert put(garden, "week", whom="Lee, Ada").startswith("Week: Sunday 17:00, for Lee, Ada;")


def test_beds_that_several_are_told_of_go_to_one_of_them(garden: Path) -> None:
    assert "Each bed goes to one of them" in put(garden, "round", whom="all")
    assert "Each bed goes to one of them" in put(garden, "feel", whom="Tom,Zoe")
    for kind, whom in (("round", "Tom"), ("feel", "keeper"), ("heat", "all")):
        assert "one of them" not in put(garden, kind, whom=whom)


def test_an_hour_in_the_quiet_ones_is_told_to_wait_for_their_end(garden: Path) -> None:
    assert "It is quiet at 05:30: it is sent at 06:00." in put(garden, "round", hour="05:30")
    assert "quiet at" not in put(garden, "round", hour="06:00")
    assert "It is quiet at 13:00" in put(garden, "round", hour="13:00", quiet="12:30-14:00")
    assert "quiet at" not in put(garden, "round", quiet="none")
    assert "quiet at" not in put(garden, "round", hour="05:30", quiet="22:00-06:00", wanted="no")


@pytest.mark.parametrize(
    ("kind", "typed", "field", "value", "right"),
    [
        ("rond", {"hour": "07:30"}, "kind", "rond", "did you mean round? known: promise, round"),
        ("round", {"hour": "7"}, "hour", "7", "an hour such as 07:00"),
        ("round", {"hour": "24:00"}, "hour", "24:00", "an hour such as 07:00"),
        ("round", {"hour": "07:60"}, "hour", "07:60", "an hour such as 07:00"),
        ("round", {"hour": "07:3"}, "hour", "07:3", "an hour such as 07:00"),
        ("round", {"hour": "03:59"}, "hour", "03:59", "an hour from 04:00 to 23:59"),
        ("round", {"whom": "kepper"}, "for", "kepper", "did you mean keeper? known: keeper, next"),
        ("round", {"whom": "Tomm"}, "for", "Tomm", "did you mean Tom?"),
        ("round", {"whom": "Ann,Jo"}, "for", "Jo", "known: Ann, Tom, Zoe"),
        ("round", {"whom": "Ann,"}, "for", "", "known: Ann, Tom, Zoe"),
        ("round", {"channel": "post"}, "channel", "post", "one of mail, push, any"),
        ("round", {"quiet": "22-6"}, "quiet", "22-6", "two hours such as 22:00-06:00"),
        ("round", {"quiet": "22:00"}, "quiet", "22:00", "from when until when: 22:00-06:00"),
        ("round", {"quiet": "22:00-25:00"}, "quiet", "22:00-25:00", "two hours such as"),
        ("round", {"hour": "08:00", "channel": "post"}, "channel", "post", "one of"),
    ],
)
def test_what_cannot_be_right_changes_nothing(
    garden: Path, kind: str, typed: dict[str, str], field: str, value: str, right: str
) -> None:
    put(garden, "round", hour="06:45")
    before = settings_report(garden), records(garden), logged(garden)
    with Refused(garden, field, value, right):
        set_kind(garden, kind, now=NOW, **typed)
    assert (settings_report(garden), records(garden), logged(garden)) == before


def test_with_nobody_entered_whoever_is_named_is_not_known(tmp_path: Path) -> None:
    book = new_book(tmp_path, "Europe/London")
    with pytest.raises(InputError, match="for: 'Ann' cannot be right; known: keeper, next, head"):
        set_kind(book, "round", now=NOW, whom="Ann")
    assert settings_report(book)["people"] == []


def new_book(folder: Path, zone: str) -> Path:
    """A garden without beds in a zone."""
    path = folder / "new.book"
    books.new(
        path,
        now=datetime(2031, 5, 1, tzinfo=UTC),
        name="New Ground",
        latitude_deg=52.3,
        longitude_deg=-0.4,
        elevation_m=62.0,
        timezone=zone,
    )
    return path


@pytest.mark.parametrize(
    ("zone", "hour", "words"),
    [
        ("Europe/London", "01:30", ("doubled on Sunday 26 October", "missing on Sunday 28 March")),
        ("Australia/Lord_Howe", "01:45", ("doubled on Sunday 4 April 2032",)),
        ("Australia/Lord_Howe", "02:15", ("missing on Sunday 5 October 2031",)),
        ("America/Havana", "00:30", ("doubled on Sunday 2 November", "missing on Sunday 14 March")),
    ],
)
def test_an_hour_that_a_change_of_the_clock_takes_or_doubles_is_refused_in_words(
    tmp_path: Path, zone: str, hour: str, words: tuple[str, ...]
) -> None:
    book = new_book(tmp_path, zone)
    with Refused(book, "hour", hour, *words):
        set_kind(book, "round", now=datetime(2031, 5, 15, tzinfo=UTC), hour=hour)
    assert records(book) == []


def test_the_history_tells_it_in_plain_words(garden: Path) -> None:
    put(garden, "round", hour="06:30", whom="Tom,Ann", quiet="none")
    put(garden, "round", whom="head", channel="mail", quiet="21:00-07:00", wanted="no")
    put(garden, "round", usual="yes")
    put(garden, "round", usual="yes")
    put(garden, "week", usual="yes")
    assert logged(garden) == [
        "Round reminders: hour 06:30; for Ann and Tom; quiet hours none",
        "Round reminders: sent from yes to no; for from Ann and Tom to the head; by from any channel "
        "to mail; quiet hours from none to 21:00 to 07:00",
        "Round reminders: sent from no to yes; hour from 06:30 to the usual; for from the head to "
        "the usual; by from mail to any channel; quiet hours from 21:00 to 07:00 to the usual",
        "Week reminders: as usual",
    ]
    assert uid_of(garden, "Ann") not in " ".join(logged(garden))


def test_who_is_reached_is_shown_and_never_where(garden: Path) -> None:
    keep_server("localhost:2525", security="none", user=USER, password=PASSWORD)
    keep_person("Ann", mail="ann@example.org", push="jsons://example.org/tk_q8Zr41VbX0mlw7")
    keep_person("Zoe", push="ntfys://secret-topic")
    report = settings_report(garden)
    validate(report, "reminders")
    assert report["mail_server"]
    assert report["people"] == [
        {"name": "Ann", "head": True, "channels": ["mail", "push"]},
        {"name": "Tom", "head": False, "channels": []},
        {"name": "Zoe", "head": False, "channels": ["push"]},
    ]
    assert gives_away(report) == []
    assert not any(word in str(report) for word in ("example.org", "secret-topic", "localhost"))


def test_all_kinds_are_shown_in_their_order_as_they_are_usually_sent(garden: Path) -> None:
    report = settings_report(garden)
    assert [one["kind"] for one in report["kinds"]] == list(USUAL)
    assert {one["said"] for one in report["kinds"]} == {False}


@pytest.mark.parametrize("ask", [settings_report, lambda book, kind: set_kind(book, kind, now=NOW)])
def test_a_kind_that_there_is_not_is_refused(garden: Path, ask: Callable[..., object]) -> None:
    with Refused(garden, "kind", "heet", "did you mean heat?"):
        ask(garden, "heet")
