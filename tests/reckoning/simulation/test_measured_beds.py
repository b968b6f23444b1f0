"""What jars and rulers do to a season."""

from datetime import timedelta

import numpy as np
import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Bed
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.season import season_of
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    catch,
    mulch,
    pages,
    roses,
    ruler,
    season,
    weather,
)

MEMBERS = 200
WET = {PLANTED + timedelta(days=n): 8.0 for n in (3, 9, 15)}
MORNING = PLANTED + timedelta(days=20)
WALL = bed(place="south wall foot")


def shares(*entries: AnyEntry, of_bed: Bed = WALL) -> Floats:
    book = pages([roses()], entries, beds=[of_bed], days=weather(rain=WET))
    every: Floats = np.asarray(season(book, MORNING, MEMBERS).plot.rain_share)[0]
    return every


def test_a_jar_takes_the_place_of_the_guess_and_narrows_it() -> None:
    guessed, measured = shares(), shares(catch(at(PLANTED, 7), 3.0, 10.0))
    assert (guessed[0], measured[0]) == (0.45, pytest.approx(0.30))
    assert np.log(guessed).std() == pytest.approx(0.15, rel=0.05)
    assert np.log(measured).std() == pytest.approx(0.10, rel=0.05)


def test_a_jar_of_a_later_day_is_not_known_yet() -> None:
    """The round of a morning sees what had happened by then."""
    from soakbook.reckoning.simulation.knowing import known_on

    jar = catch(at(MORNING, 18), 3.0, 10.0)
    book = pages([roses()], [jar], beds=[WALL], days=weather(rain=WET))
    found = season_of(known_on(book, MORNING), MORNING, 1)
    assert found is not None
    assert np.ravel(found.plot.rain_share)[0] == 0.45


def test_a_share_said_by_hand_stands_over_jars() -> None:
    said = bed(place="south wall foot", rain_share=0.6)
    assert shares(catch(at(PLANTED, 7), 3.0, 10.0), of_bed=said)[0] == 0.6


def test_a_jar_in_one_bed_says_nothing_of_another() -> None:
    assert shares(catch(at(PLANTED, 7), 3.0, 10.0, bed_key="other"))[0] == 0.45


def test_the_mulch_is_as_deep_as_the_ruler_from_its_day_on() -> None:
    day = PLANTED + timedelta(days=10)
    book = pages([roses()], [mulch(PLANTED, 6.0), ruler(at(day, 7), 3.0)], days=weather(rain=WET))
    found = season(book, MORNING)
    before, after = (
        float(np.ravel(found.ground(one, slice(0, 1)).mulch_capacity_mm)[0])
        for one in (day - timedelta(days=1), day)
    )
    assert before == pytest.approx(0.6 * 6.0 * (1 - 0.2 * 9 / 180))
    assert after == pytest.approx(0.6 * 3.0)
