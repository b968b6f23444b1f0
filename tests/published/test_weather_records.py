"""Measured records read as a gardener would give them; the specimen garden's own weather.

Counts and sums are those of the records in data/, by their own columns; origins, years and licences stand in
data/README.md: KNMI station 260 De Bilt 2014-2019; U.S. Climate Reference Network daily files 2010-2017 (Diamond et
al. 2013); FLUXNET2015 US-AR1 2009-2012 (Pastorello et al. 2020). The specimen's own check is its source's column
eto_mm in weather.csv.
"""

import csv
from datetime import UTC, date, datetime
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from soakbook.weather.files import WeatherFile, read_weather_file
from soakbook.weather.reference_et import Site

DATA = Path(__file__).parents[2] / "data"
NOW = datetime(2031, 12, 1, tzinfo=UTC)


def yearly(found: WeatherFile, variable: str) -> dict[int, float]:
    sums: dict[int, float] = {}
    for value in found.values:
        if value.variable == variable:
            sums[value.day.year] = sums.get(value.day.year, 0.0) + value.value
    return sums


def test_de_bilt() -> None:
    """KNMI station 260, 2014-2019, no gaps. Yearly rain as the station's own sums, to the
    millimetre.

    ET0 a year lies between KNMI's Makkink (591 to 671 mm) and a quarter more: Makkink takes no
    account of wind.
    """
    found = read_weather_file(DATA / "debilt_nl_daily_2014_2019.csv", Site(52.1, 2.0), NOW)
    assert found.findings == ()
    rain = list(yearly(found, "rain_mm").values())
    assert rain == pytest.approx([873, 853, 838, 948, 582, 934], abs=0.55)
    assert all(591 < mm < 1.25 * 671 for mm in yearly(found, "et0_mm").values())
    assert len(found.values) == 2191 * 11


def test_bedford_has_eight_days_without_weather_and_no_wind() -> None:
    """US Climate Reference Network, 2010 to 4 October 2017: eight lone days, filled but for rain."""
    found = read_weather_file(
        DATA / "uscrn_bedford_in_daily_2010_2017.csv", Site(38.89, 232.0), NOW, gaps_allowed=True
    )
    without = [finding for finding in found.findings if finding.startswith("no rain value")]
    assert without[0].count("20") == 8
    assert found.findings[-1] == "ET0 with wind taken as 2 m/s on 2834 of 2834 days"


def test_manhattan_is_filled_only_over_short_gaps() -> None:
    """The awkward record: thirteen days in short gaps come back, eight in November 2011 do not."""
    found = read_weather_file(
        DATA / "uscrn_manhattan_ks_daily_2010_2017.csv", Site(39.1, 347.0), NOW, gaps_allowed=True
    )
    filled = {value.day for value in found.values if value.kind == "filled"}
    known = {value.day for value in found.values if value.variable == "et0_mm"}
    november = {date(2011, 11, day) for day in range(22, 30)}
    assert len(filled) == 13
    assert filled <= known
    assert not november & known
    assert not {
        value for value in found.values if value.kind == "filled" and value.variable == "rain_mm"
    }


def test_a_tower_without_highs_and_lows_gives_no_et0() -> None:
    """US-AR1 has mean temperature only, and its wind at 3 m."""
    found = read_weather_file(DATA / "us_ar1_fluxnet_daily_2009_2012.csv", Site(36.43, 611.0), NOW)
    assert not yearly(found, "et0_mm")
    assert found.findings == (
        "no ET0, for want of lowest and highest temperature: 2009-01-01 to 2012-12-31",
    )
    assert "wind from 'wind_ms_3m' in m/s, measured at 3 m" in found.taken


def test_the_specimen_gardens_et0_is_its_own_column() -> None:
    """eto_mm is FAO-56 on the same rows, reckoned when the garden was invented: within 0.04 mm a
    day.
    """
    with as_file(files("soakbook.specimen") / "source" / "weather.csv") as path:
        found = read_weather_file(path, Site(52.3, 62.0), NOW)
        with path.open(newline="") as text:
            printed = {row["date"]: float(row["eto_mm"]) for row in csv.DictReader(text)}
    ours = {
        value.day.isoformat(): value.value for value in found.values if value.variable == "et0_mm"
    }
    assert ours == pytest.approx(printed, abs=0.04)
    assert found.findings == ()
