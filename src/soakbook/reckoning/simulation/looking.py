"""A hole looked into: how far down the soil is wet, read as a wetness of the soil the roots have."""

from soakbook.reckoning.simulation.start import CLASS_MIDS


def looked_wetness(wet_to_cm: float, depth_cm: float) -> float:
    """The wetness of a bed whose soil is wet down to a depth and dry below.

    Parameters
    ----------
    wet_to_cm : float
        How far down it is wet [cm, >= 0].
    depth_cm : float
        How deep the roots' soil goes, z of (12) [cm, > 0].

    Returns
    -------
    float
        Share of available water, of what is wet as a finger calls it wet and of the rest as it calls it dry:
        0.35 where nothing is wet, 0.97 where all is. common practice, no source.

    Examples
    --------
    >>> looked_wetness(12.5, 25.0)
    0.66
    """
    wet = min(1.0, wet_to_cm / depth_cm)
    return wet * CLASS_MIDS["wet"] + (1 - wet) * CLASS_MIDS["dry"]
