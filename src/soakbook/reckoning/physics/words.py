"""The few words the day step is written in, beside plain arithmetic.

They work on numbers and on arrays alike. What is not a number stays not a number.
"""

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.physics.records import Number

Condition = bool | np.bool_ | NDArray[np.bool_]

LEAST_DIVISOR = 1e-12


def lesser(value: Number, limit: Number) -> Number:
    """Value, but not above the limit."""
    result: Number = np.minimum(value, limit)
    return result


def greater(value: Number, limit: Number) -> Number:
    """Value, but not below the limit."""
    result: Number = np.maximum(value, limit)
    return result


def either(condition: Condition, value: Number, other: Number) -> Number:
    """Value where the condition holds, else the other."""
    result: Number = np.where(condition, value, other)
    return result


def over(value: Number, divisor: Number) -> Number:
    """Value over a divisor that may be nothing: nothing over nothing is 0, the rest very much."""
    return value / greater(divisor, LEAST_DIVISOR)


def one_minus_exp(x: Number) -> Number:
    """One minus exp(-x), for x from 0 up, right to the last digits where x is small, too."""
    result: Number = -np.expm1(-x)
    return result
