"""The proof on a page, and what came of checking one. The words are `account.proof_words`'s, as in the documents."""

from collections.abc import Mapping, Sequence
from typing import Any

from soakbook.account.proof_words import proof_words
from soakbook.cli.paper import Page, Report

HANG = 2
TIME = 7
"""Width of the hour before a visit."""


def write_proof(page: Page, report: Report) -> None:
    """Write a proof: in all, by bed, what is to be known, day by day, the digest."""
    words = proof_words(report)
    page.text("THE PROOF", bold=True)
    page.text(words["garden"])
    page.text(words["days"])
    page.text(words["place"])
    page.line()
    for line in words["totals"]:
        page.text(line, hang=HANG)
    _table(
        page,
        ("bed", "watered", "left", "looked at", "litres", "min of tap"),
        [*words["beds"], words["beds_sum"]],
    )
    _table(page, ("by whom", "visits", "litres", "min on foot"), words["people"])
    _table(page, ("water from", "watered", "litres"), words["sources"])
    _list(page, "To be known", words["findings"])
    _list(page, "Rules that held", words["rules"])
    for block in words["blocks"]:
        page.line()
        _block(page, block)
    page.line()
    for line in words["cautions"]:
        page.text(line, hang=HANG)
    page.line()
    page.text(words["digest_of"])
    page.line(words["digest"])


def write_written(page: Page, report: Report, files: Sequence[str]) -> None:
    """Write which files were made, what stands in them in all, and their digest."""
    words = proof_words(report)
    page.text(f"The proof, {words['days']}: {' and '.join(files)}.")
    for line in [*words["totals"], *words["findings"]]:
        page.text(line, hang=HANG)
    page.text(words["digest_of"])
    page.line(words["digest"])


def write_verified(page: Page, report: Report) -> None:
    """Write whether a file is as it was made, and what it was held against."""
    verdict = "Verified" if report["verified"] else "NOT VERIFIED"
    page.text(f"{verdict}: {report['file']}", bold=True)
    for line in report["say"]:
        page.text(line, hang=HANG)
    page.line("SHA-256:")
    page.line(report["sha256"])


def _table(page: Page, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Names at the left, numbers under each other at the right; long names are cut where the page ends."""
    if not rows:
        return
    widths = [max(len(row[n]) for row in [heads, *rows]) for n in range(1, len(heads))]
    room = page.width - sum(width + HANG for width in widths)
    first = min(room, max(len(row[0]) for row in [heads, *rows]))
    page.line()
    for row in [heads, *rows]:
        cells = (cell.rjust(width + HANG) for cell, width in zip(row[1:], widths, strict=True))
        page.line(row[0][:first].ljust(first) + "".join(cells))


def _list(page: Page, title: str, lines: Sequence[str]) -> None:
    if not lines:
        return
    page.line()
    page.text(title, bold=True)
    for line in lines:
        page.text(line, indent=HANG, hang=HANG)


def _block(page: Page, block: Mapping[str, Any]) -> None:
    if block["rest"]:
        page.text(block["rest"], hang=HANG)
        return
    page.text(block["day"], bold=True)
    for line in [block["weather"], *block["gauge"]]:
        page.text(line, indent=HANG, hang=HANG)
    for visit in block["visits"]:
        amount = f"{visit['litres']} L" if visit["litres"] else ""
        tap = f" in {visit['minutes']} min" if visit["litres"] and visit["known"] else ""
        parts = (visit["bed"], visit["how"], amount + tap, visit["by"])
        said = ", ".join(filter(None, parts))
        page.text(f"{visit['at'].ljust(TIME)}{said}", indent=HANG, hang=TIME)
        if visit["more"]:
            page.text(visit["more"], indent=HANG + TIME)
