"""Forecasts: every issue whole, the newest that was known counts."""

from datetime import UTC, date, datetime, timedelta

import pytest

from soakbook.errors import InputError
from soakbook.garden.weather import Forecast, ForecastDay, WeatherValue
from soakbook.store.book_file import BookFile
from soakbook.store.forecast_rows import add_forecasts, known_forecasts, promises_made
from soakbook.store.weather_rows import add_weather

ISSUED = datetime(2031, 5, 14, 5, tzinfo=UTC)
DAY = date(2031, 5, 14)
A_DAY = timedelta(days=1)


def issue(at: datetime = ISSUED, source: str = "one", rain_mm: float = 2.5) -> Forecast:
    """Two days from the day of issue on, the second with members."""
    first = at.date()
    whole = ForecastDay(
        first + A_DAY, rain_mm, 3.4, 8.0, 19.5, 13.0, (0.0,) * 24, (0.0, rain_mm), (3.6, 3.1)
    )
    return Forecast(source, at, (ForecastDay(first, tmax_c=21.0), whole))


def test_an_issue_comes_back_whole(book: BookFile) -> None:
    assert add_forecasts(book, [issue()], fetched_at=ISSUED) == 1
    assert known_forecasts(book) == (issue(),)


def test_the_rest_of_a_day_that_has_begun_comes_back_beside_the_days(book: BookFile) -> None:
    """It stands in for no whole day: of one that nobody measured an older issue tells."""
    hours = (0.0,) * 20 + (3.0,) * 4
    rest = ForecastDay(DAY + A_DAY, 12.0, rain_by_hour_mm=hours, from_hour=9)
    whole = issue(ISSUED)
    later = issue(ISSUED + A_DAY, source="another")
    later = later._replace(days=later.days[1:], begun=rest)
    assert add_forecasts(book, [whole, later]) == 2
    assert known_forecasts(book, later.issued_at) == (later, whole)
    *_, told = known_forecasts(book, later.issued_at + 2 * A_DAY, (DAY + A_DAY, {DAY}))
    assert told == whole._replace(days=whole.days[1:])


def test_no_forecast_is_none(book: BookFile) -> None:
    assert known_forecasts(book) == known_forecasts(book, ISSUED) == ()
    assert promises_made(book) == ()


def test_the_newest_that_was_known_and_the_one_of_a_day_before(book: BookFile) -> None:
    made = [issue(ISSUED + n * timedelta(hours=12), rain_mm=n) for n in range(5)]
    assert add_forecasts(book, made, fetched_at=ISSUED) == 5
    assert known_forecasts(book) == (made[4], made[2])
    at = ISSUED + timedelta(hours=25)
    assert known_forecasts(book, at) == (made[2], made[0])
    assert known_forecasts(book, ISSUED) == (made[0],)
    assert known_forecasts(book, ISSUED - timedelta(seconds=1)) == ()


def test_what_only_repeats_the_newest_is_left_out(book: BookFile) -> None:
    again = issue()._replace(issued_at=ISSUED + timedelta(hours=3))
    assert add_forecasts(book, [issue(), again], fetched_at=ISSUED) == 1
    assert add_forecasts(book, [issue()], fetched_at=ISSUED + A_DAY) == 0


def test_what_is_kept_of_days_that_went_by_as_forecast_is_no_issue(book: BookFile) -> None:
    """Values of an issue, put into the weather later, do not make it look as if it had said something else."""
    add_forecasts(book, [issue()], fetched_at=ISSUED)
    gone_by = WeatherValue(DAY, "rain_mm", 2.5, "one", "forecast", ISSUED, issued_at=ISSUED)
    add_weather(book, [gone_by])
    again = issue()._replace(issued_at=ISSUED + timedelta(hours=3))
    assert add_forecasts(book, [again], fetched_at=ISSUED) == 0


