"""The ways to people: one server for mail, and where each person is reached; what can be one and what cannot.

The file they lie in is `addresses`; whether a push address can be right is known by `channels.push`. No record shows
what it hides: neither its `repr` nor an error holds a password or a token.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from ipaddress import IPv6Address
from typing import Literal, NamedTuple

from soakbook.errors import InputError

Security = Literal["tls", "starttls", "none"]
"""TLS from the first letter (RFC 8314); TLS asked for in the open (RFC 3207); none, on this machine alone."""

SECURITIES: tuple[Security, ...] = ("tls", "starttls", "none")
THIS_MACHINE = frozenset({"localhost", "127.0.0.1", "::1"})
PORTS: dict[Security, int] = {"tls": 465, "starttls": 587, "none": 25}
"""Where a server listens of which nothing else is said: RFC 8314, section 3.3; RFC 6409, section 3.1; and 25."""

RIGHT_MAIL = "an address like ann@example.org"
RIGHT_SERVER = "HOST or HOST:PORT, like mail.example.org:465"

_HOST = re.compile(r"(?!-)[a-z0-9-]{1,63}(?<!-)(\.(?!-)[a-z0-9-]{1,63}(?<!-))*", re.IGNORECASE)
_LOCAL = re.compile(r"[\w!#$%&'*+/=?^`{|}~-]+(\.[\w!#$%&'*+/=?^`{|}~-]+)*", re.ASCII)
"""RFC 5322, section 3.2.3: dot-atom-text."""


@dataclass(frozen=True, slots=True)
class MailServer:
    """Who takes our mail; `user` and `password` are both empty where it asks for no login."""

    host: str
    port: int
    security: Security
    sender: str
    """The address that mail comes from."""
    user: str = ""
    password: str = field(default="", repr=False)
    ca_file: str = ""
    """Path of the certificate that is trusted, and it alone; empty: whoever this machine trusts."""


@dataclass(frozen=True, slots=True)
class Reached:
    """Where one person is reached; empty where not."""

    mail: str = field(default="", repr=False)
    push: str = field(default="", repr=False)


class Addresses(NamedTuple):
    """All that is known of ways to people: who takes our mail, and where each is reached, by name."""

    server: MailServer | None
    people: Mapping[str, Reached]


def check_mail_address(text: str, field: str = "mail") -> str:
    """The address, if mail can be sent to it: bare, of ASCII letters, with a dot in its domain or this machine's own.

    Parameters
    ----------
    text : str
        As typed.
    field : str
        What the gardener calls it.

    Raises
    ------
    InputError
        No address, or more than one: a name beside it, blanks, lines.
    """
    local, _, domain = text.rpartition("@")
    good = (
        len(local) <= 64  # RFC 5321, section 4.5.3.1.1
        and len(text) <= 254  # RFC 5321, section 4.5.3.1.3, without the brackets
        and _LOCAL.fullmatch(local)
        and _HOST.fullmatch(domain)
        and ("." in domain or domain.casefold() == "localhost")
    )
    if not good:
        raise InputError(field, text, RIGHT_MAIL)
    return text


def check_server(text: str, field: str = "mail-server") -> tuple[str, int | None]:
    """Host and port of a server as typed; None where no port is said. An IPv6 address with a port stands in brackets.

    Parameters
    ----------
    text : str
        As typed.
    field : str
        What the gardener calls it.

    Raises
    ------
    InputError
        No host that can be one, or a port that is none.
    """
    host, port = text, ""
    if bracketed := re.fullmatch(r"\[(.*)\](?::(.*))?", text):
        host, port = bracketed[1], bracketed[2] or ""
    elif text.count(":") == 1:
        host, _, port = text.partition(":")
    if not is_host(host) or (port == "" and text.endswith(":")):
        raise InputError(field, text, RIGHT_SERVER)
    if port and not (port.isascii() and port.isdigit() and is_port(int(port))):
        raise InputError(field, text, f"{RIGHT_SERVER}; a port is 1 to 65535")
    return host, int(port) if port else None


def check_safe(host: str, security: Security, field: str) -> None:
    """Refuse to send in the open to another machine.

    Parameters
    ----------
    host : str
        Of the server.
    security : Security
        As wanted.
    field : str
        What the gardener calls it.

    Raises
    ------
    InputError
        No TLS, and the server is elsewhere.
    """
    if security == "none" and host.casefold() not in THIS_MACHINE:
        right = (
            f"tls or starttls; without either only to a server on this machine, and {host} is not"
        )
        raise InputError(field, security, right)


def check_security(value: object, field: str) -> Security:
    """How a server is spoken to.

    Parameters
    ----------
    value : object
        As typed or read.
    field : str
        What the gardener calls it.

    Raises
    ------
    InputError
        Something else.
    """
    for one in SECURITIES:
        if value == one:
            return one
    raise InputError(field, value, f"one of {', '.join(SECURITIES)}")


def check_login(server: MailServer, user_field: str, password_field: str) -> None:
    """Refuse half a login, and one that no server could be told.

    Parameters
    ----------
    server : MailServer
        Whose login it is.
    user_field, password_field : str
        What the gardener calls them.

    Raises
    ------
    InputError
        A user without a password, or the other way round; letters that do not print.
    """
    if not server.user.isprintable():
        raise InputError(user_field, "...", "letters that print")
    if not server.password.isprintable():
        raise InputError(password_field, "...", "letters that print")
    if server.user and not server.password:
        raise InputError(password_field, None, "the password of that user, or no user either")
    if server.password and not server.user:
        raise InputError(user_field, None, "whose password it is, or no password either")


def is_host(text: str) -> bool:
    """Whether a server can be called so: a name, or an address of IPv4 or IPv6."""
    try:
        IPv6Address(text)
    except ValueError:
        return len(text) <= 253 and _HOST.fullmatch(text) is not None
    return True


def is_port(number: int) -> bool:
    """Whether a server can listen there."""
    return 1 <= number <= 65_535
