"""`round` and `why`: the morning's two questions."""

from datetime import date

import click

from soakbook.cli import completing, options, paper
from soakbook.cli.options import Command
from soakbook.quantities.dates import long_day

as_known = click.option(
    "--as-known", metavar="DATE", help="Only what had been written by the end of that day."
)


@click.command(
    cls=Command,
    examples=(
        "soakbook round",
        "soakbook round --specimen --on 15may2031",
        "soakbook round --card | lp -o media=A5",
        "soakbook round --as-known 12may    that day's, by what was written then",
        "soakbook round --json",
    ),
)
@click.option("--on", metavar="DATE", help="The round of another day, as it stood that morning.")
@as_known
@click.option("--card", is_flag=True, help="A paper card for each person who comes, A5.")
@options.book
@options.specimen
@options.as_json
@options.schema("round")
def round_command(
    card: bool, as_json: bool, book_path: str | None, specimen: bool, **days: str | None
) -> None:
    """Which beds to water this morning, and which can wait.

    "In all" counts the walk, the hose and the stops; seconds for a plant are the tap open.

    --on chooses a morning by when things happened. --as-known reads the book as it stood at the end
    of a day, and without --on it is that day's round: entries written later are left out, and those
    corrected or taken back later stand as they did; garden, beds, plantings, taps, people, rules and
    prices are as they were; of weather and forecasts only what had come. It is reckoned by the
    soakbook of today, which a soakbook of then may not have agreed with.
    """
    if card and (as_json or days["as_known"]):
        other = "--json" if as_json else "--as-known"
        raise click.UsageError(f"either --card or {other}, not both")
    from soakbook.services.books import where
    from soakbook.services.mornings import round_report

    path = where(book_path, specimen)
    report = round_report(path, now=options.now(), specimen=specimen, **days)
    if as_json:
        paper.put_json(report)
    elif card:
        from soakbook.cli.card_page import cards

        paper.put(*cards(report))
    else:
        from soakbook.cli.round_page import write_round

        page = paper.new_page()
        _say_as_known(page, days, report["morning"])
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
@as_known
@click.option("--symbols", is_flag=True, help="In the terms of FAO-56, with equation numbers.")
@options.book
@options.specimen
@options.as_json
@options.schema("why")
def why_command(
    bed: str,
    symbols: bool,
    as_json: bool,
    book_path: str | None,
    specimen: bool,
    **days: str | None,
) -> None:
    """The sums behind what the round says of a bed. --as-known is as in soakbook round."""
    from soakbook.services.books import where
    from soakbook.services.mornings import why_report

    path = where(book_path, specimen)
    report = why_report(path, bed, now=options.now(), specimen=specimen, **days)
    if as_json:
        paper.put_json(report)
        return
    from soakbook.cli.why_page import write_why

    page = paper.new_page()
    _say_as_known(page, days, report["morning"])
    write_why(page, report, symbols=symbols)
    paper.put(page)


def _say_as_known(page: paper.Page, days: dict[str, str | None], morning: str) -> None:
    """Say above a page by what it was reckoned, where that is not all there is; a day of its own in full."""
    if days["as_known"]:
        known = days["as_known"] if days["on"] else long_day(date.fromisoformat(morning))
        page.text(f"By what was written in the book by the end of {known}.")
        page.line()
