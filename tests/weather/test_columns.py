"""Columns as said and as their headers state them."""

import pytest

from soakbook.errors import InputError
from soakbook.quantities import names
from soakbook.weather.columns import (
    QUANTITIES,
    SPELLINGS,
    UNITS,
    Column,
    UnitUnsaid,
    is_reference_et,
    parse_column,
    recognise,
)
from soakbook.weather.reference_et import DayInputs

SAID = [
    ("rain=Precip:in", Column("rain", "Precip", "in")),
    ("tmax=High:F", Column("tmax", "High", "F")),
    ("tmax = High temp : °F", Column("tmax", "High temp", "F")),
    ("wind=Wind:km/h@10m", Column("wind", "Wind", "km/h", 10.0)),
    ("wind=Wind:kn@2.5m", Column("wind", "Wind", "kn", 2.5)),
    ("wind=Wind:m/s", Column("wind", "Wind", "m/s", None)),
    ("rain=Rain: total:mm", Column("rain", "Rain: total", "mm")),
    ("RADIATION=Sol:W/m²", Column("radiation", "Sol", "W/m2")),
    ("rh=H=1:%", Column("rh", "H=1", "%")),
]


@pytest.mark.parametrize(("text", "column"), SAID)
def test_a_column_as_said(text: str, column: Column) -> None:
    assert parse_column(text) == column


@pytest.mark.parametrize(("text", "column"), SAID)
def test_the_textual_form_comes_back(text: str, column: Column) -> None:
    assert parse_column(column.text) == column


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("rain", "QUANTITY=COLUMN:UNIT, for example rain=Precip:in"),
        ("rain=", "QUANTITY=COLUMN:UNIT"),
        ("rian=Precip:mm", "'rian' cannot be right; one of rain, tmin"),
        ("rain=Precip", "rain=Precip:mm or rain=Precip:in"),
        ("rain=:mm", "a stated unit"),
        ("rain=Precip:C", "unit of rain: 'C' cannot be right; one of mm, in"),
        ("wind=Wind:furlongs", "'furlongs' cannot be right; one of m/s, km/h, mph, kn"),
        ("wind=Wind:m/s@roof", "'roof' cannot be right; for wind only, in metres"),
        ("rain=Precip:mm@10m", "'10m' cannot be right; for wind only"),
        ("wind=Wind:m/s@300m", "from 0.5 to 100 m"),
    ],
)
def test_a_column_said_wrongly_is_refused_with_what_would_be_right(text: str, message: str) -> None:
    with pytest.raises(InputError) as fault:
        parse_column(text)
    assert message in str(fault.value)


@pytest.mark.parametrize(
    ("header", "quantity", "unit", "height_m"),
    [
        ("tmin_c", "tmin", "C", None),
        ("tmax_c", "tmax", "C", None),
        ("tmean_c", "tmean", "C", None),
        ("rain_mm", "rain", "mm", None),
        ("rh_mean_pct", "rh", "%", None),
        ("rhmin_pct", "rhmin", "%", None),
        ("rhmax_pct", "rhmax", "%", None),
        ("sun_h", "sun", "h", None),
        ("rs_mj", "radiation", "MJ/m2", None),
        ("wind2_ms", "wind", "m/s", 2.0),
        ("wind2m_ms", "wind", "m/s", 2.0),
        ("wind10_ms", "wind", "m/s", 10.0),
        ("wind_ms_3m", "wind", "m/s", 3.0),
        ("wind_2m_m_per_s", "wind", "m/s", 2.0),
        ("radiation_mj_m2_day", "radiation", "MJ/m2", None),
        ("dew_point_c", "dew", "C", None),
        ("vapour_pressure_kpa", "vapour", "kPa", None),
        ("Tmax (°F)", "tmax", "F", None),
        ("Max temp °C", "tmax", "C", None),
        ("Temperature, minimum [deg F]", "tmin", "F", None),
        ("wind km/h", "wind", "km/h", None),
        ("Wind speed (mph) @ 10 m", "wind", "mph", 10.0),
        ("Rainfall [inches]", "rain", "in", None),
        ("Precipitation (mm)", "rain", "mm", None),
        ("Humidity %", "rh", "%", None),
        ("High Temp (F)", "tmax", "F", None),
        ("Low Temp (°F)", "tmin", "F", None),
        ("Relative humidity max (%)", "rhmax", "%", None),
        ("Solar radiation (W/m²)", "radiation", "W/m2", None),
        ("Rs (MJ m⁻² d⁻¹)", "radiation", "MJ/m2", None),
        ("Sunshine hours", "sun", "h", None),
        ("ea hPa", "vapour", "hPa", None),
    ],
)
def test_a_header_that_states_quantity_and_unit_is_taken(
    header: str, quantity: str, unit: str, height_m: float | None
) -> None:
    assert recognise(header) == Column(quantity, header, unit, height_m)


