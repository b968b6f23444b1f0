"""Where people are reached: an address is written down, and a test message goes there at once."""

from datetime import datetime
from hashlib import blake2b
from pathlib import Path

from soakbook.errors import InputError
from soakbook.garden.nearest import find
from soakbook.garden.records import Person
from soakbook.reminders.addresses import keep_person, read_addresses
from soakbook.reminders.channels.giving import give
from soakbook.reminders.channels.push import check_push_url
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.setting import channels_of
from soakbook.reminders.texts.fitting import called
from soakbook.reminders.ways import check_mail_address
from soakbook.store.book import open_book
from soakbook.store.garden_rows import read_garden, read_records


def check_reach(mail: str | None, push: str | None) -> None:
    """Nothing, where addresses and the file that they are to go into can be right.

    Raises
    ------
    InputError
        One cannot.
    """
    if mail:
        check_mail_address(mail)
    if push:
        check_push_url(push)
    read_addresses()


def reach(path: Path, name: str, *, mail: str | None, push: str | None) -> str:
    """Write down where somebody of the book is reached; who it is, as the book calls them.

    Parameters
    ----------
    path : Path
        The book.
    name : str
        As typed.
    mail, push : str, optional
        An address; empty takes away what there was.

    Raises
    ------
    InputError
        An address or the file cannot be right.
    """
    known = _known(path, name)
    keep_person(known, mail=mail, push=push)
    return known


def send_tests(path: Path, now: datetime, only: str | None = None) -> tuple[list[str], bool]:
    """Send a test to everybody who is reached, by each of their channels; what came of it, and whether all arrived.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    only : str, optional
        The one person to whom it goes, as typed.

    Raises
    ------
    InputError
        No such person, nobody who is reached, or the file of addresses cannot be right.
    """
    with open_book(path, read_only=True) as book:
        garden, people = read_garden(book), read_records(book, Person)
    names = [one.name for one in people]
    if only is not None:
        names = [_known(path, only)]
    addresses = read_addresses()
    say, well = [], True
    for name in names:
        for channel in channels_of(addresses, name):
            digest = blake2b(
                f"{garden.uid}{name}{channel}{now.isoformat()}".encode(), digest_size=16
            )
            message = Message(
                digest.hexdigest(),
                name,
                f"{called(garden.name)}: a test",
                f"So reminders come to {name}. Nothing is due because of it.",
                now,
            )
            _, outcome = give(message, channel, addresses)
            say.append(_said(name, channel, outcome))
            well = well and outcome.came == "sent"
    if not say:
        who = only or "somebody"
        right = "whoever has an address: soakbook person Ann --mail ann@example.org"
        raise InputError("test", who, right)
    return say, well


def _said(name: str, channel: str, outcome: Outcome) -> str:
    answer = f" ({outcome.answer})" if outcome.answer else ""
    if outcome.came == "sent":
        return f"A test went to {name} by {channel}{answer}."
    return f"The test did not reach {name} by {channel}{answer}."


def _known(path: Path, name: str) -> str:
    with open_book(path, read_only=True) as book:
        names = [one.name for one in read_records(book, Person)]
    if not names:
        raise InputError("person", name, f"somebody entered: soakbook person {name}")
    return find(name, names, "person", {})
