"""How a kind of reminder is sent, as the book's history tells it: what was said of it, and what stood before."""

from collections.abc import Callable, Mapping
from typing import Any

from soakbook.garden.reminding import Reminder
from soakbook.quantities import saying
from soakbook.store.sheets import plain_record

USUAL = "the usual"
WHOM: Mapping[str, str] = {
    "keeper": "whose bed it is that day",
    "next": "the next who comes, then the head",
    "head": "the head",
    "all": "everybody",
}
"""Those who are told, but for those named."""


def reminder_words(
    before: Mapping[str, Any] | None, after: Mapping[str, Any], people: Mapping[str, str]
) -> str:
    """`hour from the usual to 06:30; sent from yes to no`; of one that is new `hour 06:30`.

    Parameters
    ----------
    before, after : mapping
        A `Reminder` as JSON has it; None where nobody had said anything.
    people : mapping
        Names by uid.
    """
    then = plain_record(Reminder("round")) if before is None else before
    parts = []
    for label, say in _PHRASES.items():
        was, now = say(then, people), say(after, people)
        if was != now:
            parts.append(f"{label} {now}" if before is None else f"{label} from {was} to {now}")
    return "; ".join(parts) or "as usual"


def _whom(said: Mapping[str, Any], people: Mapping[str, str]) -> str:
    if said["whom"] == "named":
        return saying.names(sorted(people.get(uid, "somebody") for uid in said["named"].split()))
    return WHOM.get(said["whom"] or "", USUAL)


def _quiet(said: Mapping[str, Any], _: Mapping[str, str]) -> str:
    first, last = said["quiet_from"], said["quiet_until"]
    if first is None or last is None:
        return USUAL
    return "none" if first == last else f"{first[:5]} to {last[:5]}"


_PHRASES: Mapping[str, Callable[[Mapping[str, Any], Mapping[str, str]], str]] = {
    "sent": lambda said, _: "yes" if said["wanted"] else "no",
    "hour": lambda said, _: said["hour"][:5] if said["hour"] else USUAL,
    "for": _whom,
    "by": lambda said, _: said["channel"] or "any channel",
    "quiet hours": _quiet,
}
