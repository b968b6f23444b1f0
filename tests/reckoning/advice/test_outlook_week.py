"""What the days ahead will likely ask for."""

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.runs import Run
from soakbook.garden.told_days import still_to_come
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.reckoning.advice.outlook_week import Week, week_of, week_words

MORNING = date(2031, 5, 15)
ISSUED = datetime(2031, 5, 15, 4, tzinfo=UTC)


def day(n: int) -> date:
    return MORNING + timedelta(days=n)


def forecast(days: Sequence[ForecastDay]) -> Forecast:
    return Forecast("a service", ISSUED, tuple(days))


def of_members(*members: Sequence[float], first: int = 0) -> list[ForecastDay]:
    """A member's rain in a row, day by day from `first` on; the forecast's own rain is their mean."""
    return [
        ForecastDay(day(first + n), rain_mm=sum(rain) / len(rain), rain_members_mm=tuple(rain))
        for n, rain in enumerate(zip(*members, strict=True))
    ]


def of_rain(*rain_mm: float | None) -> list[ForecastDay]:
    return [ForecastDay(day(n), rain_mm=rain) for n, rain in enumerate(rain_mm)]


def of_highs(*highs_c: float) -> list[ForecastDay]:
    return [
        ForecastDay(day(n), rain_mm=0.0, tmax_c=high, et0_mm=4.0) for n, high in enumerate(highs_c)
    ]


def week(days: Sequence[ForecastDay], **said: float) -> Week:
    found = week_of(
        forecast(days),
        MORNING,
        usual_et0_mm=said.get("usual_et0_mm"),
    )
    assert found is not None
    return found


def test_chance_and_day_of_useful_rain_are_counted_over_members() -> None:
    """Of ten futures six have 5 mm on day 1, one more has 3 and 2 on days 2 and 3, three stay dry."""
    wet, later, dry = (0, 6, 0, 0), (0, 0, 3, 2), (0, 4.9, 0, 4.9)
    found = week(of_members(*[wet] * 6, later, *[dry] * 3))
    assert found.members == 10
    assert found.useful_rain_chance == pytest.approx(0.7)
    assert found.promise == "good"
    assert found.useful_rain_by == day(3)
    assert week_words(found) == "Useful rain likely by Sun 18."


def test_drizzle_all_week_is_no_useful_rain() -> None:
    """Seven millimetres in seven days, but never five in two."""
    found = week(of_members([1.0] * 7, [1.0] * 7))
    assert found.useful_rain_chance == 0
    assert week_words(found) == "To Wed 21 no useful rain likely."


@pytest.mark.parametrize(
    ("wet", "promise", "words"),
    [
        (7, "good", "Useful rain likely today."),
        (6, "doubtful", "To Fri 16 useful rain is doubtful, about 6 chances in 10."),
        (3, "doubtful", "To Fri 16 useful rain is doubtful, about 3 chances in 10."),
        (2, "not counted", "To Fri 16 no useful rain likely."),
    ],
)
def test_a_promise_is_good_from_seven_in_ten_and_counts_from_three(
    wet: int, promise: str, words: str
) -> None:
    found = week(of_members(*[(8, 0)] * wet, *[(0, 0)] * (10 - wet)))
    assert found.promise == promise
    assert (found.useful_rain_by is not None) == (promise == "good")
    assert week_words(found) == words


@pytest.mark.parametrize(
    ("rain_mm", "chance"), [(2.0, 0.0), (3.4, 0.15), (5.0, 0.65), (40.0, 0.65)]
)
def test_without_members_three_futures_are_weighed(rain_mm: float, chance: float) -> None:
    """Dry 0.35, as forecast 0.5, half as much again 0.15: 3.4 mm is useful only as 5.1."""
    found = week(of_rain(0, rain_mm, 0))
    assert found.members == 0
    assert found.useful_rain_chance == pytest.approx(chance)
    assert found.promise in ("not counted", "doubtful")


def test_a_service_that_broke_its_word_must_be_surer() -> None:
    """Useful rain in seven of ten futures: likely, and doubtful where eight in ten are wanted."""
    told = forecast(of_members(*[(0, 6, 0)] * 7, *[(0, 0, 0)] * 3))
    plain, doubted = week_of(told, MORNING), week_of(told, MORNING, bar=0.8)
    assert plain is not None
    assert doubted is not None
    assert (plain.promise, plain.useful_rain_by) == ("good", day(1))
    assert week_words(plain) == "Useful rain likely by Fri 16."
    assert (doubted.promise, doubted.useful_rain_by) == ("doubtful", None)
    assert week_words(doubted) == "To Sat 17 useful rain is doubtful, about 7 chances in 10."


def test_what_is_doubtful_is_never_said_as_often_as_what_is_likely() -> None:
    """Twenty-seven of forty are nearer to 7 in 10 than to 6, and 7 in 10 are likely."""
    found = week(of_members(*[(0, 6, 0)] * 27, *[(0, 0, 0)] * 13))
    assert found.promise == "doubtful"
    assert week_words(found) == "To Sat 17 useful rain is doubtful, about 6 chances in 10."


