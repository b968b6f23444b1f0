"""Weather files from text on disk to values for the book. The text stands in each test."""

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherValue
from soakbook.weather.column_map import ColumnMap, columns_said
from soakbook.weather.files import WeatherFile, read_weather_file
from soakbook.weather.reference_et import Site

SITE = Site(52.3, 62.0)
NOW = datetime(2031, 7, 15, 6, 40, tzinfo=ZoneInfo("Europe/London"))

Reader = Callable[..., WeatherFile]


@pytest.fixture
def read(tmp_path: Path) -> Reader:
    """Reads a text as a file called shed.csv; said are texts or a whole map."""

    def reader(
        text: str | bytes, *said: str, columns: ColumnMap | None = None, gaps_allowed: bool = False
    ) -> WeatherFile:
        path = tmp_path / "shed.csv"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        column_map = columns if columns is not None else columns_said(said)
        return read_weather_file(path, SITE, NOW, column_map, gaps_allowed=gaps_allowed)

    return reader


def values(found: WeatherFile, variable: str) -> dict[int, float]:
    return {value.day.day: value.value for value in found.values if value.variable == variable}


def the_value(found: WeatherFile, variable: str, day: date) -> WeatherValue:
    (value,) = (v for v in found.values if (v.day, v.variable) == (day, variable))
    return value


FULL = """date,rain_mm,tmin_c,tmax_c,tmean_c,rh_mean_pct,rhmin_pct,rhmax_pct,sun_h,rs_mj,wind10_ms,ea_kpa,tdew_c
2031-04-01,0.4,4.1,13.9,9.2,71,55,92,7.0,14.2,3.2,0.85,4.4
2031-04-02,2.6,5.0,12.0,8.4,80,70,95,1.0,8.0,4.0,0.90,5.1
"""
EVERY_VARIABLE = [
    "rain_mm",
    "tmin_c",
    "tmax_c",
    "tmean_c",
    "rh_mean_percent",
    "rhmin_percent",
    "rhmax_percent",
    "sunshine_h",
    "radiation_mj_m2_day",
    "wind_2m_m_per_s",
    "vapour_pressure_kpa",
    "dew_point_c",
    "et0_mm",
]


def test_every_variable_arrives_under_its_name(read: Reader) -> None:
    found = read(FULL)
    first = [value for value in found.values if value.day == date(2031, 4, 1)]
    assert [value.variable for value in first] == EVERY_VARIABLE
    assert {value.kind for value in first} == {"measured"}
    assert {value.source for value in first} == {"shed.csv"}
    assert {value.fetched_at for value in first} == {NOW}
    assert (found.first, found.last) == (date(2031, 4, 1), date(2031, 4, 2))
    assert found.left_out == ()
    assert found.findings == ()


def test_wind_is_kept_at_two_metres_and_says_from_where(read: Reader) -> None:
    """FAO-56 Ex. 14, p. 56: 3.2 m/s at 10 m are 2.4 at 2 m."""
    wind = the_value(read(FULL), "wind_2m_m_per_s", date(2031, 4, 1))
    assert wind.value == pytest.approx(2.4, abs=0.05)
    assert wind.method == "from 10 m"


def test_a_station_in_its_own_words_and_units(read: Reader) -> None:
    """An American console: names of its own, °F, inches, mph, W/m2, month first, blanks where
    nothing was.
    """
    text = """Day,High,Low,Precip,Gust,Wind,Solar,Hum
3/31/2031,68.0,41.0,0.50,31,10.0,200,72
4/1/2031,59.0,32.0,,28,5.0,150,80
"""
    found = read(
        text,
        "tmax=High:F",
        "tmin=Low:F",
        "rain=Precip:in",
        "wind=Wind:mph@2m",
        "radiation=Solar:W/m2",
        "rh=Hum:%",
    )
    assert values(found, "tmax_c") == pytest.approx({31: 20.0, 1: 15.0})
    assert values(found, "tmin_c") == pytest.approx({31: 5.0, 1: 0.0})
    assert values(found, "rain_mm") == pytest.approx({31: 12.7})
    assert values(found, "wind_2m_m_per_s") == pytest.approx({31: 4.4704, 1: 2.2352})
    assert values(found, "radiation_mj_m2_day") == pytest.approx({31: 17.28, 1: 12.96})
    assert found.column_map.date_order == "mdy"
    assert found.left_out == ("'Gust': not understood",)
    assert found.findings == ("no rain value, which is not the same as dry: 2031-04-01",)


def test_the_map_of_one_file_reads_the_next(read: Reader) -> None:
    said = ColumnMap(
        columns=columns_said(["tmax=High:F", "tmin=Low:F"]).columns, source="Shed roof"
    )
    first = read("date,High,Low\n31.03.2031,68,41\n", columns=said)
    # alone, 1.4.2031 could be read two ways
    second = read("date,High,Low\n01.04.2031,59,32\n", columns=first.column_map)
    assert second.first == date(2031, 4, 1)
    assert {value.source for value in second.values} == {"Shed roof"}
    assert values(second, "tmin_c") == pytest.approx({1: 0.0})


