"""`round` and `why`: the morning's two questions."""

import click

from soakbook.cli import completing, options, paper
from soakbook.cli.options import Command


@click.command(
    cls=Command,
    examples=(
        "soakbook round",
        "soakbook round --specimen --on 15may2031",
        "soakbook round --card | lp -o media=A5",
        "soakbook round --json",
    ),
)
@click.option("--on", metavar="DATE", help="The round of another day, as it stood that morning.")
@click.option("--card", is_flag=True, help="A paper card for each person who comes, A5.")
@options.book
@options.specimen
@options.as_json
@options.schema("round")
def round_command(
    on: str | None, card: bool, as_json: bool, book_path: str | None, specimen: bool
) -> None:
    """Which beds to water this morning, and which can wait.

    "In all" counts the walk, the hose and the stops; seconds for a plant are the tap open.
    """
    if card and as_json:
        raise click.UsageError("either --card or --json, not both")
    from soakbook.services.books import where
    from soakbook.services.mornings import round_report

    report = round_report(where(book_path, specimen), now=options.now(), on=on, specimen=specimen)
    if as_json:
        paper.put_json(report)
    elif card:
        from soakbook.cli.card_page import cards

        paper.put(*cards(report))
    else:
        from soakbook.cli.round_page import write_round

        page = paper.new_page()
        write_round(page, report)
        paper.put(page)


@click.command(
    cls=Command,
    examples=(
        "soakbook why chapel",
        "soakbook why chapel --specimen --on 15may2031",
        "soakbook why chapel --symbols",
    ),
)
@click.argument("bed", metavar="BED", shell_complete=completing.beds)
@click.option("--on", metavar="DATE", help="The morning asked about.")
@click.option("--symbols", is_flag=True, help="In the terms of FAO-56, with equation numbers.")
@options.book
@options.specimen
@options.as_json
@options.schema("why")
def why_command(
    bed: str, on: str | None, symbols: bool, as_json: bool, book_path: str | None, specimen: bool
) -> None:
    """The sums behind what the round says of a bed."""
    from soakbook.services.books import where
    from soakbook.services.mornings import why_report

    path = where(book_path, specimen)
    report = why_report(path, bed, now=options.now(), on=on, specimen=specimen)
    if as_json:
        paper.put_json(report)
        return
    from soakbook.cli.why_page import write_why

    page = paper.new_page()
    write_why(page, report, symbols=symbols)
    paper.put(page)
