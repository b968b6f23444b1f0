"""Time, days and verdicts as a page says them; litres and counts are said by `services.saying`."""

from collections.abc import Iterable
from datetime import date, timedelta

from soakbook.quantities import saying
from soakbook.quantities.dates import MONTHS, WEEKDAYS

SECONDS_TO = 90
WAITS_TO_MIN = 5

VERDICTS = {
    "soak": "soak",
    "leave": "leave",
    "rain": "wait for the rain",
    "held_back": "held back",
    "laid_by": "laid by",
    "feel": "go and feel",
}
TIMES = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def hours(value: float) -> str:
    """`2 h`, `1 h 30`."""
    return saying.minutes(60 * value)


def seconds(value: int) -> str:
    """`9 s`, `2 min 15 s`."""
    if value <= SECONDS_TO:
        return f"{value} s"
    whole_minutes, rest = divmod(value, 60)
    return f"{whole_minutes} min" + (f" {rest} s" if rest else "")


def wait(value: float) -> str:
    """`40 min` for 38: nobody waits to the minute."""
    return saying.minutes(WAITS_TO_MIN * max(1, round(value / WAITS_TO_MIN)))


def litres_in_all(amounts: Iterable[float]) -> str:
    """The sum of amounts as each of them is printed, so that a reader who adds them up finds it."""
    return saying.litres(sum(round(one, 0 if one >= saying.WHOLE_FROM else 1) for one in amounts))


def times(count: int) -> str:
    """`two`, `three`, in words up to ten; then `11`."""
    return TIMES[count] if count < len(TIMES) else str(count)


def day_of(when: str) -> date:
    """The day of an ISO date or moment."""
    return date.fromisoformat(when[:10])


def day(when: str, morning: date) -> str:
    """`today`, `Fri 16`, or `2 June` when farther off."""
    return saying.day(day_of(when), morning)


def clock(when: str) -> str:
    """`06:30` of an ISO moment; empty for a bare date."""
    return when[11:16]


def since(when: str, morning: date) -> str:
    """`today`, `Tue`, or `6 May` when longer ago than a week."""
    said = day_of(when)
    if said == morning:
        return "today"
    if timedelta() < morning - said < timedelta(days=7):
        return WEEKDAYS[said.weekday()][:3]
    return f"{said.day} {MONTHS[said.month - 1][:3]}"


def listed(names: list[str]) -> str:
    """`Ann`, `Ann and Tom`, `Ann, Tom and Joe`."""
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
