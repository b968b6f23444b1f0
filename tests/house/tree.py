"""The project's files as the house tests read them."""

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "soakbook"
TESTS = ROOT / "tests"

Function = ast.FunctionDef | ast.AsyncFunctionDef


class Text(NamedTuple):
    """A string in a program, with its place."""

    file: str
    line: int
    text: str

    def __str__(self) -> str:
        """Where it stands, and its beginning."""
        return f"{self.file}:{self.line}: {self.text.strip()[:70]}"


@cache
def files(folder: Path, pattern: str = "*.py") -> tuple[Path, ...]:
    """The files under a folder, in order."""
    return tuple(sorted(path for path in folder.rglob(pattern) if "__pycache__" not in path.parts))


@cache
def source(path: Path) -> str:
    """The text of a file."""
    return path.read_text(encoding="utf-8")


@cache
def parsed(path: Path) -> ast.Module:
    """A program's tree."""
    return ast.parse(source(path), str(path))


def name_of(path: Path) -> str:
    """A file as people call it: its path from the project's top."""
    return path.relative_to(ROOT).as_posix()


def functions(path: Path) -> Iterator[tuple[str, Function]]:
    """Every function of a file, with its name led by its class's."""
    return _functions(parsed(path), "")


def _functions(parent: ast.AST, lead: str) -> Iterator[tuple[str, Function]]:
    for node in ast.iter_child_nodes(parent):
        inside = f"{lead}{node.name}." if isinstance(node, Function | ast.ClassDef) else lead
        if isinstance(node, Function):
            yield f"{lead}{node.name}", node
        yield from _functions(node, inside)


def docstring_node(node: ast.AST) -> ast.Constant | None:
    """The docstring of a module, class or function, as it stands in the tree."""
    body = getattr(node, "body", None)
    first = body[0] if isinstance(body, list) and body else None
    if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
        return first.value if isinstance(first.value.value, str) else None
    return None


def code_lines(path: Path, node: Function) -> int:
    """Lines of a function that hold code: not its docstring, not comments, not blanks."""
    end = node.end_lineno or node.lineno
    docstring = docstring_node(node)
    said = (
        set(range(docstring.lineno, (docstring.end_lineno or docstring.lineno) + 1))
        if docstring
        else set()
    )
    lines = source(path).splitlines()
    return sum(
        number not in said
        and bool(lines[number - 1].strip())
        and not lines[number - 1].strip().startswith("#")
        for number in range(node.lineno, end + 1)
    )


def strings(path: Path) -> Iterator[Text]:
    """Strings of a program that somebody may read: all but docstrings, and of these a command's."""
    tree = parsed(path)
    documents = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    helps = {id(docstring_node(node)) for node in ast.walk(tree) if _is_command(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            if id(node) in documents - helps:
                continue
            yield Text(name_of(path), node.lineno, node.value)


def _is_command(node: ast.AST) -> bool:
    """Whether a function is a command of click's, whose docstring is its help."""
    return isinstance(node, Function) and any(
        "command" in ast.unparse(decorator) or "group" in ast.unparse(decorator)
        for decorator in node.decorator_list
    )
