"""What to ask Open-Meteo for: addresses and parameters, its names and units, for how long answers hold.

Nothing is fetched here: whoever fetches is given an address and parameters. Its days are cut with
one offset for a whole answer, so its hours are asked for, in UTC.

References
----------
Documentation and server of Open-Meteo, github.com/open-meteo, August 2026: parameters, names,
units, what a value is valid for. "The hour before" is the hour that ends at the label.
"""

from collections.abc import Iterable
from datetime import date, timedelta

from soakbook.errors import InputError
from soakbook.quantities import names
from soakbook.quantities.places import to_a_kilometre

SERVICE = "Open-Meteo"
FORECAST_URL = "https://api.open-meteo.com/v1/forecast"
ARCHIVE_URL = "https://archive-api.open-meteo.com/v1/archive"
ENSEMBLE_URL = "https://ensemble-api.open-meteo.com/v1/ensemble"

FORECAST_LIFETIME_S = 3600
ENSEMBLE_LIFETIME_S = 6 * 3600
ARCHIVE_LIFETIME_S = 24 * 3600
NEVER_EXPIRES_S = 10 * 365 * 24 * 3600
ARCHIVE_SETTLED_DAYS = 10

PAST_DAYS = range(1, 93)
FORECAST_DAYS = 16
FIRST_ARCHIVE_DAY = date(1940, 1, 1)
ENSEMBLE_MODEL = "ecmwf_ifs025_ensemble"

RAIN, ET0 = "precipitation", "et0_fao_evapotranspiration"

NAMES = {
    "temperature_2m": "temperature_c",
    "dew_point_2m": "dew_point_c",
    "wind_speed_10m": "wind_10m_m_per_s",
    "cloud_cover": "cloud_fraction",
    "shortwave_radiation": "radiation_w_m2",
    RAIN: "rain_mm",
    ET0: "et0_mm",
}
"""Its name of an hourly column -> ours; in this order they are asked for."""

UNITS = {
    "temperature_2m": "°C",
    "dew_point_2m": "°C",
    "wind_speed_10m": "m/s",
    "cloud_cover": "%",
    "shortwave_radiation": "W/m²",
    RAIN: "mm",
    ET0: "mm",
}
"""The unit that its answer must name for each."""


def forecast_request(
    latitude_deg: float,
    longitude_deg: float,
    elevation_m: float,
    *,
    past_days: int = 7,
    base_url: str = FORECAST_URL,
) -> tuple[str, dict[str, str]]:
    """Where and how to ask for the last days' hours and those of the sixteen days from today.

    Parameters
    ----------
    latitude_deg, longitude_deg
        The garden's; two decimals of them, about a kilometre, leave the house.
    elevation_m
        The garden's height above the sea, to which temperatures are brought.
    past_days
        How many days back [1 to 92].
    base_url
        Another server of the same kind.

    Raises
    ------
    InputError
        A place or a number of days that cannot be.
    """
    if past_days not in PAST_DAYS:
        raise InputError("past days", past_days, f"from {PAST_DAYS[0]} to {PAST_DAYS[-1]}")
    spans = {"past_days": str(past_days), "forecast_days": str(FORECAST_DAYS)}
    return base_url, _place(latitude_deg, longitude_deg, elevation_m) | _hourly(NAMES) | spans


def archive_request(
    latitude_deg: float,
    longitude_deg: float,
    elevation_m: float,
    days: tuple[date, date],
    *,
    base_url: str = ARCHIVE_URL,
) -> tuple[str, dict[str, str]]:
    """Where and how to ask for the hours of days gone by.

    A day more at either end is asked for, because a local day reaches into another of UTC.

    Parameters
    ----------
    latitude_deg, longitude_deg, elevation_m
        As in `forecast_request`.
    days
        First and last day, both included; the last at least two days ago.
    base_url
        Another server of the same kind.

    Raises
    ------
    InputError
        A place that cannot be, days in the wrong order or before 1940.
    """
    first, last = days
    if first < FIRST_ARCHIVE_DAY:
        raise InputError("first day", first, f"{FIRST_ARCHIVE_DAY} or later")
    if last < first:
        raise InputError("last day", last, f"{first}, the first day, or later")
    spans = {
        "start_date": max(first - timedelta(days=1), FIRST_ARCHIVE_DAY).isoformat(),
        "end_date": (last + timedelta(days=1)).isoformat(),
    }
    return base_url, _place(latitude_deg, longitude_deg, elevation_m) | _hourly(NAMES) | spans


def archive_lifetime_s(last: date, today: date) -> int:
    """Seconds for which an answer of the archive stays good; what is settled never changes."""
    settled = (today - last).days > ARCHIVE_SETTLED_DAYS
    return NEVER_EXPIRES_S if settled else ARCHIVE_LIFETIME_S


def ensemble_request(
    latitude_deg: float,
    longitude_deg: float,
    elevation_m: float,
    *,
    base_url: str = ENSEMBLE_URL,
) -> tuple[str, dict[str, str]]:
    """Where and how to ask for rain and evaporation in each future of one model.

    Parameters
    ----------
    latitude_deg, longitude_deg, elevation_m, base_url
        As in `forecast_request`.

    Raises
    ------
    InputError
        A place that cannot be.
    """
    spans = {
        "past_days": "1",  # the garden's today may have begun yesterday in UTC
        "forecast_days": str(FORECAST_DAYS),
        "models": ENSEMBLE_MODEL,
    }
    return base_url, _place(latitude_deg, longitude_deg, elevation_m) | _hourly((RAIN, ET0)) | spans


def place_request(
    latitude_deg: float, longitude_deg: float, *, base_url: str = FORECAST_URL
) -> tuple[str, dict[str, str]]:
    """Where and how to ask for the height and the time zone of a place; `place_of` reads them.

    Parameters
    ----------
    latitude_deg, longitude_deg, base_url
        As in `forecast_request`.

    Raises
    ------
    InputError
        A place that cannot be.
    """
    asked = {"hourly": "temperature_2m", "timezone": "auto", "forecast_days": "1"}
    return base_url, _place(latitude_deg, longitude_deg) | asked


def _place(
    latitude_deg: float, longitude_deg: float, elevation_m: float | None = None
) -> dict[str, str]:
    place = {
        "latitude": _two_decimals(names.check("latitude_deg", latitude_deg)),
        "longitude": _two_decimals(names.check("longitude_deg", longitude_deg)),
    }
    if elevation_m is not None:
        place["elevation"] = f"{round(names.check('elevation_m', elevation_m), 1) + 0.0:g}"
    return place


def _two_decimals(degrees: float) -> str:
    return f"{to_a_kilometre(degrees):.2f}"


def _hourly(asked: Iterable[str]) -> dict[str, str]:
    return {"hourly": ",".join(asked), "timezone": "GMT", "wind_speed_unit": "ms"}
