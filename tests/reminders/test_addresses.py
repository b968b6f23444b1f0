"""The file of addresses: who may read it, what is written into it and when, and that it is whole or as it was."""

import os
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from soakbook.errors import InputError
from soakbook.reminders.addresses import (
    addresses_file,
    keep_person,
    keep_server,
    read_addresses,
)
from soakbook.reminders.ways import Addresses, MailServer, Reached
from tests.reminders.channels.mail_servers import certified
from tests.reminders.secrets import PASSWORD, TOKEN, USER, gives_away

pytestmark = pytest.mark.filterwarnings("ignore:'imghdr' is deprecated:DeprecationWarning")

Act = Callable[[], Addresses]
PUSH = f"jsons://example.org/{TOKEN}"
on_posix = pytest.mark.skipif(os.name != "posix", reason="modes of files are POSIX's")


def written(text: str, mode: int = 0o600) -> Path:
    """The file, written by hand."""
    path = addresses_file()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    path.chmod(mode)
    return path


def test_where_there_is_no_file_nobody_is_reached() -> None:
    assert read_addresses() == Addresses(None, {})
    assert not addresses_file().parent.exists()


def test_people_and_server_are_read_as_they_were_kept() -> None:
    keep_person("Ann Lee", mail="ann@example.org", push=PUSH)
    keep_person('"Tom"', mail="tom@example.org")
    kept = keep_server("mail.example.org:465", user=USER, password=PASSWORD)
    assert read_addresses() == kept
    assert kept.people == {
        "Ann Lee": Reached("ann@example.org", PUSH),
        '"Tom"': Reached("tom@example.org"),
    }
    assert kept.server == MailServer("mail.example.org", 465, "tls", USER, USER, PASSWORD)


def test_what_is_not_said_stays_and_what_is_empty_goes() -> None:
    keep_person("Ann", mail="ann@example.org", push=PUSH)
    assert keep_person("Ann", mail="lee@example.org").people["Ann"] == Reached(
        "lee@example.org", PUSH
    )
    assert keep_person("Ann", push="").people["Ann"] == Reached("lee@example.org")
    assert keep_person("Ann", mail="").people == {}
    assert read_addresses() == Addresses(None, {})


@on_posix
def test_the_file_is_its_owners_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """From the moment it is there, under its first name as under its own, whatever is usual here."""
    modes: list[int] = []
    real = os.replace

    def watched(part: str, path: Path) -> None:
        modes.append(stat.S_IMODE(os.stat(part).st_mode))
        real(part, path)

    monkeypatch.setattr(os, "replace", watched)
    old = os.umask(0)
    try:
        keep_person("Ann", mail="ann@example.org")
        keep_person("Ann", push=PUSH)
    finally:
        os.umask(old)
    path = addresses_file()
    assert modes == [0o600, 0o600]
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


@on_posix
@pytest.mark.parametrize("mode", [0o640, 0o604, 0o620, 0o644])
def test_a_file_that_others_may_read_is_refused(mode: int) -> None:
    path = written(f'[people."Ann"]\npush = "{PUSH}"\n', mode)
    for act in (read_addresses, lambda: keep_person("Ann", mail="ann@example.org")):
        with pytest.raises(InputError, match=f"chmod 600 {path}") as caught:
            act()
        assert gives_away(caught.value) == []
    assert stat.S_IMODE(path.stat().st_mode) == mode
    path.chmod(0o600)
    assert read_addresses().people == {"Ann": Reached("", PUSH)}


def test_a_link_stays_one(tmp_path: Path) -> None:
    """Some keep their settings elsewhere."""
    elsewhere = tmp_path / "mine.toml"
    elsewhere.touch(mode=0o600)
    addresses_file().parent.mkdir(parents=True)
    addresses_file().symlink_to(elsewhere)
    keep_person("Ann", mail="ann@example.org")
    assert addresses_file().is_symlink()
    assert "ann@example.org" in elsewhere.read_text(encoding="utf-8")


def test_what_cannot_be_right_leaves_the_file_as_it_was() -> None:
    keep_person("Ann", mail="ann@example.org")
    before = addresses_file().read_bytes()
    acts: list[Act] = [
        lambda: keep_person("Ann", mail="ann"),
        lambda: keep_person("Ann", mail="lee@example.org", push=TOKEN),
        lambda: keep_person(" ", mail="lee@example.org"),
        lambda: keep_person("Ann\n", mail="lee@example.org"),
        lambda: keep_server("mail.example.org", user=USER),
    ]
    for act in acts:
        with pytest.raises(InputError) as caught:
            act()
        assert gives_away(caught.value) == []
        assert addresses_file().read_bytes() == before


