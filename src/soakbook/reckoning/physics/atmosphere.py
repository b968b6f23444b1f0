"""The most that leaves and wet ground together can lose, from the day's wind and dryness.

Reference evapotranspiration itself arrives with the weather and is not worked out here.
"""

from soakbook.reckoning.physics.records import Number

REFERENCE_HEIGHT_M = 3.0


def kc_max(wind_2m_m_per_s: Number, rhmin_percent: Number, plant_height_m: float = 0.5) -> Number:
    """Upper limit of evaporation and transpiration together, as a multiple of ET0.

    The step raises it to the basal coefficient + 0.05 at least, the other half of the equation.

    Parameters
    ----------
    wind_2m_m_per_s : number or array
        Mean wind of the day at 2 m [m/s, 1 to 6].
    rhmin_percent : number or array
        Lowest relative humidity of the day [%, 20 to 80].
    plant_height_m : float
        Mean height of the plants [m, > 0].

    Returns
    -------
    number or array
        Kc max [-], about 1.05 to 1.3.

    Notes
    -----
    Kc max = 1.2 + (0.04 (u2 - 2) - 0.004 (RHmin - 45)) (h / 3)^0.3. The bounds are those for which
    FAO-56 gives it; it is not cut off beyond them.

    References
    ----------
    FAO Irrigation and Drainage Paper 56, eq 72.
    """
    u2, RHmin = wind_2m_m_per_s, rhmin_percent
    height: float = (plant_height_m / REFERENCE_HEIGHT_M) ** 0.3
    return 1.2 + (0.04 * (u2 - 2.0) - 0.004 * (RHmin - 45.0)) * height  # (27)
