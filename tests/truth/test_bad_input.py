"""What others bring that cannot be right: refused by name, or read with a finding; never a traceback."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from soakbook.errors import InputError
from tests.truth.made import Row, read, weather, write

ROWS = weather(date(2015, 4, 1), 40)


def rows(change: Callable[[Row], Row] = lambda row: row) -> list[Row]:
    return [change(dict(row)) for row in ROWS]


def renamed(old: str, new: str) -> list[Row]:
    return rows(lambda row: {new if key == old else key: value for key, value in row.items()})


def on_first(days: int = 1, **values: str) -> list[Row]:
    found = rows()
    return [row | values for row in found[:days]] + found[days:]


def without(*names: str) -> list[Row]:
    return rows(lambda row: {key: value for key, value in row.items() if key not in names})


@pytest.mark.parametrize(
    ("said", "field", "right"),
    [
        ({"latitude_deg": None}, "latitude_deg", "degrees north"),
        ({"latitude_deg": "95"}, "latitude_deg", "-90 to 90"),
        ({"soil": None}, "soil", "a class"),
        ({"soil": '"chalk"'}, "soil", "known"),
        ({"soil": "3"}, "soil", "a class"),
        ({"soil": "{sand = 0.2}"}, "sand and clay", "both"),
        ({"soil": "{sand = 0.7, clay = 0.5}"}, "sand and clay", "together at most 1"),
        ({"soil": "{sand_fraction = 20, clay_fraction = 15}"}, "soil: sand_fraction", "0.2 for 20"),
        ({"soil": "{sand = 120, clay = 15}"}, "soil: sand", "per cent up to 100"),
        (
            {"soil": "{sand = 0.2, clay = 0.1, organic_matter = 30}"},
            "soil: organic_matter",
            "8 per cent",
        ),
        ({"root_depth_m": "50"}, "root_depth_m", "0.6 for 60 cm"),
        ({"root_depth_m": "0.08"}, "root_depth_m", "at least as deep as a sensor, 10 cm"),
        ({"sensor_depths_cm": "[0.1, 0.3]"}, "sensor_depths_cm", "look like metres"),
        ({"sensor_depths_cm": "[10, 10]"}, "sensor_depths_cm", "each depth once"),
        ({"sensor_depths_cm": "[20, 50]"}, "sensor_depths_cm", "vwc_10, vwc_30"),
        ({"cover": '"maize"'}, "cover", "'grass'"),
        ({"cover": "{kcb = 0.9}"}, "cover: ground_cover", "both"),
        ({"cover": "{kcb = 0.9, ground_cover = 120}"}, "cover: ground_cover", "up to 100"),
        ({"cover": '[{from = "31-04", kcb = 0.9, ground_cover = 0.9}]'}, "from", "04-01"),
        ({"wind_height_m": "0"}, "wind_height_m", "0.5 to 100"),
        ({"from": "2015-04-10", "to": "2015-04-01"}, "to", "not before from"),
        ({"from": "2020-01-01"}, "from, to and months", "days of the file"),
        ({"months": "[13]"}, "months", "months like"),
        ({"months": "[1, 2]"}, "from, to and months", "write months = [4, 5]"),
        ({"dates": '"us"'}, "dates", "dmy"),
        ({"root_depth_cm": "50"}, "root_depth_cm", "root_depth_m says it"),
        (
            {"soil": "{sand = 20, clay = 15, organic_matter = 0.025}"},
            "soil: organic_matter",
            "organic_matter_fraction = 0.025, which is 2.5",
        ),
        (
            {"soil": "{sand = 0.2, clay = 0.15, organic_matter = 0.1}"},
            "soil: organic_matter",
            "organic_matter_percent = 0.1",
        ),
        ({"csv": '"elsewhere.csv"'}, "csv", "a file beside"),
        ({"columns": '{vwc_10 = "probe"}'}, "columns: vwc_10", "a column of the file"),
        ({"columns": '{humus = "vwc_10"}'}, "columns", "one of date"),
        ({"targets": "{rmse = 0.1}"}, "targets", "one of ub"),
        ({"latitude": "48"}, "latitude", "latitude_deg says it"),
    ],
)
def test_a_description_that_cannot_be_right(
    tmp_path: Path, said: dict[str, str | None], field: str, right: str
) -> None:
    with pytest.raises(InputError) as refused:
        read(write(tmp_path, rows(), said))
    assert field in refused.value.field
    assert right in refused.value.right


@pytest.mark.parametrize(
    ("found", "field", "right"),
    [
        (without("rain_mm"), "column of rain", "rain_mm"),
        (without("tmin_c", "tmax_c"), "columns of temperature", "tmean_c"),
        (without("vwc_10", "vwc_30"), "measured columns", "vwc_<cm>"),
        (renamed("date", "when"), "column of days", "date"),
        ([*rows(), ROWS[3] | {"rain_mm": "77"}], "day on line", "a day once"),
        (on_first(6, rain_mm="-3"), "rain on 2015-04-01", "from 0 to 500 mm (so on 6 of 40 days)"),
        (on_first(6, rain_mm="lots"), "rain on 2015-04-01", "a number"),
        (on_first(6, vwc_10="wet"), "vwc_10 on 2015-04-01", "a number"),
        (on_first(6, tmin_c="40"), "lowest temperature on 2015-04-01", "at most"),
        (rows(lambda row: row | {"ea_kpa": "9"}), "vapour pressure on", 'write ea_hpa = "ea_kpa"'),
        (
            rows(lambda row: row | {"tmax_c": "70"}),
            "highest temperature",
            'write tmax_f = "tmax_c"',
        ),
        (rows(lambda row: row | {"et_mm": "-4"}), "et on 2015-04-01", "from -2 to 25"),
        (rows(lambda row: row | {"kcb": "0.9"}), "column of ground_cover", "both"),
        (
            rows(lambda row: row | {"date": f"{row['date'][8:]}/05/2015"})[:12],
            "dates",
            'dates = "dmy"',
        ),
        (rows(lambda row: row | {"vwc_10": "", "vwc_30": ""}), "columns vwc_<cm>", "some days"),
        (rows(lambda row: row | {"rh_pct": "0.7"}), "highest of column 'rh_pct'", "per cent"),
        (rows(lambda row: row | {"vpd": "0.7"}), "unit of vpd", "vpd_kpa or vpd_hpa"),
        (
            rows(lambda row: row | {"vpd_kpa": "17"}),
            "vpd on 2015-04-01, column 'vpd_kpa'",
            "is the unit right",
        ),
        (rows(lambda row: row | {"date": row["date"][:7]}), "date on line", "a day like"),
    ],
)
def test_a_table_that_cannot_be_right(
    tmp_path: Path, found: list[Row], field: str, right: str
) -> None:
    with pytest.raises(InputError) as refused:
        read(write(tmp_path, found, {"sensor_depths_cm": None, "cover": None}))
    assert field in refused.value.field
    assert right in refused.value.right


@pytest.mark.parametrize(
    ("said", "found", "words"),
    [
        ({"soil": "{sand = 20, clay = 15}"}, rows(), "taken as per cent"),
        ({"soil": '{class = "clay", sand = 0.2, clay = 0.15}'}, rows(), "make silt loam, not clay"),
        ({"soil": "{sand = 0.2, clay = 0.15, organic_matter = 3}"}, rows(), "organic matter of 3"),
        ({"soil": '"unknown"'}, rows(), "taken as loam"),
        ({"elevation_m": None}, rows(), "taken as sea level"),
        ({"cover": None}, rows(), "taken as grass"),
        ({"root_depth_m": None}, rows(), "taken as the lowest sensor's, 0.3 m"),
        ({"wind_height_m": None}, rows(), "taken as measured at 2 m"),
        ({"cover": "{kcb = 0.9, ground_cover = 95}"}, rows(), "above 1 is taken as per cent"),
        ({"cover": '{type = "lawn", height = 3}'}, rows(), "left out: cover: height"),
        ({"cover": "[{date = 2015-04-01, kcb = 0.9, cover = 0.9}]"}, rows(), "ends on 2015-04-01"),
        ({"sensor_depths_cm": "[10, 20]"}, rows(), "done without: 20 cm"),
        ({"soil": '{class = "silt loam", organic_matter = 4}'}, rows(), "organic matter of 4"),
        (
            {"soil": '{class = "silt loam", organic_matter = 0.04}'},
            rows(),
            "a fraction, 4 per cent",
        ),
        ({}, on_first(rain_mm="-0.1"), "rain, column 'rain_mm': 1 value of 40 left out"),
        ({}, on_first(5, tmin_c="40"), "lowest temperature, column 'tmin_c': 5 values of 40"),
        ({}, on_first(vwc_10="broken"), "'broken' on 2015-04-01"),
        ({}, on_first(rain_mm="T"), "1 traces taken as nothing"),
        (
            {},
            on_first(rain_mm="-9999"),
            "cells of -9999 or the like taken as not measured: rain_mm 1",
        ),
        ({}, on_first(vwc_10="-9999"), "column 'vwc_10': 1 cells of -9999"),
        ({}, rows(lambda row: row | {"rh_pct": "104"}), "capped at 100 on 40 days"),
        (
            {},
            rows(lambda row: row | {"tdew_c": f"{float(row['tmax_c']) + 2:.1f}"}),
            "dew point, column 'tdew_c': capped",
        ),
        ({}, on_first(rs_mj="45"), "radiation of a day, column 'rs_mj': 1 value of 40"),
        ({}, [*rows(), dict(ROWS[3])], "rows left out that say again what another says: 1"),
        ({}, on_first(percolation_mm="-0.01"), "percolation: 1 value below 0, left as measured"),
        ({}, rows(lambda row: row | {"percolation_mm": "-1"}), "is the sign right?"),
        ({}, on_first(et_mm="-5.5"), "et, column 'et_mm': 1 value of 1 left out"),
        ({}, on_first(irrigation_mm="12"), "12 mm on 1 day counted as rain"),
        ({}, rows(lambda row: row | {"kcb": "1"}), "its columns are left out: 'kcb'"),
        (
            {},
            [dict.fromkeys(ROWS[0], "") | {"date": "-", "rain_mm": "mm"}, *rows()],
            "taken for units",
        ),
        ({"colour": '"brown"'}, rows(), "not understood, and left out: colour"),
        ({}, rows(lambda row: row | {"vwc_10": "31.5"}), "sensor at 10 cm taken as per cent"),
        ({}, on_first(vwc_10="1.7"), "1 readings below 0 or above 1 left out"),
        ({}, rows(lambda row: row | {"vwc_10": "0.31"}), "unchanged for 30 days"),
        (
            {"sensor_depths_cm": "[10, 30]"},
            rows(lambda row: row | {"vwc_50": "0.4"}),
            "not among sensor_depths_cm",
        ),
        ({"root_depth_m": "0.2"}, rows(), "below the roots, and left out: the sensor at 30 cm"),
        ({}, list(reversed(rows())), "put in order"),
        ({}, rows()[:20] + rows()[25:], "5 days have no row"),
        ({}, renamed("rain_mm", "rain"), "'rain' taken to be in mm"),
        ({}, rows(lambda row: row | {"sap_flow": "3"}), "not understood, and left out: 'sap_flow'"),
    ],
)
def test_what_is_read_with_a_word(
    tmp_path: Path, said: dict[str, str | None], found: list[Row], words: str
) -> None:
    record, series = read(write(tmp_path, found, {"sensor_depths_cm": None, **said}))
    assert any(words in one for one in (*record.findings, *series.findings))


def test_a_file_that_is_none(tmp_path: Path) -> None:
    path = tmp_path / "record.toml"
    with pytest.raises(InputError, match="can be read"):
        read(path)
    path.write_text("latitude_deg = ")
    with pytest.raises(InputError, match="TOML"):
        read(path)
