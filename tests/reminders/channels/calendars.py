"""Events and rounds for the tests of the calendar: one day in May, and beds as a round has them."""

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from soakbook.reckoning.advice.report import Band, Call, PlantingCall, Round, Totals, WeatherSeen
from soakbook.reminders.channels.calendar_keeping import CalendarEvent, Kept

GARDEN = "6f1d0c2e9b7a4d3e8c5f1a2b3c4d5e6f"
LONDON = ZoneInfo("Europe/London")
LORD_HOWE = ZoneInfo("Australia/Lord_Howe")
HAVANA = ZoneInfo("America/Havana")
ZONES = (LONDON, LORD_HOWE, HAVANA)
DAY = date(2031, 5, 15)
BAND = Band(0.2, 0.4, 0.6)


def at(hour: int, minute: int = 0, day: date = DAY, zone: ZoneInfo = LONDON) -> datetime:
    """A wall time of the garden."""
    return datetime.combine(day, time(hour, minute), zone)


def days(key: str, first: int, last: int | None = None, title: str = "Bank") -> CalendarEvent:
    """An event on whole days of May."""
    begin = date(2031, 5, first)
    return CalendarEvent(key, title, "", begin, begin.replace(day=last or first))


def hour(key: str, day: int, title: str = "Soak Bank: 20 L") -> CalendarEvent:
    """A call at seven."""
    begin = at(7, day=date(2031, 5, day))
    return CalendarEvent(key, title, "", begin.date(), begin.date(), begin, 10, begin)


def by_uid(rows: Iterable[Kept]) -> dict[str, Kept]:
    """As the book gives them back."""
    return {row.uid: row for row in rows}


PLANTING = PlantingCall(
    planting="climbing rose", kind="climber", count=6, stage="knitting", stage_until=None, ball_fraction=BAND,
    bed_fraction=BAND, ball_state="wanting", bed_state="holding", verdict="soak", litres_each=2.0, seconds_each=9,
    while_there=False, dropped=False, usual=False, bare_root=False, share_due=0.9, wanted_on=DAY, last_safe=None,
)  # fmt: skip

CALL = Call(
    order=1, bed="chapel", name="Chapel Wall", verdict="soak", feel_first=False, dose_kind="soak",
    ball_state="wanting", bed_state="holding", ball_fraction=BAND, bed_fraction=BAND, felt=None, litres=12.0,
    given_today_l=0.0, given_today_by=None, given_today_at=None, minutes=1.5, minutes_on_foot=6.2, cans=2, tanks=None,
    means="hose", rose_on=False, plants_a_can=None, pours=1, pour_wait_min=None, pour_meanwhile=None, tap="A",
    aim="ball", wanted_on=DAY, last_safe=DAY + timedelta(days=1), dropped=False, days_since_felt=2,
    days_since_water=3, rain_reached_mm=3.0, reason="On the ball, slowly; the bed needs none.", plantings=(PLANTING,),
)  # fmt: skip

WAITING = CALL._replace(
    order=None, verdict="leave", dose_kind=None, litres=0.0, minutes=None, minutes_on_foot=0.0, cans=None, aim=None,
    wanted_on=DAY + timedelta(days=3), last_safe=DAY + timedelta(days=4), reason="11 mm reached the bed.",
    plantings=(PLANTING._replace(litres_each=0.0, verdict="leave"),),
)  # fmt: skip


def round_of(*calls: Call) -> Round:
    """A round with these beds."""
    return Round(
        schema="soakbook.round/1", garden="The Corrody", morning=DAY, people=(), gauge=None, calls=calls,
        weather=WeatherSeen(None, None, None, (), ()), totals=Totals(len(calls), 0, 0, 0, 0, 2, 0),
        tomorrow=None, week=None, findings=(), question=None,
    )  # fmt: skip
