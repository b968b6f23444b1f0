"""Files with a row for each hour or ten minutes, read to days. The rows are made in each test."""

import math
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import InputError
from soakbook.weather.column_map import ColumnMap, columns_said
from soakbook.weather.files import WeatherFile, read_weather_file
from soakbook.weather.reference_et import Site

LONDON = ZoneInfo("Europe/London")
NOW = datetime(2031, 12, 1, 6, 40, tzinfo=LONDON)
SITE = Site(52.3, 62.0, longitude_deg=-1.2)
UTC_SAID = ColumnMap(clock="utc")

Reader = Callable[..., WeatherFile]
Cells = Callable[[datetime], str]


@pytest.fixture
def read(tmp_path: Path) -> Reader:
    """Reads a text as a file called shed.csv, by UTC unless said otherwise."""

    def reader(
        text: str,
        said: ColumnMap = UTC_SAID,
        *,
        now: datetime = NOW,
        gaps_allowed: bool = False,
        site: Site = SITE,
    ) -> WeatherFile:
        path = tmp_path / "shed.csv"
        path.write_text(text, encoding="utf-8")
        return read_weather_file(path, site, now, said, gaps_allowed=gaps_allowed)

    return reader


def steps(first: datetime, last: datetime, minutes: int = 60) -> Iterator[datetime]:
    """Every step after the first, up to the last."""
    while (first := first + timedelta(minutes=minutes)) <= last:
        yield first


def text_of(
    headers: str, cells: Cells, day: int = 1, days: int = 1, minutes: int = 60, month: int = 6
) -> str:
    """A file by UTC, its rows ending from 00:00 of one day of 2031 to 00:00 of another."""
    first = datetime(2031, month, day, tzinfo=UTC)
    rows = [
        f"{at:%Y-%m-%d %H:%M},{cells(at)}" for at in steps(first, first + timedelta(days), minutes)
    ]
    return "\n".join([f"date,{headers}", *rows, ""])


def utc_days(now: datetime = NOW) -> datetime:
    """Now, in a garden whose days are those of UTC."""
    return now.astimezone(UTC)


def value(found: WeatherFile, variable: str, day: date = date(2031, 6, 1)) -> float:
    (value,) = (v.value for v in found.values if (v.day, v.variable) == (day, variable))
    return value


@pytest.mark.parametrize("minutes", [10, 15, 60, 180])
def test_a_day_of_steps(read: Reader, minutes: int) -> None:
    """Temperature by the hour from 0 to 24 °C, 1.2 mm of rain an hour, 6 km/h of wind at 2 m."""

    def cells(at: datetime) -> str:
        hour = (at.hour + at.minute / 60) or 24.0
        return f"{hour:.4f},{1.2 * minutes / 60:.4f},{6},{100 - hour:.4f}"

    text = text_of("temp_c,rain_mm,wind2_kmh,rh_pct", cells, minutes=minutes)
    found = read(text, now=utc_days())
    step = minutes / 60
    assert value(found, "tmin_c") == pytest.approx(step, abs=1e-4)
    assert value(found, "tmax_c") == pytest.approx(24.0)
    assert value(found, "tmean_c") == pytest.approx(12 + step / 2, abs=1e-4)
    assert value(found, "rhmin_percent") == pytest.approx(76.0)
    assert value(found, "rhmax_percent") == pytest.approx(100 - step, abs=1e-4)
    assert value(found, "rh_mean_percent") == pytest.approx(88 - step / 2, abs=1e-4)
    assert value(found, "rain_mm") == pytest.approx(28.8, abs=1e-3)
    assert value(found, "wind_2m_m_per_s") == pytest.approx(6 / 3.6)
    assert (found.first, found.last) == (date(2031, 6, 1), date(2031, 6, 1))
    assert {v.kind for v in found.values} == {"measured"}


