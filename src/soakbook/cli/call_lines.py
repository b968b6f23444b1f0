"""The lines of one bed that is to be gone to: what to give, how, in which state it is, and why.

The page they stand on is `round_page`; the paper card says less, in `card_page`.
"""

import re
from collections.abc import Iterable
from datetime import date

from soakbook.cli import pouring, said
from soakbook.cli.paper import Line, Page, Report
from soakbook.quantities.saying import counted, litres, minutes, plural

INDENT = 4
NAME_COLUMNS = 17
GAP = "  "
FEW_CANS = 6
"""More cans than this are no alternative to a hose worth printing."""
FELT_DAYS = 7
"""After so many days the last feel says less than that it is old."""
MOST_LINES = 6
"""A bed longer than this is not read on a hot morning; the first of its reasons gives way, `why` has it."""
SENTENCE_END = re.compile(r"(?<=\.) (?=[A-Z])")

AMOUNTS = {
    None: "{}",
    "soak": "{}",
    "rescue": "{}, a rescue",
    "re_wet": "{} to re-wet the {}",
    "water_in": "{} to water in",
}


def write_call(page: Page, call: Report, morning: date) -> None:
    """Write one bed of the walk."""
    lines = _written(page.width, call, morning, _news(call))
    _, *rest = SENTENCE_END.split(_news(call))
    if len(lines) > MOST_LINES and rest:
        lines = _written(page.width, call, morning, " ".join(rest))
    page.lines += lines


def heading(call: Report) -> str:
    """Number, name in capitals, what is to be given and how long it takes."""
    start = f"{call['order']:>2}  {call['name'].upper() + GAP:<{NAME_COLUMNS}}"
    if not call["litres"]:
        return f"{start}{said.VERDICTS['feel']}"
    balls = plural("ball", sum(one["count"] for one in dosed(call)))
    amount = AMOUNTS[call["dose_kind"]].format(litres(call["litres"]), balls)
    return f"{start}{amount + GAP:<8}{means(call)}"


def means(call: Report) -> str:
    """How it is given: minutes in all and the tap, or the cans."""
    in_all = f"{minutes(call['minutes_on_foot'])} in all"
    match call["means"]:
        case "hose":
            few = call["cans"] is not None and call["cans"] <= FEW_CANS
            cans = f"; or {counted(call['cans'], 'can')}" if few else ""
            return f"{in_all}, tap {call['tap']}{cans}"
        case "drip":
            long = f" open for {minutes(call['minutes'])}" if call["minutes"] else ""
            return f"drip, tap {call['tap']}{long}"
        case "cans":
            rose = ", rose on" if call["rose_on"] else ""
            does = f"; a can does {call['plants_a_can']}" if call["plants_a_can"] else ""
            return f"{counted(call['cans'], 'can')}, {in_all}{rose}{does}"
        case "barrow":
            return f"{tanks(call)}, {in_all}"
        case _:
            return "nothing to give it with today"


def tanks(call: Report) -> str:
    """`7 barrow tanks`, or that it is barrow work where nobody has said what the tank holds."""
    return counted(call["tanks"], "barrow tank") if call["tanks"] else "by barrow"


def dosed(call: Report) -> list[Report]:
    """The plantings that get water this morning; those taken along last."""
    due = [one for one in call["plantings"] if one["litres_each"] and not one["dropped"]]
    return sorted(due, key=lambda one: bool(one["while_there"]))


def dropped(call: Report) -> list[Report]:
    """The plantings there is no time for."""
    return [one for one in call["plantings"] if one["dropped"]]


def doses(call: Report) -> str:
    """Litres and seconds a plant, planting by planting."""
    parts = []
    unsaid, along = True, False
    for number, one in enumerate(dosed(call)):
        each = unsaid and one["count"] > 1
        unsaid = unsaid and not each
        front = "while you are there " if one["while_there"] and not along else ""
        along = along or one["while_there"]
        pour = " a pour" if number == 0 and pouring.in_pours(call) else ""
        parts.append(front + _dose(call, one, each=each, pour=pour))
    return "; ".join(parts)


