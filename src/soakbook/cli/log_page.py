"""The book's history on a page: a line for what was written, with its handle, newest last."""

from datetime import date, datetime

from soakbook.cli.paper import Page, Report
from soakbook.quantities import saying
from soakbook.quantities.dates import WEEKDAYS
from soakbook.quantities.saying import counted

HANG = 2


def write_log(page: Page, report: Report) -> None:
    """Write the history, and how older lines are seen."""
    today = date.fromisoformat(report["today"])
    page.text(f"{report['garden']}: what was written, newest last", bold=True)
    if report["left_out"]:
        page.text(f"{counted(report['left_out'], 'older line')} left out: --since DATE shows them.")
    if not report["lines"]:
        page.text("Nothing.")
    width = max((len(one["handle"] or "") for one in report["lines"]), default=0)
    for line in report["lines"]:
        _line(page, line, width, today)
    if any(one["handle"] for one in report["lines"]):
        page.line()
        page.text("The letters before an entry name it: soakbook book amend, soakbook book undo.")


def _line(page: Page, line: Report, width: int, today: date) -> None:
    indent = width + HANG
    by = f", {line['by']}" if line["by"] and line["holds"] else ""
    said = f"{_when(line['happened_at'], today)}  {line['say']}{_typed(line)}{by}"
    if line["handle"]:
        page.text(f"{line['handle'].ljust(width)}  {said}", hang=indent)
    else:
        page.text(said, indent=indent)
    note = _written(line, today)
    if note:
        page.text(note, indent=indent, hang=HANG)
    if line["doubtful"]:
        page.text(f"Doubtful: {line['doubtful']}.", indent=indent, hang=HANG)
    if line["note"]:
        page.text(f"Note: {line['note']}", indent=indent, hang=HANG)
    for one in line["earlier"]:
        by = one["corrected_by"] or one["by"]
        whose = f", {by}" if by else ""
        when = _when(one["happened_at"], today)
        written = _when(one["written_at"], today)
        page.text(
            f"was {one['handle']}: {one['say']}{_typed(one)}, {when}; written {written}{whose}",
            indent=indent,
            hang=HANG,
        )


def _written(line: Report, today: date) -> str:
    """When it was written where that is another day; when and by whom it was corrected or taken back."""
    when = _when(line["written_at"], today)
    if not line["holds"]:
        return f"taken back {when}" + (f" by {line['by']}" if line["by"] else "")
    if line["corrected"]:
        return f"corrected {when}" + (f" by {line['corrected_by']}" if line["corrected_by"] else "")
    another = line["written_at"][:10] != line["happened_at"][:10]
    return f"written {when}" if another else ""


def _typed(line: Report) -> str:
    """The amount as typed, where it is not what stands there anyway."""
    typed = line["typed"]
    if not typed or _plain(typed) in _plain(line["say"]):
        return ""
    return f" ({typed})"


def _plain(text: str) -> str:
    return "".join(text.casefold().split())


def _when(text: str, today: date) -> str:
    """`Thu 15 May 07:40`, and the year where it is not this one."""
    day = date.fromisoformat(text[:10])
    said = f"{WEEKDAYS[day.weekday()][:3]} {saying.date_of(day, today)}"
    return f"{said} {datetime.fromisoformat(text):%H:%M}" if len(text) > len("2031-05-15") else said
