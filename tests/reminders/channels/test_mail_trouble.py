"""Servers that hang, drip, lie, break off or say what no mail server says: an answer in time, and never a false yes."""

import socket
from collections.abc import Callable
from time import monotonic, sleep

import pytest

from soakbook.reminders.channels.mail import send_mail
from soakbook.reminders.message import Outcome
from soakbook.reminders.ways import Security
from tests.reminders.channels.mail_servers import (
    HOST,
    listen,
    reached_at,
    speaking,
    up_to_the_letter,
)
from tests.reminders.channels.test_mail import ANN, MESSAGE

PATIENCE_S = 0.2
LATE = f"{HOST} did not finish within {PATIENCE_S} s"
PERHAPS = "; it may have been taken, and come twice"


def spoken_to(
    speech: Callable[[socket.socket], None], security: Security = "none", timeout_s: float = 5.0
) -> tuple[Outcome, float]:
    with speaking(speech) as port:
        begun = monotonic()
        server = reached_at(port, security, login=security != "none")
        return send_mail(MESSAGE, ANN, server, timeout_s=timeout_s), monotonic() - begun


def drip(line: socket.socket) -> None:
    """An answer in time to every single question, and a greeting that never ends."""
    while True:
        line.sendall(b"2")
        sleep(0.01)


def drip_later(line: socket.socket) -> None:
    line.sendall(b"220 mail.test\r\n")
    drip(line)


def say_nothing_to_the_letter(line: socket.socket) -> None:
    up_to_the_letter(line)
    listen(line)


@pytest.mark.parametrize("security", ["none", "tls", "starttls"])
@pytest.mark.parametrize("speech", [listen, drip, drip_later])
def test_a_server_that_hangs_or_drips(
    speech: Callable[[socket.socket], None], security: Security
) -> None:
    """TLS fails at once on what is no handshake; where it hangs it is given up like the rest."""
    outcome, took_s = spoken_to(speech, security, PATIENCE_S)
    assert outcome.came == "later"
    assert security == "tls" or outcome.answer == LATE
    assert took_s < 1


def test_a_letter_without_an_answer_may_come_twice() -> None:
    outcome, took_s = spoken_to(say_nothing_to_the_letter, timeout_s=PATIENCE_S)
    assert outcome == Outcome("later", LATE + PERHAPS)
    assert took_s < 1


def test_a_line_cut_before_the_yes_may_come_twice() -> None:
    outcome, _ = spoken_to(up_to_the_letter)
    assert outcome == Outcome("later", f"{HOST} cut the line before it had said yes{PERHAPS}")


@pytest.mark.parametrize(
    "after", [lambda line: None, listen, drip, lambda line: line.sendall(b"5")]
)
def test_whatever_follows_the_yes_it_is_sent(after: Callable[[socket.socket], None]) -> None:
    """Hung up, silent, dripping or rude at our goodbye."""

    def speech(line: socket.socket) -> None:
        up_to_the_letter(line)
        line.sendall(b"250 2.0.0 taken\r\n")
        after(line)

    outcome, took_s = spoken_to(speech, timeout_s=0.3)
    assert outcome == Outcome("sent", "250 2.0.0 taken")
    assert took_s < 1


@pytest.mark.parametrize(
    "greeting",
    [
        b"HTTP/1.1 400 Bad Request\r\n\r\n",
        b"\x00\xff\x15\x03\r\n",
        b"2" * 20_000,
        b"999999999 no\r\n",
    ],
)
def test_what_no_mail_server_says(greeting: bytes) -> None:
    def speech(line: socket.socket) -> None:
        line.sendall(greeting)
        listen(line)

    outcome, _ = spoken_to(speech)
    assert outcome == Outcome("later", f"{HOST} does not speak as mail servers do")


def test_rubbish_after_the_letter_may_come_twice() -> None:
    def speech(line: socket.socket) -> None:
        up_to_the_letter(line)
        line.sendall(b"well\r\n")

    outcome, _ = spoken_to(speech)
    assert outcome == Outcome("later", f"{HOST} does not speak as mail servers do{PERHAPS}")


@pytest.mark.parametrize(("code", "came"), [(554, "refused"), (421, "later")])
def test_a_server_that_greets_with_a_no(code: int, came: str) -> None:
    outcome, _ = spoken_to(lambda line: line.sendall(b"%d go away\r\n" % code))
    assert outcome == Outcome(came, f"greeting: {code} go away")  # type: ignore[arg-type]


def test_a_server_that_hangs_up_at_once() -> None:
    outcome, _ = spoken_to(lambda line: None)
    assert outcome == Outcome("later", f"{HOST} cut the line before it had said yes")


def test_nobody_there() -> None:
    with socket.create_server((HOST, 0)) as door:
        port = door.getsockname()[1]
    outcome = send_mail(MESSAGE, ANN, reached_at(port), timeout_s=5)
    assert outcome == Outcome("later", f"nobody answers at {HOST}, port {port}")


def test_a_name_that_takes_for_ever_to_look_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """No limit of a socket's reaches the looking up of names."""
    dialled: list[object] = []

    def slowly(*asked: object, **more: object) -> list[object]:
        sleep(0.4)
        dialled.append(asked)
        raise socket.gaierror(socket.EAI_AGAIN, "try again")

    monkeypatch.setattr(socket, "getaddrinfo", slowly)
    monkeypatch.setattr("soakbook.reminders.channels.patience.GRACE_S", 0.05)
    begun = monotonic()
    outcome = send_mail(MESSAGE, ANN, reached_at(25), timeout_s=0.1)
    assert monotonic() - begun < 0.35
    assert outcome == Outcome("later", f"{HOST} did not finish within 0.1 s")
    assert dialled == []
