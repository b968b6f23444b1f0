"""What is due in the year, counted from the calendar, the invented weather and the rounds themselves, without deciding.

It takes a wall time as `datetime` has it, deals beds by a rule of its own, and counts spells off the weather as it was
made up. Of the kinds that follow from what was told before (feel, no word) it counts nothing.
"""

from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, date, datetime, time
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Feel, Left, Soak
from soakbook.garden.records import Uid
from soakbook.garden.reminding import ReminderKind
from soakbook.reminders.sight import Sight
from tests.reminders.year.garden import (
    ANN,
    AWAY,
    KEEPERS,
    NAMES,
    WEEKDAYS,
    Place,
    entries,
    restrictions,
)  # fmt: skip
from tests.reminders.year.sky import DAY, HEAT

SUNDAY = 6
ROUND_AT = time(7)
PASSES_ON = ("could not", "no time")
RULE_TOLD_DAYS = 3

Answer = tuple[Uid, date, datetime]
"""A bed, the day on which it was answered for, and when that was written."""


class Due(NamedTuple):
    """What must be in the outbox: of which kinds, any of them, to whom, for which day."""

    what: frozenset[ReminderKind]
    whom: Uid
    for_day: date


def counted(place: Place, days: int, sight_at: Callable[[datetime], Sight]) -> Iterator[Due]:
    """All that can be counted off the calendar of the first days of a year; its last day ends at noon."""
    year, answers = place.days[:days], _answers(place)
    for n, day in enumerate(year):
        if day.weekday() == SUNDAY:
            yield _due("week", ANN, day)
        for whom in _watering(place, n, sight_at, answers):
            yield Due(frozenset({"promise", "round"}), whom, day)
    for one in restrictions(place):
        told = max(one.first - RULE_TOLD_DAYS * DAY, place.first)
        for edge, told_on in ((one.first, told), (one.last, one.last)):
            if told_on in year:
                yield from (_due("rule", whom, edge) for whom in NAMES)
    for first, _ in HEAT:
        if place.first + (first - 1) * DAY in year[:-1]:
            yield from (_due("heat", whom, place.first + first * DAY) for whom in NAMES)


COUNTED: frozenset[ReminderKind] = frozenset({"week", "promise", "round", "rule", "heat"})


def _due(kind: ReminderKind, whom: Uid, day: date) -> Due:
    return Due(frozenset({kind}), whom, day)


def _away(uid: Uid, n: int) -> bool:
    first, last = AWAY.get(uid, (0, -1))
    return first <= n <= last


def _answers(place: Place) -> list[Answer]:
    """What ends a bed's reminders."""
    return [
        (one.bed_uid, one.happened_at.date(), one.written_at)
        for one in entries(place)
        if isinstance(one, Soak | Feel | Left)
        and isinstance(one.happened_at, datetime)
        and getattr(one, "reason", "") not in PASSES_ON
    ]


def _watering(
    place: Place, n: int, sight_at: Callable[[datetime], Sight], answers: Sequence[Answer]
) -> set[Uid]:
    """Who has a bed to water in the round of a morning: its keeper, if they come, else the first who does."""
    day = place.days[n]
    at = datetime.combine(day, ROUND_AT, ZoneInfo(place.zone))
    come = [uid for uid in NAMES if day.weekday() in WEEKDAYS[uid] and not _away(uid, n)]
    settled = {
        bed for bed, happened_on, written_at in answers if happened_on == day and written_at < at
    }
    found = set()
    for call in sight_at(at.astimezone(UTC)).round.calls:
        if call.order is None or call.litres <= 0 or call.bed in settled:
            continue
        last_safe = call.last_safe
        if come:
            keeper = KEEPERS[call.bed]
            found.add(keeper if keeper in come else come[0])
        elif last_safe is None or last_safe <= day:
            found.add(KEEPERS[call.bed])
    return found
