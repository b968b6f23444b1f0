"""What can be an address of mail or a server, and what a record does not show."""

import pytest

from soakbook.errors import InputError
from soakbook.reminders.ways import (
    Addresses,
    MailServer,
    Reached,
    check_mail_address,
    check_server,
)
from tests.reminders.secrets import PASSWORD, TOKEN, USER, gives_away


@pytest.mark.parametrize(
    "text",
    [
        "ann@example.org",
        "ann.lee+garden@mail.example.org",
        "o'brien@xn--grtnerei-z2a.example",
        "ann@localhost",
        "a" * 64 + "@example.org",
    ],
)
def test_an_address_of_mail(text: str) -> None:
    assert check_mail_address(text) == text


@pytest.mark.parametrize(
    "text",
    [
        "ann",
        "ann@",
        "@example.org",
        "ann@example",
        "ann@@example.org",
        "ann @example.org",
        " ann@example.org",
        "ann@example.org\n",
        "ann@example.org\r\nBcc: eve@example.org",
        "Ann <ann@example.org>",
        "<ann@example.org>",
        "ann@example.org,tom@example.org",
        ".ann@example.org",
        "ann..lee@example.org",
        "ann@example..org",
        "ann@-example.org",
        "änn@example.org",
        "ann@gärtnerei.example",
        "a" * 65 + "@example.org",
        "ann@" + "a." * 125 + "org",
        "ann@[127.0.0.1]",
    ],
)
def test_no_address_of_mail(text: str) -> None:
    with pytest.raises(InputError) as caught:
        check_mail_address(text)
    assert (caught.value.field, caught.value.value) == ("mail", text)
    assert "ann@example.org" in caught.value.right


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("mail.example.org", ("mail.example.org", None)),
        ("mail.example.org:465", ("mail.example.org", 465)),
        ("192.0.2.1:25", ("192.0.2.1", 25)),
        ("[2001:db8::1]:587", ("2001:db8::1", 587)),
        ("[::1]", ("::1", None)),
        ("::1", ("::1", None)),
    ],
)
def test_a_server(text: str, expected: tuple[str, int | None]) -> None:
    assert check_server(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "",
        ":465",
        "mail.example.org:",
        "mail.example.org:x",
        "mail.example.org:٤٦٥",
        "mail.example.org:65536",
        "https://mail.example.org",
        "mail.example.org/x",
        "user@mail.example.org",
        "[mail.example.org",
        "[::1]465",
        "[::1]:",
        "::1::2:465",
        "mail_example.org",
        "a" * 64 + ".org",
    ],
)
def test_no_server(text: str) -> None:
    with pytest.raises(InputError) as caught:
        check_server(text)
    assert caught.value.field == "mail-server"


def test_no_record_shows_what_it_hides() -> None:
    server = MailServer("mail.example.org", 465, "tls", USER, USER, PASSWORD)
    addresses = Addresses(server, {"Ann": Reached("ann@example.org", f"ntfy://{TOKEN}")})
    assert gives_away(addresses) == []
    assert "ann@example.org" not in repr(addresses)
