"""`account`: what the water of a season did."""

from typing import Any

import click

from soakbook.cli import options, paper
from soakbook.cli.options import Command

PLACES = {"html": "html_file", "pdf": "pdf_file", "csv": "csv_folder", "parquet": "parquet_folder"}
"""What is written -> the option that says where."""

A_WHILE = "Reckoning the season again as it might have been: about half a minute."


@click.command(
    cls=Command,
    examples=(
        "soakbook account",
        "soakbook account 2031 --specimen",
        "soakbook account 2031 --what-if",
        "soakbook account 2031 --pdf account.pdf --html account.html",
        "soakbook account 2031 --csv season-2031",
    ),
)
@click.argument("year", required=False)
@click.option("--on", metavar="DATE", help="As it stood that morning; else this one.")
@click.option(
    "--what-if", "others", is_flag=True, help="Other ways of watering beside it; takes a while."
)
@click.option("--html", "html_file", metavar="FILE", help="Write it as a web page.")
@click.option("--pdf", "pdf_file", metavar="FILE", help="Write it as a PDF, A4.")
@click.option("--csv", "csv_folder", metavar="FOLDER", help="Write its tables as CSV.")
@click.option("--parquet", "parquet_folder", metavar="FOLDER", help="Write them as Parquet.")
@click.option("--force", is_flag=True, help="Write over files that are there.")
@options.book
@options.specimen
@options.as_json
@options.schema("account")
def account_command(
    year: str | None, on: str | None, others: bool, as_json: bool, **chosen: Any
) -> None:
    """A season's account: what each bed was given, what it cost, how dry it stood, what was lost.

    YEAR is the one the season begins in; without it, this season. North of the equator a season is
    the calendar year, south of it 1 July to 30 June. Until it is over the account is "so far" and
    suggests nothing.

    --html and --pdf write all of it with its pictures, a page for each bed and, of a season that is over, what if: that
    takes half a minute. The PDF has the tables behind its pictures attached.

    --csv and --parquet write a folder with every day of every planting, visits, beds, months,
    sources of water, feels, soaks put off, with --what-if the ways the season might have gone, and
    what each column means. --json has all of these but the days.
    """
    from soakbook.account.asked import account_asked
    from soakbook.account.filing import Wanted, check_wanted, write_wanted
    from soakbook.account.report import json_of, report_of
    from soakbook.account.what_if import what_if
    from soakbook.services.books import from_home, where

    specimen: bool = chosen["specimen"]
    path = where(chosen["book_path"], specimen)
    places = {name: from_home(chosen[option]) for name, option in PLACES.items() if chosen[option]}
    wanted = Wanted(**places, force=chosen["force"])
    check_wanted(wanted, path)
    account = account_asked(path, year, on, now=options.now(), specimen=specimen)
    asked = others or (wanted.documents and account.span.closed)
    if asked:
        paper.put_meanwhile(A_WHILE)
    ways = what_if(account.pages, account.span) if asked else None
    report = json_of(report_of(account, ways))
    written = write_wanted(account, ways, wanted)
    if as_json:
        paper.put_json(report)
        return
    from soakbook.cli.account_page import write_account, write_filed

    page = paper.new_page()
    if written:
        write_filed(page, report, [str(one) for one in written])
    else:
        write_account(page, report)
    paper.put(page)
