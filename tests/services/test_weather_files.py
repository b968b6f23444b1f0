"""Weather from a file: whole or not at all, remembered, and shown with how it was made."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from soakbook.errors import InputError
from soakbook.garden.weather import WeatherValue
from soakbook.services.entries import rain
from soakbook.services.weather_files import import_file
from soakbook.services.weather_report import weather_report
from soakbook.store.book import open_book
from soakbook.store.weather_rows import add_weather
from tests.services.looking import NOW, Refused, at, look_at, pages_of, said

DATA = Path(__file__).parents[2] / "data"

Write = Callable[..., Path]

DAYS = (
    "2031-05-10,4.0,17.0,0",
    "2031-05-11,5.0,18.0,2.4",
    "2031-05-12,6.0,19.0,0",
    "2031-05-13,7.0,20.0,0",
)


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Write a weather file."""

    def written(*rows: str, header: str = "date,tmin_c,tmax_c,rain_mm") -> Path:
        file = tmp_path / "shed.csv"
        file.write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
        return file

    return written


def test_a_file_brings_its_days_with_reference_et(new_book: Path, write: Write) -> None:
    answer = import_file(new_book, write(*DAYS), now=NOW, name="the shed")
    days = pages_of(new_book).weather
    assert [day.day.day for day in days] == [10, 11, 12, 13]
    assert days[1].rain_mm == 2.4
    assert all(day.et0_mm is not None for day in days)
    assert days[0].sources["tmin_c"] == ("the shed", "measured", "")
    assert "pyet" in days[0].sources["et0_mm"][2]
    assert said(answer).startswith(
        "the shed: 4 days from 10 May 2031 to 13 May 2031, all of it new."
    )
    assert "rain from 'rain_mm' in mm" in said(answer)


def test_a_file_of_hours_brings_days_and_its_clock_is_remembered(
    new_book: Path, write: Write
) -> None:
    def hours(first: int, last: int) -> list[str]:
        """From 01:00 of a day of May to 24:00 of another, 0.1 mm an hour."""
        return [
            f"2031-05-{day} {hour:02}:00,{10 + hour / 2},0.1"
            for day in range(first, last + 1)
            for hour in range(1, 25)
        ]

    header = "date,temp_c,rain_mm"
    with pytest.raises(InputError, match="clock of the file is missing"):
        import_file(new_book, write(*hours(10, 12), header=header), now=NOW, name="the shed")
    assert pages_of(new_book).weather == ()
    import_file(
        new_book, write(*hours(10, 12), header=header), now=NOW, name="the shed", clock="local"
    )
    answer = import_file(new_book, write(*hours(12, 14), header=header), now=NOW, name="the shed")
    days = pages_of(new_book).weather
    assert [day.day.day for day in days] == [10, 11, 12, 13, 14]
    assert [day.rain_mm for day in days] == pytest.approx([2.4] * 5)
    assert (days[0].tmin_c, days[0].tmax_c) == (10.5, 22.0)
    assert days[0].sources["rain_mm"] == ("the shed", "measured", "made of rows of 1 h")
    assert "made into days, by the garden's clock" in said(answer)


def test_a_file_read_twice_adds_nothing(new_book: Path, write: Write) -> None:
    import_file(new_book, write(*DAYS), now=NOW)
    before = look_at(new_book)
    answer = import_file(new_book, write(*DAYS), now=at(5, 15, 12))
    assert answer["changed"]["values_added"] == 0
    assert look_at(new_book) == before


def test_how_it_was_read_is_remembered_by_its_name(new_book: Path, write: Write) -> None:
    header = "date,Low,High,Precip,Gust"
    columns = ["tmin=Low:C", "tmax=High:C", "rain=Precip:in"]
    rows = ("2031-05-10,4.0,17.0,0.1,9", "2031-05-11,5.0,18.0,0,9")
    answer = import_file(
        new_book, write(*rows, header=header), now=NOW, columns=columns, name="shed"
    )
    assert pages_of(new_book).weather[0].rain_mm == pytest.approx(2.54)
    assert "'Gust': not understood" in said(answer)
    later = write(*rows, "2031-05-12,5.0,18.0,0.2,9", header=header)
    import_file(new_book, later, now=NOW, name="shed")
    assert pages_of(new_book).weather[2].rain_mm == pytest.approx(5.08)


