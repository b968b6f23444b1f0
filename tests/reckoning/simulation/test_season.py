"""The sky of a step over members and beds: errors of the day, and the future each member goes with."""

from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from soakbook.garden.pages import Pages
from soakbook.garden.weather import Forecast
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import next_dawn, run
from soakbook.reckoning.simulation.season import Season, season_at
from tests.reckoning.forecasts import foretold, in_members, issued, promising, wet_in
from tests.reckoning.gardens import PLANTED, at, bed, pages, rain, roses, season, weather

MORNING = PLANTED + timedelta(days=15)
BEFORE, NEXT = MORNING - timedelta(days=1), MORNING + timedelta(days=1)
BOTH = slice(0, 2)
MEMBERS = 41

FALL_MM = tuple(float(n) for n in range(1, 21))
ASKED_MM = tuple(6.0 - n / 5 for n in range(20))
"""Twenty futures: the more rain, the less the air asks for."""

TOLD = issued(
    MORNING,
    in_members(MORNING, FALL_MM, ASKED_MM, rain_mm=3.0, et0_mm=2.5),
    in_members(NEXT, FALL_MM[::-1], ASKED_MM[::-1], rain_mm=4.0, et0_mm=2.0),
)


def book(*forecasts: Forecast, known: int = 15, **fields: Any) -> Pages:
    """Two beds of roses, so many dry days of 4 mm, and forecasts, newest first."""
    two = (roses(), roses("far"))
    return pages(two, days=weather(days=known), forecasts=forecasts, **fields)


def rainy(of: Season) -> Season:
    return of._replace(skies=of.skies.with_rain())


def undisturbed(of: Season, day: date) -> tuple[np.ndarray, np.ndarray]:
    """Rain and ET0 of a day without the errors of the day, (bed, member)."""
    sky, index = of.sky(day, BOTH), (day - of.first).days
    return (
        np.asarray(sky.rain_mm / of.errors.rain_factor[index]),
        np.asarray(sky.et0_mm / of.errors.et0_factor[index]),
    )


def test_the_first_member_has_the_plain_future_and_no_error() -> None:
    of = rainy(season(book(TOLD), MORNING, MEMBERS))
    for day, rain_mm, et0_mm in ((MORNING, 3.0, 2.5), (NEXT, 4.0, 2.0)):
        sky = of.sky(day, BOTH)
        assert np.asarray(sky.rain_mm)[:, 0].tolist() == [rain_mm] * 2
        assert np.asarray(sky.et0_mm)[:, 0].tolist() == [et0_mm] * 2


def test_a_members_rain_and_et0_are_of_one_future_in_every_bed_on_every_day() -> None:
    """Twenty futures, two of the forty members to each; what is wettest today is driest tomorrow."""
    of = rainy(season(book(TOLD), MORNING, MEMBERS))
    (today_mm, asks_mm), (later_mm, later_asks_mm) = (
        undisturbed(of, day) for day in (MORNING, NEXT)
    )
    which = (of.numbers[1:] - 1) % 20
    for row in (0, 1):
        assert np.allclose(today_mm[row, 1:], np.array(FALL_MM)[which])
        assert np.allclose(asks_mm[row, 1:], np.array(ASKED_MM)[which])
        assert np.allclose(later_mm[row, 1:], np.array(FALL_MM)[19 - which])
        assert np.allclose(later_asks_mm[row, 1:], np.array(ASKED_MM)[19 - which])
    wettest = int(today_mm[0].argmax())
    assert asks_mm[0, wettest] == pytest.approx(min(ASKED_MM))
    assert sorted(np.bincount(which).tolist()) == [2] * 20


def test_in_the_plain_question_the_futures_et0_stays() -> None:
    of = season(book(TOLD), MORNING, MEMBERS)
    assert of.sky(MORNING, BOTH).rain_mm == 0.0
    asks_mm = np.asarray(of.sky(NEXT, BOTH).et0_mm) / of.errors.et0_factor[16]
    assert np.allclose(asks_mm[0, 1:], np.array(ASKED_MM)[19 - (of.numbers[1:] - 1) % 20])


def test_the_same_issue_deals_alike_and_another_otherwise() -> None:
    one = season(book(TOLD), MORNING, MEMBERS)
    again = season(book(TOLD), MORNING, MEMBERS)
    later = season(book(TOLD._replace(issued_at=at(MORNING, 1))), MORNING, MEMBERS)
    other = season(book(TOLD._replace(source="another")), MORNING, MEMBERS)
    assert np.array_equal(one.numbers, again.numbers)
    assert not np.array_equal(one.numbers, later.numbers)
    assert not np.array_equal(one.numbers, other.numbers)
    assert np.array_equal(one.errors.et0_factor[16], other.errors.et0_factor[16])


