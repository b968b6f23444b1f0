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
import traceback
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime, timedelta, tzinfo
from hashlib import blake2b
from pathlib import Path
from threading import Lock
from typing import Any

from apscheduler.events import EVENT_JOB_ERROR, EVENT_JOB_EXECUTED, EVENT_JOB_MAX_INSTANCES
from apscheduler.executors.pool import ThreadPoolExecutor
from apscheduler.schedulers.background import BackgroundScheduler
from apscheduler.triggers.cron import CronTrigger

from soakbook.errors import BookError, InputError, SoakbookError, WeatherError
from soakbook.garden.reminding import Notice
from soakbook.reminders import errands
from soakbook.reminders.ending import Ending
from soakbook.store.book import open_book
from soakbook.store.garden_rows import read_garden
from soakbook.store.outbox import Incident, add_incident
from soakbook.store.texts import garden_zone

FETCH_HOURS = "4-22/3"
FETCH_AGAIN_AFTER = timedelta(hours=1)
"""Whoever starts again and again does not ask for weather each time; not the three hours between two of the clock's
own askings, which are some milliseconds more or less."""
SEND_AT_S = "5,35"
"""Some seconds after what is due was decided, and half a minute later."""
SEND_FIRST_AFTER = timedelta(seconds=2)
"""At a start: what the first look has found, where it is no long one."""
TIDY_AT = (4, 15)
"""Out of the hours in which clocks are put on and back."""

WATCHED_EVERY_S = 5.0
"""How often it is looked whether the clock was put back; on Windows also how soon it is heard that it is to end."""

TO_BE_NOTED = 100
"""So many incidents are kept for a book that cannot be written now."""

_A_MOMENT = timedelta(microseconds=1)