def test_a_day_that_is_not_over_is_left_out(new_book: Path, write: Write) -> None:
    answer = import_file(new_book, write(*DAYS, "2031-05-14,8,9,0", "2031-05-15,8,9,0"), now=NOW)
    assert pages_of(new_book).weather[-1].day == date(2031, 5, 14)
    assert "2031-05-15 was not over" in said(answer)
    assert answer["changed"]["days"] == 5


def test_days_to_come_are_refused(new_book: Path, write: Write) -> None:
    file = write(*DAYS, "2031-05-14,8,9,0", "2031-05-15,8,9,0", "2031-05-16,8,9,0")
    with Refused(new_book, "days of shed.csv", "2031-05-16", "days up to 2031-05-15"):
        import_file(new_book, file, now=NOW)


def test_gaps_are_filled_only_when_they_may_be(new_book: Path, write: Write) -> None:
    file = write(DAYS[0], DAYS[1], DAYS[3])
    with Refused(new_book, "days of shed.csv", "without 2031-05-12", "--gaps"):
        import_file(new_book, file, now=NOW)
    answer = import_file(new_book, file, now=NOW, gaps=True)
    filled = pages_of(new_book).weather[2]
    assert filled.tmin_c == 6.0
    assert filled.rain_mm is None
    assert "filled with the mean of the days either side" in said(answer)
    report = weather_report(new_book, now=NOW)
    assert {row["variable"] for row in report["filled"]} >= {"lowest temperature"}
    assert report["missing"] == [
        {"variable": "rain", "days": 2, "first": "2031-05-12", "last": "2031-05-14"},
        {
            "variable": "reference evaporation",
            "days": 1,
            "first": "2031-05-14",
            "last": "2031-05-14",
        },
    ]


def test_a_rain_day_read_in_the_morning_is_shared(new_book: Path, write: Write) -> None:
    """Booked to the day before, read at 06:00: a quarter of a day's rain fell on the next one."""
    import_file(new_book, write(*DAYS), now=NOW, rain_day="06:00 before")
    days = {day.day.day: day.rain_mm for day in pages_of(new_book).weather}
    assert days[11] == pytest.approx(0.75 * 2.4)
    assert days[12] == pytest.approx(0.25 * 2.4)


@pytest.mark.parametrize(
    ("row", "field", "value", "right"),
    [
        (
            "2031-05-14,21.0,9.0,0",
            "lowest temperature on 2031-05-14, column 'tmin_c'",
            "21 °C",
            "9",
        ),
        ("2031-05-13,8,19,0", "day on line 6", "2031-05-13", "a day once"),
        ("2031-05-14,8,19,-3", "rain on 2031-05-14, column 'rain_mm'", "-3", "from 0"),
        ("2031-05-14,8,19,900", "rain on 2031-05-14, column 'rain_mm'", "900", "500 mm"),
    ],
)
def test_a_day_that_cannot_be_refuses_the_file(
    new_book: Path, write: Write, row: str, field: str, value: str, right: str
) -> None:
    with Refused(new_book, field, value, right):
        import_file(new_book, write(*DAYS, row), now=NOW)


def test_decimal_commas_are_refused(new_book: Path, write: Write) -> None:
    rows = ("2031-05-10;4,0;17,0;0,0", "2031-05-11;5,0;18,0;0,0")
    file = write(*rows, header="date;tmin_c;tmax_c;rain_mm")
    field = "rain on 2031-05-10, column 'rain_mm'"
    with Refused(new_book, field, "0,0", "say --comma"):
        import_file(new_book, file, now=NOW)


def test_commas_that_were_said_are_remembered(new_book: Path, write: Write) -> None:
    header = "date;tmin_c;tmax_c;rain_mm"
    first, second = "2031-05-12;4,0;17,5;2,5", "2031-05-13;5,0;18,0;12,5"
    import_file(new_book, write(first, header=header), now=NOW, comma=True)
    import_file(new_book, write(first, second, header=header), now=NOW)
    assert [(day.tmax_c, day.rain_mm) for day in pages_of(new_book).weather] == [
        (17.5, 2.5),
        (18.0, 12.5),
    ]
    points = write("2031-05-13;5.0;18.0;12.5", header=header)
    with Refused(new_book, "rain on 2031-05-13, column 'rain_mm'", "12.5", "say --point"):
        import_file(new_book, points, now=NOW)
    import_file(new_book, points, now=NOW, comma=False)


