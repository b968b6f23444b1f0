"""The first page: the season in sum, the beds, what there is to say, what it suggests."""

from collections.abc import Iterator

from soakbook.account.contents.blocks import (  # fmt: skip
    Block,
    Column,
    Line,
    Lines,
    Pairs,
    Row,
    Section,
    Table,
    Text,
)
from soakbook.account.contents.figures import cubic, whole
from soakbook.account.in_sum import DRY_DAYS, Report, in_sum
from soakbook.account.pictures.sheet import plain_name
from soakbook.account.suggestions import bed_page

NOTHING_SUGGESTED = "The numbers of this season bear no suggestion."
TOLD_WHEN_OVER = "What the numbers suggest is said when the season is over."
NOTHING_STOOD = "In these days the book has no bed with plants in it or a visit to one."

BED_COLUMNS = (
    Column("bed", "name"), Column("times"), Column("left"), Column("m³"), Column("L/m²"), Column("L/plant"),
    Column("hours"), Column("dry days"), Column("lost", "words"),
)  # fmt: skip


def first_page(report: Report) -> Iterator[Section]:
    """The sections of the first page.

    Parameters
    ----------
    report : mapping
        An account as `json_of` gives it.
    """
    blocks: list[Block] = [Text(line) for line in in_sum(report)]
    blocks += (
        [beds_table(report), Text(DRY_DAYS, small=True)]
        if report["beds"]
        else [Text(NOTHING_STOOD)]
    )
    remarks = tuple((one["about"].capitalize(), one["say"]) for one in report["remarks"])
    blocks += [Pairs(remarks)] if remarks else []
    yield Section("in-sum", "In sum", tuple(blocks))
    if not report["closed"]:
        yield Section("suggests", "What it suggests", (Text(TOLD_WHEN_OVER),))
        return
    lines = tuple(Line(one["say"], plain_name(one["page"])) for one in report["suggestions"])
    yield Section(
        "suggests", "What it suggests", (Lines(lines) if lines else Text(NOTHING_SUGGESTED),)
    )
    if report["second_year"]:
        yield Section("next-year", "Next year", (Text(report["second_year"]),))


def beds_table(report: Report) -> Table:
    """Every bed with what it was given, how dry it stood and what it lost; a bed's name leads to its page."""
    rows = tuple(
        Row(
            (
                bed["name"], whole(bed["visits"]), whole(bed["left"]), cubic(bed["litres"]),
                whole(bed["litres_per_m2"]), whole(bed["litres_per_plant"]), whole(bed["hours"]),
                whole(bed["dry_days"]), bed["lost_to"] or "none",
            ),
            plain_name(bed_page(bed["bed"])),
        )
        for bed in report["beds"]
    )  # fmt: skip
    totals = report["totals"]
    in_all = (
        "in all", whole(totals["visits"]), whole(totals["left"]), cubic(totals["litres"]),
        whole(totals["litres_per_m2"]), whole(totals["litres_per_plant"]), whole(totals["hours"]), "",
        f"{totals['lost']:,} of {totals['plants']:,}",
    )  # fmt: skip
    return Table("The beds", BED_COLUMNS, rows, in_all)
