"""What of a round goes into a calendar: today's beds at the round's hour, the others on the day they are likely wanted.

One event a bed, so that a day which moves is seen to move. Rules are quoted as typed. What has changed since the
calendar was last published is told in `calendar_keeping`.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from soakbook.garden.heat import HeatSpell
from soakbook.garden.heat_words import PEOPLE_IN_HEAT
from soakbook.garden.records import Restriction, Uid
from soakbook.quantities.dates import weekday_date
from soakbook.quantities.saying import counted, litres, minutes, plants_of
from soakbook.reckoning.advice.report import Call, DoseKind, PlantingCall, Round
from soakbook.reminders.channels.calendar_keeping import ONE_DAY, CalendarEvent
from soakbook.services.cautions import RULE

STEP_MIN = 5
"""What a bed takes is said in whole steps: a minute more or less is no change that anybody should be told of."""

TITLES: dict[DoseKind | None, str] = {
    None: "Feel {name}",
    "soak": "Soak {name}: {amount}",
    "rescue": "Soak {name}: {amount}, a rescue",
    "re_wet": "Re-wet {name}: {amount}",
    "water_in": "Water in {name}: {amount}",
}
FEW_CANS = 6
"""More cans than this are no alternative to a hose."""
FEEL_FIRST = "Feel one first: if it is moist, leave and say so."
LIKELY = "Likely, by the reckoning: the round of that morning says whether, and how much."


def calendar_events(
    round_: Round,
    bed_uids: Mapping[str, Uid],
    restrictions: Sequence[Restriction],
    round_hour: time,
    zone: ZoneInfo,
    heat: HeatSpell | None = None,
) -> tuple[CalendarEvent, ...]:
    """The beds of a round in its order, then the rules that are not over, then the heat.

    A bed that nobody goes to this morning stands on the day it is likely wanted, tomorrow at the earliest; one that is
    not wanted as far as can be seen has no event, nor has one that is laid by.

    Parameters
    ----------
    round_
        Of the newest morning.
    bed_uids
        By key, of all beds in it.
    restrictions
        All of the garden.
    round_hour
        When the walk begins, by the clock of the garden.
    zone
        The garden's.
    heat
        What is there or ahead, if any.
    """
    beds = (
        _called(call, bed_uids[call.bed], datetime.combine(round_.morning, round_hour, zone))
        if call.order is not None
        else _waiting(call, bed_uids[call.bed], round_.morning, round_hour, zone)
        for call in round_.calls
    )
    rules = (_rule(one) for one in restrictions if one.last >= round_.morning)
    events = [*(event for event in beds if event), *rules]
    return (*events, _heat(heat)) if heat else tuple(events)


def _called(call: Call, uid: Uid, at: datetime) -> CalendarEvent:
    """A bed of the walk. All begin at the round's hour: where each is in the walk moves with every bed before it."""
    day = at.date()
    title = TITLES[call.dose_kind if call.litres else None]
    return CalendarEvent(
        key=f"bed {uid}",
        title=title.format(name=call.name, amount=litres(call.litres)),
        body="\n".join(_said_of(call)),
        first=day,
        last=day,
        at=at,
        minutes=STEP_MIN * max(1, math.ceil(call.minutes_on_foot / STEP_MIN)),
        alarm=at if call.order == 1 else None,  # one bell for the walk, not one a bed
    )


def _said_of(call: Call) -> Iterator[str]:
    """First what to do, then why, then until when it can wait."""
    if not call.litres:
        yield call.reason
        return
    if call.feel_first:
        yield FEEL_FIRST
    yield "; ".join(_dose(one) for one in call.plantings if one.litres_each and not one.dropped)
    yield f"{_means(call)}{_pours(call)}"
    if call.given_today_l:
        yield f"Already given today {litres(call.given_today_l)}: this is what remains."
    yield call.reason
    if call.last_safe:
        yield f"Last safe morning: {weekday_date(call.last_safe)}."


def _dose(planting: PlantingCall) -> str:
    each = " each" if planting.count > 1 else ""
    return f"{plants_of(planting.planting, planting.count)} {litres(planting.litres_each)}{each}"


def _means(call: Call) -> str:
    in_all = f"about {minutes(call.minutes_on_foot)} in all"
    cans = counted(call.cans, "can") if call.cans else ""
    match call.means:
        case "hose":
            few = f"; or {cans}" if cans and (call.cans or 0) <= FEW_CANS else ""
            return f"Tap {call.tap}, {in_all}{few}."
        case "drip":
            open_for = f" open for {minutes(call.minutes)}" if call.minutes else ""
            return f"Drip, tap {call.tap}{open_for}."
        case "cans":
            return f"{cans}{', rose on' if call.rose_on else ''}, {in_all}."
        case "barrow":
            tanks = counted(call.tanks, "barrow tank") if call.tanks else "By barrow"
            return f"{tanks}, {in_all}."
        case _:
            return "Nothing to give it with today."


def _pours(call: Call) -> str:
    if call.pours < 2:
        return ""
    wait = f", {call.pour_wait_min} min between" if call.pour_wait_min else ""
    return f" In {call.pours} pours{wait}."


def _waiting(
    call: Call, uid: Uid, morning: date, round_hour: time, zone: ZoneInfo
) -> CalendarEvent | None:
    """A bed that nobody goes to this morning. What is said holds whenever it is read: it need not change daily."""
    if call.wanted_on is None or call.verdict == "laid_by":
        return None
    day = max(call.wanted_on, morning + ONE_DAY)
    title = f"{call.name} likely wants water"
    said = [LIKELY]
    if call.dropped:
        said = [f"No time for it on {weekday_date(morning)}."]
    elif call.verdict == "held_back":
        title = f"Look at {call.name}: it was held back"
        said = [call.reason]
    elif call.verdict == "rain":
        title = f"{call.name}: did the rain come?"
        said = [call.reason, "If it did not, the round of that morning says how much to give."]
    is_over = bool(call.last_safe and call.last_safe < day)
    if call.last_safe and call.verdict != "held_back" and (call.dropped or not is_over):
        said.append(f"Last safe morning, by the reckoning: {weekday_date(call.last_safe)}.")
    return CalendarEvent(
        key=f"bed {uid}",
        title=title,
        body="\n".join(said),
        first=day,
        last=day,
        alarm=datetime.combine(day, round_hour, zone),
    )


def _rule(rule: Restriction) -> CalendarEvent:
    what = "watering" if rule.tool == "all" else rule.tool
    source = "" if rule.source == "all" else f" from the {rule.source}"
    return CalendarEvent(
        key=f"rule {rule.uid}",
        title=f"Barred: {what}{source} (your text)",
        body=f'"{rule.text}"\n{RULE}',
        first=rule.first,
        last=rule.last,
    )


def _heat(heat: HeatSpell) -> CalendarEvent:
    longer = "It may go on for longer.\n" if heat.open_ended else ""
    return CalendarEvent(
        key="heat",
        title=f"Heat likely, up to {heat.peak_c:.0f} °C",
        body=f"{longer}{PEOPLE_IN_HEAT}",
        first=heat.first,
        last=heat.last,
    )
