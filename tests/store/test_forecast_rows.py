"""Forecasts: every issue whole, the newest that was known counts."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import InputError
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.store.book_file import BookFile
from soakbook.store.forecast_rows import add_forecasts, first_issues, known_forecasts

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


def test_no_forecast_is_none(book: BookFile) -> None:
    assert known_forecasts(book) == known_forecasts(book, ISSUED) == ()
    assert first_issues(book, ZoneInfo("Europe/London")) == ()


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


def test_the_first_issue_of_each_service_and_local_day(book: BookFile) -> None:
    """23:30 in London's summer is 22:30 in UTC: its day is the garden's."""
    late = datetime(2031, 5, 14, 23, 30, tzinfo=UTC)  # 00:30 on the 15th in London
    made = [issue(), issue(ISSUED + timedelta(hours=6), rain_mm=7.0), issue(late)]
    add_forecasts(book, made, fetched_at=ISSUED)
    zone = ZoneInfo("Europe/London")
    assert first_issues(book, zone) == (made[0], made[2])
    assert first_issues(book, zone, since=DAY + A_DAY) == (made[2],)


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
