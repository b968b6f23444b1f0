"""What a day or a file as a whole cannot be."""

from datetime import date, timedelta

import pytest

from soakbook.errors import InputError
from soakbook.weather.columns import QUANTITIES, Column
from soakbook.weather.gaps import Days
from soakbook.weather.reference_et import Site
from soakbook.weather.sanity import check_days, instrument_findings

SITE = Site(52.3, 62.0)
FIRST = date(2031, 4, 1)
COLUMNS = {
    quantity.variable: Column(word, word.title(), unit, 10.0 if word == "wind" else None)
    for word, quantity in QUANTITIES.items()
    for unit in [
        {
            "depth": "mm",
            "temperature": "C",
            "share": "%",
            "time": "h",
            "radiation": "MJ/m2",
            "speed": "m/s",
            "pressure": "kPa",
        }[quantity.measure]
    ]
}


def days_of(**values: list[float]) -> Days:
    number = max(map(len, values.values()))
    return {
        FIRST + timedelta(days=n): {
            name: series[n] for name, series in values.items() if n < len(series)
        }
        for n in range(number)
    }


def test_a_possible_week_passes() -> None:
    check_days(
        days_of(
            tmin_c=[4.0] * 7,
            tmax_c=[14.0] * 7,
            dew_point_c=[14.4] * 7,
            rhmin_percent=[60.0] * 7,
            rhmax_percent=[60.0] * 7,
            rh_mean_percent=[1.02, *[80.0] * 6],
            vapour_pressure_kpa=[1.6] * 7,
            radiation_mj_m2_day=[29.0] * 7,  # 26.4 comes from above the air at 52 N on 1 April
            sunshine_h=[13.5] * 7,
            wind_2m_m_per_s=[11.0] * 7,
        ),
        COLUMNS,
        SITE,
    )


@pytest.mark.parametrize(
    ("values", "message"),
    [
        (
            {"tmin_c": [4.0, 12.0], "tmax_c": [14.0, 11.0]},
            "lowest temperature on 2031-04-02, column 'Tmin': '12 °C' cannot be right; "
            "at most 11 °C, which is 'Tmax' of that day",
        ),
        (
            {"rhmin_percent": [80.0], "rhmax_percent": [60.0]},
            "lowest humidity on 2031-04-01, column 'Rhmin': '80 %'",
        ),
        (
            {"tmax_c": [14.0], "dew_point_c": [14.6]},
            "dew point on 2031-04-01, column 'Dew': '14.6 °C' cannot be right; "
            "at most 14.5 °C, about the warmth of the air",
        ),
        (
            {"tmax_c": [14.0], "tmean_c": [9.0], "dew_point_c": [9.6]},
            "at most 9.5 °C, about the warmth of the air",
        ),
        (
            {"tmax_c": [14.0], "vapour_pressure_kpa": [9.4]},
            "all that the air can hold; it looks like hPa: say vapour=Vapour:hPa",
        ),
        ({"vapour_pressure_kpa": [19.9, 20.0, 24.0]}, "all that the air can hold"),
        (
            {"radiation_mj_m2_day": [30.0]},
            "all that the sky can send; it looks like W/m2: say radiation=Radiation:W/m2",
        ),
        (
            {"sunshine_h": [8.0, 14.4]},
            "sunshine on 2031-04-02, column 'Sun': '14.4 h' cannot be right; "
            "at most 13.8 h, from sunrise to sunset",
        ),
        (
            {"tmax_c": [45.0, 46.0, 47.0]},
            "mean of column 'Tmax': '46 °C' cannot be right; at most 44 °C here at that season; "
            "it looks like F: say tmax=Tmax:F",
        ),
        ({"tmin_c": [44.0, 45.0, 46.0]}, "it looks like F: say tmin=Tmin:F"),
        ({"wind_2m_m_per_s": [11.0, 13.0, 14.0]}, "it looks like km/h: say wind=Wind:km/h@10m"),
        ({"rhmax_percent": [0.8, 0.9, 1.0]}, "per cent, 85 for 0.85"),
    ],
)
def test_what_cannot_be_is_refused(values: dict[str, list[float]], message: str) -> None:
    with pytest.raises(InputError) as fault:
        check_days(days_of(**values), COLUMNS, SITE)
    assert message in str(fault.value)


