"""Programs started by the house tests."""

import os
import subprocess
from pathlib import Path


def ended_well(*command: str | Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """A program that has run to a good end, with what it wrote."""
    done = subprocess.run(
        [str(word) for word in command],
        check=False,
        capture_output=True,
        cwd=cwd,
        encoding="utf-8",
        env=os.environ | {"PYTHONIOENCODING": "utf-8"},
    )
    last_words = done.stderr.strip().splitlines()[-5:]
    assert done.returncode == 0, "\n".join([f"{command} ended with {done.returncode}", *last_words])
    return done