@pytest.mark.parametrize(
    ("header", "quantity"),
    [
        ("Rain", "rain"),
        ("TMAX", "tmax"),
        ("Wind", "wind"),
        ("wind10", "wind"),
        ("Humidity", "rh"),
        ("Rs", "radiation"),
    ],
)
def test_a_quantity_without_a_unit_is_seen_but_not_guessed(header: str, quantity: str) -> None:
    assert recognise(header) == UnitUnsaid(quantity, header)


@pytest.mark.parametrize(
    "header",
    [
        "rain_hours",
        "rain_from",
        "rain_kind",
        "tsoil5_c",
        "vwc10",
        "wind gust km/h",
        "UV",
        "Temp (C)",
        "rh_mm",
        "High",
        "snow_mm",
    ],
)
def test_what_is_not_ours_is_not_taken(header: str) -> None:
    assert recognise(header) is None


@pytest.mark.parametrize(
    "header", ["et0_pm_mm", "eto_mm", "ET (in)", "et_makkink_mm", "PET", "Evapotranspiration"]
)
def test_somebody_elses_et0_is_known_for_what_it_is(header: str) -> None:
    assert is_reference_et(header)
    assert recognise(header) is None


def test_what_is_not_et0_is_not_taken_for_it() -> None:
    assert not any(map(is_reference_et, ["etage", "petrichor", "rain_mm", "wet bulb (C)"]))


@pytest.mark.parametrize(
    ("column", "value", "expected"),
    [
        # factors: NIST SP 811, appendix B.8; W/m2 over a day: 86400 s
        (Column("rain", "x", "in"), 1.0, 25.4),
        (Column("tmax", "x", "F"), 212.0, 100.0),
        (Column("wind", "x", "km/h", 2.0), 36.0, 10.0),
        (Column("wind", "x", "mph", 2.0), 10.0, 4.4704),
        (Column("wind", "x", "kn", 2.0), 36.0, 18.52),
        (Column("radiation", "x", "W/m2"), 100.0, 8.64),
        (Column("radiation", "x", "J/cm2"), 2000.0, 20.0),
        (Column("vapour", "x", "hPa"), 14.0, 1.4),
    ],
)
def test_units_are_turned_into_ours(column: Column, value: float, expected: float) -> None:
    assert column.as_kept(column.in_our_unit(value)) == pytest.approx(expected)


def test_wind_is_brought_to_two_metres_and_says_from_where() -> None:
    """FAO-56 Ex. 14, p. 56: 3.2 m/s at 10 m are 2.4 at 2 m."""
    column = Column("wind", "x", "m/s", 10.0)
    assert column.as_kept(3.2) == pytest.approx(2.4, abs=0.05)
    assert column.method == "from 10 m"
    assert Column("wind", "x", "m/s", 2.0).method == ""


def test_every_variable_has_bounds_and_every_unit_a_spelling() -> None:
    for quantity in QUANTITIES.values():
        assert quantity.span in names.QUANTITIES
        assert all(SPELLINGS[unit] for unit in UNITS[quantity.measure])
    spelt = [way for ways in SPELLINGS.values() for way in ways]
    assert len(spelt) == len(set(spelt))


def test_what_is_read_is_what_reference_et_takes() -> None:
    """All but rain, which is no part of ET0, and cloud, which services tell and home instruments do not."""
    taken = {quantity.variable for quantity in QUANTITIES.values()} - {"rain_mm"}
    assert taken == set(DayInputs.__dataclass_fields__) - {"day", "cloud_fraction"}
