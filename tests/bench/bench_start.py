"""What the morning costs: `soakbook round --specimen` as a whole process beside `import pandas`.

`python -m tests.bench.bench_start`. Anew means that all that soakbook keeps outside the book is
thrown away before each run.
"""

import tempfile
from pathlib import Path

from tests.bench.processes import IMPORT_PANDAS, Process, medians_s

RUNS = 15
CACHED_TARGET = 0.25
ANEW_TARGET = 1.0
FORMS = {"round": (), "round --json": ("--json",), "round --card": ("--card",)}


def main() -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        processes = {
            "python -c pass": Process(("-c", "pass"), home),
            "import pandas": Process(IMPORT_PANDAS, home),
            "soakbook --help": Process(("-m", "soakbook", "--help"), home),
        }
        targets: dict[str, float] = {}
        for form, options in FORMS.items():
            arguments = ("-m", "soakbook", "round", "--specimen", *options)
            processes[f"{form}, cached"] = Process(arguments, home / "kept")
            processes[f"{form}, anew"] = Process(arguments, home / "thrown away", anew=True)
            targets |= {f"{form}, cached": CACHED_TARGET, f"{form}, anew": ANEW_TARGET}
        took = medians_s(processes, RUNS)
    print(f"{'whole process':<24} {'ms':>7} {'x import pandas':>16} {'at most':>8}")
    for name, seconds in took.items():
        ratio = seconds / took["import pandas"]
        target = f"{targets[name]:>8.2f}" if name in targets else ""
        print(f"{name:<24} {1000 * seconds:>7.0f} {ratio:>16.2f} {target}")


if __name__ == "__main__":
    main()
