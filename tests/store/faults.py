"""Everything that can befall a book, tried and counted: `python -m tests.store.faults`.

Programs that enter soaks through the services are killed, starved of disk and set upon each other; each says through
a pipe what the book has confirmed. Nothing confirmed may be lost or be there twice, and no book be broken; what cannot
be saved is said, by the command itself, before it ends. `--few` is the quick run that `test_faults.py` makes.
"""

import argparse
import os
import random
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from time import monotonic
from unittest.mock import patch

from tests.store.fault_book import Tally, begun, enter, entered, fresh
from tests.store.hard_times import (
    brought_up_at_once,
    in_a_read_only_folder,
    on_a_full_disk,
    with_a_clock_set_back,
    writing_at_once,
)
from tests.store.killing import killed_at_points, killed_at_random, killed_in_migration
from tests.store.killing_imports import killed_in_import
from tests.store.spoiling import Spoilt, log_left_behind, spoilt_files

SEED = 20310515
HEADS = (
    f"{'fault':<40} {'tries':>5} {'confirmed':>9} {'lost':>4} {'doubled':>7} {'broken':>6} {'refused':>7} "
    f"{'unsaid':>6}  said"
)
SPOILT_HEADS = (
    f"{'file':<40} {'tries':>5} {'said':>9} {'as it was':>9} {'otherwise':>9} {'broken off':>10}"
)


def main() -> int:
    """Try all and print two tables; exit status 1 when anything is lost, doubled, broken, not said or breaks off."""
    asked = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    asked.add_argument("--few", action="store_true", help="a few of each, in seconds")
    few = asked.parse_args().few
    times, at_random, flips = (3, 12, 40) if few else (50, 1000, 1000)
    began = monotonic()
    with (
        tempfile.TemporaryDirectory() as name,
        patch.dict(os.environ, XDG_CACHE_HOME=f"{name}/cache"),
    ):
        folder = Path(name)
        folder.chmod(0o755)
        print(HEADS, flush=True)
        tallies = []
        for one in _tallies(folder, times, at_random, random.Random(SEED)):
            tallies.append(one)
            print(_line(one), flush=True)
        print(f"\n{SPOILT_HEADS}", flush=True)
        spoilt = spoilt_files(folder / "made.book", folder, flips, random.Random(SEED))
        for row in spoilt:
            print(_spoilt_line(row))
    bad = sum(one.lost + one.doubled + one.broken + one.unsaid for one in tallies)
    bad += sum(row.broken_off for row in spoilt)
    told, refused = (sum(getattr(one, of) for one in tallies) for of in ("confirmed", "refused"))
    said = (
        f"{told:,} confirmed, {refused:,} refused in words; {bad} lost, doubled, broken or not said"
    )
    print(f"\n{said}; {monotonic() - began:.0f} s")
    return int(bool(bad))


def _tallies(folder: Path, times: int, at_random: int, dice: random.Random) -> Iterator[Tally]:
    made = begun(folder / "made.book")
    warm = fresh(made, folder / "warm.book")
    enter(warm, "9l")  # children find everything imported
    entered(warm)
    yield from killed_at_points(made, folder, times, dice)
    yield from killed_in_import(made, folder, times, dice)
    yield from killed_in_migration(folder, times, dice)
    yield killed_at_random(made, folder, at_random, dice)
    for writers in (2, 8):
        yield writing_at_once(made, folder, writers)
    yield brought_up_at_once(folder, times, 4)
    yield in_a_read_only_folder(made, folder)
    yield on_a_full_disk(made, folder, times, dice)
    yield from log_left_behind(made, folder)
    yield with_a_clock_set_back(made, folder, times)


def _line(one: Tally) -> str:
    return (
        f"{one.fault:<40} {one.tries:>5} {one.confirmed:>9} {one.lost:>4} {one.doubled:>7} "
        f"{one.broken:>6} {one.refused:>7} {one.unsaid:>6}  {one.said[:70]}"
    )


def _spoilt_line(row: Spoilt) -> str:
    return (
        f"{row.fault:<40} {row.tries:>5} {row.said:>9} {row.as_it_was:>9} {row.otherwise:>9} "
        f"{row.broken_off:>10}  {row.last_said[:50]}"
    )


if __name__ == "__main__":
    sys.exit(main())
