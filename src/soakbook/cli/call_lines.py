"""The lines of one bed that is to be gone to: what to give, how, in which state it is, and why.

The page they stand on is `round_page`; the paper card says less, in `card_page`.
"""

from datetime import date

from soakbook.cli import said
from soakbook.cli.paper import Page, Report
from soakbook.quantities.saying import counted, litres, minutes

INDENT = 4
NAME_COLUMNS = 17
GAP = "  "
FEW_CANS = 6
"""More cans than this are no alternative to a hose worth printing."""
FELT_DAYS = 7
"""After so many days the last feel says less than that it is old."""

AMOUNTS = {
    None: "{}",
    "soak": "{}",
    "rescue": "{}, a rescue",
    "re_wet": "{} to re-wet the balls",
    "water_in": "{} to water in",
}


def write_call(page: Page, call: Report, morning: date) -> None:
    """Write one bed of the walk."""
    page.text(heading(call), hang=INDENT - (call["order"] < 10), bold=True)
    for line in (doses(call), _given(call)):
        page.text(line, indent=INDENT)
    page.pair(states(call), felt(call, morning), indent=INDENT)
    if call["feel_first"] and call["litres"]:
        page.text("Feel one before you start: if it is moist, leave and say so.", indent=INDENT)
    page.text(pours(call), indent=INDENT)
    page.text(_no_time(call), indent=INDENT)
    page.text_with(call["reason"], _last_safe(call, morning), indent=INDENT)


def heading(call: Report) -> str:
    """Number, name in capitals, what is to be given and how long it takes."""
    start = f"{call['order']:>2}  {call['name'].upper() + GAP:<{NAME_COLUMNS}}"
    if not call["litres"]:
        return f"{start}{said.VERDICTS['feel']}"
    amount = AMOUNTS[call["dose_kind"]].format(litres(call["litres"]))
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
            long = f" for {minutes(call['minutes'])}" if call["minutes"] else ""
            return f"drip on tap {call['tap']}{long}, {in_all}"
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


def doses(call: Report) -> str:
    """Litres and seconds a plant, planting by planting; those taken along last."""
    due = [one for one in call["plantings"] if one["litres_each"] and not one["dropped"]]
    first = [one for one in due if not one["while_there"]]
    along = [one for one in due if one["while_there"]]
    parts = [dose(one, each=number == 0) for number, one in enumerate(first + along)]
    if along:
        parts[len(first)] = "while you are there " + parts[len(first)]
    return "; ".join(parts)


def dose(planting: Report, *, each: bool) -> str:
    """`6 climbing roses 2 L, 9 s each`."""
    amount = litres(planting["litres_each"])
    if planting["seconds_each"]:
        amount += f", {said.seconds(planting['seconds_each'])}"
    usual = " (your usual)" if planting["usual"] else ""
    return f"{planting['count']:,} {planting['planting']} {amount}{' each' if each else ''}{usual}"


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


def pours(call: Report) -> str:
    """How to give it in several pours; empty for one."""
    if call["pours"] <= 1:
        return ""
    many = f"{said.times(call['pours'])} pours".capitalize()
    if call["means"] in {"hose", "barrow"} and call["minutes"]:
        many += f", {minutes(call['minutes'] / call['pours'])} of hose each"
    wait = minutes(call["pour_wait_min"])
    if call["pour_meanwhile"]:
        return f"{many}. Pour, walk on as far as {call['pour_meanwhile']}, come back after {wait}."
    return f"{many}. Pour, wait {wait}, pour again."


def _given(call: Report) -> str:
    if not call["given_today_l"]:
        return ""
    by = given_by(call)
    return f"Already {given(call)}{f', {by}' if by else ''}: this is what remains."


def _last_safe(call: Report, morning: date) -> str:
    if call["last_safe"] is None or not call["litres"]:
        return ""
    return f"Last safe morning: {said.day(call['last_safe'], morning)}"


def _no_time(call: Report) -> str:
    left = [f"{one['count']:,} {one['planting']}" for one in call["plantings"] if one["dropped"]]
    return f"No time today for {said.listed(left)}." if left else ""
