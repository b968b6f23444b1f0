"""The clock of an always-on computer: four jobs that wake up and look.

A job only says that it is time; what is due is worked out from the book, so a job that comes late, twice or not at all
changes nothing but when. Jobs are made anew at each start and kept nowhere: the outbox is the truth. The one home of
the scheduler.

References
----------
APScheduler 3.11.3: 3.11.0 slept an hour too long over the change in spring (its issue 1103) and stuck in the repeated
hour of autumn (its issue 1021).
"""

import logging
import threading
import traceback
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime, tzinfo
from hashlib import blake2b
from pathlib import Path
from typing import Any

from apscheduler.events import (
    EVENT_JOB_ERROR,
    EVENT_JOB_EXECUTED,
    EVENT_JOB_MAX_INSTANCES,
    EVENT_JOB_MISSED,
)
from apscheduler.schedulers.background import BackgroundScheduler
from apscheduler.triggers.cron import CronTrigger
from apscheduler.triggers.interval import IntervalTrigger

from soakbook.errors import SoakbookError
from soakbook.garden.reminding import Notice
from soakbook.reminders import errands
from soakbook.store.book import open_book
from soakbook.store.garden_rows import read_garden
from soakbook.store.outbox import Incident, add_incident
from soakbook.store.texts import garden_zone

FETCH_HOURS = "4-22/3"
SEND_EVERY_S = 30
WATCHED_EVERY_S = 60
"""How often it is looked whether the clock was put back."""
TIDY_AT = (4, 15)
"""Out of the hours in which clocks are put on and back."""

ALWAYS: dict[str, Any] = {
    "misfire_grace_time": None,
    "coalesce": True,
    "max_instances": 1,
    "replace_existing": True,
}
"""However late a job comes it is done, once: how late is too late is each reminder's own rule."""


class Waker:
    """The four jobs of one book, and what they tell whoever watches."""

    def __init__(
        self,
        path: Path,
        *,
        clock: Callable[[], datetime],
        say: Callable[[str], None],
        calendar: Path | None = None,
    ) -> None:
        """Open the book once, to see that it can be.

        Parameters
        ----------
        path : Path
            The book.
        clock : callable
            The present moment, zone-aware.
        say : callable
            Told in a line what was sent and what went wrong.
        calendar : Path, optional
            A calendar file that is kept up.

        Raises
        ------
        BookError
            The book cannot be opened.
        """
        self.path, self.clock, self.calendar = path, clock, calendar
        self._say = say
        self._met_with: dict[str, str] = {}
        self._in_calendar: tuple[str, datetime] | None = None
        with open_book(path) as book:
            garden = read_garden(book)
        self.zone: tzinfo = garden_zone(garden)
        self.garden_name = garden.name
        self.minute = minute_of(garden.uid)
        self.scheduler = BackgroundScheduler(timezone=UTC)
        self._stopped = threading.Event()

    def start(self, *, paused: bool = False) -> None:
        """Make the jobs and begin; each is due at once but for tidying."""
        self._make_jobs()
        logging.getLogger("apscheduler").setLevel(logging.CRITICAL)  # what goes wrong is said by us
        met = EVENT_JOB_EXECUTED | EVENT_JOB_ERROR | EVENT_JOB_MISSED | EVENT_JOB_MAX_INSTANCES
        self.scheduler.add_listener(self._met, met)
        self.scheduler.start(paused=paused)

    def wait(self) -> None:
        """Return when somebody has called `stop`."""
        last = self.clock()
        while not self._stopped.wait(WATCHED_EVERY_S):
            now = self.clock()
            if now < last:  # put back: jobs would sleep until the clock has caught up
                self._make_jobs()
            last = now
        self.scheduler.shutdown(wait=True)

    def stop(self) -> None:
        """Let what is being sent be sent, and end."""
        self._stopped.set()

    def fetch(self) -> None:
        """Weather, and what is due by it."""
        for sentence in errands.fetch(self.path, self.clock()):
            self._say(sentence)
        self.decide()

    def decide(self) -> None:
        """What is due, and the calendar."""
        looked = errands.decide(self.path, self.clock())
        self._tell("clock", looked.say)
        if self.calendar is not None:
            self._keep_calendar(self.calendar)

    def send(self) -> None:
        """What is to be sent now."""
        for notice in errands.send(self.path, self.clock):
            self._say(sent_words(notice))

    def tidy(self) -> None:
        """What may be forgotten."""
        errands.tidy(self.path, self.clock())

    def _make_jobs(self) -> None:
        add, now = self.scheduler.add_job, self.clock()
        fetching = CronTrigger(hour=FETCH_HOURS, minute=self.minute, timezone=self.zone)
        add(self.fetch, fetching, id="fetch", next_run_time=now, **ALWAYS)
        deciding = CronTrigger(minute="*/5", timezone=UTC)
        add(self.decide, deciding, id="decide", next_run_time=now, **ALWAYS)
        sending = IntervalTrigger(seconds=SEND_EVERY_S, timezone=UTC)
        add(self.send, sending, id="send", next_run_time=now, **ALWAYS)
        hour, minute = TIDY_AT
        tidying = CronTrigger(hour=hour, minute=minute, timezone=self.zone)
        add(self.tidy, tidying, id="tidy", **ALWAYS)

    def _keep_calendar(self, file: Path) -> None:
        """The calendar, where anything in the book is another, or the hour: there is less of the day's rain to come."""
        with open_book(self.path, read_only=True) as book:
            mark = (book.change_mark(), self.clock().replace(minute=0, second=0, microsecond=0))
        if mark != self._in_calendar:
            errands.keep_calendar(self.path, file, self.clock())
            self._in_calendar = mark

    def _met(self, event: Any) -> None:
        """A job that broke, was missed or is running yet: said and written down when it begins."""
        error = getattr(event, "exception", None)
        if event.code == EVENT_JOB_EXECUTED:
            self._tell(event.job_id, "")
            return
        if isinstance(error, SoakbookError):
            say = f"{event.job_id}: {error}"
        elif error is not None:
            where = traceback.extract_tb(error.__traceback__)[-1]
            say = (
                f"{event.job_id} broke, {type(error).__name__} at {Path(where.filename).name}:{where.lineno}; this is "
                "a fault of soakbook's, please report it"
            )
        elif event.code == EVENT_JOB_MAX_INSTANCES:
            say = f"{event.job_id} was due again while it was at it yet"
        else:
            say = f"{event.job_id} was missed"
        self._tell(event.job_id, say)

    def _tell(self, what: str, sentence: str) -> None:
        """Say and write down what is met with, once as long as it lasts."""
        known, self._met_with[what] = self._met_with.get(what, ""), sentence
        if not sentence or sentence == known:
            return
        self._say(sentence)
        with suppress(SoakbookError), open_book(self.path) as book:  # the trouble may be the book's
            add_incident(book, Incident(self.clock(), sentence))


def minute_of(uid: str) -> int:
    """The minute of the hour at which a garden's weather is asked for: not every garden's at once."""
    return blake2b(uid.encode(), digest_size=1).digest()[0] % 60


def sent_words(notice: Notice) -> str:
    """`sent by mail: Corrody, Fri 9 May: 3 beds by 10:00`, or why not."""
    by = f" by {notice.channel}" if notice.channel else ""
    answer = f" ({notice.answer})" if notice.answer and notice.state != "sent" else ""
    what = {"due": "waits", "given_up": "given up"}.get(notice.state, notice.state)
    return f"{what}{by}: {notice.title}{answer}"
