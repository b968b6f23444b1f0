"""`remind once` and `remind log`: what is said of each reminder, to a person, a machine and cron; the status."""

import json
from datetime import timedelta
from pathlib import Path

import pytest

from soakbook.reminders.addresses import addresses_file, keep_person, keep_server
from tests.cli.commands.conftest import NOW, Go
from tests.cli.test_schemas import validate
from tests.cli.words import amiss
from tests.reminders.channels.mail_servers import Office, running
from tests.services.looking import at

ONCE = ("remind", "once", "--offline")


def served_at(port: int) -> None:
    """A server on this machine, and two people with an address."""
    keep_server(f"127.0.0.1:{port}", security="none", sender="garden@example.org")
    keep_person("Ann", mail="ann@example.org")
    keep_person("Tom", mail="tom@example.org")


def unbroken(page: str) -> str:
    """A page as one line: no word is told from its neighbour by where a line ends."""
    return " ".join(page.split())


def test_what_was_sent_is_told_and_then_nothing_is_due(go: Go) -> None:
    with running(Office(), "none", None) as port:
        served_at(port)
        first, second = go(*ONCE), go(*ONCE)
    assert (first.status, first.err) == (0, "")
    assert "Thu 15 May 07:00  sent to Tom by mail: Abbey, Thu 15 May: 1 bed by 10:00\n" in first.out
    assert amiss(unbroken(first.out), 10_000) == []
    assert second == (0, "Nothing was due.\n", "")


def test_cron_is_told_nothing_that_is_as_it_should_be(go: Go, tmp_path: Path) -> None:
    calendar = tmp_path / "abbey.ics"
    with running(Office(), "none", None) as port:
        served_at(port)
        assert go(*ONCE, "--quiet", "--calendar", str(calendar)) == (0, "", "")
    assert calendar.exists()
    assert go(*ONCE, "--quiet", now=at(5, 15, 18)) == (0, "", "")


def test_a_channel_that_fails_is_status_3_but_for_cron(go: Go) -> None:
    served_at(1)
    ran = go(*ONCE)
    assert ran.status == 3
    assert "Thu 15 May 07:00  waits by mail: Abbey, Thu 15 May: 1 bed by 10:00\n" in ran.out
    assert "    For Tom.\n" in ran.out
    assert amiss(unbroken(ran.out), 10_000) == []
    assert go(*ONCE, "--quiet", now=NOW + timedelta(hours=1)) == (0, "", "")


def test_who_has_no_address_is_told_how_it_is_given(go: Go) -> None:
    ran = go(*ONCE)
    assert ran.status == 0
    assert "waits: Abbey, Thu 15 May: 1 bed by 10:00\n" in ran.out
    assert "Tom has no address: soakbook person Tom --mail ann@example.org" in ran.out


def test_for_machines_it_is_as_its_schema_says(go: Go) -> None:
    report = json.loads(go(*ONCE, "--json").out)
    validate(report, "remind")
    assert len(report["notices"]) == 2
    validate(json.loads(go("remind", "log", "--json").out), "remind")


def test_a_damaged_file_of_addresses_is_a_clear_word_and_all_waits(go: Go) -> None:
    path = addresses_file()
    path.parent.mkdir(parents=True)
    path.write_text("[mail\n", encoding="utf-8")
    path.chmod(0o600)
    ran = go(*ONCE)
    assert (ran.status, ran.out) == (2, "")
    assert "channels.toml" in ran.err
    assert ran.err.count("\n") == 1
    report = json.loads(go("remind", "log", "--json").out)
    assert {one["state"] for one in report["notices"]} == {"due"}


def test_a_calendar_in_no_folder_is_a_clear_word(go: Go, tmp_path: Path) -> None:
    ran = go(*ONCE, "--calendar", str(tmp_path / "gone" / "abbey.ics"))
    assert (ran.status, ran.out) == (2, "")
    assert "gone" in ran.err
    assert ran.err.count("\n") == 1


def test_no_book_is_a_clear_word(go: Go, tmp_path: Path) -> None:
    ran = go(*ONCE, "--book", str(tmp_path / "none.book"))
    assert (ran.status, ran.out) == (2, "")
    assert "none.book" in ran.err


def test_a_clock_put_back_is_told_until_it_is_said_to_be_right(go: Go) -> None:
    go(*ONCE, now=at(5, 25, 7))
    ran = go(*ONCE)
    assert ran.status == 0
    assert "soakbook remind once --clock-is-right" in unbroken(ran.out)
    assert "put back" not in go(*ONCE, "--clock-is-right").out
    assert "The clock met with\n" in go("remind", "log").out


def test_cron_is_told_once_that_the_clock_stands_wrong(go: Go) -> None:
    go(*ONCE, "--quiet", now=at(5, 25, 7))
    first, second = go(*ONCE, "--quiet"), go(*ONCE, "--quiet", now=NOW + timedelta(minutes=5))
    assert (first.status, first.out) == (0, "")
    assert first.err.startswith("soakbook: The clock has been at 07:00 on Sunday 25 May 2031")
    assert second == (0, "", "")
    assert go("remind", "log").out.count("The clock has been at") == 1


def test_cron_is_told_that_nobody_looked(go: Go) -> None:
    go(*ONCE, "--quiet")
    ran = go(*ONCE, "--quiet", now=NOW + timedelta(days=60))
    assert ran.err.startswith("soakbook: Nobody looked from 07:00 on Thursday 15 May 2031 on")
    report = json.loads(go("remind", "log", "--json", now=NOW + timedelta(days=60)).out)
    assert [one["say"][:13] for one in report["incidents"]] == ["Nobody looked"]


def test_the_log_tells_states_in_words(go: Go) -> None:
    empty = go("remind", "log")
    assert empty == (0, "The Abbey: reminders, newest last\nNone yet.\n", "")
    with running(Office(), "none", None) as port:
        served_at(port)
        go(*ONCE)
    go(*ONCE, now=at(5, 16, 23))
    ran = go("remind", "log", now=at(5, 17, 7))
    assert (ran.status, ran.err) == (0, "")
    assert "Thu 15 May 07:00  sent to Tom by mail: Abbey" in ran.out
    assert "lapsed: Abbey" in ran.out
    assert amiss(unbroken(ran.out), 10_000) == []
    assert not any(word in ran.out for word in ("due:", "given_up", "None", "T07:00"))


def test_older_ones_are_said_to_be_there(go: Go) -> None:
    for n in range(13):
        go(*ONCE, now=NOW + timedelta(days=n))
    last = NOW + timedelta(days=13)
    assert "Older ones are left out: --all shows them.\n" in go("remind", "log", now=last).out
    every = go("remind", "log", "--all", now=last).out
    assert "Older ones" not in every
    assert "Thu 15 May" in every


@pytest.mark.parametrize("command", ["once", "log"])
def test_the_schema_is_that_of_reminders(go: Go, command: str) -> None:
    found = json.loads(go("remind", command, "--json-schema").out)
    assert found["$id"] == "urn:soakbook:remind:1"