def test_what_has_fallen_today_is_no_promise() -> None:
    """All of today's rain lies in the hours before noon; tomorrow's is still to come."""
    hours = (0.5,) * 12 + (0.0,) * 12
    days = [one._replace(mean_by_hour_mm=hours) for one in of_members((6, 0), (9, 0))]
    noon = datetime(2031, 5, 15, 12, tzinfo=UTC)
    at_four = still_to_come(forecast(days), ISSUED, UTC)
    assert week(at_four.days).useful_rain_chance == pytest.approx(0.5)
    assert week(still_to_come(forecast(days), noon, UTC).days).useful_rain_chance == 0
    wet_tomorrow = forecast(of_members((2, 6), (2, 6)))
    assert week(still_to_come(wet_tomorrow, noon, UTC).days).useful_rain_by == day(1)


def test_the_week_ends_where_the_forecast_does() -> None:
    """At a missing day, at seven days, at the last day with rain; days gone by are left out."""
    assert week([one for one in of_rain(*[0.0] * 7) if one.day != day(3)]).last == day(2)
    assert week([ForecastDay(day(-1), rain_mm=50.0), *of_rain(*[0.0] * 12)]).last == day(6)
    assert week(of_rain(0, 0, None, 9)).last == day(1)
    assert week_of(forecast([ForecastDay(day(-1), rain_mm=3.0)]), MORNING) is None
    assert week_of(forecast([]), MORNING) is None


def test_members_that_last_half_the_week_end_it_and_shorter_ones_are_left() -> None:
    members = of_members((0, 0, 0), (0, 0, 0))
    tail = [ForecastDay(day(n), rain_mm=9.0) for n in range(3, 7)]
    assert (week(members + tail[:3]).last, week(members + tail[:3]).members) == (day(2), 2)
    found = week(members + tail)
    assert (found.last, found.members) == (day(6), 0)
    assert found.useful_rain_chance == pytest.approx(0.65)


@pytest.mark.parametrize(
    ("highs_c", "words"),
    [
        ((20, 21, 25, 26, 26, 27, 26), "warm from Sun"),
        ((20, 26, 26, 27, 22, 22, 22), "warm Fri to Sun"),
        ((20, 26, 20, 20, 20, 20, 20), "warm on Fri"),
        ((20, 20, 20, 20, 20, 20, 26), "warm on Wed"),
        ((26, 26, 26, 26, 26, 26, 26), "warm throughout"),
        ((26, 26, 20, 20, 20, 20, 20), "warm to Fri"),
        ((26, 20, 20, 20, 20, 20, 20), "warm today"),
        ((20, 26, 30, 31, 27, 20, 20), "warm Fri to Mon, hot Sat to Sun"),
        ((20, 24, 30, 31, 33, 30, 35), "hot from Sat"),
        ((20, 20, 20, 20, 20, 20, 20), ""),
    ],
)
def test_warm_is_above_25_and_hot_from_30(highs_c: tuple[float, ...], words: str) -> None:
    found = week(of_highs(*highs_c))
    assert found.tmax_c == max(highs_c)
    said = week_words(found)
    assert said == f"To Wed 21 no useful rain likely{'; ' if words else ''}{words}."


def test_warmth_alone_is_said_where_nothing_is_said_of_rain() -> None:
    days = [ForecastDay(day(n), tmax_c=20.0 + 3 * n) for n in range(4)]
    found = week(days)
    assert (found.useful_rain_chance, found.promise, found.last) == (None, None, day(3))
    assert found.warm == Run(day(2), day(3))
    assert week_words(found) == "To Sun 18 likely warm from Sat."
    assert week_words(week([ForecastDay(MORNING)])) == ""


def test_a_long_outlook_names_days_with_their_numbers() -> None:
    found = week_of(forecast(of_highs(*[20.0] * 8, 26.0, 27.0)), MORNING, days=10)
    assert found is not None
    assert week_words(found) == "To Sat 24 no useful rain likely; warm from Fri 23."


def test_drying_air_is_set_against_the_last_ten_days() -> None:
    """The trade's example: 6.5 mm a day against 4.5 asks 1.45 times the dose."""
    days = [ForecastDay(day(0), rain_mm=0.0, et0_mm=6.0)]
    days.append(ForecastDay(day(1), rain_mm=0.0, et0_members_mm=(6.5, 7.5)))
    found = week(days, usual_et0_mm=4.5)
    assert found.et0_mm == pytest.approx(6.5)
    assert found.et0_factor == pytest.approx(1.444, abs=5e-4)
    assert week_words(found).endswith(
        "The air will likely ask for about 1.4 times what it took in the last ten days."
    )
    assert week_words(week(days, usual_et0_mm=9.0)).endswith(
        "The air will likely ask for less than in the last ten days."
    )
    assert week_words(week(days, usual_et0_mm=6.5)) == "To Fri 16 no useful rain likely."
    assert week(days).et0_factor is None
    assert week(days, usual_et0_mm=0.0).et0_factor is None


MEMBERS = st.lists(st.lists(st.floats(0, 20), min_size=5, max_size=5), min_size=1, max_size=12)


@given(MEMBERS, st.randoms(use_true_random=False))
def test_members_come_in_no_order_and_more_rain_is_no_smaller_a_chance(
    members: list[list[float]], random: Random
) -> None:
    found = week(of_members(*members))
    shuffled = list(members)
    random.shuffle(shuffled)
    assert week(of_members(*shuffled)).useful_rain_chance == found.useful_rain_chance
    wetter = week(of_members(*[[mm * 1.5 for mm in rain] for rain in members]))
    assert wetter.useful_rain_chance is not None
    assert found.useful_rain_chance is not None
    assert wetter.useful_rain_chance >= found.useful_rain_chance
