"""People: who waters, on which days, for how long, and when they are away."""

from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

from soakbook.errors import InputError
from soakbook.garden.records import Absence, Garden, Person
from soakbook.quantities import saying
from soakbook.quantities.dates import WEEKDAYS, parse_day
from soakbook.quantities.measures import parse_minutes
from soakbook.quantities.names import check
from soakbook.quantities.spans import parse_span, weekdays
from soakbook.reckoning.advice.visits import next_visit
from soakbook.services.desk import Desk, key_of, writing
from soakbook.services.pen import Pen
from soakbook.services.settings import put
from soakbook.services.told import Report, told

OPTIONS = ("days", "hours", "away", "first", "last", "head")
AHEAD_DAYS = 300
"""Days on which somebody begins or ends mostly lie ahead."""


def person(path: Path, name: str, *, now: datetime, by: str | None = None, **typed: str) -> Report:
    """Add somebody who waters, or change when they come.

    Parameters
    ----------
    path : Path
        The book.
    name : str
        As typed; a name that nobody has begins a new person.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.
    **typed
        Options as typed: days, hours, away, first, last; head, where they are told what concerns the whole garden.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    unknown = next((option for option in typed if option not in OPTIONS), None)
    if unknown:
        raise InputError(unknown, typed[unknown], f"one of {', '.join(OPTIONS)}")
    if not name.strip():
        raise InputError("name", name, "who comes: Ann")
    with writing(Pen(path, now, by)) as desk:
        known = {one.name: one for one in desk.pages.people}
        old = known.get(key_of(name, list(known)) or "")
        record, changes = put(desk, Person, old, _fields(desk, name, old, typed))
        if "head" in typed:
            _, of_garden = put(desk, Garden, desk.garden, {"head": record.name})
            changes = {**changes, **of_garden}
        after = desk.reread().pages
    is_new = known and old is None
    say = (
        f"{record.name} is new here, beside {saying.names(list(known))}." if is_new else "",
        comes(record, desk.today),
        f"{record.name} is told what concerns the whole garden." if "head" in typed else "",
        "From now on the round counts on the days of those entered, no longer on every day."
        if not known
        else "",
        f"Somebody comes next on {saying.day(next_visit(after, desk.today), desk.today)}.",
    )
    return told("person", None, say, {"person": record.name, "fields": changes, "guesses": []})


def comes(record: Person, today: date) -> str:
    """When somebody comes, and for how long."""
    days = [WEEKDAYS[number][:3] for number in sorted(record.weekdays)]
    when = "every day" if len(days) == len(WEEKDAYS) else ", ".join(days)
    parts = [f"{record.name} comes {when}, {saying.minutes(60 * record.hours)}"]
    if record.first:
        parts.append(f"from {saying.date_of(record.first, today)}")
    if record.last:
        parts.append(f"until {saying.date_of(record.last, today)}")
    away = [
        saying.date_of(one.first, today)
        if one.first == one.last
        else f"{saying.date_of(one.first, today)} to {saying.date_of(one.last, today)}"
        for one in record.absences
        if one.last >= today
    ]
    if away:
        parts.append(f"away {', '.join(away)}")
    return f"{'; '.join(parts)}."


def _fields(desk: Desk, name: str, old: Person | None, typed: Mapping[str, str]) -> dict[str, Any]:
    fields: dict[str, Any] = {} if old else {"name": name.strip()}
    if "days" in typed:
        fields["weekdays"] = weekdays(typed["days"])
    if "hours" in typed:
        hours = parse_minutes(typed["hours"], "hours") / 60
        fields["hours"] = check("hours", hours, field="hours", typed=typed["hours"])
    elif old is None:
        fields["hours"] = desk.garden.hours_by_default
    for option in ("first", "last"):
        if option in typed:
            word = "from" if option == "first" else "until"
            fields[option] = parse_day(typed[option], word, desk.today, ahead_days=AHEAD_DAYS)
    if "away" in typed:
        away = Absence(*parse_span(typed["away"], "away", desk.today))
        absences = {*(old.absences if old else ()), away}
        fields["absences"] = tuple(sorted(absences, key=lambda one: (one.first, one.last)))
    return fields
