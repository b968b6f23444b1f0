"""What was found in a book, on a page: worst first, each with what to do."""

from soakbook.cli.paper import Page, Report
from soakbook.cli.said import day_of
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import counted, plural

HANG = 4
TITLES = {
    "damaged": "Damaged",
    "ours": "A fault of soakbook's",
    "wrong": "Cannot be as it stands",
    "look": "To be looked at",
}


def write_check(page: Page, report: Report) -> None:
    """Write what was looked at, then what was found."""
    page.text(report["garden"] or report["book"], bold=True)
    held, found = report["held"], report["findings"]
    if held:
        entries = f"{held['entries']:,} {plural('entry', held['entries'])}"
        page.text(
            f"Looked through: {counted(held['beds'], 'bed')}, {counted(held['plantings'], 'planting')}, "
            f"{entries}, {counted(held['weather_days'], 'day')} of weather. {_reckoned(report)}"
        )
    if not found:
        page.text("All is well: the file is whole, and nothing in it contradicts the rest.")
    for weight, title in TITLES.items():
        of_weight = [one for one in found if one["weight"] == weight]
        if of_weight:
            page.line()
            page.text(title, bold=True)
        for number, one in enumerate(of_weight, start=1):
            page.text(f"{number:2}  {one['say']}", hang=HANG)
            if one["do"]:
                page.text(one["do"], indent=HANG)


def _reckoned(report: Report) -> str:
    ran = report["reckoned"]
    if ran is None:
        if any(one["weight"] == "wrong" for one in report["findings"]):
            return (
                "The water was not reckoned: what cannot be as it stands is first to be set right."
            )
        return "The water was not reckoned."
    first = day_of(ran["first"])
    return (
        f"The water of {counted(ran['days'], 'day')} from {month_day(first)} {first.year} was reckoned, and "
        "adds up."
    )
