"""The one file that holds addresses and passwords: `channels.toml` in the user's folder of settings, theirs alone.

Nothing of it goes into the book, its exports, a log or an error. It may be written by hand; what soakbook writes into
it is written whole or not at all, and then comments are gone: no library at hand keeps them.

    [mail]
    host = "mail.example.org"
    port = 465
    security = "tls"
    sender = "garden@example.org"
    user = "garden"
    password = "..."

    [people."Ann"]
    mail = "ann@example.org"
    push = "ntfy://..."
"""

import os
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from tempfile import mkstemp

from soakbook.errors import InputError
from soakbook.reminders.channels.push import check_push_url
from soakbook.reminders.channels_toml import NAME, addresses_in, text_of
from soakbook.reminders.ways import (
    PORTS,
    Addresses,
    MailServer,
    Reached,
    check_login,
    check_mail_address,
    check_safe,
    check_security,
    check_server,
)
from soakbook.store.places import config_folder, from_home

OTHERS = 0o077
"""Modes by which somebody else may read, write or enter."""


def addresses_file() -> Path:
    """Where the file is, or would be."""
    return config_folder() / NAME


def read_addresses() -> Addresses:
    """All that is in the file; where there is none, nobody is reached.

    Raises
    ------
    InputError
        Others may read it, it cannot be read, or there is something in it that cannot be right.
    """
    path = addresses_file()
    return addresses_in(_text(path), str(path))


def keep_person(name: str, *, mail: str | None = None, push: str | None = None) -> Addresses:
    """Write down where somebody is reached; what the file holds from then on.

    Parameters
    ----------
    name : str
        As in the book.
    mail, push : str, optional
        An address of mail, one of Apprise's; empty takes away what there was, None leaves it.

    Raises
    ------
    InputError
        An address or the file cannot be right; then the file is as it was.
    """
    if not (name.strip() and name.isprintable()):
        raise InputError("name", name, "who is reached: Ann")
    old = read_addresses()
    reached = old.people.get(name, Reached())
    if mail is not None:
        reached = replace(reached, mail=mail and check_mail_address(mail))
    if push is not None:
        reached = replace(reached, push=push and check_push_url(push))
    people = {**old.people, name: reached}
    if reached == Reached():
        del people[name]
    return _keep(Addresses(old.server, people))


def keep_server(
    at: str | None = None,
    *,
    security: str | None = None,
    sender: str | None = None,
    user: str | None = None,
    password: str | None = None,
    ca_file: str | None = None,
) -> Addresses:
    """Write down who takes our mail; what the file holds from then on.

    Another host begins anew but for the sender: no server gets a password that was given for another.

    Parameters
    ----------
    at : str, optional
        HOST or HOST:PORT as typed.
    security : str, optional
        tls, starttls or none; unless said by the port: 465 is tls, all else starttls.
    sender : str, optional
        The address that mail comes from; unless said the user, where that is an address.
    user, password : str, optional
        For the login; both empty: without.
    ca_file : str, optional
        The certificate that is trusted, and it alone; empty: whoever this machine trusts.

    Raises
    ------
    InputError
        Something typed or the file cannot be right; then the file is as it was.
    """
    old = read_addresses()
    server = _meant(at, security, old.server)
    check_safe(server.host, server.security, "mail-security")
    server = replace(
        server,
        user=server.user if user is None else user,
        password=server.password if password is None else password,
        ca_file=server.ca_file if ca_file is None else _certificate(ca_file),
    )
    check_login(server, "mail-user", "mail-password")
    sender = sender or server.sender or server.user
    server = replace(server, sender=check_mail_address(sender, "mail-from"))
    return _keep(Addresses(server, old.people))


def _meant(at: str | None, typed: str | None, old: MailServer | None) -> MailServer:
    """The server at a place, spoken to as typed, with what else is known of it."""
    security = None if typed is None else check_security(typed, "mail-security")
    if at is None and old is None:
        raise InputError("mail-server", None, "HOST:PORT, like mail.example.org:465")
    if old is not None and at is None:
        host, port = old.host, None
    else:
        host, port = check_server(at or "")
    same = old if old is not None and old.host.casefold() == host.casefold() else None
    if security is None and same is not None and port in (None, same.port):
        security = same.security
    security = security or ("tls" if port in (None, PORTS["tls"]) else "starttls")
    if port is None:
        port = same.port if same and same.security == security else PORTS[security]
    if same is not None:
        return replace(same, port=port, security=security)
    return MailServer(host, port, security, old.sender if old else "")


def _certificate(typed: str) -> str:
    if not typed:
        return ""
    import ssl

    path = from_home(typed).absolute()
    try:
        ssl.create_default_context(cafile=str(path))
    except OSError:  # ssl's errors are OSErrors
        raise InputError("mail-ca", str(path), "a file with a certificate in PEM") from None
    return str(path)


def _text(path: Path) -> str:
    """What stands in the file, if nobody else may read it; nothing where there is none."""
    try:
        with open(path, "rb") as file:
            mode = os.fstat(file.fileno()).st_mode & 0o777
            if os.name == "posix" and mode & OTHERS:
                right = f"readable by you alone, for it holds passwords: chmod 600 {path}"
                raise InputError(NAME, f"mode {mode:03o}", right)
            return file.read().decode("utf-8-sig")
    except FileNotFoundError:
        return ""
    except UnicodeDecodeError as fault:
        right = f"text in UTF-8; byte {fault.start + 1} is not"
        raise InputError(NAME, str(path), right) from None  # the fault carries the whole text
    except OSError as fault:
        raise InputError(NAME, str(path), f"a file that can be read ({fault.strerror})") from fault


def _keep(addresses: Addresses) -> Addresses:
    """Put the file in its place, whole and on the disk, never for a moment open to others."""
    path = addresses_file().resolve()  # where the name is a link, what it leads to is written
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, part = mkstemp(prefix=f".{NAME}.", suffix=".part", dir=path.parent)  # 0600
        try:
            with open(handle, "wb") as file:
                file.write(text_of(addresses).encode())
                file.flush()
                os.fsync(handle)
            os.replace(part, path)
        except BaseException:
            with suppress(OSError):
                os.unlink(part)
            raise
        _sync(path.parent)
    except OSError as fault:
        right = f"a file that can be written ({fault.strerror})"
        raise InputError(NAME, str(path), right) from fault
    return addresses


def _sync(folder: Path) -> None:
    """Wait until the disk has the names in a folder."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
