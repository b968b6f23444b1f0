"""`proof`: what was done in a span of days, to be handed to somebody; and whether such a file is as it was made."""

from pathlib import Path
from typing import Any

import click

from soakbook.cli import options, paper
from soakbook.cli.exits import MENDABLE
from soakbook.cli.options import Command


def _report(words: dict[str, Any]) -> str:
    return "verified" if words.get("verify") else "proof"


@click.command(
    cls=Command,
    examples=(
        "soakbook proof 1apr 30sep",
        "soakbook proof 1may2031 31may2031 --specimen",
        "soakbook proof 1apr 30sep --pdf season.pdf --html season.html",
        "soakbook proof 1apr 30sep --json > season.json",
        "soakbook proof --verify season.pdf",
    ),
    caution=(
        "A digest fits one set of data, but whoever changes them can write a new one: keep it where only you can "
        "write it. It does not show who made the file, nor that what was entered is true."
    ),
)
@click.argument("first", metavar="[FROM", required=False)
@click.argument("last", metavar="UNTIL]", required=False)
@click.option("--html", metavar="FILE", help="Write it as one page of HTML, its data inside.")
@click.option("--pdf", metavar="FILE", help="Write it as a PDF, A4, its data attached.")
@click.option("--force", is_flag=True, help="Write over a file that is there already.")
@click.option(
    "--verify",
    metavar="FILE",
    help="Check a proof that was written, JSON, HTML or PDF, and hold it against the book.",
)
@options.book
@options.specimen
@options.as_json
@options.schema(_report)
def proof_command(
    first: str | None,
    last: str | None,
    as_json: bool,
    book_path: str | None,
    specimen: bool,
    **files: Any,
) -> int:
    """Every visit of a span of days, with the weather beside it, totals and a digest.

    Each visit was watered (beds, litres, minutes, by whom), left (the reason, the gauge, what was felt) or only
    looked at. Both days count. The digest is SHA-256 of the data as canonical JSON, RFC 8785.

    --verify holds the digest against the data and the page against the data, byte for byte; and what it says against
    the book, if there is one. The exit status is 0 when all agree, else 2, and it says what differs.
    """
    from soakbook.services.books import where

    path = where(book_path, specimen)
    if files["verify"] is not None:
        others = [f"--{name}" for name in ("html", "pdf", "force") if files[name]]
        others += ["FROM and UNTIL"] if first else []
        if others:
            raise click.UsageError(f"--verify checks a file: leave out {' and '.join(others)}")
        return _verify(
            files["verify"], path, asked_for=bool(book_path) or specimen, as_json=as_json
        )
    if first is None or last is None:
        missing = "FROM" if first is None else "UNTIL"
        raise click.UsageError(f"Missing argument '{missing}'")
    from soakbook.account.proving import Wanted, prove
    from soakbook.services.books import from_home

    places = {
        name: None if files[name] is None else from_home(files[name]) for name in ("html", "pdf")
    }
    wanted = Wanted(**places, force=files["force"])
    report = prove(path, first, last, now=options.now(), specimen=specimen, wanted=wanted)
    if as_json:
        paper.put_json(report)
        return 0
    from soakbook.cli.proof_page import write_proof, write_written

    page = paper.new_page()
    written = [str(place) for place in places.values() if place is not None]
    if written:
        write_written(page, report, written)
    else:
        write_proof(page, report)
    paper.put(page)
    return 0


def _verify(file: str, book: Path, *, asked_for: bool, as_json: bool) -> int:
    from soakbook.account.verifying import verify
    from soakbook.reckoning.advice.report import as_json as plain
    from soakbook.services.books import from_home

    report = plain(verify(from_home(file), book, asked_for=asked_for))
    if as_json:
        paper.put_json(report)
    else:
        from soakbook.cli.proof_page import write_verified

        page = paper.new_page()
        write_verified(page, report)
        paper.put(page)
    return 0 if report["verified"] else MENDABLE
