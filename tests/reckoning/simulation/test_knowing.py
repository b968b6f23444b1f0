"""`--on DATE` selects by when things happened, never by when they were typed: clause by clause."""

from dataclasses import replace
from datetime import datetime, time, timedelta

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.weather import Forecast
from soakbook.reckoning.simulation.knowing import known_now, known_on
from tests.reckoning.forecasts import foretold, issued
from tests.reckoning.gardens import (
    PLANTED,
    at,
    feel,
    garden,
    left,
    loss,
    mulch,
    pages,
    rain,
    roses,
    soak,
    weather,
    wilt,
)

DAY = PLANTED + timedelta(days=10)
BEFORE, AFTER = DAY - timedelta(days=1), DAY + timedelta(days=1)


def kept(*entries: AnyEntry, now: datetime | None = None, hour: time = time(7)) -> list[AnyEntry]:
    book = pages([roses()], entries, garden=garden(round_hour=hour))
    known = known_on(book, DAY) if now is None else known_now(book, now)
    return list(known.entries)


def test_every_day_before_is_known_whole_to_its_last_minute() -> None:
    every: list[AnyEntry] = [
        wilt(BEFORE),
        left(at(BEFORE, 21)),
        feel(at(BEFORE, 22), ball="dry"),
        soak(at(BEFORE, 23, 59), 5.0),
    ]
    assert kept(*every) == every


def test_nothing_of_a_later_day_is_known() -> None:
    assert (
        kept(
            soak(at(AFTER, 0), 5.0),
            feel(AFTER, ball="dry"),
            rain(at(AFTER, 6), 9.0, at(BEFORE, 18)),
        )
        == []
    )


@pytest.mark.parametrize(
    ("hour", "minute", "known"), [(6, 59, True), (7, 0, True), (7, 1, False), (23, 0, False)]
)
def test_of_the_day_itself_what_came_by_the_round_hour(hour: int, minute: int, known: bool) -> None:
    when = at(DAY, hour, minute)
    for entry in (feel(when, bed="moist"), wilt(when), left(when), rain(when, 4.0, at(BEFORE, 7))):
        assert kept(entry) == ([entry] if known else [])


def test_the_round_hour_is_the_gardens_own() -> None:
    late = feel(at(DAY, 8), ball="dry")
    assert kept(late, hour=time(7, 59)) == []
    assert kept(late, hour=time(8)) == [late]


def test_of_the_day_itself_no_soak_however_early() -> None:
    assert kept(soak(at(DAY, 0, 1), 5.0), soak(DAY, 5.0)) == []


def test_without_a_time_an_entry_counts_at_the_round_hour() -> None:
    """A feel or a loss dated DATE is in time, a soak is given after it."""
    entries: list[AnyEntry] = [
        feel(DAY, ball="dry"),
        left(DAY),
        wilt(DAY),
        loss(DAY, 1),
        mulch(DAY),
    ]
    assert len(kept(*entries)) == 5


def test_when_it_was_typed_does_not_matter() -> None:
    """Yesterday's soak typed a week later is known; today's feel that bears an earlier stamp is not."""
    late = replace(soak(at(BEFORE, 8), 5.0), written_at=at(AFTER + timedelta(days=7), 9))
    early = replace(feel(at(DAY, 9), ball="dry"), written_at=at(BEFORE, 9))
    assert kept(late, early) == [late]


def test_the_day_is_the_gardens_not_that_of_the_stamp() -> None:
    """23:30 UTC on the day before is half past midnight of the day in summer time: a soak of the day."""
    stamped = datetime.fromisoformat(f"{BEFORE}T23:30:00+00:00")
    assert kept(soak(stamped, 5.0)) == []
    assert kept(feel(stamped, ball="dry")) != []


def test_weather_is_that_of_the_days_before() -> None:
    known = known_on(pages([roses()], days=weather(days=30)), DAY)
    assert known.weather[-1].day == BEFORE


def test_a_planting_of_a_later_day_does_not_stand_yet() -> None:
    """Nor does it crowd the bed: a round asked for afterwards is the round of its own morning."""
    later = roses(name="later", planted_on=AFTER)
    today = roses(name="today", planted_on=DAY)
    known = known_on(pages([roses(), today, later]), DAY)
    assert [one.name for one in known.plantings] == ["roses", "today"]


NOW = at(DAY, 12)


def test_now_todays_soaks_count_and_what_lies_ahead_does_not() -> None:
    given = soak(at(DAY, 8), 5.0)
    felt = feel(at(DAY, 11, 59), ball="wet")
    assert kept(given, felt, soak(at(DAY, 12, 1), 5.0), feel(AFTER, ball="dry"), now=NOW) == [
        given,
        felt,
    ]


def test_now_what_is_dated_today_without_a_time_counts() -> None:
    assert len(kept(soak(DAY, 5.0), feel(DAY, ball="dry"), now=at(DAY, 5))) == 2


def test_now_is_the_gardens_day_wherever_the_clock_stands() -> None:
    """Half past eleven at night in UTC is the next day in the garden's summer."""
    late = datetime.fromisoformat(f"{BEFORE}T23:30:00+00:00")
    known = known_now(pages([roses()], [feel(DAY, ball="dry")], days=weather(days=30)), late)
    assert len(known.entries) == 1
    assert known.weather[-1].day == BEFORE


EARLY, LATE = issued(BEFORE, foretold(DAY), hour=6), issued(DAY, foretold(DAY), hour=6)
AFTER_ROUND = issued(DAY, foretold(DAY, 9.0), hour=8)
TOMORROWS = issued(AFTER, foretold(AFTER, 9.0), hour=6)
EVERY = (TOMORROWS, AFTER_ROUND, LATE, EARLY)


@pytest.mark.parametrize(
    ("hour", "known"),
    [
        (time(5, 59), (EARLY,)),
        (time(6), (LATE, EARLY)),
        (time(7), (LATE, EARLY)),
        (time(8), (AFTER_ROUND, LATE, EARLY)),
    ],
)
def test_of_forecasts_those_issued_by_the_round_hour(
    hour: time, known: tuple[Forecast, ...]
) -> None:
    """By the minute; what was issued on the morning after its round is not known on it, nor what came later."""
    book = pages([roses()], forecasts=EVERY, garden=garden(round_hour=hour))
    assert known_on(book, DAY).forecasts == known


def test_the_forecast_is_that_of_the_mornings_own_clock() -> None:
    """Six in London is five hours later in Karachi: eleven, after the round."""
    book = pages([roses()], forecasts=EVERY, garden=garden(timezone="Asia/Karachi"))
    assert known_on(book, DAY).forecasts == (EARLY,)


def test_now_of_forecasts_those_issued_by_now() -> None:
    book = pages([roses()], forecasts=EVERY)
    assert known_now(book, NOW).forecasts == (AFTER_ROUND, LATE, EARLY)
    assert known_now(book, at(DAY, 6)).forecasts == (LATE, EARLY)
    assert known_now(book, at(DAY, 5, 59)).forecasts == (EARLY,)
    assert known_now(book, at(BEFORE, 5)).forecasts == ()


def test_what_is_known_of_the_day_before_can_be_told_of_the_morning() -> None:
    """As a round asks what yesterday's said: out of this morning's pages."""
    book = pages([roses()], forecasts=EVERY)
    assert known_on(known_on(book, DAY), BEFORE).forecasts == (EARLY,)
