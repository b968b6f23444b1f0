"""Whole processes timed side by side, so that the machine's other work falls on all of them alike."""

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from shutil import rmtree
from typing import NamedTuple

IMPORT_PANDAS = ("-c", "import pandas")


class Process(NamedTuple):
    """A Python process to be timed, with a home of its own; `anew` empties it before each run."""

    arguments: Sequence[str]
    home: Path
    anew: bool = False


def medians_s(processes: Mapping[str, Process], runs: int) -> dict[str, float]:
    """Median seconds from start to end of each process, one of each in turn.

    The first turn is not counted: it leaves byte code and caches behind.
    """
    took: dict[str, list[float]] = {name: [] for name in processes}
    for _ in range(runs + 1):
        for name, process in processes.items():
            took[name].append(seconds(process))
    return {name: statistics.median(times[1:]) for name, times in took.items()}


def seconds(process: Process) -> float:
    """Seconds from start to end of one process."""
    if process.anew:
        rmtree(process.home, ignore_errors=True)
    surroundings = os.environ | {
        "HOME": str(process.home),
        "XDG_CACHE_HOME": str(process.home / "cache"),
    }
    surroundings.pop("PYTHONDONTWRITEBYTECODE", None)  # without byte code everything starts slowly
    began = time.perf_counter()
    subprocess.run(
        [sys.executable, *process.arguments],
        check=True,
        env=surroundings,
        stdout=subprocess.DEVNULL,
    )
    return time.perf_counter() - began
