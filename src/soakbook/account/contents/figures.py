"""Figures as they stand in tables and lines, alike everywhere: litres, cubic metres, ranges, changes."""

from collections.abc import Callable, Mapping
from typing import Any

from soakbook.quantities.saying import number

Said = Callable[[float], str]
NONE = "-"
"""Where a figure is not known, or there is none."""


def whole(value: float | None) -> str:
    """`1,234`."""
    return NONE if value is None else f"{round(value):,}"


def cubic(litres: float | None) -> str:
    """Litres as `1.23` cubic metres."""
    return NONE if litres is None else f"{litres / 1000:,.2f}"


def tenth(value: float | None) -> str:
    """`20.8`."""
    return NONE if value is None else f"{value:,.1f}"


def money(amount: float | None, currency: str) -> str:
    """`GBP 12.58`."""
    return NONE if amount is None else f"{currency} {amount:,.2f}".strip()


def ranged(doubt: Mapping[str, Any], say: Said = whole) -> str:
    """`351 (273 to 443)`, of a number with its low and high end."""
    return f"{say(doubt['middle'])} ({say(doubt['low'])} to {say(doubt['high'])})"


def changed(doubt: Mapping[str, Any], say: Said = whole) -> str:
    """`282 more (237 to 329)`, `3 fewer (6 fewer to 30 more)`: a change with its low and high end."""
    low, middle, high = (doubt[name] for name in ("low", "middle", "high"))
    if say(abs(low)) == say(abs(high)) == say(abs(middle)) == say(0.0):
        return "the same"
    if low >= 0 or high <= 0:
        ends = sorted((abs(low), abs(high)))
        between = " to ".join(say(end) for end in ends)
    else:
        between = f"{_signed(low, say)} to {_signed(high, say)}"
    return f"{_signed(middle, say)} ({between})"


def share(part: float, of: float) -> str:
    """So many of every 100."""
    return number(100 * part / of) if of else NONE


def _signed(value: float, say: Said) -> str:
    said = say(abs(value))
    if said == say(0.0):
        return said
    return f"{said} {'more' if value > 0 else 'fewer'}"
