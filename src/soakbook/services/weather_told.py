"""What came of asking for weather, in words: what is new, what failed, which calls it changed."""

from collections.abc import Sequence
from datetime import date, datetime
from typing import Any, NamedTuple

from soakbook.errors import WeatherError
from soakbook.garden.pages import Pages
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import counted, litres, names
from soakbook.reckoning.advice.report import Call
from soakbook.services.outlook import Outlook, outlook
from soakbook.store.texts import garden_zone
from soakbook.weather.hearing import Heard

SAYS = {
    "soak": "wanted",
    "leave": "left",
    "rain": "left for the rain",
    "held_back": "held back",
    "laid_by": "laid by",
    "feel": "to be felt",
}


class AllHeard(NamedTuple):
    """What services told, what went wrong, and what was found of the answers that are kept."""

    heard: Sequence[Heard]
    troubles: Sequence[WeatherError]
    findings: Sequence[str]


class Refreshed(NamedTuple):
    """What came of asking."""

    say: tuple[str, ...]
    values_added: int
    calls_changed: tuple[str, ...]
    """Keys of beds."""
    troubles: tuple[str, ...]


def refreshed(before: Pages, after: Pages, came: AllHeard, added: int, now: datetime) -> Refreshed:
    """What came of asking, with the calls of this morning that it changed."""
    local = now.astimezone(garden_zone(after.garden))
    failed = [
        *(one.trouble for each in came.heard for one in each.questions if one.trouble),
        *came.troubles,
    ]
    changed = _changed(before, after, local) if added else {}
    say = [
        *(_came(one) for one in came.heard),
        *(f"{sentence_of(one)} What the book has stays." for one in failed),
        *(f"To know of {one.service}: {found}." for one in came.heard for found in one.findings),
        *(f"To know: {found}." for found in came.findings),
    ]
    if changed:
        say.append(f"This changes {counted(len(changed), 'call')}: {'; '.join(changed.values())}.")
    return Refreshed(tuple(say), added, tuple(changed), tuple(sentence_of(one) for one in failed))


def sentence_of(trouble: WeatherError) -> str:
    """What went wrong, as `Open-Meteo: no answer within 20 s.`; always with a full stop."""
    said = f"{trouble.service}: {trouble.say}"
    return said if said.endswith((".", "?")) else f"{said}."


def _came(heard: Heard) -> str:
    parts = []
    over = sorted({value.day for value in heard.values})
    if over:
        parts.append(f"{counted(len(over), 'day')} analysed, to {_day(over[-1])}")
    if heard.forecast:
        futures = max(len(day.rain_members_mm) for day in heard.forecast.days)
        many = f" in {futures} futures" if futures else ""
        parts.append(f"forecast to {_day(heard.forecast.days[-1].day)}{many}")
    return f"{heard.service}: {names(parts) if parts else 'nothing of use'}."


def _day(day: date) -> str:
    return f"{month_day(day)}"


def _changed(before: Pages, after: Pages, local: datetime) -> dict[str, str]:
    """Beds whose call of this morning is another now, in words."""
    was, now = (_calls(_looked(pages, local)) for pages in (before, after))
    return {
        key: f"{call.name} now {_said(call)}, was {_said(was[key])}"
        for key, call in now.items()
        if key in was and (call.verdict, call.litres) != (was[key].verdict, was[key].litres)
    }


def _looked(pages: Pages, local: datetime) -> Outlook | None:
    return outlook(pages, local, local) if pages.plantings and pages.weather else None


def _calls(look: Outlook | None) -> dict[str, Call]:
    return {call.bed: call for call in look.round.calls} if look else {}


def _said(call: Call) -> str:
    amount = f" {litres(call.litres)}" if call.litres else ""
    return f"{SAYS[call.verdict]}{amount}"


def as_json_of(found: Refreshed) -> dict[str, Any]:
    """The same for machines."""
    return found._asdict()
