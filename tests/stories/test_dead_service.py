"""A fortnight in which no weather comes: the specimen from 20 June on, nobody reading the gauge either.

The people go on: they soak and feel as they did. The last forecast is that of the 20th, to the 27th.
"""

from collections.abc import Callable
from datetime import date, timedelta
from functools import cache
from statistics import mean
from typing import NamedTuple
from zoneinfo import ZoneInfo

import pytest

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages
from soakbook.garden.weather import ForecastDay
from soakbook.reckoning.advice.report import Band, Call, Round
from soakbook.reckoning.advice.rounds import Morning, morning_on, round_of
from soakbook.reckoning.simulation.watering import local_day
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages
from tests.properties.followed import SPECIMEN
from tests.reckoning.gardens import call_of

LAST = date(2031, 6, 20)
LAST_SEEN = LAST - timedelta(days=1)
FORECAST_TO = date(2031, 6, 27)
DEAD = [LAST + timedelta(days=n) for n in range(1, 15)]
UNTOLD = [day for day in DEAD if day > FORECAST_TO]
MEMBERS = 100


class Rounds(NamedTuple):
    """One morning, as it would have been with its weather and as it is without."""

    known: Round
    dead: Round
    morning: Morning
    """The dead one's."""


@cache
def pages_on(day: date) -> Pages:
    """The book as it was known on a morning."""
    with open_book(SPECIMEN, read_only=True, immutable=True) as book:
        return read_pages(book, until=day)


def dead_pages(day: date) -> Pages:
    """The same without weather from the 20th on, but for the forecast of that morning."""
    pages = pages_on(day)
    zone = ZoneInfo(pages.garden.timezone)
    return pages._replace(
        weather=tuple(one for one in pages.weather if one.day <= LAST_SEEN),
        forecasts=pages_on(LAST).forecasts,
        entries=tuple(
            one
            for one in pages.entries
            if not isinstance(one, Rain) or local_day(one.happened_at, zone) <= LAST_SEEN
        ),
    )


@cache
def rounds_on(day: date) -> Rounds:
    """Both rounds of a morning."""
    morning = morning_on(dead_pages(day), day, MEMBERS)
    return Rounds(round_of(morning_on(pages_on(day), day, MEMBERS)), round_of(morning), morning)


def told(day: date) -> ForecastDay:
    """What the last forecast says of a day."""
    return next(one for one in pages_on(LAST).forecasts[0].days if one.day == day)


def width(band: Band) -> float:
    """How far apart eight of ten members lie."""
    return band.p90 - band.p10


def bed_width(call: Call) -> float:
    """Of what the bed holds."""
    return width(call.bed_fraction)


def ball_width(call: Call) -> float:
    """Of what the ball holds; nothing where there is none."""
    return width(call.ball_fraction) if call.ball_fraction else 0.0


def doubts(day: date, of: Callable[[Call], float]) -> tuple[float, float]:
    """Mean doubt over the beds of a morning with its weather and without."""
    known, dead, _ = rounds_on(day)
    return mean(map(of, known.calls)), mean(map(of, dead.calls))


@pytest.mark.parametrize("day", DEAD, ids=str)
def test_every_morning_has_its_round(day: date) -> None:
    """Every bed has its call, and something is said of what is wanted when."""
    known, dead, _ = rounds_on(day)
    assert {call.bed for call in dead.calls} == {call.bed for call in known.calls}
    assert len(dead.calls) == 8
    for call in dead.calls:
        assert call.reason
        assert 0 <= call.bed_fraction.p10 <= call.bed_fraction.p50 <= call.bed_fraction.p90
    assert dead.totals.calls > 0
    assert dead.totals.litres > 0


@pytest.mark.parametrize("day", DEAD, ids=str)
def test_every_morning_says_how_old_its_weather_is(day: date) -> None:
    known, dead, _ = rounds_on(day)
    assert dead.weather.measured_to == LAST_SEEN
    assert dead.weather.age_days == (day - LAST_SEEN).days
    assert dead.weather.forecast_to == (FORECAST_TO if day <= FORECAST_TO else None)
    assert [one.bed for one in dead.findings if one.kind == "weather_old"] == [None]
    assert not any(one.kind == "weather_old" for one in known.findings)


def test_the_last_forecast_stands_for_the_days_it_tells_of() -> None:
    """On the 24th: the 20th to the 23rd are behind as it had them, each of its futures in some members."""
    season = rounds_on(date(2031, 6, 24)).morning.season
    assert season is not None
    unseen = [step for step in season.skies.steps if step.day > LAST_SEEN]
    assert [step.day.day for step in unseen] == [20, 21, 22, 23]
    for step in unseen:
        said = told(step.day)
        assert step.et0_mm == said.et0_mm
        assert step.future is not None
        assert len(step.future.rain_mm) == 1 + len(said.rain_members_mm) == 21
    assert season.skies.on(FORECAST_TO).et0_mm == told(FORECAST_TO).et0_mm


def test_beyond_it_days_are_like_those_before() -> None:
    """On 4 July: eight days as forecast, then like the last sixty known, in the mean as thirsty as the last ten."""
    season = rounds_on(DEAD[-1]).morning.season
    assert season is not None
    beyond = [step for step in season.skies.steps if step.day > FORECAST_TO]
    assert [step.day for step in beyond] == UNTOLD[:-1]
    lately = [one.et0_mm for one in season.skies.steps if one.day <= LAST_SEEN][-10:]
    for step in beyond:
        assert step.future is not None
        assert len(step.future.rain_mm) == 1 + 60
        assert step.future.rain_mm[0] == 0
        assert step.future.rain_mm.max() > 5
        assert step.future.et0_mm[1:].mean() == pytest.approx(mean(lately))


def test_a_hotter_forecast_makes_a_thirstier_garden() -> None:
    """The same morning, had the last forecast told of twice the evaporation."""
    day = date(2031, 6, 24)
    pages = dead_pages(day)
    newest, *older = pages.forecasts
    hotter = tuple(
        one._replace(
            et0_mm=2 * (one.et0_mm or 0.0),
            et0_members_mm=tuple(2 * mm for mm in one.et0_members_mm),
        )
        for one in newest.days
    )
    pages = pages._replace(forecasts=(newest._replace(days=hotter), *older))
    hot = round_of(morning_on(pages, day, MEMBERS))
    for call in rounds_on(day).dead.calls:
        assert call_of(hot, call.bed).bed_fraction.p50 < call.bed_fraction.p50


@pytest.mark.parametrize("day", UNTOLD, ids=str)
def test_its_doubt_is_wider_than_with_the_weather_known(day: date) -> None:
    """From the day on which the last forecast ends."""
    known, dead = doubts(day, bed_width)
    assert dead > 1.05 * known


def test_its_doubt_is_wider_over_the_fortnight() -> None:
    """In beds and in balls, which a hand that waters them makes sure of again and again."""
    for of in (bed_width, ball_width):
        known, dead = (mean(column) for column in zip(*(doubts(d, of) for d in DEAD), strict=True))
        assert dead > 1.02 * known


def test_what_is_asked_for_stays_of_a_kind() -> None:
    """In litres over the fortnight within a third of what the weather itself would have asked for."""
    known, dead = (
        sum(one.totals.litres for one in column)
        for column in zip(*(rounds_on(day)[:2] for day in DEAD), strict=True)
    )
    assert 2 / 3 < dead / known < 3 / 2