def test_what_repeats_itself_after_another_service_is_news(book: BookFile) -> None:
    """The first says 2.5 mm, the second 9, the first again 2.5: the second's is outdated."""
    hours = [timedelta(hours=n) for n in range(3)]
    three = [
        issue()._replace(issued_at=ISSUED + hours[0]),
        issue(source="two", rain_mm=9.0)._replace(issued_at=ISSUED + hours[1]),
        issue()._replace(issued_at=ISSUED + hours[2]),
    ]
    assert add_forecasts(book, three, fetched_at=ISSUED) == 3
    assert known_forecasts(book)[0].days[1].rain_mm == 2.5


def test_promises_are_those_of_the_first_issue_of_a_local_day(book: BookFile) -> None:
    """Half an hour past midnight in London it is still yesterday by UTC: the day is the garden's."""
    late = datetime(2031, 5, 14, 23, 30, tzinfo=UTC)
    sure = ForecastDay(DAY, 2.0, 3.0, rain_members_mm=(9.0, 10.0))
    first = Forecast("one", ISSUED, (sure,))
    dry = sure._replace(rain_members_mm=(0.0, 0.0))
    later = Forecast("one", ISSUED + timedelta(hours=6), (dry,))
    other = Forecast("two", ISSUED + timedelta(hours=7), (dry,))
    night = Forecast("one", late, (sure._replace(day=DAY + A_DAY),))
    assert add_forecasts(book, [first, later, other, night], fetched_at=ISSUED) == 4
    made = [(one.source, one.issued_on, one.lead_days, one.share) for one in promises_made(book)]
    assert made == [
        (source, issued_on, lead, share)
        for source, issued_on, share in (
            ("one", DAY, 1.0),
            ("two", DAY, 0.0),
            ("one", DAY + A_DAY, 1.0),
        )
        for lead in (1, 2, 3)
    ]
    assert {one.issued_on for one in promises_made(book, until=DAY)} == {DAY}


@pytest.mark.parametrize(
    "days",
    [
        (),
        (ForecastDay(DAY + A_DAY), ForecastDay(DAY)),
        (ForecastDay(DAY), ForecastDay(DAY)),
        (ForecastDay(DAY, rain_mm=float("nan")),),
        (ForecastDay(DAY, rain_members_mm=(0.0, float("inf"))),),
    ],
)
def test_what_is_no_forecast_leaves_nothing(book: BookFile, days: tuple[ForecastDay, ...]) -> None:
    with pytest.raises(InputError):
        add_forecasts(book, [issue(), Forecast("one", ISSUED, days)], fetched_at=ISSUED)
    assert known_forecasts(book) == ()


def days_of(found: tuple[Forecast, ...]) -> list[int]:
    return [one.issued_at.day for one in found]


def test_of_earlier_rounds_those_are_known_that_had_useful_rain_to_come(book: BookFile) -> None:
    """Ten issues, a day apart: those of the 15th and the 20th had 9 mm in half their futures, for the day after."""
    made = [issue(ISSUED + n * A_DAY, rain_mm=9.0 if n in (1, 6) else n / 100) for n in range(10)]
    add_forecasts(book, made, fetched_at=ISSUED)
    assert days_of(known_forecasts(book)) == [23, 22, 21, 20, 18, 17, 16, 15]
    assert days_of(known_forecasts(book, ISSUED + 2 * A_DAY)) == [16, 15]
    assert days_of(known_forecasts(book, ISSUED + 3 * A_DAY)) == [17, 16, 15]


def test_the_issue_of_the_round_of_yesterday_is_known_though_a_later_one_came_that_day(
    book: BookFile,
) -> None:
    """Asked at ten, after issues at six of both days and at nine: yesterday's round at seven knew the one of six."""
    six, nine = ISSUED, ISSUED + timedelta(hours=3)
    made = [issue(six, rain_mm=1.0), issue(nine, rain_mm=2.0), issue(six + A_DAY, rain_mm=3.0)]
    add_forecasts(book, made, fetched_at=ISSUED)
    assert known_forecasts(book, nine + A_DAY + timedelta(hours=1)) == (made[2], made[0])


def test_an_issue_that_several_rounds_knew_is_given_once(book: BookFile) -> None:
    add_forecasts(book, [issue(rain_mm=9.0)], fetched_at=ISSUED)
    assert known_forecasts(book, ISSUED + 3 * A_DAY) == (issue(rain_mm=9.0),)
