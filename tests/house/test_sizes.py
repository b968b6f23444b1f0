"""A file that reads like its table of contents, a function that fits on a screen."""

import ast
from pathlib import Path

import pytest

from tests.house.tree import (
    PACKAGE,
    TESTS,
    code_lines,
    files,
    functions,
    name_of,
    parsed,
    source,
)

MODULE_LINES = 400
TALKED_ABOUT_FROM = 300
FUNCTION_LINES = 60

TALKED_ABOUT: dict[str, str] = {}
"""A module of more than 300 lines, and why it is one file still."""

NO_NAMES = {"utils", "util", "helpers", "helper", "common", "misc", "tools", "shared"}


@pytest.mark.parametrize("folder", [PACKAGE, TESTS], ids=["src", "tests"])
def test_no_file_is_too_long(folder: Path) -> None:
    lengths = {name_of(path): len(source(path).splitlines()) for path in files(folder)}
    assert {name: lines for name, lines in lengths.items() if lines > MODULE_LINES} == {}


def test_a_long_module_says_why() -> None:
    long = {
        name_of(path)
        for path in files(PACKAGE)
        if len(source(path).splitlines()) > TALKED_ABOUT_FROM
    }
    assert long == set(TALKED_ABOUT), "split it, or write here why not"


def test_no_function_is_too_long() -> None:
    found = {
        f"{name_of(path)} {name}": lines
        for path in files(PACKAGE) + files(TESTS)
        for name, function in functions(path)
        if (lines := code_lines(path, function)) > FUNCTION_LINES
    }
    assert found == {}


def test_no_module_is_a_drawer() -> None:
    assert [name_of(path) for path in files(PACKAGE) if path.stem in NO_NAMES] == []


def test_no_circle_through_the_package() -> None:
    """Inside the package the exact module is imported, never what stands at the top for others."""
    found = [
        f"{name_of(path)}:{node.lineno}"
        for path in files(PACKAGE)
        for node in ast.walk(parsed(path))
        if (isinstance(node, ast.Import) and any(one.name == "soakbook" for one in node.names))
        or (isinstance(node, ast.ImportFrom) and (node.module == "soakbook" or node.level > 0))
    ]
    assert not found, "\n".join(found)
