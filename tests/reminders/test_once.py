"""One time round for cron: what is decided is in the outbox whatever else fails, and what can be sent is sent."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from soakbook.errors import InputError
from soakbook.garden.reminding import Notice
from soakbook.reminders.addresses import addresses_file, keep_person, keep_server
from soakbook.reminders.looking import look
from soakbook.reminders.once import once, trust_the_clock
from soakbook.reminders.report import NEWEST, log_report
from soakbook.store.book import open_book
from soakbook.store.outbox import Incident, add_incident, read_notices
from tests.cli.test_schemas import validate
from tests.reminders.channels.mail_servers import Office, running
from tests.services.conftest import make
from tests.services.looking import at

MORNING = at(5, 15, 7)
Report = dict[str, Any]


def go(book: Path, now: datetime = MORNING, **asked: Any) -> Report:
    """What came of a time round, held to its schema."""
    report = once(book, lambda: now, offline=True, **asked)
    validate(report, "remind")
    return report


def log(book: Path, now: datetime = MORNING, *, every: bool = False) -> Report:
    """The log, held to its schema."""
    report = log_report(book, now=now, every=every)
    validate(report, "remind")
    return report


def outbox(book: Path) -> tuple[Notice, ...]:
    with open_book(book, read_only=True) as opened:
        return read_notices(opened)


@pytest.fixture
def office() -> Iterator[Office]:
    """A server that takes mail for Ann and Tom."""
    found = Office()
    with running(found, "none", None) as port:
        keep_server(f"127.0.0.1:{port}", security="none", sender="garden@example.org")
        keep_person("Ann", mail="ann@example.org")
        keep_person("Tom", mail="tom@example.org")
        yield found


def test_what_is_due_is_decided_sent_and_told(garden: Path, office: Office) -> None:
    report = go(garden)
    assert (report["schema"], report["today"], report["say"]) == (
        "soakbook.remind/1",
        "2031-05-15",
        [],
    )
    assert sorted((one["whom"], one["state"], one["channel"]) for one in report["notices"]) == [
        ("Ann", "sent", "mail"),
        ("Tom", "sent", "mail"),
    ]
    (tom,) = [one for one in report["notices"] if one["whom"] == "Tom"]
    assert tom["beds"] == ["dole"]
    assert tom["due_at"] == "2031-05-15T07:00:00+01:00"
    assert tom["settled_at"] == "2031-05-15T07:00:00+01:00"
    assert sorted(one.rcpt_tos[0] for one in office.taken) == [
        "ann@example.org",
        "tom@example.org",
    ]


def test_a_second_time_round_sends_nothing_again(garden: Path, office: Office) -> None:
    go(garden)
    assert go(garden, MORNING + timedelta(minutes=5))["notices"] == []
    assert len(office.taken) == 2


def test_its_outbox_is_that_of_a_look(garden: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.book"
    other.write_bytes(garden.read_bytes())
    go(garden)
    look(other, now=MORNING)
    assert [one.uid for one in outbox(garden)] == [one.uid for one in outbox(other)]


def test_who_has_no_address_keeps_it_waiting_with_the_command(garden: Path) -> None:
    report = go(garden)
    assert {(one["state"], one["tries"], one["settled_at"]) for one in report["notices"]} == {
        ("due", 0, None)
    }
    answers = {one["whom"]: one["answer"] for one in report["notices"]}
    assert answers["Ann"] == "Ann has no address: soakbook person Ann --mail ann@example.org"


def test_where_nobody_is_entered_it_waits_with_the_command(tmp_path: Path) -> None:
    book = tmp_path / "abbey.book"
    make(book)
    report = go(book)
    assert report["notices"]
    assert {(one["whom"], one["state"]) for one in report["notices"]} == {("", "due")}
    assert "soakbook person Ann --mail ann@example.org" in report["notices"][0]["answer"]


def test_what_waits_for_a_server_goes_within_minutes_of_there_being_one(garden: Path) -> None:
    keep_person("Ann", mail="ann@example.org")
    for n in range(4):
        go(garden, MORNING + n * timedelta(minutes=5))
    found = Office()
    with running(found, "none", None) as port:
        keep_server(f"127.0.0.1:{port}", security="none", sender="garden@example.org")
        go(garden, MORNING + timedelta(minutes=20))
    assert [one.rcpt_tos for one in found.taken] == [["ann@example.org"]]


def test_a_server_that_is_away_is_tried_and_told(garden: Path) -> None:
    keep_server("127.0.0.1:1", security="none", sender="garden@example.org")
    keep_person("Ann", mail="ann@example.org")
    (ann,) = [one for one in go(garden)["notices"] if one["whom"] == "Ann"]
    assert (ann["state"], ann["tries"], ann["channel"]) == ("due", 1, "mail")
    assert ann["answer"]


@pytest.mark.parametrize(
    ("text", "mode"), [("[mail\n", 0o600), ("[people.Ann]\nmail = 'x'\n", 0o600), ("", 0o644)]
)
def test_a_file_of_addresses_that_cannot_be_right_leaves_all_of_it_in_the_outbox(
    garden: Path, tmp_path: Path, text: str, mode: int
) -> None:
    path = addresses_file()
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    path.chmod(mode)
    calendar = tmp_path / "abbey.ics"
    with pytest.raises(InputError, match=r"channels\.toml"):
        go(garden, calendar=calendar)
    assert {one.state for one in outbox(garden)} == {"due"}
    assert len(outbox(garden)) == 2
    assert calendar.exists()
    path.unlink()
    keep_person("Ann", mail="ann@example.org")
    assert len(go(garden, MORNING + timedelta(minutes=5))["notices"]) == 2


def test_a_calendar_that_cannot_be_written_keeps_no_mail_back(
    garden: Path, office: Office, tmp_path: Path
) -> None:
    with pytest.raises(InputError, match="calendar"):
        go(garden, calendar=tmp_path / "not there" / "abbey.ics")
    assert len(office.taken) == 2
    assert {one.state for one in outbox(garden)} == {"sent"}


def test_a_wrong_address_of_a_weather_service_keeps_no_mail_back(
    garden: Path, office: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOAKBOOK_OPEN_METEO", "nonsense")
    with pytest.raises(InputError, match="SOAKBOOK_OPEN_METEO"):
        once(garden, lambda: MORNING)
    assert len(office.taken) == 2


def test_a_calendar_is_brought_up(garden: Path, tmp_path: Path) -> None:
    calendar = tmp_path / "abbey.ics"
    go(garden, calendar=calendar)
    assert calendar.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")


def test_a_clock_that_stood_wrong_is_told_and_can_be_put_right(
    garden: Path, office: Office
) -> None:
    go(garden, at(5, 25, 7))
    report = go(garden)
    assert report["notices"] == []
    assert "soakbook remind once --clock-is-right" in report["say"][0]
    trust_the_clock(garden, MORNING)
    assert go(garden, MORNING + timedelta(minutes=5))["say"] == []
    assert [one["say"] for one in log(garden)["incidents"]] == [
        report["say"][0],
        "The clock was said to be right: reminders go on from here.",
    ]
    assert report["incidents"] == [{"at": "2031-05-15T07:00:00+01:00", "say": report["say"][0]}]


def test_mornings_that_a_wrong_clock_let_lapse_are_told_at_their_hour(
    garden: Path, office: Office
) -> None:
    """A clock three days ahead let the rounds of the days between lapse; what it sent is not sent again."""
    go(garden)
    go(garden, at(5, 18, 12))
    trust_the_clock(garden, at(5, 15, 12))
    assert {(one.for_day.day, one.state) for one in outbox(garden) if one.what == "round"} == {
        (15, "sent"),
        (18, "sent"),
    }
    go(garden, at(5, 16, 7))
    rounds = {(one.for_day.day, one.state) for one in outbox(garden) if one.what == "round"}
    assert rounds == {(15, "sent"), (16, "sent"), (18, "sent")}


def test_a_clock_that_was_right_all_along_is_no_incident(garden: Path, office: Office) -> None:
    go(garden)
    trust_the_clock(garden, MORNING + timedelta(minutes=5))
    assert log(garden)["incidents"] == []


def test_the_log_of_a_new_book_is_empty(garden: Path) -> None:
    report = log(garden)
    assert (report["notices"], report["incidents"], report["older"]) == ([], [], False)
    assert report["garden"] == "The Abbey"


def test_the_log_tells_the_newest_and_all_of_it_where_that_is_asked(garden: Path) -> None:
    for n in range(13):
        go(garden, MORNING + timedelta(days=n))
    everything, newest = log(garden, every=True), log(garden)
    assert len(everything["notices"]) > NEWEST
    assert (everything["older"], newest["older"]) == (False, True)
    assert newest["notices"] == everything["notices"][-NEWEST:]
    due = [datetime.fromisoformat(one["due_at"]) for one in everything["notices"]]
    assert due == sorted(due)


def test_what_became_of_each_stands_in_the_log(garden: Path, office: Office) -> None:
    go(garden)
    go(garden, at(5, 16, 23))
    states = {one["state"] for one in log(garden, at(5, 16, 23))["notices"]}
    assert {"sent", "lapsed"} <= states
    assert all(
        (one["settled_at"] is None) == (one["state"] == "due") for one in log(garden)["notices"]
    )


def test_incidents_stand_on_the_gardens_clock(garden: Path) -> None:
    with open_book(garden) as book:
        add_incident(book, Incident(at(5, 15, 8), "It was asleep."))
    assert log(garden)["incidents"] == [
        {"at": "2031-05-15T08:00:00+01:00", "say": "It was asleep."}
    ]
