"""What only one place may do: read the clock, print, draw by chance. Imports are `.importlinter`'s."""

import ast
import re
from collections.abc import Iterator

from tests.house.tree import PACKAGE, files, name_of, parsed

CLOCK = re.compile(
    r"\b(datetime\.(now|utcnow|today)|date\.today|time\.(time|localtime|gmtime|monotonic\w*))$"
)
PRINTING = re.compile(r"^(print|click\.(echo\w*|secho|prompt|confirm)|sys\.std(out|err)\.write)$")
CHANCE = re.compile(
    r"(^Random|\brandom\.(default_rng|Philox|Generator|seed|random|choice)|uuid4|urandom)$"
)

TRUTH = {f"src/soakbook/truth/{name}.py" for name in ("__main__", "asking", "water")}
"""Developers' commands, which print and time themselves and roll dice of their own."""

MAKERS = {f"src/soakbook/specimen/{name}.py" for name in ("build", "season", "sky_ahead", "winter")}
"""Programs that developers run to make the specimen garden anew; they say what they made."""


def callers(pattern: re.Pattern[str]) -> set[str]:
    """Files in which something matching the pattern is called."""
    return {
        name_of(path)
        for path in files(PACKAGE)
        for name in _called(parsed(path))
        if pattern.search(name)
    }


def _called(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            yield ast.unparse(node.func)


def test_the_clock_is_read_in_one_place() -> None:
    assert callers(CLOCK) == {"src/soakbook/cli/options.py"}


def test_printing_has_one_place() -> None:
    assert callers(PRINTING) - MAKERS - TRUTH == {"src/soakbook/cli/paper.py"}


def test_chance_is_drawn_in_one_place() -> None:
    """Beside the members' draws, only new uids and the name of a half-written file are random."""
    assert callers(CHANCE) - MAKERS - TRUTH == {
        "src/soakbook/reckoning/simulation/draws.py",
        "src/soakbook/store/book.py",
        "src/soakbook/store/placing.py",
    }
