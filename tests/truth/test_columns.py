"""Which column is what: by the header's words, by the record's map, in units it states or not."""

import pytest

from soakbook.errors import InputError
from soakbook.truth.columns import columns_of
from soakbook.truth.probes import ROOT_ZONE, Probe, at


@pytest.mark.parametrize(
    ("header", "depth", "in_percent"),
    [
        ("vwc_5", 5, False),
        ("vwc5", 5, False),
        ("VWC_05_cm", 5, False),
        ("soil_moisture_10", 10, False),
        ("vwc_7.5_pct", 7.5, True),
    ],
)
def test_soil_water(header: str, depth: float, in_percent: bool) -> None:
    (found,) = columns_of(["date", header], {}, None).vwc.items()
    assert found[0] == at(depth)
    assert found[1].in_percent is in_percent


@pytest.mark.parametrize(
    ("header", "quantity", "unit", "height_m"),
    [
        ("wind_m_s", "wind", "m/s", None),
        ("wind_ms_3m", "wind", "m/s", 3.0),
        ("u2", "wind", "m/s", 2.0),
        ("wind_km_h", "wind", "km/h", None),
        ("rs_mj", "radiation", "MJ/m2", None),
        ("rs_wm2", "radiation", "W/m2", None),
        ("sun_h", "sun", "h", None),
        ("vp_hpa", "vapour", "hPa", None),
        ("rh_mean_pct", "rh", "%", None),
        ("rhmin", "rhmin", "%", None),
        ("tair_c", "tmean", "C", None),
    ],
)
def test_weather(header: str, quantity: str, unit: str, height_m: float | None) -> None:
    (found,) = columns_of(["date", header], {}, None).weather.columns
    assert (found.quantity, found.header, found.unit, found.height_m) == (
        quantity,
        header,
        unit,
        height_m,
    )


def test_the_map_goes_before_the_words() -> None:
    headers = ["day of data", "vwc_5", "swc1_pct", "P", "et_ec_mm", "le_qc", "vpd_hpa"]
    said = {
        "date": "day of data",
        "vwc_5": "-",
        "vwc_12_pct": "swc1_pct",
        "rain_mm": "P",
        "et_ec_mm": "et_mm",
        "et_quality": "le_qc",
    }
    found = columns_of(headers, said, None)
    assert found.weather.date_header == "day of data"
    assert [(probe, one.header, one.in_percent) for probe, one in found.vwc.items()] == [
        (at(12), "swc1_pct", True)
    ]
    assert found.et is not None
    assert found.et.header == "et_ec_mm"
    assert found.vpd is not None
    assert found.vpd.factor == pytest.approx(0.1)
    assert [one.header for one in found.weather.columns] == ["P"]


def test_what_is_left_out_is_said() -> None:
    found = columns_of(["date", "tmin_c", "temp_min_c", "et0_mm", "swc_1"], {}, None)
    assert any("reference evaporation" in one for one in found.findings)
    assert any("'swc_1'" in one for one in found.findings)
    assert any("'temp_min_c'" in one for one in found.findings)


def test_a_depth_in_metres_is_refused() -> None:
    with pytest.raises(InputError, match="in centimetres"):
        columns_of(["date", "vwc_0.3"], {}, None)


@pytest.mark.parametrize(
    ("header", "probe"),
    [
        ("vwc_0_65", Probe(65, 0)),
        ("vwc_0-65", Probe(65, 0)),
        ("vwc_10_30_cm_pct", Probe(30, 10)),
        ("vwc_mean", ROOT_ZONE),
        ("vwc", ROOT_ZONE),
    ],
)
def test_means_of_layers(header: str, probe: Probe) -> None:
    (found,) = columns_of(["date", header], {}, None).vwc
    assert found == probe


def test_a_layer_upside_down_is_none() -> None:
    found = columns_of(["date", "vwc_10_2"], {}, None)
    assert found.vwc == {}
    assert any("'vwc_10_2'" in one for one in found.findings)


def test_water_given_and_cover_are_columns() -> None:
    found = columns_of(["date", "irrigation_mm", "kcb", "ground_cover_pct"], {}, None)
    assert [one.header for one in (found.given, found.kcb, found.ground_cover) if one] == [
        "irrigation_mm",
        "kcb",
        "ground_cover_pct",
    ]