def test_a_disk_that_is_full_leaves_the_file_as_it_was(monkeypatch: pytest.MonkeyPatch) -> None:
    keep_person("Ann", mail="ann@example.org")
    before = addresses_file().read_bytes()

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as moved:
        moved.setattr(os, "fsync", full)
        with pytest.raises(InputError, match=r"can be written .No space left on device"):
            keep_person("Ann", push=PUSH)
    assert addresses_file().read_bytes() == before
    assert [one.name for one in addresses_file().parent.iterdir()] == [addresses_file().name]


def test_a_file_that_is_a_folder() -> None:
    addresses_file().mkdir(parents=True)
    for act in (read_addresses, lambda: keep_person("Ann", mail="ann@example.org")):
        with pytest.raises(InputError, match=r"a file that can be read"):
            act()


def test_a_file_that_is_no_text() -> None:
    written("").write_bytes(b'[mail]\npassword = "\xff"\n')
    with pytest.raises(InputError, match=r"text in UTF-8; byte 20 is not"):
        read_addresses()


@pytest.mark.parametrize(
    ("at", "security", "expected"),
    [
        ("mail.example.org", None, ("mail.example.org", 465, "tls")),
        ("mail.example.org:465", None, ("mail.example.org", 465, "tls")),
        ("mail.example.org:587", None, ("mail.example.org", 587, "starttls")),
        ("mail.example.org", "starttls", ("mail.example.org", 587, "starttls")),
        ("mail.example.org:2465", "tls", ("mail.example.org", 2465, "tls")),
        ("localhost", "none", ("localhost", 25, "none")),
        ("[::1]:1025", "none", ("::1", 1025, "none")),
    ],
)
def test_how_a_server_is_spoken_to(
    at: str, security: str | None, expected: tuple[str, int, str]
) -> None:
    server = keep_server(at, security=security, sender=USER).server
    assert server is not None
    assert (server.host, server.port, server.security) == expected


def test_a_server_is_changed_bit_by_bit(tmp_path: Path) -> None:
    home = certified(str(tmp_path))
    keep_server("mail.example.org:2465", security="tls", user=USER, password=PASSWORD)
    first = MailServer("mail.example.org", 2465, "tls", USER, USER, PASSWORD)
    assert keep_server(sender="soakbook@example.org").server == MailServer(
        "mail.example.org", 2465, "tls", "soakbook@example.org", USER, PASSWORD
    )
    assert keep_server(sender=USER, ca_file=home.ca_file).server == MailServer(
        "mail.example.org", 2465, "tls", USER, USER, PASSWORD, home.ca_file
    )
    assert keep_server(ca_file="").server == first
    assert keep_server(security="starttls").server == MailServer(
        "mail.example.org", 587, "starttls", USER, USER, PASSWORD
    )
    assert keep_server("MAIL.example.org:465").server == MailServer(
        "mail.example.org", 465, "tls", USER, USER, PASSWORD
    )
    assert keep_server(user="", password="").server == MailServer(
        "mail.example.org", 465, "tls", USER
    )


def test_no_server_gets_the_password_of_another() -> None:
    keep_server("mail.example.org:465", user=USER, password=PASSWORD)
    assert keep_server("mail.example.net:465").server == MailServer(
        "mail.example.net", 465, "tls", USER
    )


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"user": USER, "password": PASSWORD}, "mail-server"),
        ({"at": "mail example.org", "sender": USER}, "mail-server"),
        ({"at": "mail.example.org:0", "sender": USER}, "mail-server"),
        ({"at": "mail.example.org", "security": "ssl", "sender": USER}, "mail-security"),
        ({"at": "mail.example.org", "security": "none", "sender": USER}, "mail-security"),
        ({"at": "mail.example.org"}, "mail-from"),
        ({"at": "mail.example.org", "user": "garden", "password": PASSWORD}, "mail-from"),
        ({"at": "mail.example.org", "sender": f"Us <{USER}>"}, "mail-from"),
        ({"at": "mail.example.org", "user": USER}, "mail-password"),
        ({"at": "mail.example.org", "sender": USER, "password": PASSWORD}, "mail-user"),
        ({"at": "x.example", "user": USER, "password": f"{PASSWORD}\n"}, "mail-password"),
        ({"at": "mail.example.org", "sender": USER, "ca_file": "no.pem"}, "mail-ca"),
    ],
)
def test_a_server_that_cannot_be_right(typed: dict[str, str], field: str) -> None:
    with pytest.raises(InputError) as caught:
        keep_server(**typed)
    assert caught.value.field == field
    assert gives_away((str(caught.value), vars(caught.value))) == []
    assert not addresses_file().exists()