def test_asked_on_another_morning_the_deal_is_its_issues() -> None:
    """Tomorrow as if it were: the same issue. Yesterday as it was: the one before, dealt as it was then."""
    older = issued(BEFORE, *(foretold(BEFORE + timedelta(days=n), 5.0) for n in range(6)), hour=6)
    both = book(TOLD, older)
    of = season(both, MORNING, MEMBERS)
    assert season_at(of, both, NEXT).numbers is of.numbers
    then = known_on(both, BEFORE)
    assert np.array_equal(
        season_at(of, then, BEFORE).numbers, season(then, BEFORE, MEMBERS).numbers
    )


def test_rain_yet_to_fall_takes_its_own_hours() -> None:
    """A tenth from five to six was measured; the 15 mm to come do not fall in that hour."""
    drizzle = rain(at(MORNING, 6), 0.1, at(MORNING, 5))
    said = foretold(MORNING, 15.0)
    book_of = book(issued(MORNING, said), entries=[drizzle])
    dry, wet = season(book_of, MORNING, 1), rainy(season(book_of, MORNING, 1))
    assert np.asarray(dry.sky(MORNING, BOTH).rain_hours).ravel().tolist() == [1.0, 1.0]
    assert np.asarray(wet.sky(MORNING, BOTH).rain_hours).ravel().tolist() == [5.0, 5.0]
    of = rainy(season(book_of, MORNING, MEMBERS))
    hours = np.asarray(of.sky(MORNING, BOTH).rain_hours)
    falls = np.asarray(of.sky(MORNING, BOTH).rain_mm) > 1.0
    unsaid = of.errors.unsaid_rain_hours[15]
    mine = np.minimum(unsaid, 1.0)
    assert np.allclose(hours[falls], (mine + unsaid)[falls])
    assert np.allclose(hours[~falls], mine[~falls])
    assert 0 < falls.sum() < falls.size


def test_the_members_of_a_gap_are_as_many_futures_as_the_forecast_had() -> None:
    """Three days nobody measured, said before: after them the members stand apart by what fell on them."""
    first = MORNING - timedelta(days=3)
    rained = {first: 12.0, first + timedelta(days=1): 8.0}
    told = promising(first, rained, tenths=4)
    *_, dawn = run(season(book(told, known=12), MORNING, MEMBERS))
    *_, dry = run(season(book(promising(first, {}), known=12), MORNING, MEMBERS))
    wetter = np.asarray(dawn.stores.beyond_store_l - dry.stores.beyond_store_l)[0]
    which = (dawn.season.numbers - 1) % 10
    wet = (which >= 6) | (dawn.season.numbers == 0)
    assert np.all(wetter[wet] > 5.0)
    assert np.allclose(wetter[~wet], 0.0, atol=1e-9)


@pytest.mark.parametrize("known", [8, 12])
def test_yesterdays_forecast_may_reach_where_todays_does_not(known: int) -> None:
    """Of days behind and far ahead: the season of the morning has drawn their errors too."""
    first = PLANTED + timedelta(days=known)
    every = {first + timedelta(days=n): 6.0 for n in range(25)}
    older = promising(first, every, tenths=9, days=20)
    newest = issued(MORNING, in_members(MORNING, wet_in(9, 6.0)), hour=6)
    both = book(newest, older, known=known)
    of = season(both, MORNING, 11)
    dawn = run(rainy(season_at(of, known_on(both, BEFORE), BEFORE)))[-1]
    for _ in range(12):
        dawn = next_dawn(dawn)
    assert dawn.day == BEFORE + timedelta(days=12)
    assert dawn.flows is not None
    assert np.count_nonzero(dawn.flows.rain_l) > 10


def test_a_day_drawn_for_or_not_leaves_the_others_as_they_were() -> None:
    """A forecast more changes no draw of the days behind."""
    wet = {PLANTED + timedelta(days=4): 9.0}
    plain = pages([roses()], days=weather(days=15, rain=wet))
    one, other = (
        season(plain._replace(forecasts=told), MORNING, MEMBERS) for told in ((), (TOLD,))
    )
    assert np.array_equal(one.errors.rain_factor[4], other.errors.rain_factor[4])
    a, b = run(one)[-1].stores, run(other)[-1].stores
    assert all(np.array_equal(x, y) for x, y in zip(a, b, strict=True))


def test_beds_of_one_garden_have_one_future_and_each_its_own_error() -> None:
    of = rainy(season(book(TOLD), MORNING, MEMBERS))
    rain_mm = np.asarray(of.sky(MORNING, BOTH).rain_mm)
    assert not np.array_equal(rain_mm[0, 1:], rain_mm[1, 1:])
    alone = rainy(season(pages([roses("far")], beds=[bed("far")], days=weather(days=15),
                               forecasts=(TOLD,)), MORNING, MEMBERS))  # fmt: skip
    assert np.array_equal(np.asarray(alone.sky(MORNING, slice(0, 1)).rain_mm)[0], rain_mm[1])