def test_a_file_of_hours_may_have_commas(new_book: Path, write: Write) -> None:
    rows = [f"2031-05-13 {hour:02}:00;{10 + hour}" + ",5;0,25" for hour in range(24)]
    file = write(*rows, header="date;temp_c;rain_mm")
    import_file(new_book, file, now=NOW, clock="standard", comma=True)
    (day,) = (one for one in pages_of(new_book).weather if one.day.day == 13)
    assert (day.tmax_c, day.rain_mm) == (33.5, 6.0)


def test_no_password_of_an_address_is_shown(new_book: Path, write: Write) -> None:
    """Two stations behind passwords, whose files are called alike."""
    one, other = (f"http://ann:secret@{host}.example/shed.csv" for host in ("barn", "shed"))
    import_file(new_book, write(*DAYS), now=NOW, read_from=one, keep=True)
    with Refused(new_book, "name", "shed.csv", "it is that of http://...@barn.example/shed.csv;"):
        import_file(new_book, write(*DAYS), now=NOW, read_from=other, keep=True)
    answer = import_file(
        new_book, write(*DAYS), now=NOW, read_from=other, keep=True, name="shed.csv"
    )
    assert said(answer).endswith(
        "shed.csv is read from http://...@shed.example/shed.csv from now on, "
        "no longer from http://...@barn.example/shed.csv"
    )


def test_fahrenheit_passed_as_celsius_is_refused(new_book: Path, write: Write) -> None:
    """40 to 57 °F by night and 62 to 68 by day."""
    rows = [f"2031-05-1{n},4{n}.0,6{n + 2}.0,0" for n in range(4)]
    with Refused(
        new_book, "highest temperature on 2031-05-10, column 'tmax_c'", "62.0", "it looks like F"
    ):
        import_file(new_book, write(*rows), now=NOW)


def test_wind_without_its_unit_is_refused(new_book: Path, write: Write) -> None:
    rows = [f"{row},18" for row in DAYS]
    file = write(*rows, header="date,tmin_c,tmax_c,rain_mm,wind")
    with Refused(new_book, "wind", "wind", "wind=wind:m/s@2m or wind=wind:km/h@2m"):
        import_file(new_book, file, now=NOW)


def test_a_file_that_is_not_there_is_refused(new_book: Path, tmp_path: Path) -> None:
    file = tmp_path / "none.csv"
    with Refused(new_book, "file", str(file), "can be read"):
        import_file(new_book, file, now=NOW)


def test_a_measured_record_goes_in_whole(new_book: Path) -> None:
    """De Bilt 2014-2019, with the wind at 10 m and its reckoned columns left out."""
    answer = import_file(
        new_book,
        DATA / "debilt_nl_daily_2014_2019.csv",
        now=NOW,
        columns=["wind=wind10_ms:m/s@10m"],
        name="De Bilt",
    )
    assert answer["changed"]["days"] == 2191
    report = weather_report(new_book, now=NOW)
    assert (report["first"], report["last"], report["days"]) == ("2014-01-01", "2019-12-31", 2191)
    assert report["sources"][0]["source"] == "De Bilt"
    assert report["sources"][0]["kind"] == "measured"
    assert "reference evaporation" in {row["variable"] for row in report["read"]}
    assert report["filled"] == []
    assert [(one["first"], one["last"]) for one in report["missing"]] == [
        ("2020-01-01", "2031-05-14")
    ] * 2
    assert "no weather since 31 December 2019" in report["findings"][0]["say"]


def test_the_report_of_a_book_without_weather(new_book: Path) -> None:
    report = weather_report(new_book, now=NOW)
    assert (report["first"], report["days"], report["sources"]) == (None, 0, [])


