"""Every text over nasty names, many beds and huge doses: what must be said is said, and in our words."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soakbook.garden.entries import Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Restriction, Tap
from soakbook.reckoning.advice.report import Call, Finding
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.beds import (
    ANSWER,
    feel_text,
    promise_text,
    round_text,
    unheard_text,
)
from soakbook.reminders.texts.dry import dry_text, dry_words
from soakbook.reminders.texts.fitting import BODY_LETTERS, LATE_LETTERS, TITLE_LETTERS, Text
from soakbook.reminders.texts.heat import PEOPLE, heat_text
from soakbook.reminders.texts.rule import rule_text
from soakbook.reminders.texts.week import week_text
from tests.house.test_words import OTHER_PROGRAMS, PROMISES
from tests.reminders.sights_made import GARDEN, call, dry_for, heat_from, made_round, sight

ZONE = ZoneInfo(GARDEN.timezone)
DAY = date(2031, 5, 15)
MORNING = datetime(2031, 5, 15, 7, tzinfo=ZONE)
NASTY = st.one_of(
    st.text(min_size=1, max_size=300),
    st.sampled_from(
        ["x" * 250, "Bett\r\nBcc: all@example.org", "a b " * 60, "👩‍🌾" * 40, "“Quoted”, bed", "."]
    ),
)
LITRES = st.sampled_from([0.1, 17.0, 1234.5, 1e6, 9.9e11])


@st.composite
def seen(draw: st.DrawFn) -> tuple[Sight, Sequence[Call]]:
    """A garden of one to a hundred beds, as called as can be."""
    count = draw(st.sampled_from([1, 2, 3, 100]))
    name, safe = draw(NASTY), draw(st.sampled_from([None, DAY, DAY + timedelta(days=1)]))
    beds = [Bed(f"bed-{n}", f"{name}{n}", f"{name}{n}", 5.0) for n in range(count)]
    each: dict[str, Any] = {
        "litres": draw(LITRES),
        "minutes": draw(st.sampled_from([None, 1.5, 9e5])),
        "minutes_on_foot": 9e5,
        "tap": draw(st.one_of(st.none(), NASTY)),
        "dose_kind": draw(st.sampled_from(["soak", "rescue", "re_wet", "water_in", None])),
        "feel_first": draw(st.booleans()),
        "last_safe": safe,
        "wanted_on": safe,
        "reason": draw(NASTY),
        "days_since_felt": draw(st.sampled_from([None, 1, 20, 100000])),
    }
    calls = [call(bed, **each) for bed in beds]
    garden = GARDEN._replace(name=draw(NASTY))
    made = sight(MORNING, Pages(garden, beds=tuple(beds)), calls)
    findings = [
        Finding.of(
            "promise_broken",
            bed,
            "The rain did not come: 123 mm fell, as far as is known, 456 mm were likely here. It was left",
        )
        for bed in beds
    ]
    first = DAY + timedelta(days=draw(st.sampled_from([-2, 0, 1])))
    return made._replace(
        round=made_round(DAY, calls, findings, garden),
        spell=dry_for(DAY, 999),
        heat=heat_from(first, 9, DAY, open_ended=draw(st.booleans())),
    ), calls


def fits(text: Text) -> None:
    """A title of a lock screen, a body with room for `Late, for Wed 30. `, each of one line."""
    assert 0 < len(text.title) <= TITLE_LETTERS
    assert 0 < len(text.body) <= BODY_LETTERS - LATE_LETTERS
    assert len(text.title.splitlines()) == len(text.body.splitlines()) == 1


@settings(max_examples=60)
@given(seen(), st.lists(NASTY, max_size=12))
def test_what_gives_beds_says_how_to_answer(
    given_: tuple[Sight, Sequence[Call]], could_not: list[str]
) -> None:
    made, calls = given_
    for text in (
        round_text(made, calls, "Ann"),
        promise_text(made, calls),
        unheard_text(made, made, calls, could_not),
    ):
        fits(text)
        assert text.body.endswith((f"{ANSWER}.", f"{ANSWER} --by Ann."))


@settings(max_examples=60)
@given(seen())
def test_what_tells_of_heat_ends_with_the_people(given_: tuple[Sight, Sequence[Call]]) -> None:
    text = heat_text(given_[0])
    fits(text)
    assert text.body.endswith(PEOPLE)
    assert text.title.endswith("up to 34 °C")


@settings(max_examples=60)
@given(seen(), NASTY, st.sampled_from(["hose", "all"]), st.sampled_from(["mains", "all"]))
def test_everything_else_fits(
    given_: tuple[Sight, Sequence[Call]], words: str, tool: Any, source: Any
) -> None:
    made, calls = given_
    for first, edge in ((DAY, "begins"), (DAY - timedelta(days=2), "begins"), (DAY, "ends")):
        rule = Restriction("r1", first, DAY + timedelta(days=400), tool, source, words)
        text = rule_text(made, rule, edge)  # type: ignore[arg-type]
        fits(text)
        assert "(your text)" in text.title
        assert text.body.endswith("What it allows is in its own text.")
    week = week_text(made)
    assert week is not None
    feel = feel_text(made, calls)
    assert "(dust, dry, moist, wet, sour)." in feel.body
    for text in (week, feel, dry_text(made, calls)):
        fits(text)


WALL = Bed("bed-1", "wall", "Chapel Wall", 6.0)
BANK = Bed("bed-2", "bank", "Bank", 6.0)
SCHOOL = Bed("bed-3", "school", "Schoolroom", 6.0)
PAGES = Pages(GARDEN, beds=(WALL, BANK, SCHOOL))


def three(**fields: Any) -> tuple[Sight, list[Call]]:
    """The morning of three beds, of which one cannot wait."""
    calls = [
        call(WALL, litres=17.0, last_safe=DAY + timedelta(days=1)),
        call(BANK, litres=20.0, last_safe=DAY + timedelta(days=4)),
        call(SCHOOL, litres=70.0, dose_kind="rescue"),
    ]
    return sight(MORNING, PAGES, calls, **fields), calls


def test_a_round_reads_as_a_gardener_would_say_it() -> None:
    made, calls = three()
    assert round_text(made, calls) == (
        "Abbey, Thu 15 May: 3 beds by 10:00",
        "Chapel Wall 17 L, Bank 20 L and Schoolroom 70 L (a rescue): about 15 min. Not to be put off: Schoolroom. Last "
        f"safe morning tomorrow: Chapel Wall. {ANSWER}.",
    )


def test_by_ten_is_said_where_ten_is_to_come() -> None:
    made, calls = three()
    later = made._replace(at=MORNING.replace(hour=11))
    assert round_text(later, calls).title == "Abbey, Thu 15 May: 3 beds"


@pytest.mark.parametrize(
    ("which", "title"),
    [
        ([0], "Abbey: Chapel Wall not heard of. Last safe: tomorrow"),
        ([1], "Abbey: Bank not heard of. Last safe: Mon 19"),
        ([0, 1], "Abbey: 2 beds not heard of. Last safe: tomorrow"),
        ([0, 1, 2], "Abbey: 3 beds not heard of, not to be put off"),
    ],
)
def test_no_word_says_how_long_the_first_can_wait(which: list[int], title: str) -> None:
    made, calls = three()
    assert unheard_text(made, made, [calls[n] for n in which], ()).title == title


def test_how_dry_it_is_comes_with_the_forecast_and_only_where_roots_are_in_the_ball() -> None:
    made, calls = three(spell=dry_for(DAY, 12))
    say = "No useful rain since 2 May, none likely to Wed 21; roots are still in the ball."
    assert dry_words(made, calls) == say
    assert say in round_text(made, calls[:1]).body
    rooted = [one._replace(plantings=()) for one in calls]
    assert dry_words(made._replace(round=made_round(DAY, rooted)), rooted) == ""
    assert dry_words(made._replace(spell=dry_for(DAY, 9)), calls) == ""


def test_a_rule_says_what_its_own_taps_gave_in_seven_days() -> None:
    soaks = tuple(
        Soak(uid=f"s{n}", happened_at=at, written_at=at, bed_uid="bed-1", litres=50.0, typed="50l")
        for n, at in enumerate((MORNING, MORNING - timedelta(days=6), MORNING - timedelta(days=7)))
    )
    taps = (Tap("t1", "A", source="mains"), Tap("t2", "B", source="butt"))
    pages = PAGES._replace(beds=(WALL._replace(tap="A"), BANK), taps=taps, entries=soaks)
    made = sight(MORNING, pages, [])
    rule = Restriction("r1", DAY, DAY, "all", "mains", "No.")
    assert (
        "The beds at tap A had 100 L in the last seven days."
        in rule_text(made, rule, "begins").body
    )
    assert "had" not in rule_text(made, rule._replace(source="butt"), "begins").body


def test_no_words_of_other_kinds_of_program_and_no_promise() -> None:
    made, calls = three(spell=dry_for(DAY, 12), heat=heat_from(DAY, 4, DAY))
    told = Finding.of("promise_broken", WALL, "The rain did not come: 0 mm fell, 9 mm were likely.")
    made = made._replace(round=made_round(DAY, calls, [told]))
    rule = Restriction("r1", DAY, DAY, "all", "all", "No.")
    texts = [
        round_text(made, calls, "Ann"),
        promise_text(made, calls[:1]),
        unheard_text(made, made, calls, ["Ann"]),
        feel_text(made, calls),
        dry_text(made, calls),
        heat_text(made),
        rule_text(made, rule, "begins"),
        rule_text(made, rule, "ends"),
        week_text(made),
    ]
    said = "\n".join(f"{one.title}\n{one.body}" for one in texts if one)
    assert OTHER_PROGRAMS.search(said) is None
    assert PROMISES.search(said) is None
    assert len(texts) == 9
