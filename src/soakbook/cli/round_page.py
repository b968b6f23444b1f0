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
NO_PLANTS = (
    "The book has no plants that stand in the ground on this day: `soakbook bed -h` and "
    "`soakbook plant -h` say how to enter some."
)


def write_round(page: Page, report: Report) -> None:
    """Write the whole round of one morning."""
    morning = said.day_of(report["morning"])
    walk = [call for call in report["calls"] if call["order"] is not None]
    write_head(page, report)
    page.line()
    for line in _in_sum(report, walk):
        page.text(line)
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


def _finding(finding: Report) -> str:
    """A finding, with the bed it is about."""
    bed = f"{said.listed(finding['names'])}: " if finding["bed"] else ""
    return f"{bed}{finding['say']}"


def no_soak(report: Report) -> list[str]:
    """What is said where no bed is to be soaked: that nothing is to be watered only where that is known."""
    dropped, unsaid = report["totals"]["dropped"], nothing_known(report)
    to_feel = sum(call["order"] is not None for call in report["calls"])
    if not report["calls"]:
        return unsaid or [NO_PLANTS]
    if dropped:
        want = "wants" if dropped == 1 else "want"
        return [f"No time for {counted(dropped, 'planting')} that {want} water.", *unsaid]
    nothing = "Nothing to water elsewhere" if unsaid else "Nothing to water"
    if to_feel:
        return [*unsaid, f"{nothing}; {counted(to_feel, 'bed')} to feel."]
    if unsaid:
        return [*unsaid, f"{nothing}."]
    return [f"{nothing}. {_feel_one(report['calls'])}Gauge and go home."]


def nothing_known(report: Report) -> list[str]:
    """That the beds nobody can reckon are to be felt; empty where there are none."""
    beds = unreckoned(report)
    if not beds:
        return []
    them = "it" if len(beds) == 1 else "them"
    if not report["calls"]:
        return [f"Nothing can be said of any bed yet. Feel {said.listed(beds)}: water what is dry."]
    return [f"Nothing can be said of {said.listed(beds)}: feel {them}, and water what is dry."]


def unreckoned(report: Report) -> list[str]:
    """The beds of which nothing is known, and those of which a part is not."""
    reckoned = {call["name"] for call in report["calls"]}
    kinds = ("no_weather", "not_reckoned")
    found = [
        f"part of {name}" if name in reckoned else name
        for finding in report["findings"]
        if finding["kind"] in kinds
        for name in finding["names"]
    ]
    return list(dict.fromkeys(found))


def _in_sum(report: Report, walk: list[Report]) -> list[str]:
    to_soak = sum(bool(call["litres"]) for call in walk)
    if not to_soak:
        return no_soak(report)
    to_feel = len(walk) - to_soak
    feel = f", {to_feel} to feel" if to_feel else ""
    hours = report["totals"]["hours_available"]
    have = f" You have {said.hours(hours)}." if hours else ""
    work = f"{counted(to_soak, 'bed')} to soak{feel}: {needed(report)}.{have}"
    return [work, *nothing_known(report)]


def needed(report: Report) -> str:
    """`628 L, about 1 h 26 in all and about 40 min of waiting between pours`."""
    walk = [call for call in report["calls"] if call["order"] is not None]
    total = said.litres_in_all(call["litres"] for call in walk)
    work = f"{total}, about {minutes(report['totals']['minutes_on_foot'])} in all"
    waiting = pouring.waiting_min(walk)
    if waiting <= WAITING_WORTH_SAYING_MIN:
        return work
    return f"{work} and about {said.wait(waiting)} of waiting between pours"


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
    notes = [_finding(finding) for finding in report["findings"]]
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


def _question(page: Page, report: Report) -> None:
    question = report["question"]
    if question is None:
        return
    page.line()
    page.text(f"One question, when you pass. {question['ask']}")
    page.text(question["answer"], indent=SAY_HANG, hang=SAY_HANG)
