"""`python -m soakbook.truth [RECORD.toml ...] [--json] [--check]`: the balance against measured records.

Without a record it takes all of the folder data/. Exit status: 0 good, also when a target is missed or could not
be judged; 1 a target missed, with --check; 2 a record that cannot be read.
"""

import argparse
import json
import os
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from soakbook.errors import InputError
from soakbook.reckoning.advice.report import as_json
from soakbook.truth.page import page_of
from soakbook.truth.runner import records_in, report_on

DATA = "data"


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; the exit status is returned."""
    said = _parser().parse_args(arguments)
    started = time.perf_counter()
    try:
        paths, left_out = (said.records, ()) if said.records else records_in(data_folder())
    except InputError as fault:
        print(f"soakbook.truth: {fault}", file=sys.stderr)
        return 2
    report = report_on(paths, left_out)
    if said.json:
        _print(json.dumps(as_json(report), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        _print(page_of(report))
    for refused in report.refused:
        print(f"soakbook.truth: {refused.record}: {refused.why}", file=sys.stderr)
    took = time.perf_counter() - started
    print(f"{len(report.records)} records in {took:.1f} s", file=sys.stderr)
    if report.refused:
        return 2
    return 1 if said.check and report.met is False else 0


def _print(text: str) -> None:
    """A text on the screen; a reader that has seen enough of it, as `head` has, may close its ears."""
    try:
        print(text, flush=True)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def data_folder() -> Path:
    """The folder of records: data/ here, else that of the source tree this package stands in.

    Raises
    ------
    InputError
        Neither is there.
    """
    here, tree = Path.cwd() / DATA, Path(__file__).parents[3] / DATA
    for folder in (here, tree):
        if any(folder.glob("*.toml")):
            return folder
    raise InputError(
        "records", None, f"name a RECORD.toml, or run it where a folder {DATA}/ has some"
    )


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m soakbook.truth", description="The balance held against measured records."
    )
    parser.add_argument(
        "records",
        nargs="*",
        type=Path,
        metavar="RECORD.toml",
        help="measured records; all of data/ when none is named",
    )
    parser.add_argument(
        "--json", action="store_true", help="the report for machines, soakbook.truth/1"
    )
    parser.add_argument(
        "--check",
        action="store_true",
        help="end with status 1 when a target is missed; one that could not be judged is none",
    )
    return parser


if __name__ == "__main__":
    sys.exit(main())
