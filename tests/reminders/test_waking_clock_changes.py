"""The real scheduler over the nights on which clocks are put on and back."""

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from apscheduler.schedulers.background import BackgroundScheduler
from apscheduler.triggers.cron import CronTrigger

from tests.reminders.turned_clock import Clock, book_in, turned, turned_on, waking, woken

MINUTE = timedelta(minutes=1)
FETCH_HOURS = (4, 7, 10, 13, 16, 19, 22)
LONDON = ZoneInfo("Europe/London")

CHANGES = (
    ("Europe/London", date(2026, 3, 29)),
    ("Europe/London", date(2026, 10, 25)),
    ("Australia/Lord_Howe", date(2026, 4, 5)),  # half an hour back
    ("Australia/Lord_Howe", date(2026, 10, 4)),
    ("America/Havana", date(2026, 3, 8)),  # on at midnight
    ("America/Havana", date(2026, 11, 1)),
)


@pytest.mark.parametrize(("zone_name", "day"), CHANGES)
def test_every_job_wakes_at_its_hours(tmp_path: Path, zone_name: str, day: date) -> None:
    """From the noon before to the noon after; what a wall clock shows is looked up minute by minute."""
    zone = ZoneInfo(zone_name)
    begin, end = (
        datetime.combine(day + n * timedelta(days=1), time(12), zone).astimezone(UTC)
        for n in (-1, 1)
    )
    assert begin.astimezone(zone).utcoffset() != end.astimezone(zone).utcoffset()
    clock = Clock(begin + timedelta(seconds=1))
    with waking(book_in(tmp_path, zone_name), clock) as waker:
        turned_on(waker.scheduler, clock, end)
    minutes = [begin + n * MINUTE for n in range(1, (end - begin) // MINUTE + 1)]
    walls = {minute: minute.astimezone(zone) for minute in minutes}
    woke = {name: times[1:] for name, times in waker.woke.items()}  # the first is the start
    assert woke["fetch"] == [
        minute
        for minute, wall in walls.items()
        if wall.hour in FETCH_HOURS and wall.minute == waker.minute
    ]
    assert len(woke["fetch"]) == 2 * len(FETCH_HOURS)
    assert woke["tidy"] == [
        minute for minute, wall in walls.items() if (wall.hour, wall.minute) == (4, 15)
    ]
    assert len(woke["tidy"]) == 2
    assert woke["decide"] == [minute for minute in minutes if minute.minute % 5 == 0]
    assert {later - sooner for sooner, later in pairwise(woke["send"])} == {timedelta(seconds=30)}
    assert woke["send"][-1] > end - timedelta(seconds=30)
    assert waker.said == []


def test_the_library_is_not_stuck_in_the_hour_that_comes_twice() -> None:
    """APScheduler issue 1021: 3.11.0 gives 01:00 of the first showing again and again."""
    trigger = CronTrigger(minute="*/30", timezone=LONDON)
    at = datetime(2026, 10, 24, 23, 30, tzinfo=UTC)
    found = []
    for _ in range(6):
        at = trigger.get_next_fire_time(at.astimezone(LONDON), at).astimezone(UTC)
        found.append(at)
    assert found == [datetime(2026, 10, 25, 0, tzinfo=UTC) + n * 30 * MINUTE for n in range(6)]


def test_the_library_does_not_sleep_an_hour_too_long_in_spring() -> None:
    """APScheduler issue 1103: 3.11.0 sleeps by the wall clock, on which two hours pass from 00:30 to 02:30."""
    clock = Clock(datetime(2026, 3, 29, 0, 30, tzinfo=UTC))
    scheduler = BackgroundScheduler(timezone=LONDON)
    with turned(scheduler, clock):
        scheduler.start(paused=True)
        scheduler.add_job(print, CronTrigger(hour=2, minute=30, timezone=LONDON))
        assert woken(scheduler) == timedelta(hours=1)
