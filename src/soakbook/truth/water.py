"""`python -m soakbook.truth.water`: a season's water by the rule and by fixed schedules, on every measured season.

For developers and for whoever doubts: run from the folder of the repository, whose data/ it reads.
"""

import argparse
import json
import sys
import time
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from soakbook.errors import InputError
from soakbook.quantities.saying import counted
from soakbook.reckoning.advice.report import as_json
from soakbook.truth.watering.compared import WHOLE, Compared, Size, compared
from soakbook.truth.watering.page import page_of
from soakbook.truth.watering.report import Water, water_of
from soakbook.truth.watering.years import Season, seasons

BEGIN, END = "<!-- water -->\n```\n", "```\n<!-- /water -->"
CANNOT = 2


def main(words: Sequence[str] | None = None, size: Size = WHOLE) -> int:
    """Exit status of the command: 0, or 2 for what was typed or read and cannot be right."""
    asked = _parser().parse_args(words)
    began = time.perf_counter()
    try:
        wanted = tuple(key for key in asked.seasons.split(",") if key)
        water = water_from(asked.data, wanted, size, asked.processes)
        if asked.into:
            write_into(asked.into, page_of(water))
    except InputError as fault:
        print(fault, file=sys.stderr)
        return CANNOT
    if not asked.into:
        print(json.dumps(as_json(water), indent=2) if asked.json else page_of(water))
    took = f"{time.perf_counter() - began:.0f} s"
    print(f"{counted(len(water.seasons), 'season')} in {took}", file=sys.stderr)
    return 0


def water_from(
    folder: Path, wanted: Sequence[str] = (), size: Size = WHOLE, processes: int = 1
) -> Water:
    """The comparison over the seasons of a folder of records, or some of them by key."""
    kept, left_out = seasons(folder, wanted)
    return water_of(_all_compared(kept, size, processes), left_out, size)


def write_into(path: Path, page: str) -> None:
    """Put the page between the marks of a text, in place of what stands there.

    Raises
    ------
    InputError
        A text without the marks.
    """
    text = path.read_text(encoding="utf-8")
    before, mark, rest = text.partition(BEGIN)
    _, end, after = rest.partition(END)
    if not mark or not end:
        raise InputError("text", str(path), f"one with the lines {BEGIN!r} and {END!r}")
    path.write_text(f"{before}{BEGIN}{page}\n{END}{after}", encoding="utf-8")


def _all_compared(kept: Sequence[Season], size: Size, processes: int) -> list[Compared]:
    """Seasons share nothing, so each can have a process of its own."""
    if processes < 2 or len(kept) < 2:
        return [compared(season, size) for season in kept]
    with ProcessPoolExecutor(min(processes, len(kept))) as pool:
        return list(pool.map(compared, kept, [size] * len(kept)))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m soakbook.truth.water",
        description="A season's water by the rule and by fixed schedules, on every measured season.",
    )
    parser.add_argument("--json", action="store_true", help="for machines: soakbook.water/1")
    parser.add_argument(
        "--seasons", default="", metavar="KEYS", help="only these, such as debilt-2018,bedford-2012"
    )
    parser.add_argument(
        "--processes", type=int, default=1, metavar="N", help="as many seasons at once (1)"
    )
    parser.add_argument(
        "--data", type=Path, default=Path("data"), metavar="FOLDER", help="where the records are"
    )
    parser.add_argument(
        "--into", type=Path, metavar="FILE", help="write the page between the marks of a text"
    )
    return parser


if __name__ == "__main__":
    sys.exit(main())
