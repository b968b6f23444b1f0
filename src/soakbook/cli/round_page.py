"""The round on the screen: first what to do, then what may wait, then what to know."""

from datetime import date

from soakbook.cli import call_lines, pouring, said
from soakbook.cli.paper import Page, Report
from soakbook.quantities.dates import long_day
from soakbook.quantities.saying import counted, litres, minutes, sentence

NAME_COLUMNS = 22
VERDICT_COLUMNS = 22
REST_HANG = 23
FEEL_FIRST = "Feel one first, where it says so: if it is moist, leave and say so."
WAITING_WORTH_SAYING_MIN = 5
SAY_HANG = 4


def write_round(page: Page, report: Report) -> None:
    """Write the whole round of one morning."""
    morning = said.day_of(report["morning"])
    walk = [call for call in report["calls"] if call["order"] is not None]
    write_head(page, report)
    page.line()
    page.text(_in_sum(report, walk))
    if any(call_lines.to_feel_first(call) for call in walk):
        page.text(FEEL_FIRST)
    for call in walk:
        page.line()
        call_lines.write_call(page, call, morning)
    _not_today(page, report, morning)
    _to_know(page, report)
    _question(page, report)
    if report["weather"]["credits"]:
        page.line()
    for line in report["weather"]["credits"]:
        page.text(line)


def write_head(page: Page, report: Report) -> None:
    """Write what it is, of which garden, which day, and what the gauge said."""
    morning = said.day_of(report["morning"])
    page.pair("THE ROUND", long_day(morning), bold=True)
    page.pair(report["garden"], _gauge(report["gauge"], morning))


def _gauge(gauge: Report | None, morning: date) -> str:
    if gauge is None:
        return ""
    read = said.day_of(gauge["read_at"])
    day = "" if read == morning else f"{said.since(gauge['read_at'], morning)} "
    kind = f", {gauge['kind']}" if gauge["kind"] else ""
    return f"gauge {day}at {said.clock(gauge['read_at'])}: {gauge['rain_mm']:g} mm{kind}"


def _in_sum(report: Report, walk: list[Report]) -> str:
    totals = report["totals"]
    to_soak = [call for call in walk if call["litres"]]
    to_feel = len(walk) - len(to_soak)
    if not report["calls"]:
        return _nothing_yet(report)
    if not to_soak and totals["dropped"]:
        want = "wants" if totals["dropped"] == 1 else "want"
        return f"No time for {counted(totals['dropped'], 'planting')} that {want} water."
    if not walk:
        return f"Nothing to water. {_feel_one(report['calls'])}Gauge and go home."
    if not to_soak:
        return f"Nothing to water; {counted(to_feel, 'bed')} to feel."
    feel = f", {to_feel} to feel" if to_feel else ""
    beds = counted(len(to_soak), "bed")
    have = f"You have {said.hours(totals['hours_available'])}."
    return f"{beds} to soak{feel}: {needed(report)}. {have}"


def needed(report: Report) -> str:
    """`628 L, about 1 h 26 in all and about 40 min of waiting between pours`."""
    walk = [call for call in report["calls"] if call["order"] is not None]
    total = said.litres_in_all(call["litres"] for call in walk)
    work = f"{total}, about {minutes(report['totals']['minutes_on_foot'])} in all"
    waiting = pouring.waiting_min(walk)
    if waiting <= WAITING_WORTH_SAYING_MIN:
        return work
    return f"{work} and about {said.wait(waiting)} of waiting between pours"


def _nothing_yet(report: Report) -> str:
    if report["findings"]:
        return "Nothing can be said of any bed yet."
    return "No plants in the book yet: `soakbook bed -h` and `soakbook plant -h` say how."


def _feel_one(calls: list[Report]) -> str:
    """The bed that nobody has felt for longest; none when all were felt today."""

    def days(call: Report) -> float:
        known: int | None = call["days_since_felt"]
        return float("inf") if known is None else known

    longest = max(calls, key=days)
    if not days(longest):
        return ""
    if longest["days_since_felt"] is None:
        return f"Feel one: {longest['name']}, not felt yet. "
    return f"Feel one: {longest['name']}, {counted(longest['days_since_felt'], 'day')} without. "


def _not_today(page: Page, report: Report, morning: date) -> None:
    rest = [call for call in report["calls"] if call["order"] is None]
    if not rest:
        return
    page.line()
    page.line("Not today", bold=True)
    for call in rest:
        label, tail = _rest(call, morning)
        row = f"{call['name']:<{NAME_COLUMNS}} {label:<{VERDICT_COLUMNS}} {tail}"
        page.text(row.rstrip(), indent=2, hang=REST_HANG)


def _rest(call: Report, morning: date) -> tuple[str, str]:
    """What stands for a bed nobody goes to: the verdict, and what there is to say of it."""
    if call["given_today_l"]:
        return call_lines.given(call), call_lines.given_by(call)
    reason: str = call["reason"]
    if call["dropped"]:
        safe = sentence(call_lines.last_safe(call, morning)) if call["verdict"] == "soak" else ""
        return "no time for it today", f"{reason} {safe}".rstrip()
    if call["verdict"] == "held_back":
        return "HELD BACK", f"{reason} {sentence(call_lines.felt(call, morning))}"
    tail = f"{reason} Feel one." if call["feel_first"] else reason
    label = said.VERDICTS[call["verdict"]]
    if call["verdict"] == "leave":
        until = call["wanted_on"]
        label += f" until {said.day(until, morning)}" if until else " a fortnight"
    return label, tail


def _to_know(page: Page, report: Report) -> None:
    names = {call["bed"]: call["name"] for call in report["calls"]}
    notes = [_finding(finding, names) for finding in report["findings"]]
    tomorrow = report["tomorrow"]
    if tomorrow is not None:
        beds = counted(tomorrow["calls"], "bed")
        likely = f"{beds}, {litres(tomorrow['litres'])}" if tomorrow["calls"] else "nothing"
        done = ", if all this is done," if any(call["litres"] for call in report["calls"]) else ""
        week = report["week"]
        ahead = f" {week['say']}" if week else ""
        notes.append(f"Tomorrow{done} likely {likely}.{ahead}".rstrip())
    if notes:
        page.line()
    for note in notes:
        page.text(note, hang=SAY_HANG)


def _finding(finding: Report, names: dict[str, str]) -> str:
    bed = finding["bed"]
    return f"{names.get(bed, bed)}: {finding['say']}" if bed else str(finding["say"])


def _question(page: Page, report: Report) -> None:
    question = report["question"]
    if question is None:
        return
    page.line()
    page.text(f"One question, when you pass. {question['ask']}")
    page.text(question["answer"], indent=SAY_HANG, hang=SAY_HANG)
