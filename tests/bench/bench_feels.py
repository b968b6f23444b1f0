"""What a season of feels costs: the specimen's season run with its own feels, and with none.

`python -m tests.bench.bench_feels`
"""

import statistics
import tempfile
import time
from datetime import date
from pathlib import Path

from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.season import Season, season_of
from tests.bench.processes import IMPORT_PANDAS, Process, medians_s
from tests.properties.followed import specimen

MORNINGS = (date(2031, 5, 15), date(2031, 10, 15))
RUNS = 9


def seconds(season: Season) -> float:
    """One run of a season."""
    began = time.perf_counter()
    run(season)
    return time.perf_counter() - began


def main() -> None:
    """Print the table; each pair of runs is taken side by side."""
    with tempfile.TemporaryDirectory() as folder:
        pandas_s = medians_s({"pandas": Process(IMPORT_PANDAS, Path(folder))}, 5)["pandas"]
    print(
        f"{'up to':<12} {'feels':>6} {'s':>7} {'without':>8} {'ratio':>6} {'of import pandas':>17}"
    )
    for morning in MORNINGS:
        felt = season_of(known_on(specimen(), morning), morning)
        assert felt is not None
        unfelt = felt._replace(touches={})
        pairs = [(seconds(felt), seconds(unfelt)) for _ in range(RUNS)]
        ratio = statistics.median(one / other for one, other in pairs)
        with_s, without_s = (statistics.median(column) for column in zip(*pairs, strict=True))
        feels = sum(map(len, felt.touches.values()))
        print(
            f"{morning} {feels:>8} {with_s:>7.3f} {without_s:>8.3f} {ratio:>6.2f} "
            f"{(with_s - without_s) / pandas_s:>17.2f}"
        )


if __name__ == "__main__":
    main()
