"""Mornings too wet for water in a season gone by: those of the rounds of then, as far as the ground goes."""

from datetime import date, timedelta
from functools import cache

import pytest

from soakbook.reckoning.advice.held import WetGround
from soakbook.reckoning.advice.rounds import morning_on
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import season_of
from tests.properties.followed import specimen
from tests.reckoning.gardens import PLANTED, at, bed, pages, rain, roses, season, soak, weather

LAST = date(2031, 11, 1)
MORNINGS = [date(2031, 4, 27) + timedelta(days=n) for n in (0, 1, 3, 9, 18, 19, 38, 107, 163, 180)]


@cache
def wet_of_the_season() -> dict[tuple[date, str], bool]:
    """Every dawn of the specimen's season, asked in turn."""
    found: dict[tuple[date, str], bool] = {}
    whole = season_of(known_on(specimen(), LAST), LAST, ahead_days=1)
    assert whole is not None
    ground = WetGround(whole.pages)

    def watch(dawn: Dawn) -> None:
        if dawn.day in MORNINGS:
            for planting, wet in zip(dawn.season.plantings, ground.on(dawn), strict=False):
                found[dawn.day, planting.uid] = bool(wet)

    run(whole, watch=watch)
    return found


@pytest.mark.parametrize("morning", MORNINGS)
def test_it_is_what_the_round_of_that_morning_had(morning: date) -> None:
    judgement = morning_on(specimen(), morning).judgement
    assert judgement is not None
    season_long = wet_of_the_season()
    for one in judgement.judged:
        assert season_long[morning, one.planting.uid] == (one.sodden_share > 0.5), one.planting.name


def test_some_of_those_mornings_were_wet_and_some_were_not() -> None:
    assert set(wet_of_the_season().values()) == {True, False}


def wet_on(morning: date, *entries: object, days: object = None) -> bool:
    book = pages([roses()], entries, beds=[bed(soil="clay")], days=days or weather())  # type: ignore[arg-type]
    of = season(book, morning, 3)
    return bool(WetGround(of.pages).on(run(of)[-1])[0])


def test_rain_of_the_night_counts_only_as_far_as_the_gauge_was_read() -> None:
    """80 mm from 20:00 to 6:00, read at 6:30: it is wet by seven. Read at nine, nobody knew."""
    morning = PLANTED + timedelta(days=6)
    evening = at(morning - timedelta(days=1), 20)
    known = rain(at(morning, 6, 30), 80.0, evening)
    late = rain(at(morning, 9), 80.0, evening)
    wetter = weather(rain={morning - timedelta(days=n): 30.0 for n in (2, 3)})
    assert wet_on(morning, known, days=wetter)
    assert not wet_on(morning, late, days=weather())


def test_what_was_given_in_the_evening_is_not_asked() -> None:
    morning = PLANTED + timedelta(days=6)
    given = soak(at(morning - timedelta(days=1), 20), 3000.0)
    assert not wet_on(morning, given)
