"""What was known at every moment of the year at which something is due, reckoned once.

Nothing but the outbox changes in the book, so every run sees the same. Two things are left out to make a year
affordable: a reckoning has few members, and a sight keeps of the book's pages what reminders look at. Both change what
a reminder says, neither whether it comes once.
"""

from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from unittest.mock import patch
from zoneinfo import ZoneInfo

from soakbook.garden.pages import Pages
from soakbook.garden.reminding import Reminder
from soakbook.reckoning.advice import rounds
from soakbook.reckoning.advice.rounds import morning_now, round_of
from soakbook.reckoning.advice.week_ahead import beds_in_heat, heat_known
from soakbook.reckoning.simulation.resuming import Shelf
from soakbook.reckoning.simulation.watering import local_day
from soakbook.reminders.instants import due_instants
from soakbook.reminders.kinds import settings_of
from soakbook.reminders.sight import Sight
from soakbook.reminders.wall_times import moment_of
from soakbook.services.weather_ahead import spell_known
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.garden_rows import read_garden, read_records
from soakbook.store.pages import read_pages
from tests.reminders.year.garden import Place

MEMBERS = 8
KEPT_DAYS = timedelta(days=3)
"""So long entries stay in a sight: no reminder asks what was heard longer ago."""


class Sights:
    """Sights by moment, each reckoned when it is first asked for; a forked process takes along what there is."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._seen: dict[datetime, Sight] = {}
        self._shelf = _MemoryShelf()

    def __call__(self, at: datetime) -> Sight:
        """What was known at a moment."""
        if at not in self._seen:
            with open_book(self._path) as book:
                self._seen[at] = _sight(book, at, self._shelf)
        return self._seen[at]

    def moments(self) -> tuple[datetime, ...]:
        """All that have been asked for."""
        return tuple(self._seen)

    def reckon(self, place: Place, days: int, say: Callable[[str], None]) -> None:
        """All of the first days of a year, and of the days after to which a clock may leap."""
        since, until = span(place, days)
        with open_book(self._path) as book:
            garden = read_garden(book)
            settings = settings_of(read_records(book, Reminder), garden)
            moments = {one.at for one in due_instants(settings, garden, since, until)}
            for count, at in enumerate(sorted(moments)):
                self._seen.setdefault(at, _sight(book, at, self._shelf))
                if count % 500 == 499:
                    say(f"{count + 1} of {len(moments)} moments reckoned")


def span(place: Place, days: int) -> tuple[datetime, datetime]:
    """First and last moment of the first days of a year, in UTC. It ends at noon: nothing waits for a morning then."""
    zone = ZoneInfo(place.zone)
    last = place.first + timedelta(days=days - 1)
    return moment_of(place.first, time(0), zone), moment_of(last, time(12), zone)


def as_it_was(book: BookFile, known_at: datetime) -> Pages:
    """The book as it was at a moment: what `read_pages` gives there, where nobody has written ahead."""
    return read_pages(book, known_at=known_at, written_before=known_at)


class _MemoryShelf:
    """Kept dawns in memory: going on from one gives the same, to the last bit, as running from the beginning."""

    code = "this"

    def __init__(self) -> None:
        self._kept: dict[date, bytes] = {}

    def days(self) -> tuple[date, ...]:
        return tuple(sorted(self._kept, reverse=True))

    def load(self, day: date) -> bytes | None:
        return self._kept.get(day)

    def keep(self, found: Mapping[date, bytes], wanted: frozenset[date]) -> None:
        kept = {day: dawn for day, dawn in self._kept.items() if day in wanted}
        self._kept = kept | dict(found)


def _sight(book: BookFile, at: datetime, shelf: Shelf) -> Sight:
    """As `reminders.sights.sight_of`, of few members and with slight pages."""
    local = at.astimezone(book.zone())
    with patch.object(rounds, "KEPT_AFTER_DAYS", 0):  # also of a season younger than a year
        morning = morning_now(as_it_was(book, local), local, MEMBERS, shelf)
    assert morning.season is not None
    assert morning.judgement is not None
    return Sight(
        at=local,
        pages=_slight(morning.pages, local),
        round=round_of(morning),
        spell=spell_known(morning.pages, morning.day, local),
        heat=heat_known(morning.season.pages, morning.day),
        in_heat=beds_in_heat(morning.judgement, morning.likely_tomorrow),
    )


def _slight(pages: Pages, local: datetime) -> Pages:
    zone = ZoneInfo(pages.garden.timezone)
    since = (local.astimezone(UTC) - KEPT_DAYS).date()
    kept = tuple(one for one in pages.entries if local_day(one.happened_at, zone) >= since)
    return pages._replace(entries=kept, weather=(), forecasts=(), promises=())
