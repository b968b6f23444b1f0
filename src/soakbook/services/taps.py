"""Taps: where water is drawn, and what a test of the flow gave."""

from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

from soakbook.errors import InputError
from soakbook.garden import nearest
from soakbook.garden.pages import Pages
from soakbook.garden.records import Flow, Tap
from soakbook.quantities import saying
from soakbook.quantities.amounts import Measures, litres, parse_amount
from soakbook.quantities.dates import parse_day
from soakbook.quantities.measures import (
    parse_fill_l_per_min,
    parse_flow_l_per_min,
    parse_length_m,
)
from soakbook.quantities.names import check
from soakbook.services.cautions import BUTT, HOSE
from soakbook.services.desk import Desk, key_of, writing
from soakbook.services.pen import Pen
from soakbook.services.settings import put
from soakbook.services.told import Report, told

OPTIONS = ("flow", "fill", "on", "source", "method", "tank", "reach")
BEGINS = ("flow", "fill", "source", "tank")
"""One of these makes a key that no tap has a new tap, and not a slip of the finger."""

PLANT_L = 2.0
"""The dose by which a flow is read back in seconds."""


def tap(path: Path, key: str, *, now: datetime, by: str | None = None, **typed: str) -> Report:
    """Add a tap, or change what is known of one; a flow is a new test, the older ones are kept.

    Parameters
    ----------
    path : Path
        The book.
    key : str
        As typed. With a flow, a fill, a source or a tank, a key that no tap has begins a new one.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.
    **typed
        Options as typed: flow or fill, on; source, method, tank, reach.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    unknown = next((name for name in typed if name not in OPTIONS), None)
    if unknown:
        raise InputError(unknown, typed[unknown], f"one of {', '.join(OPTIONS)}")
    with writing(Pen(path, now, by)) as desk:
        old, first = _meant(desk, key, typed), not desk.pages.taps
        record, changes = put(desk, Tap, old, _fields(desk, key, old, typed))
        after = desk.reread().pages
    minutes = _minutes(desk, after) if old and old.flows and "flows" in changes else None
    say = (
        _what(record, old, desk.today),
        _seconds(record, desk.garden.can_l),
        _another_lance(record, old, desk.garden.can_l),
        _of_the_round(minutes),
        _cautions(record, old, first),
    )
    changed: dict[str, Any] = {
        "tap": record.key,
        "fields": changes,
        "guesses": [],
        "minutes": minutes,
    }
    return told("tap", None, say, changed)


def _meant(desk: Desk, word: str, typed: Mapping[str, str]) -> Tap | None:
    """The tap that is meant; None for a new one, which is only begun with what makes it a tap."""
    known = {one.key: one for one in desk.pages.taps}
    key = key_of(word, list(known))
    if key is None and any(option in typed for option in BEGINS):
        return None
    try:
        return known[nearest.find(word, list(known), "tap") if key is None else key]
    except InputError as error:
        right = f"{error.right}; a new tap needs --flow, --fill, --source or --tank"
        raise InputError("tap", word, right) from error


def _fields(desk: Desk, key: str, old: Tap | None, typed: Mapping[str, str]) -> dict[str, Any]:
    fields: dict[str, Any] = {} if old else {"key": key.strip()}
    for name in ("source", "method"):
        if name in typed:
            fields[name] = typed[name].strip().casefold()
    if old is None and fields.get("source") == "butt" and "method" not in fields:
        fields["method"] = "can"  # a butt's own head is too weak for a lance
    if "tank" in typed:
        measures = Measures(desk.garden.can_l, desk.garden.gallon)
        fields["tank_l"] = litres(parse_amount(typed["tank"], "tank"), measures, "tank")
    if "reach" in typed:
        reach_m = parse_length_m(typed["reach"], "reach")
        fields["reach_m"] = check("reach_m", reach_m, field="reach", typed=typed["reach"])
    flow = _flow(desk, typed)
    if flow is not None:
        others = [one for one in old.flows if one.tested_on != flow.tested_on] if old else []
        fields["flows"] = tuple(sorted([*others, flow], key=lambda one: one.tested_on))
    return fields


def _flow(desk: Desk, typed: Mapping[str, str]) -> Flow | None:
    """The test that was entered, if one was."""
    if "flow" in typed and "fill" in typed:
        raise InputError("flow", typed["flow"], "either a flow or a fill, not both")
    gallon, can_l = desk.garden.gallon, desk.garden.can_l
    if "flow" in typed:
        flow = parse_flow_l_per_min(typed["flow"], "flow", gallon)
    elif "fill" in typed:
        flow = parse_fill_l_per_min(typed["fill"], "fill", gallon, can_l)
    elif "on" in typed:
        raise InputError("on", typed["on"], "with the test of that day: --fill 10l 43s")
    else:
        return None
    day = parse_day(typed["on"], "on", desk.today, ahead_days=0) if "on" in typed else desk.today
    if day > desk.today:
        raise InputError("on", typed["on"], "a day that has come")
    return Flow(flow, day)


def _what(record: Tap, old: Tap | None, today: date) -> str:
    parts = [f"Tap {record.key}, {record.source}, {_by(record)}"]
    if record.tank_l:
        parts.append(f"holds {saying.litres(record.tank_l)}")
    if record.flows:
        last = record.flows[-1]
        on = "today" if last.tested_on == today else saying.date_of(last.tested_on, today)
        parts.append(f"{saying.number(last.flow_l_per_min)} L/min, tested {on}")
    was = old.flows[-1] if old and old.flows else None
    newer = was is not None and record.flows[-1] != was
    before = f" (was {saying.number(was.flow_l_per_min)})" if was and newer else ""
    return f"{'; '.join(parts)}{before}."


def _by(record: Tap) -> str:
    return {"can": "by can", "drip": "drip"}.get(record.method, f"with the {record.method}")


def _seconds(record: Tap, can_l: float) -> str:
    if not record.flows:
        return (
            "No flow yet, so no minutes can be said. Fill a can by the watch:\n"
            f"  soakbook tap {record.key} --fill {can_l:g}l 43s"
        )
    flow = record.flows[-1].flow_l_per_min
    return (
        f"A {can_l:g} L can fills in {60 * can_l / flow:.0f} s; {saying.litres(PLANT_L)} for a plant "
        f"take {60 * PLANT_L / flow:.0f} s."
    )


def _another_lance(record: Tap, old: Tap | None, can_l: float) -> str:
    """That a flow holds for the lance it was tested with."""
    if old is None or old.method == record.method or not record.flows:
        return ""
    if record.method == "can" or record.flows != old.flows:
        return ""
    return (
        f"Its flow was tested {_by(old)}, and another lance gives another flow. Test it again:\n"
        f"  soakbook tap {record.key} --fill {can_l:g}l 43s"
    )


def _minutes(desk: Desk, after: Pages) -> tuple[float, float] | None:
    """Minutes of open taps on today's round, by the flow of before and by the new one."""
    from soakbook.services.outlook import outlook

    rounds = [outlook(pages, desk.now, desk.today).round for pages in (desk.pages, after)]
    was, now = (one.totals.minutes for one in rounds)
    return (was, now) if was or now else None


def _of_the_round(minutes: tuple[float, float] | None) -> str:
    if minutes is None:
        return ""
    was, now = (saying.minutes(one) for one in minutes)
    if was == now:
        return f"Today's round keeps its {now} of open taps."
    return f"Today's round: {now} of open taps; it was {was}."


def _cautions(record: Tap, old: Tap | None, first: bool) -> str:
    if old is not None:
        return ""
    if record.source in ("butt", "tank"):
        return BUTT
    return HOSE if first else ""
