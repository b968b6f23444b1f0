"""What is said of a value that cannot be right reads as English, whatever the value is."""

from datetime import date

import pytest

from soakbook.errors import InputError


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (None, "tool is missing: hose or can"),
        ("  ", "tool is missing: hose or can"),
        ("spade", "tool: 'spade' cannot be right; hose or can"),
        (0.07068583470577035, "tool: 0.07069 cannot be right; hose or can"),
        (date(2031, 5, 15), "tool: 2031-05-15 cannot be right; hose or can"),
        (3, "tool: 3 cannot be right; hose or can"),
        (True, "tool: yes cannot be right; hose or can"),
        (False, "tool: no cannot be right; hose or can"),
        ("x" * 10_000_000, f"tool: '{'x' * 200}...' cannot be right; hose or can"),
        ("x" * 200, f"tool: '{'x' * 200}' cannot be right; hose or can"),
    ],
)
def test_no_value_of_python_is_shown(value: object, said: str) -> None:
    assert str(InputError("tool", value, "hose or can")) == said
