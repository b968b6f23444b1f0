"""A dawn kept and gone on from: the same season, to the last bit."""

from datetime import timedelta

import pytest

from soakbook.reckoning.simulation.gone import gone_before, leaving
from soakbook.reckoning.simulation.kept import Kept, dawn_of, with_changes
from soakbook.reckoning.simulation.run import Dawn, run
from tests.reckoning.gardens import PLANTED
from tests.reckoning.simulation.kept_garden import (
    MORNING,
    assert_same,
    changes,
    garden,
    kept,
    mark,
    season,
)


@pytest.mark.parametrize("days", [1, 3, 5, 10, 11, 13, 16, 20, 21, 24, 25, 31, 33, 34, 41])
def test_a_season_goes_on_from_any_of_its_dawns(days: int) -> None:
    """Around feels, a death, a replacement and a parting."""
    of, day = season(garden()), PLANTED + timedelta(days=days)
    dawn = dawn_of(kept(of, day), of, gone_before(of, leaving(of, 3), day))
    assert dawn is not None
    assert_same(run(of, 3, begun=dawn), run(of, 3))


def test_a_later_morning_goes_on_from_an_earlier_ones_dawn() -> None:
    day = PLANTED + timedelta(days=31)
    early, late = season(garden(), MORNING - timedelta(days=8)), season(garden())
    assert mark(early, day) == mark(late, day)
    dawn = dawn_of(kept(early, day), late, gone_before(late, leaving(late, 3), day))
    assert dawn is not None
    assert_same(run(late, 3, begun=dawn), run(late, 3))


def test_who_has_left_is_not_kept() -> None:
    """The first roses are felt on day 15 and their cell taken over on day 20: they leave on the dawn after that."""
    of = season(garden())
    assert "bed/first" in kept(of, PLANTED + timedelta(days=21)).plantings
    later = kept(of, PLANTED + timedelta(days=22))
    assert later.plantings == ("bed/staying", "other/dug", "bed/second")
    assert later.beds == ("bed", "other")


def test_what_does_not_go_with_the_season_is_no_dawn_of_it() -> None:
    of, day = season(garden()), PLANTED + timedelta(days=30)
    found = kept(of, day)
    gone = gone_before(of, leaving(of, 1), day)

    def dawn(one: Kept) -> Dawn | None:
        return dawn_of(one, of, gone)

    assert dawn(found) is not None
    assert dawn_of(found, of, frozenset()) is None
    assert dawn(found._replace(members=7)) is None
    assert dawn(found._replace(plantings=found.plantings[::-1])) is None
    assert dawn(found._replace(beds=("bed", "another", "part"))) is None
    assert dawn(found._replace(squared=found.squared[:-1])) is None


def test_changes_worked_out_are_the_same() -> None:
    (dawn,) = run(season(garden()))
    assert len(dawn.squared) == 10
    assert changes(with_changes(dawn)) == changes(dawn)
