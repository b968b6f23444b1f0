"""Days of the small garden with three people: weather and forecasts come as they would, and what was decided is read.

What was known at a moment is what had been written by then: so each thing here is written at a moment that is given.
"""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from soakbook.garden.records import Garden
from soakbook.garden.reminding import Notice, Reminder, ReminderKind
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.reminders.looking import look
from soakbook.services import entries, people, setup
from soakbook.services.weather_files import import_file
from soakbook.store.book import open_book
from soakbook.store.forecast_rows import add_forecasts
from soakbook.store.garden_rows import add_record, read_garden, read_records, update_record
from soakbook.store.outbox import Decided, put_decided
from tests.services.looking import ZONE, at, pages_of

SET_UP = at(5, 15, 6, 35)
"""After the weather came, before the round hour; a Thursday."""
THURSDAY = SET_UP.date()
DAY = timedelta(days=1)


def team(path: Path, now: datetime = SET_UP) -> None:
    """Ann from Monday to Saturday, who is the head; Tom and Zoe every day. The wall is Ann's, the clay Tom's."""
    people.person(path, "Ann", now=now, days="mon-sat")
    people.person(path, "Tom", now=now)
    people.person(path, "Zoe", now=now)
    setup.bed(path, "chapel", now=now, keeper="Ann")
    setup.bed(path, "dole", now=now, keeper="Tom")
    begin(path, now)


def begin(path: Path, at_moment: datetime) -> None:
    """Say that everything has been decided up to a moment."""
    with open_book(path) as book:
        put_decided(book, Decided(at_moment, at_moment))


def head(path: Path, name: str, now: datetime = SET_UP) -> None:
    """Say who is told what concerns the whole garden."""
    with open_book(path) as book:
        old = read_garden(book)
        update_record(book, old._replace(head=name), at=now)


def said(path: Path, kind: ReminderKind, now: datetime = SET_UP, **fields: Any) -> None:
    """Say how a kind is sent."""
    with open_book(path) as book:
        known = {one.uid for one in read_records(book, Reminder)}
        put = update_record if kind in known else add_record
        put(book, Reminder(kind, **fields), at=now)


def uid_of(path: Path, name: str) -> str:
    """The uid of a person or a bed."""
    pages = pages_of(path)
    named: Sequence[Any] = (*pages.people, *pages.beds)
    return str(next(one.uid for one in named if one.name == name))


def name_of(path: Path, uid: str) -> str:
    """What a person or a bed is called."""
    pages = pages_of(path)
    named: Sequence[Any] = (*pages.people, *pages.beds)
    return str(next((one.name for one in named if one.uid == uid), uid))


def weathered(
    path: Path, first: date, last: date, now: datetime, rain_mm: Mapping[date, float] | None = None
) -> None:
    """Enter what the shed measured on these days: as warm as May, dry but for what is said."""
    lines = ["date,tmin_c,tmax_c,rain_mm,sun_h,wind2_ms,rh_mean_pct"]
    for n in range((last - first).days + 1):
        day = first + n * DAY
        lines.append(f"{day},11.0,21.5,{(rain_mm or {}).get(day, 0.0)},9.0,2.0,75")
    file = path.with_name(f"shed-{last}.csv")
    file.write_text("\n".join(lines), encoding="utf-8")
    import_file(path, file, now=now, columns=["wind=wind2_ms:m/s@2m"], name="the shed")


def forecast(
    path: Path,
    issued_at: datetime,
    *,
    rain_mm: Mapping[date, float] | None = None,
    tmax_c: Mapping[date, float] | None = None,
    days: int = 10,
) -> None:
    """An issue of ten futures that all say the same: 21 degrees and dry but for what is said."""
    told = []
    for n in range(days):
        day = issued_at.astimezone(ZONE).date() + n * DAY
        rain = (rain_mm or {}).get(day, 0.0)
        hours = (0.0,) * 12 + (rain,) + (0.0,) * 11
        told.append(
            ForecastDay(
                day,
                rain_mm=rain,
                et0_mm=4.0,
                tmin_c=11.0,
                tmax_c=(tmax_c or {}).get(day, 21.0),
                rain_by_hour_mm=hours,
                mean_by_hour_mm=hours,
                rain_members_mm=(rain,) * 10,
                et0_members_mm=(4.0,) * 10,
            )
        )
    with open_book(path) as book:
        add_forecasts(book, [Forecast("Open-Meteo", issued_at, tuple(told))])


def on(day: date, hour: int, minute: int = 0) -> datetime:
    """A moment of a day on the garden's clock."""
    return datetime.combine(day, time(hour, minute), ZONE)


def decided(path: Path, now: datetime) -> tuple[Notice, ...]:
    """What a look at a moment puts into the outbox."""
    return look(path, now=now).decided


def of(path: Path, notices: Sequence[Notice], kind: ReminderKind) -> dict[str, Notice]:
    """Those of one kind, by the name of whom they are for: one each."""
    found = {name_of(path, one.whom): one for one in notices if one.what == kind}
    assert len(found) == sum(1 for one in notices if one.what == kind)
    return found


def beds_in(path: Path, notice: Notice) -> set[str]:
    """The names of the beds that a reminder gives."""
    return {name_of(path, uid) for uid in notice.beds}


def garden_of(path: Path) -> Garden:
    """The garden of a book."""
    return pages_of(path).garden


def soaked(path: Path, now: datetime = SET_UP + timedelta(minutes=10), by: str = "Ann") -> None:
    """Every bed soaked in full on Thursday, before the round."""
    for bed, amount in (("chapel", "45l"), ("school", "60l"), ("ride", "600l"), ("dole", "140l")):
        entries.soak(path, [bed], amount, now=now, by=by)


def dry_days(path: Path, last: date) -> None:
    """Every day after Thursday up to a last one: at five the shed's weather of the day before comes."""
    day = THURSDAY + DAY
    while day <= last:
        weathered(path, day - DAY, day - DAY, on(day, 5))
        day += DAY