def test_how_it_was_made_is_said(read: Reader) -> None:
    found = read(
        text_of("temp_c,rain_mm,wind10_ms", lambda _: "12,0.1,3", minutes=10), now=utc_days()
    )
    methods = {v.variable: v.method for v in found.values}
    assert methods["rain_mm"] == "made of rows of 10 minutes"
    assert methods["wind_2m_m_per_s"] == "from 10 m; made of rows of 10 minutes"
    assert found.findings[0] == (
        "rows of 10 minutes made into days, by UTC: each taken for the time since the row before, its rain "
        "for what fell in that time"
    )
    assert "rain from 'rain_mm' in mm, what fell since the row before" in found.taken


def test_days_are_those_of_the_garden(read: Reader) -> None:
    """London's summer midnight is 23:00 by UTC: the hour to 23:00 is the last of a day, that to 00:00 the first."""
    wet = {datetime(2031, 6, 2, 0, tzinfo=UTC): 3.0, datetime(2031, 6, 1, 23, tzinfo=UTC): 5.0}
    found = read(text_of("rain_mm", lambda at: str(wet.get(at, 0.0)), days=3))
    assert value(found, "rain_mm", date(2031, 6, 1)) == 5.0
    assert value(found, "rain_mm", date(2031, 6, 2)) == 3.0
    assert found.last == date(2031, 6, 3)


def test_a_row_over_midnight_is_shared_by_hours(read: Reader) -> None:
    """By UTC, in India: of the hour from 18:00 to 19:00 UTC, half an hour lies behind midnight."""
    wet = datetime(2031, 6, 1, 19, tzinfo=UTC)
    text = text_of("rain_mm", lambda at: "4.0" if at == wet else "0", days=3)
    found = read(text, now=NOW.astimezone(ZoneInfo("Asia/Kolkata")))
    assert value(found, "rain_mm", date(2031, 6, 2)) == pytest.approx(2.0)
    assert value(found, "rain_mm", date(2031, 6, 3)) == pytest.approx(0.0)


def test_radiation_in_watts_is_averaged_and_noon_may_be_bright(read: Reader) -> None:
    """1000 W/m2 for six hours, 0 for the rest: 6 x 3.6 MJ."""
    cells: Cells = lambda at: "1000" if 9 < at.hour <= 15 else "0"  # noqa: E731
    found = read(
        text_of("solar_wm2", cells),
        ColumnMap(columns=columns_said(["radiation=solar_wm2:W/m2"]).columns, clock="utc"),
        now=utc_days(),
    )
    assert value(found, "radiation_mj_m2_day") == pytest.approx(21.6)
    with pytest.raises(
        InputError,
        match=r"radiation of a day on 2031-06-01 01:00, column 'rs_w_m2': '1600' .* 1500 W/m²",
    ):
        read(text_of("rs_w_m2", lambda _: "1600"), now=utc_days())


def test_energy_and_sunshine_are_summed(read: Reader) -> None:
    found = read(
        text_of("rs_mj,sun_h", lambda at: "2.0,0.5" if 8 < at.hour <= 16 else "0,0"), now=utc_days()
    )
    assert value(found, "radiation_mj_m2_day") == pytest.approx(16.0)
    assert value(found, "sunshine_h") == pytest.approx(4.0)


def test_extremes_that_the_rows_bring_themselves_are_taken(read: Reader) -> None:
    cells: Cells = lambda at: f"{at.hour},{at.hour - 1.5},{at.hour + 0.5}"  # noqa: E731
    found = read(text_of("temp_c,tmin_c,tmax_c", cells), now=utc_days())
    assert (value(found, "tmin_c"), value(found, "tmax_c")) == (-1.5, 23.5)
    assert value(found, "tmean_c") == pytest.approx(11.5)


def dropped(text: str, *rows: int) -> str:
    return "\n".join(line for n, line in enumerate(text.split("\n")) if n not in rows)


def test_twenty_hours_make_a_day_and_it_is_said(read: Reader) -> None:
    """Blank cells: a row that is there but says nothing."""
    text = text_of("rain_mm", lambda at: "" if at.hour in {3, 4, 5, 6} else "1.0")
    found = read(text, now=utc_days())
    assert value(found, "rain_mm") == 20.0
    assert found.findings[1] == "made of 20 hours or more, but not of all: 2031-06-01"


