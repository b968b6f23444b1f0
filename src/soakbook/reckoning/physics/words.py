"""The few words the day step is written in, beside plain arithmetic.

They work on numbers and on arrays alike. What is not a number stays not a number.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from soakbook.reckoning.physics.records import Number

Condition = bool | np.bool_ | NDArray[np.bool_]

LEAST_DIVISOR = 1e-12


lesser: Callable[[Number, Number], Number] = np.minimum
"""Value, but not above the limit."""

greater: Callable[[Number, Number], Number] = np.maximum
"""Value, but not below the limit."""

either: Callable[[Condition, Number, Number], Number] = np.where
"""Value where the condition holds, else the other."""


def over(value: Number, divisor: Number) -> Number:
    """Value over a divisor that may be nothing: nothing over nothing is 0, the rest very much."""
    return value / greater(divisor, LEAST_DIVISOR)


def one_minus_exp(x: Number) -> Number:
    """One minus exp(-x), for x from 0 up, right to the last digits where x is small, too."""
    result: Number = -np.expm1(-x)
    return result
