"""Promises read off forecasts, judged by the gauge, and what a service's word is worth after them."""

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from random import Random
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.promises import (
    GOOD_SHARE,
    HIGHEST_BAR,
    JudgedPromise,
    Promise,
    PromiseRecord,
    Reliability,
    bar_of,
    chance_of,
    judge_promises,
    made_by,
    of_service,
    promise_of,
    trust_of,
)
from soakbook.garden.weather import Forecast, ForecastDay

LONDON = ZoneInfo("Europe/London")
FIRST = date(2031, 5, 14)
SERVICE = "a service"
RAINS = st.floats(0, 40).map(lambda mm: round(mm, 1))
COUNTS = st.integers(0, 400)


def day(number: int) -> date:
    return FIRST + timedelta(days=number)


def by_members(
    *days: Sequence[float], issued: int = 0, source: str = SERVICE, hour: int = 4
) -> Forecast:
    """Each day's rain in every member, from the day of issue on."""
    at = datetime.combine(day(issued), datetime.min.time(), UTC) + timedelta(hours=hour)
    return Forecast(
        source,
        at,
        tuple(
            ForecastDay(day(issued + n), rain_members_mm=tuple(rain)) for n, rain in enumerate(days)
        ),
    )


def plain(*rain_mm: float | None) -> Forecast:
    days = tuple(ForecastDay(day(n), rain_mm=rain) for n, rain in enumerate(rain_mm))
    return Forecast(SERVICE, datetime(2031, 5, 14, 4, tzinfo=UTC), days)


def surely(issued: int, wet_of_ten: int, mm: float = 8.0) -> Forecast:
    """So many futures of ten bring rain on the day of issue; the days after it are dry."""
    rain = [mm] * wet_of_ten + [0.0] * (10 - wet_of_ten)
    return by_members(rain, *([[0.0] * 10] * 3), issued=issued)


def judged(
    forecasts: Sequence[Forecast], rain: Mapping[int, float | None], today: int
) -> PromiseRecord:
    by_day = {day(number): rain_mm for number, rain_mm in rain.items()}
    return judge_promises(made_by(forecasts, LONDON), by_day, day(today))


def test_good_from_seventy_in_a_hundred() -> None:
    assert promise_of(surely(0, 7), day(0), day(1)) == Promise(day(0), day(1), 0.7, 8.0, True)
    doubtful = promise_of(surely(0, 6), day(0), day(1))
    assert doubtful is not None
    assert not doubtful.good


def test_doubtful_from_thirty_and_none_below() -> None:
    assert promise_of(surely(0, 3), day(0), day(1)) == Promise(day(0), day(1), 0.3, 0.0, False)
    assert promise_of(surely(0, 2), day(0), day(1)) is None
    assert chance_of(surely(0, 2), day(0), day(1)) == 0.2


def test_five_millimetres_in_tenths_are_five() -> None:
    """1.1 + 1.7 + 2.2 and 4.9 + 0.1 reach it in binary too; 4.9 does not."""
    forecast = by_members([1.1, 4.9, 4.9], [1.7, 0.1, 0.0], [2.2, 0.0, 0.0])
    assert chance_of(forecast, day(0), day(2)) == pytest.approx(2 / 3)


def test_only_days_of_the_window_count_and_a_member_is_one_future() -> None:
    """Three members with 3 mm on each of two days make 6; six with 6 mm on day 2 come too late for day 1."""
    forecast = by_members([3, 3, 3, 0], [3, 3, 3, 0], [0, 0, 0, 6])
    assert chance_of(forecast, day(0), day(1)) == 0.75
    assert chance_of(forecast, day(1), day(1)) == 0
    assert chance_of(forecast, day(0), day(2)) == 1


def test_the_middle_is_between_two_of_an_even_number() -> None:
    promise = promise_of(by_members([6, 10, 4, 30]), day(0), day(0))
    assert promise is not None
    assert promise.middle_mm == 8


def test_without_members_a_promise_is_doubtful_at_most() -> None:
    """Dry 0.35, as said 0.50, half as much again 0.15: the middle is what was said."""
    assert promise_of(plain(4, 8), day(0), day(1)) == Promise(day(0), day(1), 0.65, 12.0, False)
    assert promise_of(plain(2, 2), day(0), day(1)) is None
    assert chance_of(plain(2, 2), day(0), day(1)) == 0.15


def test_days_of_which_nothing_is_said_bring_nothing() -> None:
    assert promise_of(plain(None, 8), day(0), day(1)) is not None
    assert promise_of(plain(8), day(5), day(6)) is None
    assert promise_of(by_members(), day(0), day(1)) is None