def name(planting: Report) -> str:
    """`6 climbing roses`."""
    return f"{planting['count']:,} {plural(planting['planting'], planting['count'])}"


def states(call: Report) -> str:
    """`ball wanting, bed holding`."""
    bed = f"bed {call['bed_state']}"
    if call["ball_state"]:
        return f"ball {call['ball_state']}, {bed}"
    bare = any(one["bare_root"] for one in call["plantings"])
    return f"bare root, {bed}" if bare else bed


def felt(call: Report, morning: date) -> str:
    """The last feel, or how long ago it was."""
    last, days = call["felt"], call["days_since_felt"]
    if last is None or days is None:
        return "not felt yet"
    if days > FELT_DAYS:
        return f"not felt for {counted(days, 'day')}"
    found = [f"{what} {last[what]}" for what in ("ball", "bed") if last[what]]
    return f"felt {said.since(last['at'], morning)}: {', '.join(found)}"


def given(call: Report) -> str:
    """`given today 19 L`."""
    return f"given today {litres(call['given_today_l'])}"


def given_by(call: Report) -> str:
    """`Ann 07:40`, as far as it is known."""
    at = said.clock(call["given_today_at"] or "")
    return " ".join(filter(None, (call["given_today_by"], at)))


def last_safe(bed_or_planting: Report, morning: date) -> str:
    """Until when what is to be soaked can wait."""
    if bed_or_planting["last_safe"]:
        return f"Last safe morning: {said.day(bed_or_planting['last_safe'], morning)}"
    return "Not to be put off" if bed_or_planting["verdict"] == "soak" else ""


def no_time(plantings: Iterable[Report]) -> str:
    """The plantings left out, named with their number."""
    return said.listed([name(one) for one in plantings])


def to_feel_first(call: Report) -> bool:
    """Whether a finger decides if the bed gets its water."""
    return bool(call["feel_first"] and call["litres"])


def _written(width: int, call: Report, morning: date, reason: str) -> list[Line]:
    page = Page(width)
    page.text(heading(call), hang=INDENT - (call["order"] < 10), bold=True)
    for line in (doses(call), _given(call)):
        page.text(line, indent=INDENT)
    page.pair(states(call), felt(call, morning), indent=INDENT)
    feel = "Feel one first." if to_feel_first(call) else ""
    paragraph = " ".join(filter(None, (feel, pouring.pours(call), _no_time(call, morning), reason)))
    page.text_with(paragraph, _last_safe(call, morning), indent=INDENT)
    return page.lines


def _dose(call: Report, planting: Report, *, each: bool, pour: str) -> str:
    """`6 climbing roses 2 L, 9 s each`; in pours `6 climbing roses 7 L each, 8 s a pour`."""
    hand = pouring.by_the_plant(call, planting)
    parts = [litres(planting["litres_each"]), *([hand + pour] if hand else [])]
    if each:
        parts[0 if pouring.in_pours(call) else -1] += " each"
    usual = " (your usual)" if planting["usual"] else ""
    return f"{name(planting)} {', '.join(parts)}{usual}"


def _given(call: Report) -> str:
    if not call["given_today_l"]:
        return ""
    by = given_by(call)
    return f"Already {given(call)}{f', {by}' if by else ''}: this is what remains."


def _news(call: Report) -> str:
    """The reason, unless it only says the states again."""
    reason: str = call["reason"]
    plain = reason.rstrip(".").replace(";", ",").lower()
    return "" if plain in {states(call), f"ball and bed {call['bed_state']}"} else reason


def _last_safe(call: Report, morning: date) -> str:
    return last_safe(call, morning) if call["litres"] else ""


def _no_time(call: Report, morning: date) -> str:
    left = dropped(call)
    if not left:
        return ""
    until = [one["last_safe"] for one in left]
    safe = f" (last safe morning: {said.day(min(until), morning)})" if all(until) else ""
    return f"No time today for {no_time(left)}{safe}."