def test_less_than_twenty_hours_are_a_gap(read: Reader) -> None:
    cells: Cells = lambda at: "" if at.day == 2 and at.hour in {3, 4, 5, 6, 7} else "1.0"  # noqa: E731
    text = text_of("rain_mm", cells, days=3)
    with pytest.raises(InputError, match=r"days of shed\.csv: 'without 2031-06-02'"):
        read(text, now=utc_days())
    found = read(text, now=utc_days(), gaps_allowed=True)
    assert [v.day.day for v in found.values] == [1, 3]
    assert "less than 20 hours of rows, so left out: 2031-06-02" in found.findings


def test_the_begun_days_at_the_ends_are_left_out(read: Reader) -> None:
    text = dropped(text_of("rain_mm", lambda _: "1.0", days=3), *range(1, 10), *range(60, 73))
    found = read(text, now=utc_days())
    assert [v.day.day for v in found.values] == [2]
    assert "less than 20 hours of rows, so left out: 2031-06-01, 2031-06-03" in found.findings


def test_a_file_that_begins_at_midnight_has_begun_no_day_before(read: Reader) -> None:
    text = text_of("rain_mm", lambda _: "1.0")
    found = read(
        text.replace("date,rain_mm\n", "date,rain_mm\n2031-06-01 00:00,9.0\n"), now=utc_days()
    )
    assert value(found, "rain_mm") == 24.0
    assert not [finding for finding in found.findings if "left out" in finding]


def test_one_missing_row_is_stood_in_for_by_the_next_but_a_hole_is_not(read: Reader) -> None:
    text = text_of("rain_mm", lambda _: "1.0")
    whole = read(dropped(text, 12), now=utc_days())
    assert value(whole, "rain_mm") == 23.0
    assert not [finding for finding in whole.findings if "not of all" in finding]
    holed = read(dropped(text, 12, 13), now=utc_days())
    assert value(holed, "rain_mm") == 22.0
    assert holed.findings[1].startswith("made of 20 hours or more")
    with pytest.raises(InputError, match="rows for 20 hours of a day at least"):
        read(dropped(text, 12, 13, 14, 15, 16), now=utc_days())


@pytest.mark.parametrize(("day", "month", "hours"), [(30, 3, 23), (26, 10, 25)])
def test_a_day_on_which_the_clock_changes(read: Reader, day: int, month: int, hours: int) -> None:
    """London 2031: a millimetre and 100 W/m2 in every hour of a day of 23 or 25."""
    text = text_of("rain_mm,rs_w_m2", lambda _: "1.0,100", day - 1, 3, month=month)
    found = read(text)
    assert value(found, "rain_mm", date(2031, month, day)) == pytest.approx(hours)
    sun = value(found, "radiation_mj_m2_day", date(2031, month, day))
    assert sun == pytest.approx(hours * 0.36)


def test_no_water_is_lost_on_the_way(read: Reader) -> None:
    """Over whole days the sum of days is the sum of rows, whatever the step and the zone."""
    amounts = [round(1.7 * abs(math.sin(7.1 * n)), 2) for n in range(24 * 4 * 4)]
    taken = iter(amounts)
    text = text_of("rain_mm", lambda _: str(next(taken)), days=4, minutes=15)
    found = read(text, now=utc_days())
    assert math.fsum(v.value for v in found.values) == pytest.approx(math.fsum(amounts))


def test_hours_and_the_days_made_of_them_come_to_the_same_et0(read: Reader) -> None:
    """The days' own values written as a file of days."""

    def cells(at: datetime) -> str:
        sun = max(0, round(700 * math.sin((at.hour - 5) / 14 * math.pi))) if 5 < at.hour < 19 else 0
        return f"{14 + 6 * math.sin((at.hour - 9) / 12 * math.pi):.2f},8.0,{sun},2.0"

    hours = read(text_of("temp_c,dew_point_c,rs_w_m2,wind2_ms", cells), now=utc_days())
    of = {
        name: value(hours, name) for name in ("tmin_c", "tmax_c", "tmean_c", "radiation_mj_m2_day")
    }
    row = f"2031-06-01,{of['tmin_c']},{of['tmax_c']},{of['tmean_c']},8.0,{of['radiation_mj_m2_day']},2.0"
    days = read(f"date,tmin_c,tmax_c,tmean_c,dew_point_c,rs_mj,wind2_ms\n{row}\n", now=utc_days())
    assert value(hours, "et0_mm") == pytest.approx(value(days, "et0_mm"))
    assert value(hours, "et0_mm") > 3


