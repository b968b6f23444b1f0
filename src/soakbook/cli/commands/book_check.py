"""`book check`: whether the book is sound."""

import click

from soakbook.cli import options, paper
from soakbook.cli.exits import MENDABLE, OURS
from soakbook.cli.options import Command


@click.command(
    "check",
    cls=Command,
    examples=(
        "soakbook book check",
        "soakbook book check --json",
        "soakbook book check --specimen",
    ),
)
@options.book
@options.specimen
@options.as_json
@options.schema("check")
def check_command(book_path: str | None, specimen: bool, as_json: bool) -> int:
    """Look the whole book through: the file, every entry, and a reckoning of its water.

    It may take seconds and changes nothing, but that a book of an older soakbook is brought up to date, with a copy
    of the old beside it. What is found stands worst first, each with what to do. The exit
    status is 2 when the book is damaged, 1 on a fault of soakbook's own, and else 0, whatever is to be set right.
    """
    from soakbook.services.books import where
    from soakbook.services.checking import check_report

    report = check_report(where(book_path, specimen), now=options.now())
    if as_json:
        paper.put_json(report)
    else:
        from soakbook.cli.check_page import write_check

        page = paper.new_page()
        write_check(page, report)
        paper.put(page)
    if not report["sound"]:
        return MENDABLE
    return OURS if any(one["weight"] == "ours" for one in report["findings"]) else 0
