"""The dead of a long season: left out when nothing asks after them, and never to be noticed by the rest."""

from datetime import date, timedelta

import numpy as np
import pytest

from soakbook.garden.entries import AnyEntry, Feel
from soakbook.garden.pages import Pages
from soakbook.reckoning.advice.report import as_json
from soakbook.reckoning.advice.rounds import morning_on, round_of
from soakbook.reckoning.simulation.gone import REMEMBERED_DAYS, leaving, without
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season, season_of
from tests.reckoning.gardens import PLANTED, at, feel, loss, pages, roses, soak, weather

DIED = PLANTED + timedelta(days=10)
REPLACED = PLANTED + timedelta(days=20)
MORNING = PLANTED + timedelta(days=80)
MEMBERS = 20
FIRST, SECOND, STAYING = "bed/first", "bed/second", "bed/staying"


def book(*more: AnyEntry) -> Pages:
    """Roses that die and are replaced, beside others that live; fingers in all of them, before and after."""
    planted = [
        roses(name="first", count=4),
        roses(name="staying", count=6),
        roses(name="second", count=4, replaces=FIRST, planted_on=REPLACED),
    ]
    entries: list[AnyEntry] = [
        *(soak(at(PLANTED + timedelta(days=n), 8), 60.0) for n in range(4, 80, 6)),
        feel(at(PLANTED + timedelta(days=5), 7), planting_uid=FIRST, ball="dry", bed="moist"),
        feel(at(PLANTED + timedelta(days=15), 7), planting_uid=STAYING, ball="dust", bed="dry"),
        feel(at(PLANTED + timedelta(days=50), 7), planting_uid=SECOND, ball="moist", bed="wet"),
        feel(at(PLANTED + timedelta(days=75), 7), planting_uid=STAYING, ball="dry", bed="dry"),
        loss(at(DIED, 18), 4, planting_uid=FIRST),
        *more,
    ]
    return pages(planted, entries, days=weather(days=90, rain={REPLACED: 12.0}))


def season(of: Pages, morning: date = MORNING) -> Season:
    """It laid out."""
    found = season_of(of, morning, MEMBERS)
    assert found is not None
    return found


def uids(dawn: Dawn) -> list[str]:
    """Who takes part, or is still to come."""
    return [one.uid for one in dawn.season.plantings]


def test_the_dead_leave_when_their_successor_stands_in_their_cell() -> None:
    assert leaving(season(book()), 1) == {REPLACED + timedelta(days=1): {FIRST}}
    assert uids(run(season(book()))[-1]) == [STAYING, SECOND]


def test_the_rest_of_the_garden_does_not_notice() -> None:
    """A run with a watcher leaves nobody out: stores, flows, beliefs and what feels changed are the same bits."""
    of = season(book())
    short, whole = run(of, 3), run(of, 3, watch=lambda _: None)
    for left, stayed in zip(short, whole, strict=True):
        rows = [row for row, uid in enumerate(uids(stayed)) if uid != FIRST]
        assert uids(left) == [uids(stayed)[row] for row in rows]
        assert left.flows is not None
        assert stayed.flows is not None
        for one, other in ((left.stores, stayed.stores), (left.flows, stayed.flows)):
            for field, same in zip(one, other, strict=True):
                np.testing.assert_array_equal(field, np.asarray(same)[rows])
        beliefs, theirs = left.season.beliefs, stayed.season.beliefs
        np.testing.assert_array_equal(beliefs.of_bed, theirs.of_bed)
        np.testing.assert_array_equal(beliefs.of_planting, theirs.of_planting[rows])
        assert [one.change() for one in left.squared] == [one.change() for one in stayed.squared]


def test_the_round_is_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    left = as_json(round_of(morning_on(book(), MORNING, MEMBERS)))
    monkeypatch.setattr("soakbook.reckoning.simulation.run.leaving", lambda *_: {})
    assert as_json(round_of(morning_on(book(), MORNING, MEMBERS))) == left


def test_who_is_felt_after_death_stays_until_then() -> None:
    late = PLANTED + timedelta(days=40)
    felt = feel(at(late, 7), planting_uid=FIRST, bed="dry")
    assert leaving(season(book(felt)), 1) == {late + timedelta(days=1): {FIRST}}


def test_nobody_leaves_while_a_plant_lives() -> None:
    saved = book()._replace(
        entries=tuple(one for one in book().entries if one.uid != loss(at(DIED, 18), 4).uid)
    )
    partly = saved._replace(entries=(*saved.entries, loss(at(DIED, 18), 3, planting_uid=FIRST)))
    assert leaving(season(partly), 1) == {}


@pytest.mark.parametrize(
    ("since_days", "last", "expected"),
    [
        (REMEMBERED_DAYS, 1, {FIRST}),
        (REMEMBERED_DAYS - 1, 1, set()),
        (REMEMBERED_DAYS + 9, REMEMBERED_DAYS + 9, {FIRST}),
        (REMEMBERED_DAYS + 8, REMEMBERED_DAYS + 9, set()),
    ],
)
def test_the_last_month_and_the_dawns_asked_for_keep_everybody(
    since_days: int, last: int, expected: set[str]
) -> None:
    leaves_on = REPLACED + timedelta(days=1)
    of = season(book(), leaves_on + timedelta(days=since_days))
    assert set().union(*leaving(of, last).values()) == expected


def test_a_garden_where_everything_died_is_run_all_the_same() -> None:
    of = season(
        pages(
            [roses(name="first", count=4)],
            [loss(at(DIED, 18), 4, planting_uid=FIRST)],
            days=weather(days=90),
        )
    )
    assert leaving(of, 1)
    assert uids(run(of)[-1]) == [FIRST]


def test_feels_still_to_come_find_their_planting() -> None:
    shorter, kept = without(season(book()), frozenset({FIRST}))
    assert [season(book()).plantings[row].uid for row in kept] == [STAYING, SECOND]
    felt = {
        (shorter.plantings[one.row].uid, one.feel.uid)
        for of_dawn in shorter.touches.values()
        for one in of_dawn
    }
    assert felt == {
        (one.planting_uid, one.uid)
        for one in book().entries
        if isinstance(one, Feel) and one.planting_uid != FIRST
    }


def test_who_went_into_another_bed_is_waited_for() -> None:
    planted = [
        roses(name="first", count=4),
        roses(name="staying"),
        roses("part", name="heir", count=4, came_from=FIRST, parted_on=REPLACED),
    ]
    lost = loss(at(DIED, 18), 4, planting_uid=FIRST)
    of = season(pages(planted, [lost], days=weather(days=90)))
    assert leaving(of, 1) == {REPLACED + timedelta(days=1): {FIRST}}
