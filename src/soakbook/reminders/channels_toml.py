"""What stands in `channels.toml`: its text as records, and records as its text. No file is touched here.

An error names the table and the key, and of addresses, users and passwords nothing that stands there: whoever keeps
the clock writes errors into the book.
"""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from soakbook.errors import InputError
from soakbook.reminders.channels.push import shown_push
from soakbook.reminders.channels.wording import HIDDEN
from soakbook.reminders.ways import (
    PORTS,
    Addresses,
    MailServer,
    Reached,
    check_login,
    check_mail_address,
    check_safe,
    check_security,
    is_host,
    is_port,
)

NAME = "channels.toml"
HEAD = "# Where soakbook's reminders go. For your eyes alone. Comments are lost when soakbook writes here.\n"


def addresses_in(text: str, place: str) -> Addresses:
    """Records of a text; where it is empty, nobody is reached.

    Parameters
    ----------
    text : str
        What stands in the file.
    place : str
        Where the file is, for errors.

    Raises
    ------
    InputError
        It is no TOML, or there is something in it that cannot be right.
    """
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise InputError(NAME, place, f"TOML ({fault})") from None  # it may carry the text
    _check_keys(table, ("mail", "people"), NAME)
    server = _server(_table(table["mail"], "mail")) if "mail" in table else None
    people = {
        name: _reached(_table(ways, f'people."{name}"'), f'people."{name}"')
        for name, ways in _table(table.get("people", {}), "people").items()
    }
    return Addresses(server, people)


def text_of(addresses: Addresses) -> str:
    """The whole text of the file, from which `addresses_in` makes the same records."""
    import tomli_w

    table: dict[str, Any] = {}
    if addresses.server is not None:
        table["mail"] = _said(addresses.server)
    table["people"] = {name: _said(reached) for name, reached in addresses.people.items()}
    return HEAD + tomli_w.dumps(table)


def _server(table: Mapping[str, Any]) -> MailServer:
    keys = ("host", "port", "security", "sender", "user", "password", "ca_file")
    _check_keys(table, keys, _field("mail"))
    host, port = _word(table, "host", "mail"), table.get("port")
    if not is_host(host):
        raise InputError(
            _field("mail, host"), host or None, "a server's name, like mail.example.org"
        )
    security = check_security(table.get("security"), _field("mail, security"))
    port = PORTS[security] if port is None else port
    if not isinstance(port, int) or isinstance(port, bool) or not is_port(port):
        raise InputError(_field("mail, port"), port, "a number from 1 to 65535, without quotes")
    check_safe(host, security, _field("mail, security"))
    server = MailServer(
        host,
        port,
        security,
        _address(table, "sender", "mail"),
        _word(table, "user", "mail", is_secret=True),
        _word(table, "password", "mail", is_secret=True),
        _word(table, "ca_file", "mail"),
    )
    if server.ca_file and not Path(server.ca_file).is_absolute():
        right = "the whole path of a certificate, from the top of the disk"
        raise InputError(_field("mail, ca_file"), server.ca_file, right)
    check_login(server, _field("mail, user"), _field("mail, password"))
    return server


def _reached(table: Mapping[str, Any], where: str) -> Reached:
    """Where somebody is reached; whether Apprise knows a push address is looked at when it is kept or used."""
    _check_keys(table, ("mail", "push"), _field(where))
    mail = _address(table, "mail", where) if table.get("mail") else ""
    push = _word(table, "push", where, is_secret=True)
    if push and (not push.isprintable() or " " in push):
        right = "one address of Apprise's, without blanks"
        raise InputError(_field(f"{where}, push"), shown_push(push), right)
    return Reached(mail, push)


def _field(where: str) -> str:
    return f"{NAME}, {where}"


def _table(value: object, where: str) -> Mapping[str, Any]:
    if not isinstance(value, dict):
        raise InputError(_field(where), HIDDEN, f"a table: a line [{where}], and its keys below")
    return value


def _check_keys(table: Mapping[str, Any], known: tuple[str, ...], where: str) -> None:
    for key in table:
        if key not in known:
            raise InputError(where, key, f"one of {', '.join(known)}")


def _word(table: Mapping[str, Any], key: str, where: str, *, is_secret: bool = False) -> str:
    value = table.get(key, "")
    if not isinstance(value, str):
        raise InputError(
            _field(f"{where}, {key}"), HIDDEN if is_secret else value, "text in quotes"
        )
    return value


def _address(table: Mapping[str, Any], key: str, where: str) -> str:
    """An address of mail; one that cannot be right is not shown, for it may be right but for a letter."""
    address = _word(table, key, where, is_secret=True)
    try:
        return check_mail_address(address)
    except InputError as fault:
        raise InputError(_field(f"{where}, {key}"), address and HIDDEN, fault.right) from None


def _said(record: MailServer | Reached) -> dict[str, Any]:
    """A record's fields, but for those of which nothing is said."""
    return {key: value for key in record.__slots__ if (value := getattr(record, key)) != ""}
