"""What Open-Meteo is asked for: the text of addresses and parameters."""

from collections.abc import Callable
from datetime import date

import pytest

from soakbook.errors import InputError
from soakbook.weather.open_meteo.asking import (
    NEVER_EXPIRES_S,
    archive_lifetime_s,
    archive_request,
    ensemble_request,
    forecast_request,
    place_request,
)


def test_a_forecast_with_a_week_gone_by() -> None:
    assert forecast_request(51.8792, -2.2614, 42.0) == (
        "https://api.open-meteo.com/v1/forecast",
        {
            "latitude": "51.88",
            "longitude": "-2.26",
            "elevation": "42",
            "hourly": "temperature_2m,dew_point_2m,wind_speed_10m,cloud_cover,shortwave_radiation,"
            "precipitation,et0_fao_evapotranspiration",
            "timezone": "GMT",
            "wind_speed_unit": "ms",
            "past_days": "7",
            "forecast_days": "16",
        },
    )


def test_days_of_the_archive_with_one_more_at_either_end() -> None:
    url, asked = archive_request(51.88, -2.26, 42.5, (date(2030, 1, 1), date(2030, 12, 31)))
    assert url == "https://archive-api.open-meteo.com/v1/archive"
    assert (asked["start_date"], asked["end_date"]) == ("2029-12-31", "2031-01-01")
    assert asked["elevation"] == "42.5"
    assert not {"past_days", "forecast_days"} & asked.keys()  # either excludes dates
    _, asked = archive_request(51.88, -2.26, 42.5, (date(1940, 1, 1), date(1940, 1, 1)))
    assert (asked["start_date"], asked["end_date"]) == ("1940-01-01", "1940-01-02")


def test_the_futures_of_one_model() -> None:
    url, asked = ensemble_request(51.88, -2.26, 42.0)
    assert url == "https://ensemble-api.open-meteo.com/v1/ensemble"
    assert asked["models"] == "ecmwf_ifs025_ensemble"
    assert asked["hourly"] == "precipitation,et0_fao_evapotranspiration"
    assert asked["timezone"] == "GMT"


def test_height_and_zone_of_a_place() -> None:
    url, asked = place_request(51.88, -2.26)
    assert url == "https://api.open-meteo.com/v1/forecast"
    assert asked["timezone"] == "auto"
    assert "elevation" not in asked


def test_another_server_may_be_asked() -> None:
    here = "http://127.0.0.1:8080/v1/x"
    span = (date(2030, 1, 1), date(2030, 1, 2))
    assert forecast_request(0.0, 0.0, 0.0, base_url=here)[0] == here
    assert archive_request(0.0, 0.0, 0.0, span, base_url=here)[0] == here
    assert ensemble_request(0.0, 0.0, 0.0, base_url=here)[0] == here
    assert place_request(0.0, 0.0, base_url=here)[0] == here


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "elevation_m", "text"),
    [
        (51.8792, -2.2614, 42.04, ("51.88", "-2.26", "42")),
        (-0.001, 0.001, -0.01, ("0.00", "0.00", "0")),  # no negative zero
        (90, -180, 4999.96, ("90.00", "-180.00", "5000")),
        (-33.8651, 151.2099, -429.54, ("-33.87", "151.21", "-429.5")),
    ],
)
def test_a_place_is_always_the_same_text(
    latitude_deg: float, longitude_deg: float, elevation_m: float, text: tuple[str, str, str]
) -> None:
    _, asked = forecast_request(latitude_deg, longitude_deg, elevation_m)
    assert (asked["latitude"], asked["longitude"], asked["elevation"]) == text


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (lambda: forecast_request(91.0, 0.0, 0.0), "latitude"),
        (lambda: forecast_request(0.0, 181.0, 0.0), "longitude"),
        (lambda: forecast_request(0.0, 0.0, 9000.0), "height above the sea"),
        (lambda: forecast_request(0.0, 0.0, 0.0, past_days=0), "past days"),
        (lambda: forecast_request(0.0, 0.0, 0.0, past_days=93), "past days"),
        (lambda: ensemble_request(float("nan"), 0.0, 0.0), "latitude"),
        (lambda: place_request(0.0, -181.0), "longitude"),
        (
            lambda: archive_request(0.0, 0.0, 0.0, (date(1939, 12, 31), date(1940, 1, 1))),
            "first day",
        ),
        (lambda: archive_request(0.0, 0.0, 0.0, (date(2030, 1, 2), date(2030, 1, 1))), "last day"),
    ],
)
def test_what_cannot_be_asked_is_refused_by_name(ask: Callable[[], object], field: str) -> None:
    with pytest.raises(InputError) as refused:
        ask()
    assert refused.value.field == field


@pytest.mark.parametrize(
    ("last", "lifetime_s"),
    [(date(2031, 5, 4), NEVER_EXPIRES_S), (date(2031, 5, 5), 86400), (date(2031, 5, 14), 86400)],
)
def test_a_span_that_ended_over_ten_days_ago_never_expires(last: date, lifetime_s: int) -> None:
    assert archive_lifetime_s(last, date(2031, 5, 15)) == lifetime_s
