"""Rain that a bed was left for and that did not come: said once its days are over, on the visit that follows."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.pages import Pages
from soakbook.garden.promises import made_by
from soakbook.garden.records import Person
from soakbook.garden.weather import Forecast
from soakbook.reckoning.advice.broken_promises import left_for_rain, of_broken_promises
from soakbook.reckoning.advice.report import Finding, Round
from soakbook.reckoning.advice.rounds import morning_on, round_of
from soakbook.reckoning.advice.what_if import Yesterday, yesterday_of
from soakbook.reckoning.simulation.run import run
from tests.reckoning.forecasts import promising
from tests.reckoning.gardens import (
    PLANTED,
    ZONE,
    at,
    bed,
    call_of,
    pages,
    rain,
    roses,
    season,
    soak,
    weather,
)

FIRST = PLANTED + timedelta(days=8)
"""The morning on which DUG is first due on 2 mm a day; on the one before it is due before FIRST is over."""

BEFORE, SECOND, THIRD = (FIRST + timedelta(days=n) for n in (-1, 1, 2))
DUG = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)
MEMBERS = 41
EVERY_SECOND = Person("ann", "Ann", frozenset(range(7)) - {day.weekday() for day in (FIRST, THIRD)})
"""She comes on BEFORE and on SECOND, not on FIRST."""


def book(*entries: AnyEntry, told: Mapping[date, Mapping[date, float]], **fields: Any) -> Pages:
    """Of every morning one issue, with the rain that it tells; `fell` is what fell by the day."""
    issues = [promising(day, falls) for day, falls in told.items()]
    fell = fields.pop("fell", {})
    given: dict[str, Any] = {
        "plantings": (DUG,),
        "days": weather(PLANTED - timedelta(days=5), 60, et0_mm=2.0, rain=fell),
        "forecasts": tuple(sorted(issues, key=_issued, reverse=True)),
        "promises": made_by(issues, ZONE),
    }
    return pages(entries=entries, **given | fields)


def _issued(forecast: Forecast) -> Any:
    return forecast.issued_at


def a_round(day: date, of: Pages) -> Round:
    return round_of(morning_on(of, day, MEMBERS))


def broken(day: date, of: Pages) -> list[Finding]:
    return [one for one in a_round(day, of).findings if one.kind == "promise_broken"]


DAILY = {FIRST: {FIRST: 15.0}, SECOND: {}}
"""Nobody is entered, so somebody may come every day: FIRST's rain is waited for on FIRST."""

SELDOM = {BEFORE: {FIRST: 30.0}, FIRST: {}, SECOND: {}, THIRD: {}}
"""On BEFORE the rain of FIRST is waited for until SECOND."""


def test_the_morning_after_rain_that_did_not_come_says_so() -> None:
    assert call_of(a_round(FIRST, book(told=DAILY))).verdict == "rain"
    assert broken(FIRST, book(told=DAILY)) == []
    of = a_round(SECOND, book(told=DAILY))
    (found,) = broken(SECOND, book(told=DAILY))
    assert found.bed == "bed"
    assert found.say == (
        f"The rain did not come: 0 mm fell, 15 mm were likely here. It was left for that: "
        f"{call_of(of).litres:g} L now. It is not left for a forecast again before it has been soaked or rained on."
    )


def test_it_is_said_once() -> None:
    """On THIRD yesterday's round asked for a soak: it was not left for rain."""
    assert broken(THIRD, book(told=DAILY | {THIRD: {}})) == []


def test_what_fell_since_the_bed_was_left_is_said() -> None:
    """1 mm at nine of FIRST; half a millimetre before its round was none of what it waited for."""
    before = rain(at(FIRST, 6), 0.5, at(FIRST, 4))
    after = rain(at(FIRST, 10), 1.0, at(FIRST, 8))
    (found,) = broken(SECOND, book(before, after, told=DAILY))
    assert "The rain did not come: 1 mm fell, 15 mm were likely here." in found.say


def test_where_it_is_not_known_what_fell_that_is_said() -> None:
    """FIRST is nowhere in the weather, and its gauge, read at ten in the evening, not again after."""
    unseen = weather(PLANTED - timedelta(days=5), 13, et0_mm=2.0)
    assert unseen[-1].day == BEFORE
    evening = rain(at(FIRST, 22), 0.0, at(FIRST, 7))
    (found,) = broken(SECOND, book(evening, told=DAILY, days=unseen))
    assert "0 mm fell, as far as is known, 15 mm were likely here." in found.say


def test_with_visits_every_second_day_it_waits_for_the_last_evening_and_the_next_visit() -> None:
    """Left on BEFORE for the rain of FIRST: on FIRST nothing is broken yet, on SECOND it is."""
    of = book(told=SELDOM, people=(EVERY_SECOND,))
    assert call_of(a_round(BEFORE, of)).verdict == "rain"
    assert broken(FIRST, of) == []
    (found,) = broken(SECOND, of)
    assert "The rain did not come: 0 mm fell, 30 mm were likely here." in found.say
    assert broken(THIRD, of) == []


def test_with_visits_every_second_day_rain_of_both_days_counts() -> None:
    """1 mm in the afternoon of BEFORE and 2 on FIRST."""
    showers = [
        rain(at(BEFORE, 15), 1.0, at(BEFORE, 13)),
        rain(at(FIRST, 15), 2.0, at(FIRST, 13)),
    ]
    (found,) = broken(SECOND, book(*showers, told=SELDOM, people=(EVERY_SECOND,)))
    assert "The rain did not come: 3 mm fell, 30 mm were likely here." in found.say


@pytest.mark.parametrize(
    ("share", "fell_mm", "count"),
    [(1.0, 4.9, 1), (1.0, 5.0, 0), (0.45, 5.0, 1), (0.45, 12.0, 0)],
)
def test_useful_rain_in_the_bed_is_no_broken_promise_though_it_wants_water(
    share: float, fell_mm: float, count: int
) -> None:
    """Where 0.45 of the rain comes, 5 mm are 2.25: there it did not. The calls are those of a dry morning."""
    told = {FIRST: {FIRST: 40.0}, SECOND: {}}
    beds = [bed(rain_share=share)]
    dry = book(told=told, beds=beds)
    *earlier, before, _ = run(season(dry, SECOND, MEMBERS), last=9)
    visited = yesterday_of(before, dry, earlier)
    assert visited is not None
    assert visited.calls[0].verdict == "rain"
    calls = morning_on(dry, SECOND, MEMBERS).calls
    assert calls[0].litres > 0
    shower = rain(at(FIRST, 20), fell_mm, at(FIRST, 18))
    wet = season(book(shower, told=told, beds=beds), SECOND, MEMBERS)
    assert len(of_broken_promises(visited, calls, wet)) == count


def test_a_bed_that_was_soaked_all_the_same_is_not_spoken_of() -> None:
    soaked = soak(at(FIRST, 9), 200.0)
    assert broken(SECOND, book(soaked, told=DAILY)) == []


def looked_back(day: date, of: Pages) -> Yesterday | None:
    *earlier, _, _ = run(season(of, day, MEMBERS), last=9)
    return left_for_rain(of, day, earlier)


@pytest.mark.parametrize("share_mm", [0.0, 30.0])
def test_an_earlier_visit_is_reckoned_again_only_where_rain_was_forecast(share_mm: float) -> None:
    told = SELDOM | {BEFORE: {FIRST: share_mm}}
    found = looked_back(SECOND, book(told=told, people=(EVERY_SECOND,)))
    assert (found is not None) == (share_mm > 0)
    if found is not None:
        assert found.judgement.dawn.day == BEFORE