def test_a_blank_rain_is_a_gap_and_a_nought_is_a_dry_day(read: Reader) -> None:
    found = read("date,rain_mm\n2031-04-01,\n2031-04-02,0\n2031-04-03,-9999\n2031-04-04,tr\n")
    assert values(found, "rain_mm") == {2: 0.0, 4: 0.0}
    assert the_value(found, "rain_mm", date(2031, 4, 4)).method == "trace"
    assert (
        found.findings[0] == "no rain value, which is not the same as dry: 2031-04-01, 2031-04-03"
    )


@pytest.mark.parametrize("mark", ["", "NA", "n/a", "NaN", "--", "-9999", "-9999.00", "-99", "*"])
def test_marks_of_nothing_measured(read: Reader, mark: str) -> None:
    found = read(f"date,tmax_c,rain_mm\n2031-04-01,{mark},1\n", columns=ColumnMap(missing=("*",)))
    assert values(found, "tmax_c") == {}
    assert values(found, "rain_mm") == {1: 1.0}


def test_et0_is_ours_and_a_column_of_it_is_kept_out(read: Reader) -> None:
    found = read("date,tmin_c,tmax_c,et0_mm\n2031-07-01,10,22,99\n")
    et0 = the_value(found, "et0_mm", date(2031, 7, 1))
    assert 2 < et0.value < 6
    assert et0.kind == "measured"
    assert et0.method.startswith("FAO-56 Penman-Monteith, pyet ")
    assert et0.method.endswith("; wind taken as 2 m/s")
    assert found.left_out[0].startswith("'et0_mm': ET0 is reckoned here")
    assert found.findings == (
        "ET0 with humidity from the night's low on 1 of 1 days",
        "ET0 with sun from the day's range of temperature on 1 of 1 days",
        "ET0 with wind taken as 2 m/s on 1 of 1 days",
    )


def test_a_day_without_its_temperatures_has_no_et0_and_it_is_said(read: Reader) -> None:
    found = read("date,tmin_c,tmax_c,rain_mm\n2031-07-01,10,22,0\n2031-07-02,,22,0\n")
    assert set(values(found, "et0_mm")) == {1}
    assert "no ET0, for want of lowest and highest temperature: 2031-07-02" in found.findings


def test_rows_may_come_in_any_order(read: Reader) -> None:
    found = read("date,rain_mm\n2031-04-02,2\n2031-04-01,1\n")
    assert [value.value for value in found.values] == [1.0, 2.0]


GAPPY = """date,tmin_c,tmax_c,rain_mm
2031-04-01,2,10,1.0
2031-04-03,4,14,0
2031-04-08,5,15,0
"""


def test_missing_days_are_listed_and_nothing_is_imported(read: Reader) -> None:
    with pytest.raises(InputError) as fault:
        read(GAPPY)
    assert str(fault.value) == (
        "days of shed.csv: 'without 2031-04-02, 2031-04-04 to 2031-04-07' cannot be right; "
        "a row for every day, or --gaps: up to three days running are then filled"
    )


BLANK = """date,tmin_c,tmax_c,rain_mm
2031-04-01,,10,1.0
2031-04-02,2,10,1.0
2031-04-03,,,0
2031-04-04,4,14,0
2031-04-05,4,,0
"""


def test_a_blank_temperature_between_others_is_a_gap_like_a_missing_row(read: Reader) -> None:
    with pytest.raises(InputError, match=r"of shed\.csv: 'without 2031-04-03' .*--gaps"):
        read(BLANK)
    assert values(read(BLANK, gaps_allowed=True), "tmin_c")[3] == 3.0


def test_short_gaps_are_filled_when_allowed_and_marked(read: Reader) -> None:
    found = read(GAPPY, gaps_allowed=True)
    assert values(found, "tmin_c") == {1: 2.0, 2: 3.0, 3: 4.0, 8: 5.0}
    assert values(found, "rain_mm") == {1: 1.0, 3: 0.0, 8: 0.0}
    low, et0 = (the_value(found, name, date(2031, 4, 2)) for name in ("tmin_c", "et0_mm"))
    assert (low.kind, low.method) == ("filled", "mean of the days either side")
    assert et0.kind == "filled"
    assert et0.method.endswith("; from the mean of the days either side")
    assert the_value(found, "et0_mm", date(2031, 4, 1)).kind == "measured"
    assert found.findings[:3] == (
        "filled with the mean of the days either side, all but rain: 2031-04-02",
        "no rain value, which is not the same as dry: 2031-04-02, 2031-04-04 to 2031-04-07",
        "no ET0, for want of lowest and highest temperature: 2031-04-04 to 2031-04-07",
    )


