"""Feels beside the reckoning, and soaks put off for rain, against the season run anew and the rounds of then."""

from collections import Counter
from datetime import date, timedelta

import pytest

from soakbook.account.feels import feels_frame
from soakbook.account.reviewed import Account
from soakbook.account.season import Span
from soakbook.account.waits import Wait, Waits, waits_frame
from soakbook.garden.entries import AnyEntry
from soakbook.garden.pages import Pages
from soakbook.garden.promises import GOOD_SHARE
from soakbook.reckoning.advice.course import course_of
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.season import season_of
from soakbook.reckoning.simulation.squaring import class_of
from soakbook.services.mornings import morning_of
from soakbook.services.seasons import pages_on
from tests.properties.followed import SPECIMEN, specimen
from tests.reckoning.gardens import PLANTED, at, feel, pages, roses, season, weather

ASKED = date(2031, 11, 1)
ORDER = ("dust", "dry", "moist", "wet", "sour")


def test_feels_are_those_that_squared_the_season_up(reviewed_specimen: Account) -> None:
    """Counted again from a run: drier, wetter, as reckoned, by what the finger should have found."""
    laid_out = season_of(known_on(specimen(), ASKED), ASKED, ahead_days=1)
    assert laid_out is not None
    squared = run(laid_out)[-1].squared
    wanted: Counter[tuple[str, str]] = Counter()
    for one in squared:
        further = ORDER.index(one.felt) - ORDER.index(class_of(one.change().expected))
        came_out = "as reckoned" if further == 0 else "drier" if further < 0 else "wetter"
        wanted[one.store, came_out] += 1
    feels = reviewed_specimen.feels
    assert Counter(zip(feels["store"], feels["came_out"], strict=True)) == wanted
    assert len(wanted) == 6
    assert set(feels["by"]) <= {one.name for one in specimen().people}
    assert (feels.loc[feels["came_out"] == "drier", "off"] < 0).mean() > 0.9


def test_a_feel_belongs_to_the_day_of_the_finger() -> None:
    """At 18:00 on the last day it squares up the next morning, and is of this span; the day after's is not."""
    until = PLANTED + timedelta(days=9)
    fingers = [
        feel(at(PLANTED + timedelta(days=4), 7), ball="moist"),
        feel(at(until, 18), bed="dust"),
    ]
    book = pages([roses()], fingers, days=weather())
    course = course_of(season(book, until + timedelta(days=1), 5), PLANTED)
    span = Span(2031, PLANTED, until, closed=False)
    found = feels_frame(course, book, span)
    assert [day.date() for day in found["day"]] == [
        PLANTED + timedelta(days=4),
        until + timedelta(days=1),
    ]
    assert found["store"].tolist() == ["ball", "bed"]
    assert found["came_out"].iloc[1] == "drier"
    earlier = span._replace(until=until - timedelta(days=1))
    assert len(feels_frame(course, book, earlier)) == 1
    assert feels_frame(None, book, span).empty


def then(day: date, entries: tuple[AnyEntry, ...]) -> Pages:
    """The specimen's pages with the forecasts of a morning, and other entries."""
    return pages_on(SPECIMEN, day)._replace(entries=entries)


PROMISED = sorted({one.issued_on for one in specimen().promises if one.share >= GOOD_SHARE})


@pytest.mark.parametrize("morning", [date(2031, 6, 19), *PROMISED[12:40:5]])
def test_a_soak_was_put_off_where_the_round_of_then_said_so(
    reviewed_specimen: Account, morning: date
) -> None:
    judgement = morning_of(SPECIMEN, on=morning).judgement
    assert judgement is not None
    waits = reviewed_specimen.waits
    mine = waits[waits["day"].dt.date == morning]
    told = {one.planting.uid for one in judgement.judged if one.verdict == "rain"}
    assert set(mine["planting_uid"]) == told
    assert told or morning != date(2031, 6, 19)


def test_a_wait_that_came_is_not_regretted(reviewed_specimen: Account) -> None:
    waits = reviewed_specimen.waits
    assert len(waits) >= 1
    assert not (waits["came"] & waits["regretted"]).any()
    assert ((waits["fell_mm"] >= 5.0) == waits["came"]).all()


def test_what_a_finger_found_after_the_round_hour_is_not_known_on_the_round() -> None:
    """Waits are judged with the feels that the morning had: one at nine squares its own dawn up, yet came later."""
    book = specimen()
    morning = date(2031, 6, 19)
    late = [
        feel(
            at(morning, 9), one.uid, ball="wet", bed="wet", uid=f"late {one.uid}",
        )
        for one in book.beds
    ]  # fmt: skip
    span = Span(2031, date(2031, 1, 1), morning, closed=False)
    found = []
    for entries in (book.entries, (*book.entries, *late)):
        whole = book._replace(entries=entries)
        asked = morning + timedelta(days=1)
        laid_out = season_of(known_on(whole, asked), asked, ahead_days=1)
        assert laid_out is not None
        waits = Waits(whole, span, lambda day, told=entries: then(day, told))  # type: ignore[misc]
        last = run(laid_out, watch=waits.see)[-1]
        found.append((waits.found, len(last.squared)))
    assert found[1][1] > found[0][1]
    assert found[0][0] == found[1][0] != []


def test_what_may_still_come_is_not_regretted(reviewed_specimen: Account) -> None:
    """Promised to a day past the account's last one, with the planting parched meanwhile."""
    days = reviewed_specimen.days.copy()
    days["state"] = "parched"
    visits = reviewed_specimen.visits.iloc[:0]
    one = reviewed_specimen.waits.iloc[0]
    dry = Wait(date(2031, 4, 20), one["bed_uid"], one["planting_uid"], 6.0, date(2031, 4, 22), 1.0)
    for asked, regretted in ((date(2031, 4, 22), False), (date(2031, 4, 23), True)):
        frame = waits_frame([dry], specimen(), days, visits, asked)
        assert frame["regretted"].tolist() == [regretted]
        assert frame["came"].tolist() == [False]
