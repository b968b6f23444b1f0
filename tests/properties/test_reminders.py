"""Whoever comes, keeps, is away or is asked: what must hold of every week of reminders."""

from collections import defaultdict
from datetime import date, datetime

from hypothesis import given, settings

from soakbook.garden.reminding import Notice
from soakbook.reckoning.advice.visits import comes_on
from soakbook.reminders.asked import TO_BEDS
from soakbook.reminders.texts.beds import ANSWER
from soakbook.reminders.texts.fitting import BODY_LETTERS, LATE_LETTERS, TITLE_LETTERS
from soakbook.reminders.texts.heat import PEOPLE
from tests.properties.reminders_drawn import (
    FIRST_MOMENT,
    GIVING,
    LAST_MOMENT,
    MOMENTS,
    Drawn,
    gardens,
)


def the_week(of: Drawn) -> tuple[Notice, ...]:
    """All that is decided in the week, at its end."""
    return of.decided(FIRST_MOMENT, LAST_MOMENT, LAST_MOMENT)


def plainly(notices: tuple[Notice, ...]) -> list[Notice]:
    """Without what depends on the moment of deciding."""
    return [one._replace(state="due", settled_at=None) for one in notices]


@settings(max_examples=50)
@given(gardens())
def test_a_bed_is_one_persons_on_a_morning(drawn: Drawn) -> None:
    owners: dict[tuple[date, str], list[str]] = defaultdict(list)
    for one in the_week(drawn):
        for bed in one.beds if one.what in GIVING else ():
            owners[one.for_day, bed].append(one.whom)
    assert {place: whom for place, whom in owners.items() if len(whom) > 1} == {}


@settings(max_examples=50)
@given(gardens())
def test_nobody_is_told_twice_of_a_bed_and_morning(drawn: Drawn) -> None:
    told: dict[tuple[date, str, str], int] = defaultdict(int)
    for one in the_week(drawn):
        for bed in one.beds if one.what in TO_BEDS else ():
            told[one.for_day, bed, one.whom] += 1
    assert [place for place, times in told.items() if times > 1] == []


@settings(max_examples=50)
@given(gardens())
def test_beds_are_only_given_to_who_is_there_and_comes_if_anybody_does(drawn: Drawn) -> None:
    people = {one.uid: one for one in drawn.pages.people}
    settings = {one.kind: one for one in drawn.settings}
    for one in the_week(drawn):
        assert one.whom in people or (one.whom == "" and not people)
        usual = settings[one.what].whom not in ("head", "named")
        if one.what in GIVING and usual and people:
            anybody = any(comes_on(person, one.for_day) for person in people.values())
            assert comes_on(people[one.whom], one.for_day) or not anybody


@settings(max_examples=50)
@given(gardens(), MOMENTS)
def test_two_spans_that_meet_give_what_the_whole_gives(drawn: Drawn, between: datetime) -> None:
    whole = the_week(drawn)
    first = drawn.decided(FIRST_MOMENT, between, between)
    second = drawn.decided(between, LAST_MOMENT, LAST_MOMENT, first)
    assert plainly((*first, *second)) == plainly(whole)
    for one in whole:
        assert (one.state == "lapsed") == (one.not_after <= LAST_MOMENT)


@settings(max_examples=50)
@given(gardens())
def test_deciding_again_adds_nothing(drawn: Drawn) -> None:
    whole = the_week(drawn)
    keys = {(one.what, one.whom, one.about, one.for_day) for one in whole}
    assert len(keys) == len({one.uid for one in whole}) == len(whole)
    again = drawn.decided(FIRST_MOMENT, LAST_MOMENT, LAST_MOMENT, whole)
    assert [one for one in again if one.uid not in {known.uid for known in whole}] == []


@settings(max_examples=50)
@given(gardens())
def test_all_that_is_said_fits_and_says_what_it_must(drawn: Drawn) -> None:
    for one in the_week(drawn):
        assert 0 < len(one.title) <= TITLE_LETTERS
        assert 0 < len(one.body) <= BODY_LETTERS - LATE_LETTERS
        if one.what in ("round", "promise", "unheard"):
            assert f" {ANSWER}" in one.body
            assert one.beds
        if one.what == "heat":
            assert one.body.endswith(PEOPLE)
        assert one.due_at < one.not_after or one.state == "lapsed"
