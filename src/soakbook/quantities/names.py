"""The one list of quantity names: what each is called, its unit, and how far it can go.

Weather as it comes and numbers as they are typed are checked against it. Records carry the same
bounds in their annotations, where the door reads them; a test holds the two together. How a
quantity is written by hand is in `amounts` and `measures`.
"""

import math
from numbers import Real
from typing import NamedTuple

from soakbook.errors import InputError


class Quantity(NamedTuple):
    """One quantity: plain words, the unit as printed, and the span of what can be right."""

    words: str
    unit: str
    lowest: float
    highest: float
    above_lowest: bool = False
    below_highest: bool = False

    @property
    def right(self) -> str:
        """What it may be, in words: "more than 0 and at most 200 L/min"."""
        if self.highest == math.inf:
            said = f"more than {self.lowest:g}" if self.above_lowest else f"{self.lowest:g} or more"
            return f"{said} {self.unit}".rstrip()
        low = f"more than {self.lowest:g}" if self.above_lowest else f"from {self.lowest:g}"
        high = {
            (False, False): "to",
            (False, True): "to below",
            (True, False): "and at most",
            (True, True): "and below",
        }[self.above_lowest, self.below_highest]
        return f"{low} {high} {self.highest:g} {self.unit}".rstrip()

    def holds(self, value: float) -> bool:
        """Whether a number can be right; NaN and the infinite, which fail a comparison, cannot."""
        low = value > self.lowest if self.above_lowest else value >= self.lowest
        high = value < self.highest if self.below_highest else value <= self.highest
        return low and high


QUANTITIES: dict[str, Quantity] = {
    # Weather: spans of what stations and services can mean. common practice, no source.
    "rain_mm": Quantity("rain", "mm", 0, 500),
    "rain_hour_mm": Quantity("rain of an hour", "mm", 0, 150),
    "et0_mm": Quantity("reference evaporation", "mm", 0, 20),
    "temperature_c": Quantity("temperature", "°C", -60, 60),
    "tmin_c": Quantity("lowest temperature", "°C", -60, 60),
    "tmax_c": Quantity("highest temperature", "°C", -60, 60),
    "tmean_c": Quantity("mean temperature", "°C", -60, 60),
    "dew_point_c": Quantity("dew point", "°C", -60, 60),
    "rh_percent": Quantity("humidity", "%", 0, 101),
    "rhmin_percent": Quantity("lowest humidity", "%", 0, 101),
    "rhmax_percent": Quantity("highest humidity", "%", 0, 101),
    "rhmean_percent": Quantity("mean humidity", "%", 0, 101),
    "vapour_pressure_kpa": Quantity("vapour pressure", "kPa", 0, 20),
    "wind_m_per_s": Quantity("wind", "m/s", 0, 60),
    "wind_2m_m_per_s": Quantity("wind at 2 m", "m/s", 0, 60),
    "wind_10m_m_per_s": Quantity("wind at 10 m", "m/s", 0, 60),
    "wind_height_m": Quantity("height of the wind gauge", "m", 0.5, 100),
    "radiation_w_m2": Quantity("radiation of an hour", "W/m²", 0, 1500),
    "radiation_mj_m2_day": Quantity("radiation of a day", "MJ/m²", 0, 50),
    "sunshine_hours": Quantity("sunshine", "h", 0, 24),
    # Garden and hand: the spans of `garden.records` and `garden.entries`.
    "latitude_deg": Quantity("latitude", "°", -90, 90),
    "longitude_deg": Quantity("longitude", "°", -180, 180),
    "elevation_m": Quantity("height above the sea", "m", -430, 5000),
    "heat_c": Quantity("heat", "°C", 20, 40),
    "can_l": Quantity("can", "L", 1, 30),
    "hours": Quantity("hours for the round", "h", 0, 24, above_lowest=True),
    "hours_by_default": Quantity("hours for the round", "h", 0, 24, above_lowest=True),
    "area_m2": Quantity("area", "m²", 0, 10000, above_lowest=True),
    "sand_fraction": Quantity("sand", "of the soil", 0, 1),
    "clay_fraction": Quantity("clay", "of the soil", 0, 1),
    "organic_percent": Quantity("organic matter", "%", 0, 8),
    "stone_fraction": Quantity("stones", "of the soil", 0, 0.9, below_highest=True),
    "slope_fraction": Quantity("slope", "(1 in 4 is 0.25)", 0, 1),
    "bed_depth_m": Quantity("depth of the bed", "m", 0.1, 1.5),
    "intake_mm_h": Quantity("intake", "mm/h", 0.5, 500),
    "hole_mm_h": Quantity("fall in the hole", "mm/h", 0, 2000),
    "exposure_factor": Quantity("exposure", "times the open", 0.2, 2),
    "rain_share": Quantity("rain share", "of the gauge", 0, 1.3),
    "walk_m": Quantity("walk", "m", 0, 2000),
    "count": Quantity("count", "plants", 1, 100000),
    "ball_volume_l": Quantity("ball or pot", "L", 0, 2000),
    "ball_diameter_m": Quantity("width of the ball", "m", 0, 2),
    "canopy_start_m2": Quantity("leaves when planted", "m²", 0, 50, above_lowest=True),
    "canopy_full_m2": Quantity("leaves when grown", "m²", 0, 50, above_lowest=True),
    "weeks_to_full": Quantity("weeks to full leaf", "weeks", 0, 104, above_lowest=True),
    "cell_m2": Quantity("ground of one plant", "m²", 0, 200, above_lowest=True),
    "usual_dose_l": Quantity("usual dose", "L", 0, 500, above_lowest=True),
    "bowl_m2": Quantity("bowl", "m²", 0, 20, above_lowest=True),
    "bowl_depth_m": Quantity("depth of the bowl", "m", 0, 0.3, above_lowest=True),
    "flow_l_per_min": Quantity("flow", "L/min", 0, 200, above_lowest=True),
    "tank_l": Quantity("tank", "L", 0, 100000, above_lowest=True),
    "reach_m": Quantity("reach of the hose", "m", 0, 500),
    "price": Quantity("price", "", 0, 10000),
    "litres": Quantity("water given", "L", 0, 100000, above_lowest=True),
    "depth_cm": Quantity("depth of the mulch", "cm", 0, 30, above_lowest=True),
    "cover_fraction": Quantity("ground covered", "of the bed", 0, 1),
    "jar_mm": Quantity("rain in the jar", "mm", 0, 500),
    "gauge_mm": Quantity("rain in the gauge", "mm", 0, 500, above_lowest=True),
    "measured_cm": Quantity("depth by the ruler", "cm", 0, 30),
    "spots": Quantity("spots measured", "", 1, 100),
    "wet_to_cm": Quantity("depth of wet soil", "cm", 0, 150),
}


def check(
    name: str, value: float, *, field: str | None = None, typed: object | None = None
) -> float:
    """The value, when it can be right for the quantity.

    Parameters
    ----------
    name : str
        A key of `QUANTITIES`.
    value : float
        In the unit of that name.
    field, typed : str, object, optional
        What the gardener calls it and what was typed, where they differ from words and value.

    Raises
    ------
    InputError
        Not a number, or outside the span.
    """
    quantity = QUANTITIES[name]
    number = isinstance(value, Real) and not isinstance(value, bool)
    if not number or not quantity.holds(value):
        shown = value if typed is None else typed
        raise InputError(field or quantity.words, shown, quantity.right)
    return float(value)
