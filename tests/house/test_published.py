"""Every check against the outside world says where in its source the number stands."""

import ast
import re
from collections.abc import Iterator

from tests.house.tree import TESTS, Function, files, name_of, parsed

PUBLISHED = files(TESTS / "published", "test_*.py")
SOURCE = re.compile(r"\b(1[89]|20)\d\d\b|\b\d+\.\d+\b|common practice, no source")
LOCATOR = re.compile(
    r"\b(ex\.|eqs?\b|equations?\b|tables?\b|fig\.|pp?\.|section\b|annex\b|column\b|station\b"
    r"|\w+\.(py|R|csv|json)\b|common practice, no source|from memory)",
    re.IGNORECASE,
)


def checks_of(module: ast.Module) -> Iterator[Function]:
    """The test functions of a file."""
    for node in module.body:
        if isinstance(node, Function) and node.name.startswith("test_"):
            yield node


def said_of(test: Function, module: ast.Module) -> str:
    """What a test says of its source: itself, in the tables it is run over, or at the file's top."""
    used = {node.id for node in ast.walk(test) if isinstance(node, ast.Name)}
    tables = [
        ast.unparse(node)
        for node in module.body
        if isinstance(node, ast.Assign | ast.AnnAssign)
        for place in ast.walk(node)
        if isinstance(place, ast.Name) and isinstance(place.ctx, ast.Store) and place.id in used
    ]
    return "\n".join([ast.get_docstring(test) or "", *tables, ast.get_docstring(module) or ""])


def test_a_file_of_checks_names_its_sources() -> None:
    """At its top, with the year, or the version of another program, at least."""
    assert PUBLISHED
    found = [
        name_of(path)
        for path in PUBLISHED
        if not SOURCE.search(ast.get_docstring(parsed(path)) or "")
    ]
    assert not found, "\n".join(found)


def test_a_check_says_where_its_number_stands() -> None:
    found = [
        f"{name_of(path)} {test.name}"
        for path in PUBLISHED
        for test in checks_of(parsed(path))
        if not LOCATOR.search(said_of(test, parsed(path)))
    ]
    assert not found, "\n".join(found)