def test_members_of_unlike_number_are_no_futures_of_both_days() -> None:
    """Their means are then what is said: 4 and 6 mm."""
    promise = promise_of(by_members([4, 4], [6, 6, 6]), day(0), day(1))
    assert promise == Promise(day(0), day(1), 0.65, 10.0, False)


def test_a_doubted_service_must_be_surer() -> None:
    promise = promise_of(surely(0, 8), day(0), day(1), bar=0.85)
    assert promise is not None
    assert not promise.good


def test_kept_broken_and_not_yet_known() -> None:
    """Issued on three days running, each for rain by the day after; today is day 3, and day 2 was not read."""
    rain: dict[int, float | None] = {0: 4.0, 1: 0.9, 2: None}
    found = judged([surely(0, 9), surely(1, 9), surely(2, 9)], rain, today=3).promises
    assert [(one.issued_on, one.fell_mm, one.outcome) for one in found if one.lead_days == 1] == [
        (day(0), 4.9, "broken"),
        (day(1), 0.9, "not yet known"),
        (day(2), None, "not yet known"),
    ]


def test_enough_rain_settles_it_before_the_days_are_over() -> None:
    found = judged([surely(0, 9)], {0: 5.0, 1: 30.0}, today=1).promises
    assert [(one.lead_days, one.fell_mm, one.outcome) for one in found] == [
        (lead, 5.0, "kept") for lead in (1, 2, 3)
    ]


def test_the_rain_of_today_and_later_is_not_read() -> None:
    """A round of a past day must not know what fell after it."""
    found = judged([surely(0, 9)], {0: 1.0, 1: 30.0, 2: 30.0}, today=1)
    assert {one.outcome for one in found.promises} == {"not yet known"}
    assert judged([surely(4, 9)], {}, today=3).promises == ()


def test_one_rain_counts_on_every_morning_and_for_every_lead() -> None:
    """Rain on day 3, seen by all four issues before it: four windows end on or after it of 1, 2 and 3 days."""
    dry, wet = [0.0] * 10, [9.0] * 10
    issues = [
        by_members(*(wet if n + later == 3 else dry for later in range(4)), issued=n)
        for n in range(4)
    ]
    found = judged(issues, {n: 9.0 if n == 3 else 0.0 for n in range(9)}, today=8)
    assert [(one.lead_days, one.made, one.kept, one.mornings) for one in found.reliabilities] == [
        (1, 2, 2, 4),
        (2, 3, 3, 4),
        (3, 4, 4, 4),
    ]
    assert of_service(found.reliabilities, SERVICE) == Reliability(SERVICE, None, 9, 9, 4)


def test_doubtful_promises_are_judged_but_not_held_against_a_service() -> None:
    found = judged([surely(0, 5)], dict.fromkeys(range(5), 0.0), today=5)
    assert [one.outcome for one in found.promises] == ["broken"] * 3
    assert [(one.made, one.mornings) for one in found.reliabilities] == [(0, 1)] * 3


def test_a_year_is_remembered() -> None:
    dry = dict.fromkeys(range(10), 0.0)
    assert of_service(judged([surely(0, 9)], dry, today=365).reliabilities, SERVICE).broken == 3
    late = judged([surely(0, 9)], dry, today=366)
    assert late.reliabilities == ()
    assert len(late.promises) == 3


def test_an_issue_has_its_day_where_the_garden_is() -> None:
    """23:30 UTC on 13 May is 00:30 on the 14th in London, and the latest of a day is the one that counts."""
    early = by_members([0.0] * 10, issued=0, hour=-1)._replace(
        issued_at=datetime(2031, 5, 13, 23, 30, tzinfo=UTC)
    )
    assert judged([early], dict.fromkeys(range(5), 0.0), today=5).reliabilities[0].mornings == 1
    found = judged([surely(0, 9), early], {}, today=0).promises
    assert {one.issued_on for one in found} == {day(0)}


def test_services_have_records_of_their_own() -> None:
    other = surely(0, 9)._replace(source="another")
    found = judged([other, surely(1, 9)], dict.fromkeys(range(1, 6), 0.0) | {0: 8.0}, today=6)
    assert [of_service(found.reliabilities, one).kept for one in (SERVICE, "another")] == [0, 3]
    assert bar_of(of_service(found.reliabilities, "another")) == GOOD_SHARE
    assert bar_of(of_service(found.reliabilities, "a third")) == GOOD_SHARE


def test_the_rule_of_trust_by_hand() -> None:
    """(8 + 18/3) / (10 + 27/3) / 0.8 = 0.9211, 0.70 / 0.9211 = 0.76; thirty broken: 8 / 20 / 0.8 = 0.5: the highest."""
    nine = Reliability(SERVICE, None, 27, 18, 180)
    assert trust_of(nine) == pytest.approx(0.92105, abs=1e-5)
    assert bar_of(nine) == pytest.approx(0.76)
    assert bar_of(Reliability(SERVICE, None, 30, 0, 180)) == HIGHEST_BAR


