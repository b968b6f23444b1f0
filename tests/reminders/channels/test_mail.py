"""Mail through real servers: what arrives, and what is made of what they say."""

from datetime import UTC, datetime, timedelta, timezone
from email import message_from_bytes, policy
from email.message import EmailMessage
from email.utils import parsedate_to_datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.reminders.channels.mail import _letter, send_mail
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.ways import MailServer, Security
from tests.reminders.channels.mail_servers import (
    HOST,
    SENDER,
    Certified,
    Office,
    certified,
    reached_at,
    running,
)
from tests.reminders.secrets import PASSWORD, PLAIN, USER, gives_away

ANN = "ann@example.org"
MESSAGE = Message(
    "3f2a9c41" * 4,
    "Ann",
    "Corrody, Fri 9 May: 3 beds by 10:00",
    "Chapel Wall 17 L, Bank 20 L: about 25 min.\n.Gießkanne – last safe morning Sat 10.",
    datetime(2031, 5, 9, 6, 30, tzinfo=timezone(timedelta(hours=1))),
)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Certified:
    return certified(str(tmp_path_factory.mktemp("home")))


def read(letter: bytes) -> EmailMessage:
    found = message_from_bytes(letter, policy=policy.default)
    assert isinstance(found, EmailMessage)
    assert found.defects == []
    return found


@pytest.fixture
def office() -> Office:
    return Office()


def sent(office: Office, **more: bool) -> Outcome:
    with running(office, "none", None, auth_exclude_mechanism=[], **more) as port:
        return send_mail(MESSAGE, ANN, reached_at(port), timeout_s=5)


def test_what_arrives_is_what_was_sent(office: Office) -> None:
    assert sent(office) == Outcome("sent", "250 OK queued as 4711")
    (envelope,) = office.taken
    assert (envelope.mail_from, envelope.rcpt_tos) == (SENDER, [ANN])
    assert isinstance(envelope.content, bytes)
    letter = read(envelope.content)
    assert letter["From"] == f"soakbook <{SENDER}>"
    assert letter["To"] == f"Ann <{ANN}>"
    assert letter["Subject"] == MESSAGE.title
    assert letter["Message-ID"] == f"<{MESSAGE.identifier}@garden.example>"
    assert letter["Auto-Submitted"] == "auto-generated"
    assert parsedate_to_datetime(letter["Date"]) == MESSAGE.sent_at
    assert letter.get_content().splitlines() == MESSAGE.body.splitlines()
    assert letter.get_content_type() == "text/plain"
    assert envelope.content.isascii()


def test_who_has_no_name_says_its_address(office: Office) -> None:
    """RFC 5321, section 4.1.4; asking the network for a name may take half a minute."""
    sent(office)
    assert office.calls_itself == "[127.0.0.1]"


@pytest.mark.parametrize("security", ["tls", "starttls"])
def test_a_home_servers_own_certificate_and_a_login(
    office: Office, home: Certified, security: Security
) -> None:
    """The password has a letter beyond ASCII, which RFC 4616 sends in UTF-8."""
    with running(office, security, home, auth_required=security == "starttls") as port:
        server = reached_at(port, security, home.ca_file, login=True)
        assert send_mail(MESSAGE, ANN, server, timeout_s=5).came == "sent"
    assert len(office.taken) == 1


@pytest.mark.parametrize("security", ["tls", "starttls"])
def test_a_certificate_that_is_not_trusted_gets_nothing(
    office: Office, home: Certified, security: Security
) -> None:
    with running(office, security, home) as port:
        outcome = send_mail(MESSAGE, ANN, reached_at(port, security, login=True), timeout_s=5)
    assert outcome.came == "later"
    assert outcome.answer.startswith(f"{HOST} cannot prove who it is")
    assert office.taken == []


def test_a_certificate_for_another_name_gets_nothing(office: Office, tmp_path: Path) -> None:
    other = certified(str(tmp_path), "mail.example.org")
    with running(office, "tls", other) as port:
        outcome = send_mail(MESSAGE, ANN, reached_at(port, "tls", other.ca_file), timeout_s=5)
    assert outcome.came == "later"
    assert outcome.answer.startswith(f"{HOST} cannot prove who it is: IP address mismatch")
    assert office.taken == []


def test_a_server_without_starttls_gets_nothing(office: Office) -> None:
    with running(office, "none", None) as port:
        outcome = send_mail(MESSAGE, ANN, reached_at(port, "starttls", login=True), timeout_s=5)
    assert outcome.came == "later"
    assert "STARTTLS" in outcome.answer
    assert office.taken == []


def test_a_server_that_speaks_in_the_open_where_tls_is_wanted(office: Office) -> None:
    with running(office, "none", None) as port:
        outcome = send_mail(MESSAGE, ANN, reached_at(port, "tls"), timeout_s=5)
    assert outcome == Outcome("later", f"no secure line can be had with {HOST} at port {port}")


