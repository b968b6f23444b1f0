"""A simulated year of reminders with everything that can befall them: `python -m tests.reminders.year`.

In three places with different clocks a garden's year is played twice by real programs, a real book and a real mail
server: undisturbed, then with programs killed at named points and at random, two at a time, asleep, gone, with wrong
clocks and a server that refuses, puts off or hangs. Time is handed in. What is due is the same both times, and each is
taken by the server once; but where a program was killed between the server's yes and its own mark, it is sent again
with the same identifier. `--days` and `--scale` play less.
"""

import argparse
import os
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from time import monotonic

from tests.reminders.year.garden import PLACES
from tests.reminders.year.sky import DAYS
from tests.reminders.year.trial import Tried, tried

SEED = 20310515
COLUMNS = (
    "due",
    "once",
    "again",
    "lapsed",
    "withdrawn",
    "given up",
    "yet taken",
    "lost",
    "doubled",
)
SHOWN = 20
FEWEST_DAYS = 10
"""The change of the clock is in them."""


def main() -> int:
    """Try all, print the table; exit status 1 when anything is lost, doubled or otherwise than it must be."""
    asked = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    asked.add_argument("--seed", type=int, default=SEED, help="for what is drawn")
    asked.add_argument("--days", type=int, default=DAYS, help="of the year, from its beginning")
    asked.add_argument("--scale", type=float, help="share of the kills and troubles of a year")
    asked.add_argument("--zone", choices=[one.zone for one in PLACES], help="one place alone")
    said = asked.parse_args()
    if not FEWEST_DAYS <= said.days <= DAYS:
        asked.error(f"--days: {said.days} given, {FEWEST_DAYS} to {DAYS} wanted")
    scale = said.days / DAYS if said.scale is None else said.scale
    places = [one for one in PLACES if said.zone in (None, one.zone)]
    began = monotonic()
    with (
        tempfile.TemporaryDirectory() as name,
        ProcessPoolExecutor(len(places), get_context("spawn")) as pool,
    ):
        os.environ["XDG_CACHE_HOME"] = f"{name}/cache"
        work = partial(tried, folder=Path(name), days=said.days, scale=scale, seed=said.seed)
        found = list(pool.map(work, places))
    _print(found)
    print(f"\nseed {said.seed}, {said.days} days, {monotonic() - began:.0f} s")
    return int(any(one.faults for one in found))


def _print(found: Sequence[Tried]) -> None:
    print(f"{'':<20}" + "".join(f"{one:>10}" for one in COLUMNS))
    for one in found:
        counts = [len(value) if isinstance(value, tuple) else value for value in one.tally]
        print(f"{one.zone:<20}" + "".join(f"{count:>10}" for count in counts))
    print(f"\n{'kind':<20}" + "".join(f"{one.zone:>22}" for one in found))
    for kind in sorted({kind for one in found for kind in one.kinds}):
        print(f"{kind:<20}" + "".join(f"{one.kinds[kind]:>22}" for one in found))
    print()
    for point, times in sum((one.at_points for one in found), Counter[str]()).items():
        print(f"killed {point}: {times}")
    print(f"killed at random: {sum(one.at_random for one in found)}, ", end="")
    print(f"of these amid a wake-up {sum(one.amid for one in found)}")
    befell = sum((one.troubles for one in found), Counter[str]())
    print("befell: " + ", ".join(f"{kind} {times}" for kind, times in sorted(befell.items())))
    for one in found:
        if one.sizes_kb:
            month, year = one.sizes_kb[len(one.sizes_kb) // 12], one.sizes_kb[-1]
            print(
                f"{one.zone}: {month / 1024:.1f} MB after a twelfth, {year / 1024:.1f} at the end"
            )
        for fault in one.faults[:SHOWN]:
            print(f"{one.zone}: {fault}")
        if len(one.faults) > SHOWN:
            print(f"{one.zone}: and {len(one.faults) - SHOWN} more")


if __name__ == "__main__":
    sys.exit(main())
