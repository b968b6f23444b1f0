"""Sights made by hand: calls, rounds and pages without a reckoning, for deciding and for what is said."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from typing import Any

from soakbook.garden.heat import HeatSpell
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Garden
from soakbook.garden.spells import Spell
from soakbook.reckoning.advice.in_heat import BedInHeat
from soakbook.reckoning.advice.report import (
    ROUND_SCHEMA,
    Band,
    Call,
    Finding,
    PlantingCall,
    Round,
    Tomorrow,
    Totals,
    WeatherSeen,
    WeekAhead,
)
from soakbook.reminders.sight import Sight

GARDEN = Garden("g1", "The Abbey", 52.3, -0.4, 62.0, "Europe/London")
BAND = Band(0.2, 0.4, 0.6)

_PLANTING = PlantingCall(
    planting="p1",
    kind="clematis",
    count=5,
    stage="settling",
    stage_until=None,
    ball_fraction=BAND,
    bed_fraction=BAND,
    ball_state="wanting",
    bed_state="holding",
    verdict="soak",
    litres_each=2.0,
    seconds_each=9,
    while_there=False,
    dropped=False,
    usual=False,
    bare_root=False,
    share_due=0.9,
    wanted_on=None,
    last_safe=None,
)
_CALL = Call(
    order=1,
    bed="wall",
    name="Wall",
    verdict="soak",
    feel_first=False,
    dose_kind="soak",
    ball_state="wanting",
    bed_state="holding",
    ball_fraction=BAND,
    bed_fraction=BAND,
    felt=None,
    litres=17.0,
    given_today_l=0.0,
    given_today_by=None,
    given_today_at=None,
    minutes=1.5,
    minutes_on_foot=5.0,
    cans=2,
    tanks=None,
    means="hose",
    rose_on=False,
    plants_a_can=None,
    pours=1,
    pour_wait_min=None,
    pour_meanwhile=None,
    tap="A",
    aim="ball",
    wanted_on=None,
    last_safe=None,
    dropped=False,
    days_since_felt=None,
    days_since_water=None,
    rain_reached_mm=0.0,
    reason="",
    plantings=(_PLANTING,),
)


def call(bed: Bed, **fields: Any) -> Call:
    """A bed's call: 17 L wanted today, but for what is said."""
    return _CALL._replace(bed=bed.key, name=bed.name, **fields)


def made_round(
    day: date, calls: Iterable[Call], findings: Sequence[Finding] = (), garden: Garden = GARDEN
) -> Round:
    """A round of these calls, with a week and a tomorrow ahead."""
    return Round(
        schema=ROUND_SCHEMA,
        garden=garden.name,
        morning=day,
        people=(),
        weather=WeatherSeen(None, None, None, (), ()),
        gauge=None,
        calls=tuple(calls),
        totals=Totals(0, 0.0, 0.0, 0.0, 0, 2.0, 0),
        tomorrow=Tomorrow(day + timedelta(days=1), 2, 40.0),
        week=WeekAhead(
            last=day + timedelta(days=6),
            useful_rain_chance=0.1,
            useful_rain_by=None,
            tmax_c=24.0,
            warm_from=None,
            hot_from=None,
            et0_factor=1.0,
            say="No useful rain likely.",
        ),
        findings=tuple(findings),
        question=None,
    )


def dry_for(day: date, days: int) -> Spell:
    """A spell of so many days without useful rain up to a morning."""
    rained = day - timedelta(days=days + 1)
    return Spell(
        morning=day,
        known_from=rained - timedelta(days=30),
        useful_rain_on=rained,
        no_useful_rain_days=days,
        dry_from=None,
        dry_days=0,
        holds=(),
        deficit_since=None,
        deficit_mm=None,
        deficit_days_missing=0,
    )


def heat_from(first: date, days: int, today: date, *, open_ended: bool = False) -> HeatSpell:
    """So many days of 34 degrees."""
    last = first + timedelta(days=days - 1)
    return HeatSpell(first, last, 34.0, 0, first == today + timedelta(days=1), open_ended)


def sight(at: datetime, pages: Pages, calls: Sequence[Call], **fields: Any) -> Sight:
    """What is seen at a moment; every bed with a call stands in heat, too."""
    made = Sight(at, pages, made_round(at.date(), calls, garden=pages.garden))
    in_heat = tuple(BedInHeat(one.name, one.litres, True, "settling") for one in calls)
    return made._replace(**{"in_heat": in_heat} | fields)
