"""The paper card of a round: one for everyone who comes, A5, to be filled in by pencil."""

from soakbook.cli import call_lines, said
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
    "bed": "Over the bed, not only on the balls.",
}
BOXES = "given [            ]   felt ball / bed [             ]"
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
    totals = report["totals"]
    page.line(
        f"{litres(totals['litres'])}, about {minutes(totals['minutes_on_foot'])} in all"
        if walk
        else "Nothing to water."
    )
    others = [name for name in report["people"] if name != person]
    if walk and others:
        page.text(f"{said.listed(others)} has this card too: share it out before you start.")
    for call in walk:
        page.line()
        _bed(page, call)
    page.line()
    page.text(FOOT)
    return page


def _bed(page: Page, call: Report) -> None:
    page.pair(f"{call['order']:>2}  {call['name'].upper()}", _drawn_from(call), bold=True)
    for planting in call["plantings"]:
        if planting["litres_each"] and not planting["dropped"]:
            page.pair(
                f"{planting['count']:,} {planting['planting']}", _dose(planting), indent=INDENT
            )
    if call["litres"] and call["aim"]:
        page.text(AIMS[call["aim"]], indent=INDENT)
    page.text(call_lines.pours(call), indent=INDENT)
    if call["feel_first"] or not call["litres"]:
        page.text("Feel one first.", indent=INDENT)
    page.line(" " * INDENT + BOXES)


def _drawn_from(call: Report) -> str:
    if not call["litres"]:
        return "feel"
    match call["means"]:
        case "hose" | "drip":
            return f"tap {call['tap']}"
        case "cans":
            return counted(call["cans"], "can") + (", rose on" if call["rose_on"] else "")
        case "barrow":
            return call_lines.tanks(call)
        case _:
            return ""


def _dose(planting: Report) -> str:
    dose = f"{litres(planting['litres_each'])} each"
    return f"{dose}, {said.seconds(planting['seconds_each'])}" if planting["seconds_each"] else dose
