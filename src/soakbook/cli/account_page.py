"""The season's account on the screen: the beds in a table, then what there is to say, then what it suggests."""

from collections.abc import Sequence

from soakbook.account.in_sum import DRY_DAYS, in_sum, said_day
from soakbook.cli.paper import Page, Report
from soakbook.cli.ways_page import write_ways
from soakbook.quantities.saying import names

NAME_COLUMNS, FEW_NAME_COLUMNS, LEAST_NAME_COLUMNS = 21, 12, 8
ABOUT_COLUMNS = 12
HEADS = ("times", "left", "m³", "L/m²", "L/plant", "hours", "dry days")
WIDTHS = (6, 5, 6, 6, 8, 6, 9)
LOST_GAP = 2
HANG = 2


def write_account(page: Page, report: Report) -> None:
    """Write a season's account."""
    so_far = "" if report["closed"] else " SO FAR"
    begin, end = (said_day(report[name]) for name in ("first", "until"))
    page.pair(f"THE SEASON'S ACCOUNT {report['season']}{so_far}", f"{begin} to {end}", bold=True)
    page.text(report["garden"])
    for line in in_sum(report):
        page.text(line)
    page.line()
    _table(page, report)
    page.line()
    for remark in report["remarks"]:
        _remark(page, remark["about"], remark["say"])
    for finding in report["findings"]:
        _remark(page, "to know", finding)
    _suggested(page, report)
    if report["what_if"]:
        write_ways(page, report["what_if"])
    for line in report["credits"]:
        page.line()
        page.text(line)


def write_filed(page: Page, report: Report, files: Sequence[str]) -> None:
    """Write which files were made, and the season in sum."""
    so_far = "" if report["closed"] else ", so far"
    page.text(f"The season's account {report['season']}{so_far}: {names(files)}.")
    for line in [*in_sum(report), *report["findings"]]:
        page.text(line, hang=HANG)


def _table(page: Page, report: Report) -> None:
    room = page.width - sum(WIDTHS)
    with_lost = room - LOST_GAP - len("none")
    name = min(
        NAME_COLUMNS, with_lost if with_lost >= FEW_NAME_COLUMNS else max(room, LEAST_NAME_COLUMNS)
    )
    _row(page, "bed", HEADS, "lost", name)
    for bed in report["beds"]:
        figures = (
            bed["visits"],
            bed["left"],
            f"{bed['litres'] / 1000:.2f}",
            f"{bed['litres_per_m2']:.0f}",
            _or_dash(bed["litres_per_plant"]),
            f"{bed['hours']:.0f}",
            _or_dash(bed["dry_days"]),
        )
        lost = bed["lost_to"] or "none"
        _row(page, bed["name"], figures, lost, name)
    totals = report["totals"]
    figures = (
        totals["visits"],
        totals["left"],
        f"{totals['litres'] / 1000:.2f}",
        _or_dash(totals["litres_per_m2"]),
        _or_dash(totals["litres_per_plant"]),
        f"{totals['hours']:.0f}",
        "",
    )
    _row(page, "", figures, f"{totals['lost']} of {totals['plants']}", name)
    page.text(DRY_DAYS)


def _row(page: Page, name: str, figures: tuple[object, ...], lost: str, name_columns: int) -> None:
    cells = "".join(f"{figure!s:>{width}}" for figure, width in zip(figures, WIDTHS, strict=True))
    shown = name if len(name) < name_columns else f"{name[: name_columns - 2]}."
    line = f"{shown:<{name_columns}}{cells}{' ' * LOST_GAP}"
    if len(line) + len(lost) <= page.width:
        page.line(line + lost)
    else:
        page.line(line)
        page.line(f"{lost:>{page.width}}")


def _remark(page: Page, about: str, say: str) -> None:
    """A remark with its name before it."""
    start = len(page.lines)
    page.text(say, indent=ABOUT_COLUMNS)
    first = page.lines[start]
    page.lines[start] = first._replace(
        text=f"{about.capitalize():<{ABOUT_COLUMNS}}{first.text[ABOUT_COLUMNS:]}"
    )


def _suggested(page: Page, report: Report) -> None:
    """What the numbers suggest; before the season is over nothing."""
    if report["suggestions"]:
        page.line()
        page.line("What it suggests (each has its page: --html, --pdf)", bold=True)
        for suggestion in report["suggestions"]:
            page.text(suggestion["say"], indent=2, hang=2)
    if report["second_year"]:
        _remark(page, "next year", report["second_year"])


def _or_dash(value: float | None) -> str:
    return "-" if value is None else f"{value:.0f}"