def test_the_gauge_is_a_source_of_its_own(garden: Path) -> None:
    rain(garden, "4mm", now=NOW)
    report = weather_report(garden, now=NOW)
    assert report["schema"] == "soakbook.weather/1"
    gauge = next(row for row in report["sources"] if row["source"] == "rain gauge")
    assert (gauge["variables"], gauge["first"]) == (["rain"], "2031-05-15")
    assert report["findings"] == []


def service_says(path: Path, rain_mm: dict[int, float]) -> None:
    """A weather service's rain of days of May 2031 gone by, in the book."""
    with open_book(path) as book:
        add_weather(
            book,
            [
                WeatherValue(date(2031, 5, day), "rain_mm", mm, "Open-Meteo", "analysed", NOW)
                for day, mm in rain_mm.items()
            ],
        )


DRY = [f"2031-05-{day:02},5.0,17.0,0" for day in range(6, 14)]
WET_HERE = {7: 4.0, 8: 0.4, 9: 5.0, 12: 4.0}


def test_a_gauge_that_stays_at_nought_beside_a_wet_service_is_said(
    new_book: Path, write: Write
) -> None:
    """13 mm on three wet days; read again, when what is measured hides what the service says, it is said again."""
    service_says(new_book, WET_HERE)
    for _ in range(2):
        answer = import_file(new_book, write(*DRY), now=NOW, name="the shed")
        (finding,) = [one for one in answer["changed"]["findings"] if "gauge" in one]
        assert finding.startswith("the gauge stood at 0 while the weather service has 13 mm on 3")
        assert finding in said(answer)
    assert [day.rain_mm for day in pages_of(new_book).weather] == [0.0] * 8


@pytest.mark.parametrize(
    "service",
    [{}, {7: 4.0, 9: 5.0, 12: 0.9}, {1: 4.0, 2: 5.0, 3: 3.5}, {7: 3.0, 9: 3.0, 12: 3.0}],
    ids=["nothing", "two wet days", "other days", "nine millimetres"],
)
def test_a_dry_gauge_beside_a_drier_service_is_believed(
    new_book: Path, write: Write, service: dict[int, float]
) -> None:
    service_says(new_book, service)
    answer = import_file(new_book, write(*DRY), now=NOW, name="the shed")
    assert not any("gauge" in one for one in answer["changed"]["findings"])


def test_a_gauge_that_caught_something_is_believed(new_book: Path, write: Write) -> None:
    service_says(new_book, WET_HERE)
    rows = [row.replace(",0", ",1.2") if "-09," in row else row for row in DRY]
    answer = import_file(new_book, write(*rows), now=NOW, name="the shed")
    assert not any("gauge" in one for one in answer["changed"]["findings"])


def test_a_file_of_today_alone_says_so_and_nothing_more(new_book: Path, write: Write) -> None:
    answer = import_file(new_book, write("2031-05-15,8,19,0"), now=NOW)
    assert said(answer) == (
        "shed.csv: nothing taken, for today is not over: read it again tomorrow."
    )
    assert (answer["changed"]["days"], answer["changed"]["findings"]) == (0, [])
    assert pages_of(new_book).weather == ()


def test_a_file_without_a_value_says_so(new_book: Path, write: Write) -> None:
    answer = import_file(new_book, write("2031-05-13,", header="date,rain_mm"), now=NOW)
    assert said(answer) == "shed.csv: nothing taken, for there is no value in it."


def test_a_clock_is_of_files_of_hours(new_book: Path, write: Write) -> None:
    with Refused(new_book, "clock", "utc", "left out: its rows are whole days"):
        import_file(new_book, write(*DAYS), now=NOW, clock="utc")


def test_how_a_station_s_days_were_made_is_no_filling(new_book: Path, write: Write) -> None:
    hours = [f"2031-05-{day} {hour:02}:00,9,0.1" for day in (12, 13) for hour in range(1, 25)]
    import_file(new_book, write(*hours, header="time,temp_c,rain_mm"), now=NOW, clock="local")
    report = weather_report(new_book, now=NOW)
    assert report["filled"] == []
    assert ("rain", "made of rows of 1 h") in {
        (row["variable"], row["method"]) for row in report["read"]
    }
