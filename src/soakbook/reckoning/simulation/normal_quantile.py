"""The inverse of the normal distribution for whole arrays; numpy has none, and one number at a time is slow."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# The source's coefficients, that of the highest power first.
_CENTRE_ABOVE = (
    2509.0809287301226727,
    33430.575583588128105,
    67265.770927008700853,
    45921.953931549871457,
    13731.693765509461125,
    1971.5909503065514427,
    133.14166789178437745,
    3.3871328727963666080,
)
_CENTRE_BELOW = (
    5226.4952788528545610,
    28729.085735721942674,
    39307.895800092710610,
    21213.794301586595867,
    5394.1960214247511077,
    687.18700749205790830,
    42.313330701600911252,
    1.0,
)
_TAIL_ABOVE = (
    7.74545014278341407640e-4,
    2.27238449892691845833e-2,
    2.41780725177450611770e-1,
    1.27045825245236838258,
    3.64784832476320460504,
    5.76949722146069140550,
    4.63033784615654529590,
    1.42343711074968357734,
)
_TAIL_BELOW = (
    1.05075007164441684324e-9,
    5.47593808499534494600e-4,
    1.51986665636164571966e-2,
    1.48103976427480074590e-1,
    6.89767334985100004550e-1,
    1.67638483018380384940,
    2.05319162663775882187,
    1.0,
)


def normal_quantile(probability: Floats) -> Floats:
    """How many standard deviations from the mean a normal variable stays below with this probability.

    Parameters
    ----------
    probability : ndarray
        [-, from 1.4e-11 to 1 less as much: nearer to 0 and 1 the source has polynomials of its own]

    Returns
    -------
    ndarray, same shape
        Within 1 part in 10^15.

    References
    ----------
    Wichura (1988), Algorithm AS 241: the percentage points of the normal distribution, Applied Statistics 37(3),
    477-484, PPND16.
    """
    off = probability - 0.5
    inner = 0.180625 - off * off
    centre = np.polyval(_CENTRE_ABOVE, inner) * off / np.polyval(_CENTRE_BELOW, inner)
    outer = np.sqrt(-np.log(np.where(off <= 0, probability, 1.0 - probability))) - 1.6
    tail = np.polyval(_TAIL_ABOVE, outer) / np.polyval(_TAIL_BELOW, outer)
    found: Floats = np.where(inner >= 0, centre, np.copysign(tail, off))
    return found
