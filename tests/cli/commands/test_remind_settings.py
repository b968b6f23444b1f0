"""`remind settings`: shown, changed, refused; and the server of mail, whose password nobody sees again."""

import json
import stat
from pathlib import Path

import pytest

from soakbook.reminders.addresses import addresses_file, read_addresses
from tests.cli.commands.conftest import Go
from tests.cli.test_schemas import validate
from tests.cli.words import amiss
from tests.reminders.secrets import PASSWORD, SECRETS, USER
from tests.services.looking import look_at

SERVER = ("remind", "settings", "--mail-server", "mail.example.org", "--mail-user", USER)


def test_the_page_tells_each_kind_and_who_is_reached(go: Go) -> None:
    ran = go("remind", "settings")
    assert (ran.status, ran.err) == (0, "")
    assert amiss(ran.out) == []
    assert "Round: 07:00, for whose bed it is that day; quiet 22:00 to 06:00.\n" in ran.out
    assert "Ann, the head: nowhere yet.\n" in ran.out
    assert "soakbook remind settings --mail-server HOST:PORT" in ran.out


def test_one_kind_is_shown_alone(go: Go) -> None:
    out = go("remind", "settings", "week").out
    assert "Week: Sunday 17:00" in out
    assert "Late from the end of its day, too old from 20:00 the day after.\n" in out
    assert "Round:" not in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["week", "--off"], "Week: not sent.\n"),
        (["round", "--hour", "06:30", "--for", "Ann,Tom"], "Round: 06:30, for Ann and Tom;"),
        (["heat", "--channel", "push", "--quiet", "none"], "Heat: 16:00, for the head, by push.\n"),
        (["heat", "--usual"], "Heat: 16:00, for the head; quiet 22:00 to 06:00.\n"),
        (["round", "--hour", "05:00"], "It is quiet at 05:00: it is sent at 06:00.\n"),
    ],
)
def test_a_change_is_said_back(go: Go, words: list[str], said: str) -> None:
    ran = go("remind", "settings", *words)
    assert (ran.status, ran.err) == (0, "")
    assert said in ran.out
    assert amiss(ran.out) == []


def test_a_change_stands_in_the_log_of_the_book(go: Go) -> None:
    go("remind", "settings", "round", "--off", "--for", "Tom", "--by", "Ann")
    assert "Round reminders: sent no; for Tom, Ann" in go("book", "log").out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["rond", "--off"], "kind: 'rond' cannot be right; did you mean round?"),
        (["round", "--hour", "01:30"], "01:30 is doubled on Sunday 26 October 2031"),
        (["round", "--for", "Jo"], "for: 'Jo' cannot be right; known: keeper"),
        (["round", "--channel", "post"], "channel: 'post' cannot be right; one of mail, push, any"),
        (["round", "--quiet", "late"], "quiet: 'late' cannot be right; from when until when"),
        (["round", "--usual", "--on"], "--usual stands by itself"),
        (["--off"], "name the KIND first"),
        (["round", "--mail-user", "x"], "the mail server is no one KIND's"),
        (["--mail-user", "x"], "mail-server is missing: HOST:PORT"),
        (["--mail-server", "x y"], "mail-server: 'x y' cannot be right"),
        (["--mail-server", "mail.example.org", "--mail-security", "none"], "tls or starttls"),
        (["--mail-server", "localhost", "--mail-security", "none"], "mail-from is missing"),
        (["--mail-server", "x.org", "--mail-user", "ann"], "mail-password is missing"),
    ],
)
def test_what_is_refused_changes_neither_book_nor_file(
    go: Go, abbey: Path, words: list[str], said: str
) -> None:
    before = look_at(abbey)
    ran = go("remind", "settings", *words)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert look_at(abbey) == before
    assert not addresses_file().exists()


def test_reports_for_machines_are_as_their_schemas_say(go: Go) -> None:
    validate(json.loads(go("remind", "settings", "--json").out), "reminders")
    validate(json.loads(go("remind", "settings", "heat", "--json").out), "reminders")
    validate(json.loads(go("remind", "settings", "heat", "--off", "--json").out), "told")
    served = go(*SERVER, "--mail-password", "-", "--json", piped=f"{PASSWORD}\n")
    validate(json.loads(served.out), "reminders")
    assert json.loads(served.out)["mail_server"]


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ([], "reminders"),
        (["heat"], "reminders"),
        (["heat", "--off"], "told"),
        (["heat", "--on"], "told"),
        (["heat", "--hour", "16:00"], "told"),
        (["heat", "--usual"], "told"),
        (["--mail-server", "x"], "reminders"),
    ],
)
def test_the_schema_is_that_of_what_these_words_print(go: Go, words: list[str], name: str) -> None:
    found = json.loads(go("remind", "settings", *words, "--json-schema").out)
    assert found["$id"] == f"urn:soakbook:{name}:1"


def test_a_password_is_read_and_never_seen_again(go: Go, abbey: Path, tmp_path: Path) -> None:
    ran = go(*SERVER, "--mail-password", "-", piped=f"{PASSWORD}\nand more\n")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == (
        "mail.example.org takes our mail at port 465, by TLS, from garden@example.org. To\n"
        "try it: soakbook remind --test\n"
    )
    server = read_addresses().server
    assert server is not None
    assert server.password == PASSWORD
    assert stat.S_IMODE(addresses_file().stat().st_mode) == 0o600
    later = [
        go("remind", "settings"),
        go("remind", "settings", "--json"),
        go("remind", "settings", "week", "--off"),
        go("remind", "settings", "--mail-security", "none"),
        go("remind", "once", "--offline"),
        go("remind", "log", "--json"),
        go("book", "log"),
        go("book", "export", str(tmp_path / "out")),
    ]
    folders = [*(tmp_path / "out").iterdir(), *abbey.parent.glob("abbey.book*")]
    seen = "".join(map(str, (ran, later))).encode() + b"".join(
        path.read_bytes() for path in folders if path.is_file()
    )
    assert [secret for secret in SECRETS if secret.encode() in seen] == []


@pytest.mark.parametrize(
    ("piped", "said"),
    [
        ("", "mail-password is missing: a line of text on standard input"),
        ("\n", "mail-password is missing: a line of text on standard input"),
        (b"stra\xdfe\n", "mail-password: '-' cannot be right; a line of text"),
        ("tab\there\n", "mail-password: '...' cannot be right; letters that print"),
    ],
)
def test_a_password_that_is_none_is_refused(go: Go, piped: str | bytes, said: str) -> None:
    ran = go(*SERVER, "--mail-password", "-", piped=piped)
    assert (ran.status, ran.out) == (2, "")
    assert said in ran.err
    assert not addresses_file().exists()


def test_without_a_book_no_server_is_kept(go: Go, tmp_path: Path) -> None:
    ran = go(*SERVER, "--mail-password", "-", "--book", str(tmp_path / "none.book"), piped=PASSWORD)
    assert ran.status == 2
    assert not addresses_file().exists()
