"""Weather: added, never changed, nothing twice; the best of each day by kind, issue and order."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.garden.weather import WEATHER_KINDS, WeatherDay, WeatherValue
from soakbook.store.book_file import BookFile
from soakbook.store.weather_rows import (
    add_weather,
    best_values,
    rain_of_services,
    weather_days,
)

Undone = Callable[[BookFile], AbstractContextManager[None]]

DAY = date(2031, 5, 14)
FETCHED = datetime(2031, 5, 15, 6, tzinfo=UTC)
RAIN = WeatherValue(DAY, "rain_mm", 15.6, "gauge.csv", "measured", FETCHED)


def _rows(book: BookFile) -> int:
    return int(book.connection.execute("SELECT count(*) FROM weather_value").fetchone()[0])


def test_a_value_comes_back_whole(book: BookFile) -> None:
    told = [
        RAIN._replace(
            variable="et0_mm",
            value=3.25,
            kind="filled",
            method="FAO-56 Penman-Monteith, pyet 1.5.0",
            issued_at=FETCHED - timedelta(microseconds=1),
        ),
        RAIN,
    ]
    assert add_weather(book, told) == 2
    assert best_values(book) == tuple(told)


def test_days_take_what_they_know(book: BookFile) -> None:
    """A day has what the reckoning reads; the rest is kept for those who ask for all."""
    added = [
        RAIN,
        RAIN._replace(variable="sunshine_h", value=3.0),
        RAIN._replace(day=DAY - timedelta(days=2), variable="et0_mm", value=3.1, method="by hand"),
    ]
    assert add_weather(book, added) == 3
    assert weather_days(book) == (
        WeatherDay(
            DAY - timedelta(days=2),
            et0_mm=3.1,
            sources={"et0_mm": ("gauge.csv", "measured", "by hand")},
        ),
        WeatherDay(DAY, rain_mm=15.6, sources={"rain_mm": ("gauge.csv", "measured", "")}),
    )
    assert [each.variable for each in best_values(book, DAY, DAY)] == ["rain_mm", "sunshine_h"]


def test_a_span_includes_both_days(book: BookFile) -> None:
    add_weather(book, [RAIN._replace(day=DAY + timedelta(days=n)) for n in range(-3, 4)])
    found = weather_days(book, DAY - timedelta(days=1), DAY + timedelta(days=1))
    assert [(each.day - DAY).days for each in found] == [-1, 0, 1]
    assert len(weather_days(book, from_day=DAY)) == 4
    assert len(weather_days(book, to_day=DAY)) == 4


def test_the_same_file_again_adds_nothing(book: BookFile) -> None:
    told = [RAIN._replace(day=DAY + timedelta(days=n), value=float(n)) for n in range(30)]
    assert add_weather(book, told) == 30
    mark = book.change_mark()
    again = [value._replace(fetched_at=FETCHED + timedelta(days=1)) for value in reversed(told)]
    assert add_weather(book, again) == 0
    assert book.change_mark() == mark
    longer = [*again, RAIN._replace(day=DAY + timedelta(days=30))]
    assert add_weather(book, longer) == 1
    assert _rows(book) == 31


def test_a_correction_counts_and_so_does_its_correction(book: BookFile) -> None:
    for hour, (value, added) in enumerate([(15.6, 1), (5.6, 1), (5.6, 0), (15.6, 1)]):
        told = RAIN._replace(value=value, fetched_at=FETCHED + timedelta(hours=hour))
        assert add_weather(book, [told]) == added
        assert weather_days(book)[0].rain_mm == value
    assert _rows(book) == 3


@pytest.mark.parametrize(
    "other",
    [
        RAIN._replace(source="station.csv"),
        RAIN._replace(kind="analysed"),
        RAIN._replace(variable="et0_mm"),
        RAIN._replace(day=DAY + timedelta(days=1)),
        RAIN._replace(issued_at=FETCHED),
    ],
)
def test_what_is_said_of_something_else_is_added(book: BookFile, other: WeatherValue) -> None:
    assert add_weather(book, [RAIN, other, RAIN, other]) == 2
    assert add_weather(book, [other, RAIN]) == 0


def test_another_way_of_making_is_a_correction(book: BookFile) -> None:
    for method in ("mean of the neighbours", "FAO-56 Penman-Monteith"):
        assert add_weather(book, [RAIN._replace(method=method)]) == 1
    assert [each.method for each in best_values(book)] == ["FAO-56 Penman-Monteith"]


def test_issues_read_again_add_nothing(book: BookFile) -> None:
    """A file of forecasts has several issues of one day; none is news the second time."""
    issues = [
        RAIN._replace(kind="forecast", value=float(n), issued_at=FETCHED - timedelta(days=n))
        for n in range(4)
    ]
    assert add_weather(book, issues) == 4
    assert add_weather(book, reversed(issues)) == 0
    assert weather_days(book)[0].rain_mm == 0.0


def test_an_issue_that_says_the_same_is_kept(book: BookFile) -> None:
    """On Wednesday the first service repeats its Monday: the second's Tuesday is outdated."""
    promise = RAIN._replace(kind="forecast", source="first", value=8.0, issued_at=FETCHED)
    for days, source, value in ((0, "first", 8.0), (1, "second", 3.0), (2, "first", 8.0)):
        issued = FETCHED + timedelta(days=days)
        told = promise._replace(source=source, value=value, issued_at=issued, fetched_at=issued)
        assert add_weather(book, [told]) == 1
    assert weather_days(book)[0].rain_mm == 8.0


