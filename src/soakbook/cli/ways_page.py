"""What if on the screen: the season as it might have been, a few lines a way; then what the lines mean."""

from soakbook.account.contents.figures import changed, cubic, ranged, whole
from soakbook.account.contents.what_if_page import (
    A_DRY_DAY,
    AS_GIVEN,
    BY_ROUND,
    CALENDARS,
    NOT_IN_IT,
    OF_CALENDARS,
    OF_WAYS,
)
from soakbook.account.suggestions import AS_IT_WAS
from soakbook.cli.paper import Page, Report

ABOUT_COLUMNS = 16


def write_ways(page: Page, ways: list[Report]) -> None:
    """Write the ways of the whole garden."""
    mine = [way for way in ways if not way["bed"]]
    page.line()
    page.line("What if", bold=True)
    for way in mine:
        page.text(way["words"][:1].upper() + way["words"][1:], indent=2)
        for about, say in _said(way):
            page.text(f"{about:<{ABOUT_COLUMNS}}{say}", indent=4, hang=ABOUT_COLUMNS)
    for text in (AS_GIVEN, BY_ROUND, A_DRY_DAY, OF_WAYS, OF_CALENDARS, NOT_IN_IT):
        page.text(text, hang=2)


def _said(way: Report) -> list[tuple[str, str]]:
    """What is known of one way, by how it was watered."""
    if way["refused"]:
        return [("not reckoned", way["refused"].replace("`", ""))]
    given = way["given"]
    dry = f"dry days {ranged(given['dry_days'])}"
    change = "" if way["key"] == AS_IT_WAS else f", {changed(given['dry_days_change'])}"
    if way["key"] in CALENDARS:
        return [
            (
                "as printed",
                f"{whole(given['visits'])} waterings, {cubic(given['litres'])} m³, {dry}{change}",
            )
        ]
    found = [("as given", f"{dry}{change}")]
    if way["by_round"]:
        of = way["by_round"]
        visits, litres = ranged(of["visits"]), ranged(of["litres"], cubic)
        said = f"{visits} waterings, {litres} m³, dry days {ranged(of['dry_days'])}"
        found.append(("by the round", said))
    return found