@pytest.mark.parametrize("code", [451, 550])
@pytest.mark.parametrize("step", ["sender", "recipient", "message"])
def test_a_no_is_for_good_or_for_now_as_the_server_says(step: str, code: int) -> None:
    office = Office(**{step: f"{code} 5.0.0 <{ANN}>: not today"})
    outcome = sent(office)
    assert outcome.came == ("refused" if code == 550 else "later")
    assert outcome.answer == f"{step}: {code} 5.0.0 <...>: not today"
    assert office.taken == []


@pytest.mark.parametrize(("code", "came"), [(535, "refused"), (454, "later")])
def test_a_login_refused(home: Certified, code: int, came: str) -> None:
    """The server says back what it was told, as some do when they complain."""
    office = Office(login=f"{code} 5.7.8 not known: {PLAIN} {PASSWORD}")
    with running(office, "starttls", home) as port:
        server = reached_at(port, "starttls", home.ca_file, login=True)
        outcome = send_mail(MESSAGE, ANN, server, timeout_s=5)
    assert outcome == Outcome(came, f"login: {code} 5.7.8 not known: ... ...")  # type: ignore[arg-type]
    assert gives_away(outcome) == []


def test_a_wrong_password(office: Office, home: Certified) -> None:
    with running(office, "starttls", home) as port:
        server = MailServer(HOST, port, "starttls", SENDER, USER, "wrong", home.ca_file)
        outcome = send_mail(MESSAGE, ANN, server, timeout_s=5)
    assert outcome.came == "refused"
    assert outcome.answer.startswith("login: 535")


def test_a_login_by_another_way_than_plain(office: Office, home: Certified) -> None:
    with running(office, "starttls", home, auth_exclude_mechanism=["PLAIN"]) as port:
        server = reached_at(port, "starttls", home.ca_file, login=True)
        outcome = send_mail(MESSAGE, ANN, server, timeout_s=5)
    assert outcome == Outcome("later", f"{HOST} takes logins of plain letters (ASCII) only")


def test_a_server_that_wants_a_login_and_gets_none(office: Office, home: Certified) -> None:
    with running(office, "starttls", home, auth_required=True) as port:
        outcome = send_mail(MESSAGE, ANN, reached_at(port, "starttls", home.ca_file), timeout_s=5)
    assert outcome.came == "refused"
    assert outcome.answer.startswith("sender: 530")


def test_a_certificate_file_that_is_none(tmp_path: Path) -> None:
    for name in ("missing.pem", "empty.pem"):
        path = tmp_path / name
        if name == "empty.pem":
            path.touch()
        outcome = send_mail(MESSAGE, ANN, reached_at(25, "tls", str(path)))
        assert outcome == Outcome("later", f"{path}: no certificate can be read there")


def test_no_other_machine_gets_mail_in_the_open() -> None:
    server = MailServer("mail.example.org", 25, "none", SENDER)
    outcome = send_mail(MESSAGE, ANN, server)
    assert outcome.came == "later"
    assert "on this machine" in outcome.answer


@pytest.mark.parametrize("address", ["eve", "ann@example.org\r\nRCPT TO:<eve@example.org>"])
def test_a_malformed_address_is_never_dialled(address: str) -> None:
    outcome = send_mail(MESSAGE, address, reached_at(1))
    assert outcome == Outcome("later", "mail: an address like ann@example.org")


texts = st.text(max_size=80) | st.sampled_from(
    ["Ann\r\nBcc: eve@example.org", "ü" * 70, '"; ,<>@', ""]
)


@given(name=texts, title=texts, body=st.text(max_size=300))
def test_no_name_or_title_becomes_a_header(name: str, title: str, body: str) -> None:
    """And no body ends the letter: a line with a dot alone would."""
    message = Message("3f2a9c41" * 4, name, title, body, datetime(2031, 5, 9, tzinfo=UTC))
    line = _letter(message, ANN, "soakbook@" + "a-long-name-of-a-garden." * 8 + "example")
    assert b"\r\n.\r\n" not in line
    assert line.endswith(b"\r\n")
    letter = read(line.replace(b"\r\n..", b"\r\n."))
    assert letter.keys() == [
        "From", "To", "Subject", "Date", "Message-ID", "Auto-Submitted",
        "Content-Type", "Content-Transfer-Encoding", "MIME-Version",
    ]  # fmt: skip
    assert [one.addr_spec for one in letter["To"].addresses] == [ANN]
    assert letter["Message-ID"].startswith(f"<{message.identifier}@a-long-name")
    assert letter["Message-ID"].endswith(".example>")
    assert " ".join(letter["Subject"].split()) == " ".join(
        "".join(one if one.isprintable() else " " for one in title).split()
    )