def test_an_older_issue_fetched_late_is_not_the_best(book: BookFile) -> None:
    new = RAIN._replace(kind="forecast", value=8.0, issued_at=FETCHED)
    old = new._replace(
        value=3.0,
        issued_at=FETCHED - timedelta(days=1),
        fetched_at=FETCHED + timedelta(days=1),
    )
    add_weather(book, [new])
    add_weather(book, [old])
    assert weather_days(book)[0].rain_mm == 8.0


MOMENTS = st.integers(0, 3).map(lambda hours: FETCHED + timedelta(hours=hours))
TOLD = st.builds(
    WeatherValue,
    day=st.sampled_from([DAY, DAY + timedelta(days=1)]),
    variable=st.sampled_from(["rain_mm", "et0_mm"]),
    value=st.integers(0, 3).map(float),
    source=st.sampled_from(["one", "two"]),
    kind=st.sampled_from(WEATHER_KINDS),
    fetched_at=MOMENTS,
    issued_at=st.none() | MOMENTS,
    method=st.sampled_from(["", "by hand"]),
)


def _worth(value: WeatherValue) -> tuple[int, datetime, datetime]:
    """The rule of the design, said once more: kind, then issue (else fetching), then fetching."""
    rank = -WEATHER_KINDS.index(value.kind)
    return rank, value.issued_at or value.fetched_at, value.fetched_at


@given(calls=st.lists(st.lists(TOLD, max_size=6), max_size=5))
def test_the_best_of_a_day_against_the_rule_in_python(
    shared_book: BookFile, undone: Undone, calls: list[list[WeatherValue]]
) -> None:
    """Every value is told as news of its own source, so that all of them are added."""
    told = [
        value._replace(source=f"{value.source} {number}")
        for number, value in enumerate(value for call in calls for value in call)
    ]
    best: dict[tuple[date, str], WeatherValue] = {}
    for value in told:
        place = (value.day, value.variable)
        if place not in best or _worth(value) >= _worth(best[place]):
            best[place] = value
    with undone(shared_book):
        assert add_weather(shared_book, told) == len(told)
        assert best_values(shared_book) == tuple(best[place] for place in sorted(best))


@given(told=st.lists(TOLD, max_size=12))
def test_telling_again_adds_nothing_and_changes_nothing(
    shared_book: BookFile, undone: Undone, told: list[WeatherValue]
) -> None:
    """One place has one value here: a list that contradicts itself is told anew each time."""
    once = {(value.source, value.kind, value.day, value.variable): value for value in told}
    with undone(shared_book):
        assert add_weather(shared_book, once.values()) == len(once)
        before = best_values(shared_book)
        assert add_weather(shared_book, once.values()) == 0
        assert best_values(shared_book) == before


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -1e300])
def test_what_is_no_number_is_refused_with_everything(book: BookFile, value: float) -> None:
    wrong = RAIN._replace(day=DAY + timedelta(days=1), value=value)
    mark = book.change_mark()
    with pytest.raises(InputError, match=r"rain_mm: .* a number of weather for 2031-05-15"):
        add_weather(book, [RAIN, wrong])
    assert weather_days(book) == ()
    assert book.change_mark() == mark


def test_a_failure_half_way_leaves_nothing(book: BookFile) -> None:
    """The arrival of the first source is written when the second turns out to have no zone."""
    naive = RAIN._replace(source="station", fetched_at=datetime.fromisoformat("2031-05-15T06:00"))
    mark = book.change_mark()
    with pytest.raises(InputError, match="fetched_at"):
        add_weather(book, [RAIN, naive])
    assert _rows(book) == 0
    assert book.change_mark() == mark


def test_rain_of_services_whatever_was_measured(book: BookFile) -> None:
    """The gauge's is better and is not theirs; of two that they said the later counts; a forecast is not what fell."""
    service = RAIN._replace(source="Open-Meteo", kind="analysed", value=9.0)
    before, after = (service._replace(day=DAY + timedelta(days=n)) for n in (-1, 1))
    add_weather(
        book,
        [
            service,
            RAIN,
            before,
            after,
            service._replace(variable="et0_mm"),
            service._replace(day=DAY - timedelta(days=2), kind="forecast", issued_at=FETCHED),
        ],
    )
    add_weather(book, [service._replace(value=7.5)])
    assert rain_of_services(book, DAY - timedelta(days=2), DAY) == {before.day: 9.0, DAY: 7.5}
    assert [each.value for each in best_values(book, DAY, DAY) if each.variable == "rain_mm"] == [
        15.6
    ]
