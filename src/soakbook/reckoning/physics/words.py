"""The few words the day step is written in, beside plain arithmetic.

They work on numbers and on arrays alike. What is not a number stays not a number.
"""

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.physics.records import Number

Condition = bool | np.bool_ | NDArray[np.bool_]

LEAST_DIVISOR = 1e-12
DECAYED = 40.0  # exp(-40) is below the last digit of 1


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
    """One minus exp(-x), for x from 0 up, by arithmetic alone.

    Notes
    -----
    The Taylor sum of degree 8 for y = x / 64, then six times 1 - exp(-2y) = q (2 - q) with
    q = 1 - exp(-y). Relative error below 1e-15 from 1e-12 up.
    """
    y = lesser(x, DECAYED) * (1 / 64)
    tail = 1 / 24 - y * (1 / 120 - y * (1 / 720 - y * (1 / 5040 - y * (1 / 40320))))
    q = y * (1.0 - y * (1 / 2 - y * (1 / 6 - y * tail)))
    q = q * (2.0 - q)
    q = q * (2.0 - q)
    q = q * (2.0 - q)
    q = q * (2.0 - q)
    q = q * (2.0 - q)
    return q * (2.0 - q)