def test_the_clock_is_asked_for_and_remembered(read: Reader) -> None:
    text = text_of("rain_mm", lambda _: "1.0", days=2)
    with pytest.raises(InputError, match="clock of the file is missing: say --clock local"):
        read(text, ColumnMap())
    first = read(text, ColumnMap(clock="standard"))
    assert first.column_map.clock == "standard"
    assert read(text, first.column_map).values == first.values


def test_local_hours_of_summer(read: Reader) -> None:
    """A local clock's midnight is the garden's: the half hour to 00:30 is the first of its day."""
    wet = datetime(2031, 6, 14, 0, 30, tzinfo=UTC)  # as written; the zone is that of no clock here
    first, last = (datetime(2031, 6, day, tzinfo=UTC) for day in (13, 15))
    text = "date,rain_mm\n" + "\n".join(
        f"{at:%d/%m/%Y %H:%M},{3.0 if at == wet else 0.0}" for at in steps(first, last, 30)
    )
    found = read(text, ColumnMap(clock="local"))
    assert value(found, "rain_mm", date(2031, 6, 13)) == 0.0
    assert value(found, "rain_mm", date(2031, 6, 14)) == 3.0
    assert found.column_map.date_order == "dmy"


def test_the_clock_is_held_to_the_sun(read: Reader) -> None:
    """Twelve clear days by UTC, said to be local: an hour behind in summer."""

    def cells(at: datetime) -> str:
        return (
            f"{max(0.0, 800 * math.sin((at.hour - 0.5 - 5) / 14 * math.pi)):.0f}"
            if at.hour > 5
            else "0"
        )

    text = text_of("rs_w_m2", cells, days=13)
    right = read(text, ColumnMap(clock="utc"))
    wrong = read(text, ColumnMap(clock="local"))
    assert not [finding for finding in right.findings if "the sun" in finding]
    (finding,) = (finding for finding in wrong.findings if "the sun" in finding)
    assert finding.startswith("the file's clock is 1.")
    assert "hours behind the sun on 2031-06-01" in finding
    unplaced = read(text, ColumnMap(clock="local"), site=Site(52.3, 62.0))
    assert not [finding for finding in unplaced.findings if "the sun" in finding]


@pytest.mark.parametrize(
    ("text", "said", "message"),
    [
        (
            text_of("rain_mm", lambda _: "1.0"),
            ColumnMap(clock="utc", rain_day="09:00 before"),
            "rain day: '09:00 before' cannot be right; midnight: a file with hours says itself when it rained",
        ),
        (
            text_of("rain_mm", lambda _: "1.0", days=4, minutes=720),
            UTC_SAID,
            "step from row to row: '12 hours' cannot be right; at most 6 hours, or one row a day",
        ),
        (
            text_of("temp_c", lambda at: "61" if at.hour == 7 else "12"),
            UTC_SAID,
            "mean temperature on 2031-06-01 07:00, column 'temp_c': '61' cannot be right",
        ),
        (
            "date,rain_mm\n2031-06-01 09:00,1\n2031-06-02 09:00,1\n",
            UTC_SAID,
            "a day like 2031-04-01, or 01/04/2031 throughout; daily, without an hour",
        ),
        (text_of("Rain", lambda _: "1.0"), UTC_SAID, "rain: 'Rain' cannot be right; a stated unit"),
    ],
)
def test_faults_say_what_would_be_right(
    read: Reader, text: str, said: ColumnMap, message: str
) -> None:
    with pytest.raises(InputError) as fault:
        read(text, said)
    assert message in str(fault.value)
