"""The four errands of the reminders' clock: fetch, decide, send, tidy. Each may be done at any time, and again.

`waking` does them by the clock of an always-on computer, `remind once` one after the other.
"""

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

from soakbook.garden.reminding import Channel, Notice
from soakbook.reminders.addresses import read_addresses
from soakbook.reminders.channels.giving import give
from soakbook.reminders.looking import Looked, look
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.sending import send_due
from soakbook.reminders.sights import sights_of
from soakbook.services.weather import ask
from soakbook.store.book import new_uid, open_book
from soakbook.store.garden_rows import read_garden
from soakbook.store.outbox import forget_incidents, forget_notices
from soakbook.store.texts import garden_zone
from soakbook.store.weather_asked import last_asked

FETCH_AFTER = timedelta(hours=3)
"""Weather is not asked for again before, by whoever comes every few minutes."""

KEPT_DAYS = 400
"""How long what was sent is remembered: the season, and the same weeks a year ago."""


def fetch(path: Path, now: datetime, after: timedelta = FETCH_AFTER) -> tuple[str, ...]:
    """Ask for weather where it is wanted and was not asked for in the last hours; what came of it, in sentences.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware.
    after : timedelta
        What counts as the last hours.

    Raises
    ------
    BookError
        The book cannot be opened.
    InputError
        The environment names an address of a service that cannot be right.
    """
    with open_book(path, read_only=True) as book:
        asked = last_asked(book).values()
        wanted = read_garden(book).weather_from != "none"
    if not wanted or any(timedelta() <= now - one.at < after for one in asked):
        return ()
    return tuple(ask(path, now=now).say)


def decide(path: Path, now: datetime) -> Looked:
    """Everything that fell due up to now, put into the outbox.

    Raises
    ------
    BookError
        The book cannot be opened or written.
    """
    return look(path, now=now)


def keep_calendar(path: Path, file: Path, now: datetime) -> bool:
    """The calendar file brought up to now, where anything in the book has changed; whether it is another.

    Raises
    ------
    BookError
        The book cannot be opened or written.
    InputError
        The file cannot be written.
    """
    from soakbook.reminders.calendars import keep_calendar as keep

    return keep(path, file, now=now, sight_at=sights_of(path, now))


def send(
    path: Path, clock: Callable[[], datetime], go_on: Callable[[], bool] = lambda: True
) -> tuple[Notice, ...]:
    """Everything whose hour has come, sent by the channels of this user's file of addresses.

    Parameters
    ----------
    path : Path
        The book.
    clock : callable
        The present moment, zone-aware.
    go_on : callable
        Asked before each: whether it is to be sent now.

    Raises
    ------
    BookError
        The book cannot be opened or written.
    InputError
        The file of addresses cannot be right: nothing is sent, and all of it waits.
    """
    addresses = read_addresses()

    def to_channel(message: Message, wanted: Channel | None) -> tuple[Channel | None, Outcome]:
        return give(message, wanted, addresses)

    return send_due(path, clock, to_channel, new_uid(), go_on)


def tidy(path: Path, now: datetime) -> int:
    """Forget what was sent more than a year ago; how much that was.

    Raises
    ------
    BookError
        The book cannot be opened or written.
    """
    with open_book(path) as book:
        zone = garden_zone(read_garden(book))
        before = now.astimezone(zone).date() - timedelta(days=KEPT_DAYS)
        return forget_notices(book, before) + forget_incidents(
            book, now - timedelta(days=KEPT_DAYS)
        )
