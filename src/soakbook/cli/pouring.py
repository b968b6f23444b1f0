"""What a hand does at each plant, in one pour or in several, and how long it has to wait between them."""

from soakbook.cli import said
from soakbook.cli.paper import Report
from soakbook.quantities.saying import WHOLE_FROM, litres


def by_the_plant(call: Report, planting: Report) -> str:
    """`9 s`; for each of several pours `3 s`, by can `½ L`: what the hand does at a plant; empty by drip."""
    if call["means"] == "drip":
        return ""
    seconds, many = planting["seconds_each"], call["pours"] if in_pours(call) else 1
    if seconds:
        return said.seconds(max(1, round(seconds / many)))
    return litres(planting["litres_each"] / many) if many > 1 else ""


def pours(call: Report) -> str:
    """How to give it in several pours; empty for one, and for a drip, which gives it slowly enough."""
    if not in_pours(call):
        return ""
    each = call["litres"] / call["pours"]
    as_printed = (each if each >= WHOLE_FROM else 2 * each).is_integer()
    of = litres(each) if as_printed else f"about {litres(each)}"
    many = f"{said.times(call['pours']).capitalize()} pours of {of}"
    apart = f"{many}, {said.wait(call['pour_wait_min'])} apart"
    if call["pour_meanwhile"]:
        return f"{apart}: go on as far as {call['pour_meanwhile']} between them."
    return f"{apart}."


def in_pours(call: Report) -> bool:
    """Whether a hand has to come back to it."""
    return bool(call["litres"] and call["pours"] > 1 and call["means"] != "drip")


def waiting_min(walk: list[Report]) -> float:
    """The least that waits between pours add to the work [min].

    Notes
    -----
    The last pour of a bed comes (pours - 1) waits after its first; all beds after it can be done meanwhile.
    """
    after, least = 0.0, 0.0
    for call in reversed(walk):
        if in_pours(call):
            least = max(least, (call["pours"] - 1) * call["pour_wait_min"] - after)
        after += call["minutes_on_foot"]
    return least
