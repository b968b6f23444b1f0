"""The paper card of a round: one for everyone who comes, A5, to be filled in by pencil."""

from soakbook.cli import call_lines, pouring, round_page, said
from soakbook.cli.paper import Page, Report
from soakbook.quantities.dates import long_day
from soakbook.quantities.saying import counted, litres, minutes

COLUMNS = 58
"""What an A5 sheet takes in letters of ten to the inch."""
INDENT = 4
NOBODY = "________________"
AIMS = {
    "ball": "On the ball only.",
    "ball_and_ring": "On the ball and a hand's breadth round it.",
    "bed": "Over the bed, not only at the stem.",
}
GIVEN_BOX = "given [            ]   "
FELT_BOX = "felt ball / bed [             ]"
FOOT = (
    "Stop when water stands. Ball dry and bed wet: only the ball. If in doubt, feel. "
    "Limp at three, look again at dusk. Limp at dawn, tell ________________ ."
)


def cards(report: Report) -> list[Page]:
    """A card for each person who comes that day; a nameless one where nobody is down to come."""
    return [_card(report, person) for person in report["people"] or [NOBODY]]


def _card(report: Report, person: str) -> Page:
    page = Page(COLUMNS)
    page.pair("THE ROUND", long_day(said.day_of(report["morning"])), bold=True)
    page.pair(report["garden"], f"for {person}")
    walk = [call for call in report["calls"] if call["order"] is not None]
    to_soak = any(call["litres"] for call in walk)
    unsaid = round_page.unreckoned(report)
    for line in (
        [round_page.needed(report), *round_page.nothing_known(report)]
        if to_soak
        else round_page.no_soak(report)
    ):
        page.text(line)
    others = [name for name in report["people"] if name != person]
    if (walk or unsaid) and others:
        page.text(f"{said.listed(others)} has this card too: share it out before you start.")
    for call in walk:
        page.line()
        _bed(page, call)
    for name in unsaid:
        page.line()
        page.pair(f" -  {name.upper()}", "feel", bold=True)
        page.line(" " * INDENT + GIVEN_BOX + FELT_BOX)
    page.line()
    heat = [one["say"] for one in report["findings"] if one["kind"] == "heat"]
    known = (_doubt(report), _will_not_last(report), *heat)
    for line in (_not_on(report), _if_there_is_time(report), *known, FOOT):
        page.text(line)
    for line in report["weather"]["credits"]:
        page.text(line)
    return page


def _bed(page: Page, call: Report) -> None:
    page.pair(f"{call['order']:>2}  {call['name'].upper()}", _drawn_from(call), bold=True)
    if call["feel_first"] or not call["litres"]:
        page.text("Feel one first.", indent=INDENT)
    for planting in call_lines.dosed(call):
        page.pair(call_lines.name(planting), _dose(call, planting), indent=INDENT)
    if call["litres"] and call["aim"]:
        page.text(AIMS[call["aim"]], indent=INDENT)
    page.text(pouring.pours(call), indent=INDENT)
    page.line(" " * INDENT + (GIVEN_BOX if call["litres"] else "") + FELT_BOX)


def _drawn_from(call: Report) -> str:
    if not call["litres"]:
        return "feel"
    on_foot = minutes(call["minutes_on_foot"])
    match call["means"]:
        case "hose":
            return f"tap {call['tap']}, {on_foot}"
        case "drip":
            return call_lines.means(call)
        case "cans":
            rose = ", rose on" if call["rose_on"] else ""
            return f"{counted(call['cans'], 'can')}{rose}, {on_foot}"
        case "barrow":
            return f"{call_lines.tanks(call)}, {on_foot}"
        case _:
            return ""


def _dose(call: Report, planting: Report) -> str:
    each = " each" if planting["count"] > 1 else ""
    hand = pouring.by_the_plant(call, planting)
    if hand and pouring.in_pours(call):
        hand += " a pour"
    return ", ".join(filter(None, (f"{litres(planting['litres_each'])}{each}", hand)))


def _will_not_last(report: Report) -> str:
    """The beds that today's water will not carry to the next visit, in short."""
    found = [one for one in report["findings"] if one["kind"] == "will_not_last"]
    if not found:
        return ""
    beds = said.listed([name for one in found for name in one["names"]])
    return f"Will not last to the next visit: {beds}. Soak later today, shade, or find someone."


def _doubt(report: Report) -> str:
    """That the weather is old, in short."""
    if not any(one["kind"] == "weather_old" for one in report["findings"]):
        return ""
    last = report["weather"]["measured_to"]
    since = f" since {said.day(last, said.day_of(report['morning']))}" if last else " measured"
    return f"No weather{since}: trust your finger first."


def _not_on(report: Report) -> str:
    """The beds that must not get water, whoever passes with a full can."""
    held = [
        call["name"]
        for call in report["calls"]
        if call["verdict"] == "held_back" and not call["litres"]
    ]
    return f"Nothing on: {said.listed(held)} (too wet)." if held else ""


def _if_there_is_time(report: Report) -> str:
    """What the hours did not reach to."""
    left = [
        f"{call['name']}, {', '.join(_left_out(one) for one in call_lines.dropped(call))}"
        for call in report["calls"]
        if call["dropped"]
    ]
    return f"If there is time: {'; '.join(left)}." if left else ""


def _left_out(planting: Report) -> str:
    each = " each" if planting["count"] > 1 else ""
    return f"{call_lines.name(planting)} {litres(planting['litres_each'])}{each}"
