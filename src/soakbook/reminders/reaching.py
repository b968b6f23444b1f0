"""Where people are reached: an address is written down, and a test message goes there at once."""

from collections.abc import Collection
from datetime import datetime
from hashlib import blake2b
from pathlib import Path
from typing import get_args

from soakbook.errors import InputError
from soakbook.garden.nearest import find
from soakbook.garden.records import Person
from soakbook.garden.reminding import Channel
from soakbook.quantities.saying import quoted
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


def reach(
    path: Path, name: str, now: datetime, *, mail: str | None, push: str | None
) -> tuple[list[str], bool]:
    """Write down where somebody of the book is reached, and send a test there; what came of it, whether it arrived.

    Parameters
    ----------
    path : Path
        The book.
    name : str
        As typed.
    now : datetime
        Zone-aware.
    mail, push : str, optional
        An address; empty takes away what there was.

    Raises
    ------
    InputError
        An address or the file cannot be right.
    """
    known = _known(path, name)
    keep_person(known, mail=mail, push=push)
    said: dict[Channel, str | None] = {"mail": mail, "push": push}
    gone = [f"{known} is not reached by {one}." for one, address in said.items() if address == ""]
    new = [one for one, address in said.items() if address]
    if not new:
        return gone, True
    came, well = send_tests(path, now, known, new)
    again = f"The address is kept. To try again: soakbook remind --test {quoted(known)}"
    return [*gone, *came, *([] if well else [again])], well


def send_tests(
    path: Path,
    now: datetime,
    only: str | None = None,
    channels: Collection[Channel] = get_args(Channel),
) -> tuple[list[str], bool]:
    """Send a test to everybody who is reached, by each of their channels; what came of it, and whether all arrived.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    only : str, optional
        The one person to whom it goes, as typed.
    channels : collection of str
        By which it goes.

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
        for channel in sorted(set(channels_of(addresses, name)) & set(channels)):
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
        whom = names[0] if only is not None else None
        command = f"soakbook person {quoted(whom or 'Ann')} --mail ann@example.org"
        raise InputError("test", whom, f"somebody who has an address: {command}")
    return say, well


def _said(name: str, channel: str, outcome: Outcome) -> str:
    if outcome.came == "sent":
        return f"A test went to {name} by {channel}."
    answer = f": {outcome.answer}" if outcome.answer else ""
    return f"The test did not reach {name} by {channel}{answer}."


def _known(path: Path, name: str) -> str:
    with open_book(path, read_only=True) as book:
        names = [one.name for one in read_records(book, Person)]
    if not names:
        raise InputError(
            "person", name, f"somebody entered: soakbook person {quoted(name or 'Ann')}"
        )
    return find(name, names, "person")
