"""What the book has: beds, with what in them is a guess; weather, with what was filled."""

from collections.abc import Sequence
from datetime import date

from soakbook.cli.paper import Page, Report
from soakbook.errors import InputError
from soakbook.garden import nearest
from soakbook.quantities.saying import area, counted, plural

INDENT = 2
HANG = 4
NONE_JUDGED = "None judged yet."
MOST_PROMISES = 12
"""The rest is in `--json`."""


def only_bed(report: Report, word: str) -> Report:
    """The report of beds, cut down to the one that a word means, its key or its name."""
    names = {bed["name"]: bed["bed"] for bed in report["beds"]}
    try:
        key = nearest.find(word, names.values(), "bed", names)
    except InputError as error:
        raise InputError("bed", word, f"{error.right}; a new bed needs --area") from error
    return {**report, "beds": [bed for bed in report["beds"] if bed["bed"] == key]}


def write_beds(page: Page, report: Report) -> None:
    """Write the beds, what stands in them, and every guess with the command that settles it."""
    page.text(report["garden"], bold=True)
    if not report["beds"]:
        page.text("No beds yet: `soakbook bed -h` says how.")
    for bed in report["beds"]:
        page.line()
        _bed(page, bed)


def write_weather(page: Page, report: Report) -> None:
    """Write from when to when there is weather, from where, and how each gap was filled."""
    page.text(f"{report['garden']}: weather", bold=True)
    for line in report["asked"]:
        page.text(line, hang=HANG)
    if report["first"] is not None:
        page.text(f"{_span(report)}, {counted(report['days'], 'day')}.")
    elif report["forecast"] is None and not report["as_forecast"]:
        page.text(
            "None yet: `soakbook weather -h` says how to read a file, `soakbook rain` the gauge."
        )
        return
    _dry_and_ahead(page, report)
    for title, rows in (
        ("From where", [_source(row) for row in report["sources"]]),
        (
            "As forecast, nothing better came",
            [_as_forecast(row) for row in report["as_forecast"]],
        ),
        ("How read", _ways(report["read"])),
        ("Filled, and how", _ways(report["filled"])),
        ("Not known", [_missing(row) for row in report["missing"]]),
    ):
        if rows:
            page.line()
            page.line(title, bold=True)
        for row in rows:
            page.text(row, indent=INDENT, hang=HANG)
    for lines in ([finding["say"] for finding in report["findings"]], report["credits"]):
        if lines:
            page.line()
        for line in lines:
            page.text(line, hang=HANG)


def write_promises(page: Page, report: Report) -> None:
    """Write how each service kept its promises of rain, and from where on it is believed."""
    page.text(f"{report['garden']}: promises of useful rain", bold=True)
    if not report["services"]:
        page.text("No forecast yet: `soakbook weather` asks for one.")
        return
    for service in report["services"]:
        page.line()
        page.text(service["say"])
        judged = [lead["say"] for lead in service["leads"]] or [NONE_JUDGED]
        for line in judged if service["bar"] is not None else []:
            page.text(line, indent=INDENT, hang=HANG)
    page.line()
    page.text(report["counted_as"])
    good = [one for one in report["promises"] if one["good"] and one["lead_days"] == 1]
    if good:
        page.line()
        page.line("Good promises for a day ahead, the newest last", bold=True)
    for one in good[-MOST_PROMISES:]:
        page.text(one["say"], indent=INDENT, hang=HANG)
    if report["credits"]:
        page.line()
    for line in report["credits"]:
        page.text(line, hang=HANG)


def _dry_and_ahead(page: Page, report: Report) -> None:
    """Write how dry it has been and what is likely to come."""
    dry = report["dry"]
    lines = [*(dry["say"] if dry else []), report["week"], report["heat"]]
    for title, rows in (
        ("How dry, and what is likely", [line for line in lines if line]),
        ("Forecast", [report["forecast"]["say"]] if report["forecast"] else []),
    ):
        if rows:
            page.line()
            page.line(title, bold=True)
        for row in rows:
            page.text(row, indent=INDENT, hang=HANG)


def _bed(page: Page, bed: Report) -> None:
    tap = f", tap {bed['tap']}" if bed["tap"] else ""
    page.pair(f"{bed['name'].upper()} ({bed['bed']})", area(bed["area_m2"]), bold=True)
    page.text(f"{bed['soil']}, {bed['place']}{tap}", indent=INDENT)
    if bed["parted_from"]:
        page.text(f"a part of {bed['parted_from']} until {_day(bed['parted_on'])}", indent=INDENT)
    if bed["rests_from"]:
        page.text(f"at rest from {_day(bed['rests_from'])}", indent=INDENT)
    _guesses(page, bed, None)
    for planting in bed["plantings"]:
        elsewhere = planting["elsewhere"]
        lost = planting["count"] - planting["living"] - elsewhere
        gone = _gone(planting, lost, "lost") + _gone(planting, elsewhere, "in another bed now")
        planted = f"planted {_day(planting['planted_on'])}{gone}"
        line = f"{planting['count']:,} {plural(planting['planting'], planting['count'])}, {planted}"
        page.text(line, indent=INDENT, hang=HANG)
        _guesses(page, bed, planting["planting"])


def _gone(planting: Report, count: int, what: str) -> str:
    """How many of a planting are no longer there: `, 2 of them lost`; of one alone, `, lost`."""
    them = f" {count} of them" if planting["count"] > 1 else ""
    return f",{them} {what}" if count else ""


def _guesses(page: Page, bed: Report, planting: str | None) -> None:
    """Write what is a guess about one planting, or about the bed itself, by the command for it."""
    command = ""
    for guess in bed["guesses"]:
        if guess["planting"] != planting:
            continue
        head, _, option = guess["answer"].partition(" --")
        if head != command:
            command = head
            page.text(f"Guesses, put right with {command}", indent=HANG, hang=INDENT)
        option = f"--{option}" if option else ""
        page.pair(f"{guess['what']}: {guess['value']}", option, indent=HANG + INDENT)


def _source(row: Report) -> str:
    age = {0: "", 1: ", yesterday"}.get(row["age_days"], f", {row['age_days']} days ago")
    return f"{row['source']}, {row['kind']}: {', '.join(row['variables'])}; {_span(row)}{age}"


def _as_forecast(row: Report) -> str:
    return f"{', '.join(row['variables'])}: {_span(row)}, {row['say']}"


def _ways(rows: Sequence[Report]) -> list[str]:
    """One line for all that was made in one way on the same days."""
    alike: dict[str, list[str]] = {}
    for row in rows:
        way = f"{row['method']}; {counted(row['days'], 'day')}, {_span(row)}"
        alike.setdefault(way, []).append(row["variable"])
    return [f"{', '.join(variables)}: {way}" for way, variables in alike.items()]


def _missing(row: Report) -> str:
    return f"{row['variable']}: {counted(row['days'], 'day')}, {_span(row)}"


def _span(row: Report) -> str:
    first, last = _day(row["first"]), _day(row["last"])
    return first if first == last else f"{first} to {last}"


def _day(when: str) -> str:
    return f"{date.fromisoformat(when):%d %b %Y}".lstrip("0")
