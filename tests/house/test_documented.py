"""Everything public says what it is; what is said of parameters and errors is true."""

import ast
import re
from pathlib import Path

from soakbook import errors
from tests.house.tree import PACKAGE, Function, files, functions, name_of, parsed

SECTION = re.compile(r"^(\w[\w ]*)\n-{3,}$", re.MULTILINE)
ENTRY = re.compile(r"^(\*{0,2}\w[\w, *]*)(?: :.*)?$", re.MULTILINE)


def public_nodes(path: Path) -> list[tuple[str, ast.AST]]:
    """The module, and every class and function that no leading underscore hides."""
    found: list[tuple[str, ast.AST]] = [("module", parsed(path))]
    for _, parent in found:  # grows as classes are found
        if isinstance(parent, ast.Module | ast.ClassDef):
            found += [
                (node.name, node)
                for node in parent.body
                if isinstance(node, Function | ast.ClassDef) and not node.name.startswith("_")
            ]
    return found


def section(docstring: str, title: str) -> str:
    """What stands under a heading of a docstring."""
    parts = SECTION.split(docstring)
    return dict(zip(parts[1::2], parts[2::2], strict=True)).get(title, "")


def entries(text: str) -> list[str]:
    """The names a section explains: those at the margin, several on a line split."""
    return [
        name.strip().lstrip("*")
        for line in ENTRY.findall(text)
        for name in line.split(",")
        if name.strip()
    ]


def documented(title: str) -> list[tuple[str, Function, list[str]]]:
    """Functions with a section of that title, and the names in it."""
    found = []
    for path in files(PACKAGE):
        for name, function in functions(path):
            text = section(ast.get_docstring(function) or "", title)
            if text:
                found.append((f"{name_of(path)} {name}", function, entries(text)))
    return found


def test_everything_public_is_documented() -> None:
    found = [
        f"{name_of(path)} {name}"
        for path in files(PACKAGE)
        for name, node in public_nodes(path)
        if not ast.get_docstring(node)  # type: ignore[arg-type]
    ]
    assert not found, "\n".join(found)


def test_a_docstring_names_the_parameters_there_are() -> None:
    """All of them, or none where the first line says enough."""
    functions_with_parameters = documented("Parameters")
    assert functions_with_parameters
    found = {}
    for where, function, named in functions_with_parameters:
        taken = function.args
        there = [
            one.arg
            for one in (*taken.posonlyargs, *taken.args, *taken.kwonlyargs)
            if one.arg not in ("self", "cls")
        ]
        there += [one.arg for one in (taken.vararg, taken.kwarg) if one is not None]
        if sorted(named) != sorted(there):
            found[where] = (named, there)
    assert found == {}


def test_a_docstring_raises_only_errors_of_ours() -> None:
    raised = documented("Raises")
    assert raised
    assert {
        where: names
        for where, _, names in raised
        if any(not hasattr(errors, name) for name in names)
    } == {}
