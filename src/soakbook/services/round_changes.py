"""Which calls of this morning's round are others now, between two readings of the book."""

from collections.abc import Mapping
from datetime import datetime

from soakbook.garden.pages import Pages
from soakbook.quantities.saying import counted, litres
from soakbook.reckoning.advice.report import Call
from soakbook.services.outlook import outlook

SAYS = {
    "soak": "wanted",
    "leave": "left",
    "rain": "left for the rain",
    "held_back": "held back",
    "laid_by": "laid by",
    "feel": "to be felt",
}


def changed_calls(before: Pages, after: Pages, local: datetime) -> dict[str, str]:
    """Beds whose call of this morning is another now, in words; `local` is now, on the garden's clock."""
    was, now = (_calls(pages, local) for pages in (before, after))
    return {
        key: f"{call.name} now {_said(call)}, was {_said(was[key])}"
        for key, call in now.items()
        if key in was and (call.verdict, call.litres) != (was[key].verdict, was[key].litres)
    }


def changes_say(changed: Mapping[str, str], of: str = "") -> str:
    """The same in a sentence; empty where none is another."""
    if not changed:
        return ""
    return f"This changes {counted(len(changed), 'call')}{of}: {'; '.join(changed.values())}."


def _calls(pages: Pages, local: datetime) -> dict[str, Call]:
    if not pages.plantings or not pages.weather:
        return {}
    return {call.bed: call for call in outlook(pages, local, local).round.calls}


def _said(call: Call) -> str:
    amount = f" {litres(call.litres)}" if call.litres else ""
    return f"{SAYS[call.verdict]}{amount}"
