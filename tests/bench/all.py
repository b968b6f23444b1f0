"""Every bench in a process of its own, its tables printed: `python tests/bench/all.py`.

Nothing here fails for being slow. Install with pip, which compiles to byte code, and let the
machine be quiet.
"""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
BENCHES = (
    "bench_start",
    "bench_garden",
    "bench_feels",
    "bench_step",
    "bench_weather",
    "bench_import",
    "bench_reminders",
    "bench_years",
    "bench_account",
)


def main() -> int:
    """Exit status: 1 when a bench broke."""
    broken = 0
    for bench in BENCHES:
        print(f"== {bench}", flush=True)
        done = subprocess.run([sys.executable, "-m", f"tests.bench.{bench}"], cwd=ROOT, check=False)
        broken += done.returncode != 0
        print(flush=True)
    return min(broken, 1)


if __name__ == "__main__":
    sys.exit(main())
