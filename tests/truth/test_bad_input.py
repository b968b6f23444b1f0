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


def on_first(**values: str) -> list[Row]:
    found = rows()
    found[0] |= values
    return found


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
        ({"sensor_depths_cm": "[10, 50]"}, "sensor_depths_cm", "a column vwc_50"),
        ({"cover": '"lawn"'}, "cover", "'grass'"),
        ({"cover": "{kcb = 0.9}"}, "cover: ground_cover", "both"),
        ({"cover": "{kcb = 0.9, ground_cover = 95}"}, "cover: ground_cover", "0.95 for 95"),
        ({"cover": '[{from = "31-04", kcb = 0.9, ground_cover = 0.9}]'}, "from", "04-01"),
        ({"wind_height_m": "0"}, "wind_height_m", "0.5 to 100"),
        ({"from": "2015-04-10", "to": "2015-04-01"}, "to", "not before from"),
        ({"from": "2020-01-01"}, "from, to and months", "days of the file"),
        ({"months": "[13]"}, "months", "numbers of months"),
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
        ([*rows(), dict(ROWS[3])], "day on line", "a day once"),
        (on_first(rain_mm="-3"), "rain on 2015-04-01", "from 0 to 500"),
        (on_first(rain_mm="lots"), "rain on 2015-04-01", "a number"),
        (on_first(vwc_10="wet"), "vwc_10 on 2015-04-01", "a number"),
        (on_first(tmin_c="40"), "lowest temperature on 2015-04-01", "at most"),
        (rows(lambda row: row | {"vwc_10": "", "vwc_30": ""}), "columns vwc_<cm>", "some days"),
        (rows(lambda row: row | {"rh_pct": "0.7"}), "highest of column 'rh_pct'", "per cent"),
        (rows(lambda row: row | {"vpd": "0.7"}), "unit of vpd", "vpd_kpa or vpd_hpa"),
        (rows(lambda row: row | {"vpd_kpa": "17"}), "vpd, column 'vpd_kpa'", "is the unit right"),
        (rows(lambda row: row | {"date": row["date"][:7]}), "date on line", "a day like"),
    ],
)
def test_a_table_that_cannot_be_right(
    tmp_path: Path, found: list[Row], field: str, right: str
) -> None:
    with pytest.raises(InputError) as refused:
        read(write(tmp_path, found, {"sensor_depths_cm": None}))
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