THREADS = 2
"""One for a service that is slow to answer, one for all else: each thread keeps memory of its own."""

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
        offline: bool = False,
    ) -> None:
        """Open the book once, to see that it can be.

        Parameters
        ----------
        path : Path
            The book.
        clock : callable
            The present moment, zone-aware.
        say : callable
            Told in a line what was sent and what went wrong; in any thread, one at a time.
        calendar : Path, optional
            A calendar file that is kept up.
        offline : bool
            No weather is asked for.

        Raises
        ------
        BookError
            The book cannot be opened.
        """
        self.path, self.clock, self.calendar, self.offline = path, clock, calendar, offline
        with open_book(path) as book:
            garden = read_garden(book)
        self.zone: tzinfo = garden_zone(garden)
        self.garden_name = garden.name
        self.minute = minute_of(garden.uid)
        threads = {"default": ThreadPoolExecutor(THREADS)}
        self.scheduler = BackgroundScheduler(executors=threads, timezone=UTC)
        self._to_say = say
        self._met_with: dict[str, str] = {}
        self._overtaken: set[str] = set()
        self._to_be_noted: deque[Incident] = deque(maxlen=TO_BE_NOTED)
        self._waiting: dict[str, Notice] = {}
        self._in_calendar: tuple[str, datetime] | None = None
        self._telling, self._deciding, self._sending = Lock(), Lock(), Lock()
        self._seen = clock()
        self._end = Ending()

    def start(self, *, paused: bool = False) -> None:
        """Make the jobs and begin; each is due at once."""
        self._make_jobs()
        logging.getLogger("apscheduler").setLevel(logging.CRITICAL)  # what goes wrong is said by us
        met = EVENT_JOB_EXECUTED | EVENT_JOB_ERROR | EVENT_JOB_MAX_INSTANCES
        self.scheduler.add_listener(self._met, met)
        self.scheduler.start(paused=paused)

    def wait(self) -> None:
        """Return when somebody has called `stop`, and the message in hand has been sent."""
        while not self._end.comes_within(WATCHED_EVERY_S):
            self.watch()
        self.scheduler.shutdown(wait=False)
        with self._sending:  # all else may be broken off at any moment
            pass

    def watch(self) -> None:
        """Make the jobs anew where the clock was put back: they would sleep until it has caught up."""
        now, seen = self.clock(), self._seen
        self._seen = now
        if now < seen:
            self._make_jobs()

    def stop(self) -> None:
        """Let the message be sent that is in hand, and end. May be called by a signal, in the midst of anything."""
        self._end.come()

    def fetch(self) -> None:
        """Weather, and what is due by it."""
        if not self.offline:
            for sentence in errands.fetch(self.path, self.clock(), FETCH_AGAIN_AFTER):
                self._say(sentence)
        self.decide()

    def decide(self) -> None:
        """What is due, and the calendar; nothing while another thread is at it, which would come to the same."""
        if not self._deciding.acquire(blocking=False):  # to wait would keep a thread from sending
            return
        try:
            looked = errands.decide(self.path, self.clock())
            self._tell("clock", looked.say, is_noted=looked.is_noted)
            if self.calendar is not None:
                self._keep_calendar(self.calendar)
        finally:
            self._deciding.release()

    def send(self) -> None:
        """What is to be sent now."""
        with self._sending:
            for notice in errands.send(self.path, self.clock, lambda: not self._end.has_come):
                self._tell_of(notice)
            now = self.clock()
            self._waiting = {one.uid: one for one in self._waiting.values() if one.not_after > now}

    def tidy(self) -> None:
        """What may be forgotten."""
        errands.tidy(self.path, self.clock())

    def _make_jobs(self) -> None:
        hour, minute = TIDY_AT
        for do, trigger in (
            (self.fetch, Onward(hour=FETCH_HOURS, minute=self.minute, timezone=self.zone)),
            (self.decide, Onward(minute="*/5", timezone=UTC)),
            (self.send, Onward(second=SEND_AT_S, timezone=UTC)),
            (self.tidy, Onward(hour=hour, minute=minute, timezone=self.zone)),
        ):
            first = self.clock()
            if do == self.send:
                first += SEND_FIRST_AFTER
            self.scheduler.add_job(do, trigger, id=do.__name__, next_run_time=first, **ALWAYS)

    def _keep_calendar(self, file: Path) -> None:
        """The calendar, where anything in the book is another, or the hour: there is less of the day's rain to come."""
        with open_book(self.path, read_only=True) as book:
            mark = (book.change_mark(), self.clock().replace(minute=0, second=0, microsecond=0))
        if mark != self._in_calendar:
            errands.keep_calendar(self.path, file, self.clock())
            self._in_calendar = mark

    def _met(self, event: Any) -> None:
        """What became of a job; trouble is told when it begins."""
        job, slow = event.job_id, f"{event.job_id}, slow"
        if event.code == EVENT_JOB_MAX_INSTANCES:
            self._overtaken.add(job)
            self._tell(slow, f"{job} was due again before it had ended")
            return
        if job in self._overtaken:
            self._overtaken.discard(job)
        else:
            self._tell(slow, "")
        self._tell(job, trouble_words(job, event.exception) if event.exception else "")

    def _tell(self, about: str, sentence: str, *, is_noted: bool = False) -> None:
        """Say and write down what is met with, once as long as it lasts; no sentence: it is well."""
        with self._telling:
            known, self._met_with[about] = self._met_with.get(about, ""), sentence
            is_new = bool(sentence) and sentence != known
            if is_new and not is_noted:
                self._to_be_noted.append(Incident(self.clock(), sentence))
            self._note()
        if is_new:
            self._say(sentence)

    def _note(self) -> None:
        """Write down what was met with; it waits where the trouble is the book's own."""
        with suppress(SoakbookError):
            while self._to_be_noted:
                with open_book(self.path) as book:
                    add_incident(book, self._to_be_noted[0])
                self._to_be_noted.popleft()

    def _tell_of(self, notice: Notice) -> None:
        """What became of a reminder; that it waits is said once, though it is tried again and again."""
        known = self._waiting.pop(notice.uid, None)
        if notice.state == "due":
            self._waiting[notice.uid] = notice
        if known is None or sent_words(known) != sent_words(notice):
            self._say(sent_words(notice))

    def _say(self, sentence: str) -> None:
        with suppress(
            OSError, ValueError
        ):  # nobody reads it any more; the work is done all the same
            self._to_say(sentence)


class Onward(CronTrigger):  # type: ignore[misc]
    """Wall times of which none that has gone by is counted out.

    The scheduler asks for every one between the last and now, to do them as one. A computer without a clock of its own
    wakes up in 1970 until it has heard what time it is: that would be sixty million.
    """

    def get_next_fire_time(self, previous: datetime | None, now: datetime) -> datetime | None:
        """The first time from now on, and after the last."""
        after = now if previous is None else max(previous, now).astimezone(UTC) + _A_MOMENT
        found: datetime | None = super().get_next_fire_time(None, after)
        return found


def minute_of(uid: str) -> int:
    """The minute of the hour at which a garden's weather is asked for: not every garden's at once."""
    return blake2b(uid.encode(), digest_size=1).digest()[0] % 60


def trouble_words(job: str, error: BaseException) -> str:
    """What broke a job: what a gardener can mend as it says itself, else where it was."""
    if isinstance(error, BookError | InputError | WeatherError):
        return f"{job}: {error}"
    where = traceback.extract_tb(error.__traceback__)[-1]
    return (
        f"{job} broke, {type(error).__name__} at {Path(where.filename).name}:{where.lineno}; this is a fault of "
        "soakbook's, please report it"
    )


def sent_words(notice: Notice) -> str:
    """`sent by mail: Corrody, Fri 9 May: 3 beds by 10:00`, or why not."""
    by = f" by {notice.channel}" if notice.channel else ""
    answer = f" ({notice.answer})" if notice.answer and notice.state != "sent" else ""
    what = {"due": "waits", "given_up": "given up"}.get(notice.state, notice.state)
    return f"{what}{by}: {notice.title}{answer}"
