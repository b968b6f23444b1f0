"""The day step keeps to arithmetic and a few words, so that one text serves numbers and arrays."""

import ast
from pathlib import Path

import pytest

from soakbook.reckoning.physics import step

FOLDER = Path(step.__file__).parent
STEP_FILES = ["intake", "skins", "drinking", "roots", "step"]
CHOICE_OF_METHOD = "drink_start_of_day"  # the same for every lane, False outside published checks


BRANCHES = (ast.If, ast.IfExp, ast.For, ast.While, ast.comprehension, ast.Compare, ast.BoolOp)
POWERS = (ast.Pow, ast.Mod, ast.FloorDiv)


def faults(source: str) -> list[str]:
    """What stands in function bodies that a lane of an array, or a compiled loop, cannot follow."""
    functions = [n for n in ast.walk(ast.parse(source)) if isinstance(n, ast.FunctionDef)]
    lines = [line for function in functions for line in function.body]
    return [ast.unparse(node) for line in lines for node in ast.walk(line) if is_fault(node)]


def is_fault(node: ast.AST) -> bool:
    match node:
        case ast.If(test=ast.Name(id=name)) if name == CHOICE_OF_METHOD:
            return False
        case ast.Attribute(value=ast.Name(id="np"), attr=attr):
            return attr != "pi"
        case ast.BinOp(op=op):
            return isinstance(op, POWERS)
        case ast.Call(func=func):
            return isinstance(func, ast.Attribute)
    return isinstance(node, (*BRANCHES, ast.Subscript, ast.AugAssign))


@pytest.mark.parametrize("name", STEP_FILES)
def test_the_step_keeps_its_rules(name: str) -> None:
    assert not faults((FOLDER / f"{name}.py").read_text())


@pytest.mark.parametrize(
    "line",
    [
        "if x > 0: pass",
        "y = x[0]",
        "x += 1",
        "y = x ** 2",
        "y = np.exp(x)",
        "y = [v for v in x]",
        "y = x.clip(0, 1)",
        "y = 1 if x else 0",
    ],
)
def test_a_broken_rule_is_seen(line: str) -> None:
    assert faults(f"def f(x):\n    {line}\n")