def test_a_fahrenheit_file_that_is_still_too_hot_is_not_called_fahrenheit() -> None:
    columns = COLUMNS | {"tmax_c": Column("tmax", "High", "F")}
    with pytest.raises(InputError) as fault:
        check_days(days_of(tmax_c=[50.0, 50.0, 50.0]), columns, SITE)
    assert fault.value.right == "at most 44 °C here at that season"


# Mean highest temperatures of southern England by month in °F, to the degree (from memory)
ENGLISH_HIGHS_F = [46, 47, 52, 57, 63, 68, 73, 72, 67, 59, 51, 47]


@pytest.mark.parametrize(("month", "high_f"), list(enumerate(ENGLISH_HIGHS_F, start=1)))
def test_an_english_month_in_fahrenheit_is_never_taken_for_celsius(month: int, high_f: int) -> None:
    days = {date(2031, month, n): {"tmax_c": float(high_f)} for n in range(1, 11)}
    with pytest.raises(InputError, match="it looks like F"):
        check_days(days, COLUMNS, SITE)


@pytest.mark.parametrize(
    ("place", "latitude_deg", "month", "high_c"),
    [
        # mean highest of the month to the degree (from memory)
        ("Kuwait", 29.4, 7, 47.0),
        ("Death Valley", 36.5, 7, 47.0),
        ("Khartoum", 15.6, 4, 41.0),
        ("Khartoum", 15.6, 1, 31.0),
        ("Marble Bar", -21.2, 12, 42.0),
        ("Kuwait, ten days of a heat wave", 29.4, 7, 51.0),
    ],
)
def test_the_hottest_places_may_be_as_hot_as_they_are(
    place: str, latitude_deg: float, month: int, high_c: float
) -> None:
    days = {date(2031, month, n): {"tmax_c": high_c} for n in range(1, 11)}
    check_days(days, COLUMNS, Site(latitude_deg, 50.0))


def test_two_days_make_no_mean() -> None:
    check_days(days_of(tmax_c=[46.0, 47.0]), COLUMNS, SITE)


def test_twilight_may_bring_a_little_where_the_sun_does_not_rise() -> None:
    winter = {date(2031, 12, 21): {"radiation_mj_m2_day": 0.3, "sunshine_h": 0.0}}
    check_days(winter, COLUMNS, Site(80.0, 0.0))


def test_wind_that_never_moves_is_named() -> None:
    stuck = days_of(wind_2m_m_per_s=[1.0, *[0.0] * 10, 2.0])
    assert instrument_findings(stuck) == (
        "wind stood at one value on 2031-04-02 to 2031-04-11: likely a stuck cup",
    )
    assert instrument_findings(days_of(wind_2m_m_per_s=[1.0, *[0.0] * 9, 2.0])) == ()


def test_humidity_that_never_leaves_the_top_is_named() -> None:
    stuck = days_of(rh_mean_percent=[90.0, *[100.0, 99.6] * 5])
    assert instrument_findings(stuck) == (
        "humidity never left the top on 2031-04-02 to 2031-04-11: likely a wet or worn sensor",
    )
    assert instrument_findings(days_of(rh_mean_percent=[99.4] * 20)) == ()


def test_millimetres_said_as_inches_are_refused() -> None:
    """4 mm read as inches are 101.6 mm: no climate has a mean wet day of 60."""
    columns = {"rain_mm": Column("rain", "Rain", "in")}
    with pytest.raises(InputError, match="mm said as inches: say rain=Rain:mm"):
        check_days(days_of(rain_mm=[0.0, 101.6, 0.0, 50.8]), columns, SITE)
    check_days(days_of(rain_mm=[0.0, 101.6, 12.7, 0.0]), columns, SITE)


def test_air_may_be_as_full_as_night_and_noon_together() -> None:
    """5 and 25 C hold 2.02 kPa on the mean (FAO-56 equation 12), more than the 1.76 of 15.5 C."""
    days = days_of(tmin_c=[5.0], tmax_c=[25.0], tmean_c=[15.0], vapour_pressure_kpa=[2.02])
    check_days(days, COLUMNS, SITE)
    days = days_of(tmin_c=[5.0], tmax_c=[25.0], tmean_c=[15.0], vapour_pressure_kpa=[2.15])
    with pytest.raises(InputError, match="all that the air can hold"):
        check_days(days, COLUMNS, SITE)