def test_a_gauge_read_at_breakfast_is_shared_by_hours(read: Reader) -> None:
    """Read at 09:00 and booked to the day before: of 2 April, 9 h of 24 mm and 15 h of none."""
    text = "date,rain_mm\n2031-04-01,24\n2031-04-02,0\n"
    found = read(text, columns=ColumnMap(rain_day="09:00 before"))
    assert values(found, "rain_mm") == {2: 9.0}
    rain = the_value(found, "rain_mm", date(2031, 4, 2))
    assert (rain.kind, rain.method) == (
        "measured",
        "shared by hours from the reading, booked 09:00 before",
    )


def test_instruments_that_look_stuck_are_named(read: Reader) -> None:
    rows = "".join(f"2031-04-{n:02},0.0\n" for n in range(1, 11))
    found = read(f"date,wind2_ms\n{rows}")
    assert (
        found.findings[0]
        == "wind stood at one value on 2031-04-01 to 2031-04-10: likely a stuck cup"
    )


def test_a_day_that_is_not_over_is_named(read: Reader) -> None:
    found = read("date,rain_mm\n2031-07-14,0\n2031-07-15,0.2\n")
    assert found.findings[0].startswith("2031-07-15 was not over when the file was read")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "date,tmax_c\n2031-04-03,84.0\n",
            "highest temperature on 2031-04-03, column 'tmax_c': '84.0' cannot be right; "
            "from -60 to 60 °C; "
            "it looks like F: say tmax=tmax_c:F",
        ),
        ("date,tmin_c\n2031-04-03,-84.0\n", "'-84.0' cannot be right; from -60 to 60 °C"),
        (
            "date;rain_mm\n2031-04-03;1,5\n",
            "rain on 2031-04-03, column 'rain_mm': '1,5' cannot be right; "
            "a number with a point; if the file writes 12,5 with a comma, say --comma",
        ),
        ("date,rain_mm\n2031-04-03,wet\n", "'wet' cannot be right; a number, or nothing"),
        ("date,rain_mm\n2031-04-03,1_000\n", "a number, or nothing"),
        (
            "date,rain_mm\n2031-04-03,-0.5\n",
            "rain on 2031-04-03, column 'rain_mm': '-0.5' cannot be right; from 0 to 500 mm",
        ),
        ("date,rain_mm\n2031-04-03,1e999\n", "from 0 to 500 mm"),
        ("date,rh_pct\n2031-04-03,110\n", "from 0 to 101 %"),
        ("date,wind2_ms\n2031-04-03,70\n", "it looks like km/h: say wind=wind2_ms:km/h@2m"),
        ("date,rs_mj\n2031-04-03,180\n", "it looks like W/m2: say radiation=rs_mj:W/m2"),
        ("date,tmin_c,tmax_c\n2031-04-03,12,11\n", "lowest temperature on 2031-04-03"),
        (
            "date,rain_mm\n2031-04-03,1\n2031-04-03,1\n",
            "day on line 3: '2031-04-03' cannot be right; a day once; it is on line 2 too",
        ),
        ("date,rain_mm\n1/4/2031,1\n", "dmy if it is 2031-04-01, mdy if it is 2031-01-04"),
        ("date,rain_mm\n2031-04-31,1\n", "date on line 2"),
        (
            "date,Wind\n2031-04-03,3\n",
            "wind: 'Wind' cannot be right; a stated unit: wind=Wind:m/s@2m",
        ),
        ("", "it is empty"),
    ],
)
def test_faults_name_the_day_the_column_the_value_and_what_would_be_right(
    read: Reader, text: str, message: str
) -> None:
    with pytest.raises(InputError) as fault:
        read(text)
    assert message in str(fault.value)


def test_minus_99_is_not_a_temperature_but_minus_40_is(read: Reader) -> None:
    assert values(read("date,tmin_c\n2031-01-01,-40\n2031-01-02,-99\n"), "tmin_c") == {1: -40.0}


def test_a_file_in_old_encoding_with_semicolons(read: Reader) -> None:
    text = "date;Tmin (°C);Tmax (°C)\r\n01.04.2031;2.5;12.5\r\n13.04.2031;2.5;12.5\r\n"
    found = read(text.encode("latin-1"), gaps_allowed=True)
    assert values(found, "tmax_c") == {1: 12.5, 13: 12.5}


@pytest.mark.parametrize("name", ["nowhere.csv", "."])
def test_a_file_that_cannot_be_read_is_an_input_error(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError, match="a file that can be read"):
        read_weather_file(tmp_path / name, SITE, NOW)


def test_a_file_larger_than_any_table_of_weather_is_not_read_to_its_end(tmp_path: Path) -> None:
    """Of nothing but a hole: it takes no room on the disk, and would be held in memory whole."""
    path = tmp_path / "shed.csv"
    with path.open("wb") as file:
        file.truncate(10_000_000_000)
    with pytest.raises(InputError, match="at most 50 MB; cut it into several"):
        read_weather_file(path, SITE, NOW)