def test_one_rain_that_does_not_come_makes_a_service_a_little_less_believed() -> None:
    """Promised on three mornings for one, two and three days ahead, six times in all."""
    assert 0.8 < bar_of(Reliability(SERVICE, None, 6, 0, 10)) < 0.85


@given(COUNTS)
def test_keeping_all_promises_never_raises_the_bar(made: int) -> None:
    assert bar_of(Reliability(SERVICE, None, made, made, made)) == GOOD_SHARE


@given(COUNTS, COUNTS)
def test_a_broken_promise_never_lowers_the_bar_nor_a_kept_one_raises_it(
    kept: int, broken: int
) -> None:
    before = bar_of(Reliability(SERVICE, None, kept + broken, kept, 400))
    assert bar_of(Reliability(SERVICE, None, kept + broken + 1, kept, 400)) >= before
    assert bar_of(Reliability(SERVICE, None, kept + broken + 1, kept + 1, 400)) <= before
    assert GOOD_SHARE <= before <= HIGHEST_BAR


@given(
    st.integers(1, 30).flatmap(
        lambda count: st.lists(
            st.lists(RAINS, min_size=count, max_size=count), min_size=1, max_size=4
        )
    ),
    st.randoms(use_true_random=False),
)
def test_the_order_of_the_members_does_not_matter(days: list[list[float]], dice: Random) -> None:
    """A member stays one future: all days are put in the same other order."""
    order = list(range(len(days[0])))
    dice.shuffle(order)
    shuffled = by_members(*([rain[n] for n in order] for rain in days))
    last = day(len(days) - 1)
    assert promise_of(shuffled, day(0), last) == promise_of(by_members(*days), day(0), last)
    assert chance_of(shuffled, day(0), last) == chance_of(by_members(*days), day(0), last)


@given(st.lists(RAINS, min_size=1, max_size=30), st.floats(0.1, 20))
def test_more_rain_in_every_future_is_never_less_sure(rain: list[float], more_mm: float) -> None:
    wetter = by_members([mm + more_mm for mm in rain])
    assert chance_of(wetter, day(0), day(0)) >= chance_of(by_members(rain), day(0), day(0))


@given(st.permutations([surely(n, 3 + n) for n in range(7)]))
def test_the_order_of_the_issues_does_not_matter(issues: list[Forecast]) -> None:
    rain = {n: 3.0 * (n % 3) for n in range(12)}
    assert judged(issues, rain, today=9) == judged(sorted(issues, key=lambda f: f[1]), rain, 9)


def test_every_judged_promise_is_of_its_window() -> None:
    found = judged([surely(n, 8) for n in range(4)], dict.fromkeys(range(9), 1.0), today=8)
    assert len(found.promises) == 12
    for one in found.promises:
        assert isinstance(one, JudgedPromise)
        assert one.promise.first == one.issued_on
        assert one.promise.last - one.promise.first == timedelta(days=one.lead_days)


def test_of_the_day_of_issue_what_has_fallen_is_no_promise() -> None:
    """Issued at 05:00 in London: 8 mm at three are past; of 8 mm at no known hour 19 of 24 parts are to come."""
    hours = tuple(8.0 if hour == 3 else 0.0 for hour in range(24))
    issue = surely(0, 9)
    today = issue.days[0]._replace(mean_by_hour_mm=hours)
    made = made_by([issue._replace(days=(today, *issue.days[1:]))], LONDON)
    assert [(one.share, one.middle_mm) for one in made] == [(0.0, 0.0)] * 3
    late = today._replace(mean_by_hour_mm=(*hours[4:], *hours[:4]))
    made = made_by([issue._replace(days=(late, *issue.days[1:]))], LONDON)
    assert [(one.share, one.middle_mm) for one in made] == [(0.9, 8.0)] * 3
    assert made_by([issue], LONDON)[0].middle_mm == pytest.approx(8 * 19 / 24)
    assert {one.issued_at for one in made} == {issue.issued_at}


def test_what_fell_on_the_day_of_issue_before_it_keeps_nothing() -> None:
    made, rain = made_by([surely(0, 9)], LONDON), {day(n): 6.0 if n == 0 else 0.0 for n in range(5)}
    before = {surely(0, 9).issued_at: 1.5}
    found = judge_promises(made, rain, day(5), before).promises
    assert {(one.fell_mm, one.outcome) for one in found} == {(4.5, "broken")}
    assert judge_promises(made, rain, day(5)).promises[0].outcome == "kept"
