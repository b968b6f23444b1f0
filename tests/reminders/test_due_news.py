"""What is told that gives nobody a bed: dry spells, heat, rules, Sundays."""

from datetime import date, timedelta
from pathlib import Path

import pytest

from soakbook.reminders.texts.heat import PEOPLE
from soakbook.services import entries, people, setup
from tests.reminders.garden_days import (
    DAY,
    SET_UP,
    THURSDAY,
    begin,
    decided,
    dry_days,
    forecast,
    head,
    of,
    on,
    said,
    soaked,
    uid_of,
    weathered,
)
from tests.services.looking import at

SUNDAY = THURSDAY + 3 * DAY
RULE = 'No hoses, "lances" or sprays, between 8, 9 and 18 h 🚱; <b>fine</b> {0} %s'


def bar(path: Path, first: str, last: str, *, text: str = RULE, source: str = "mains") -> None:
    """Enter a rule on Thursday morning."""
    setup.restriction(path, first, last, tool="hose", source=source, text=text, now=SET_UP)


def days_told(path: Path, kind: str, days: int) -> list[date]:
    """Days of so many, looked at each evening, on which somebody was told; nothing else is looked at."""
    for other in ("round", "feel", "promise", "unheard", "week", "heat", "dry", "rule"):
        said(path, other, wanted=other == kind)
    found = []
    for n in range(days):
        day = THURSDAY + n * DAY
        if n:
            weathered(path, day - DAY, day - DAY, on(day, 5))
        found += [day] * bool(decided(path, on(day, 19)))
    return found


def test_a_dry_spell_is_told_when_it_is_ten_days_old_and_every_ten_days(garden: Path) -> None:
    """A useful rain on Monday the 12th, by the gauge; the tenth dry day is over on Friday the 23rd."""
    entries.rain(
        garden, "9mm", from_="2031-05-12 08:00", to="2031-05-12 14:00", now=at(5, 15, 6, 40)
    )
    found = days_told(garden, "dry", 30)
    assert found == [date(2031, 5, 23), date(2031, 6, 2), date(2031, 6, 12)]


def test_a_dry_spell_says_since_when_whose_roots_and_what_is_wanted(garden: Path) -> None:
    dry = of(garden, decided(garden, on(THURSDAY, 17)), "dry")
    assert set(dry) == {"Ann", "Tom"}
    assert dry["Tom"].title == "Abbey: no useful rain since 15 January"
    assert dry["Tom"].body == (
        "At least 120 days. Roots are still in the ball: Dole Bed. Likely wanted: Dole Bed today."
    )
    assert dry["Ann"].beds == ()


def test_a_dry_spell_is_none_where_no_bed_will_want_water_before_long(garden: Path) -> None:
    """The whips in the ride have had 600 L."""
    soaked(garden)
    for bed in ("chapel", "dole", "school"):
        setup.rest(garden, bed, "today", now=SET_UP + timedelta(minutes=15))
    assert of(garden, decided(garden, on(THURSDAY, 17)), "dry") == {}


def test_a_dry_spell_can_be_told_to_all(garden: Path) -> None:
    said(garden, "dry", whom="all")
    dry = of(garden, decided(garden, on(THURSDAY, 17)), "dry")
    assert set(dry) == {"Ann", "Tom", "Zoe"}
    assert len({one.body for one in dry.values()}) == 1


def hot(first: date, days: int = 5, tmax_c: float = 31.0) -> dict[date, float]:
    """So many days of heat."""
    return {first + n * DAY: tmax_c for n in range(days)}


def test_the_eve_of_heat_says_what_to_soak_and_ends_with_the_people(garden: Path) -> None:
    soaked(garden)
    dry_days(garden, SUNDAY)
    begin(garden, on(SUNDAY, 15))
    forecast(garden, on(SUNDAY, 5, 30), tmax_c=hot(SUNDAY + DAY))
    heat = of(garden, decided(garden, on(SUNDAY, 16)), "heat")
    assert set(heat) == {"Ann"}
    assert heat["Ann"].title == "Abbey: heat likely Mon to Fri, up to 31 °C"
    assert heat["Ann"].body.startswith("Soak this evening or by 8 tomorrow: Schoolroom 60 L, ")
    assert "Look twice at: Schoolroom." in heat["Ann"].body
    assert heat["Ann"].body.endswith(PEOPLE)
    assert heat["Ann"].for_day == SUNDAY + DAY


def test_what_the_morning_asked_for_and_nobody_gave_is_to_be_soaked_before_heat(
    garden: Path,
) -> None:
    """Tomorrow's round supposes that the clay had today's."""
    soaked(garden)
    dry_days(garden, SUNDAY)
    begin(garden, on(SUNDAY, 6))
    forecast(garden, on(SUNDAY, 5, 30), tmax_c=hot(SUNDAY + DAY))
    found = decided(garden, on(SUNDAY, 16))
    clay = "Dole Bed 84 L"
    assert clay in of(garden, found, "round")["Tom"].body
    assert clay in of(garden, found, "heat")["Ann"].body


def test_heat_is_told_once_a_spell_though_the_forecast_shifts_it(garden: Path) -> None:
    soaked(garden)
    begins = {15: 17, 16: 17, 17: 18, 18: 17, 19: 17}
    told = []
    for today, first in begins.items():
        day = date(2031, 5, today)
        if day > THURSDAY:
            weathered(garden, day - DAY, day - DAY, on(day, 5))
        forecast(garden, on(day, 6, 40), tmax_c=hot(date(2031, 5, first), 8))
        told += [day for one in decided(garden, on(day, 23)) if one.what == "heat"]
    assert told == [date(2031, 5, 16)]


def test_heat_that_came_unforeseen_is_told_while_it_lasts_not_on_its_last_evening(
    garden: Path,
) -> None:
    begin(garden, on(THURSDAY, 15))
    forecast(garden, on(THURSDAY, 6, 40), tmax_c=hot(THURSDAY, 3))
    heat = of(garden, decided(garden, on(THURSDAY, 16)), "heat")["Ann"]
    assert heat.title == "Abbey: heat today, likely to Sat, up to 31 °C"


def test_heat_that_is_over_tonight_is_not_told(garden: Path) -> None:
    begin(garden, on(THURSDAY, 15))
    said(garden, "heat", wanted=False)
    days = hot(THURSDAY, 3)
    last = THURSDAY + 2 * DAY
    for day in (THURSDAY, THURSDAY + DAY, last):
        forecast(garden, on(day, 6, 45), tmax_c=days)
    weathered(garden, THURSDAY, THURSDAY + DAY, on(last, 5))
    begin(garden, on(last, 15))
    said(garden, "heat", wanted=True)
    assert [one for one in decided(garden, on(last, 16)) if one.what == "heat"] == []


def test_a_rule_is_told_three_days_before_it_begins_and_on_its_last_day(garden: Path) -> None:
    bar(garden, "20may", "25may")
    assert days_told(garden, "rule", 14) == [date(2031, 5, 17), date(2031, 5, 25)]


def test_a_rule_is_quoted_as_it_was_typed(garden: Path) -> None:
    bar(garden, "18may", "5sep")
    rules = of(garden, decided(garden, on(THURSDAY, 16)), "rule")
    assert set(rules) == {"Ann", "Tom", "Zoe"}
    assert rules["Zoe"].title == "Abbey: hose barred from Sun 18 May (your text)"
    assert rules["Zoe"].body == (
        f'From 18 May to 5 September, from the mains. As it was typed: "{RULE}" What it allows is in its own text.'
    )


def test_a_long_rule_is_cut_and_said_to_have_its_own_text(garden: Path) -> None:
    bar(garden, "18may", "5sep", text="No water, not a drop. " * 10, source="all")
    one = of(garden, decided(garden, on(THURSDAY, 16)), "rule")["Ann"]
    assert one.body.startswith(
        'From 18 May to 5 September. As it was typed: "No water, not a drop.'
    )
    assert one.body.endswith('..." What it allows is in its own text.')


def test_what_the_taps_of_a_rule_gave_lately_is_said(garden: Path) -> None:
    soaked(garden)
    bar(garden, "18may", "5sep", text="No hoses.")
    one = of(garden, decided(garden, on(THURSDAY, 16)), "rule")["Ann"]
    assert "The beds at taps A and C had 245 L in the last seven days." in one.body


@pytest.mark.parametrize(
    ("first", "last", "title"),
    [
        ("15may", "5sep", "Abbey: hose barred from today (your text)"),
        ("12may", "5sep", "Abbey: hose barred since Mon 12 May (your text)"),
        ("12may", "15may", "Abbey: hose barred for the last day (your text)"),
        ("15may", "15may", "Abbey: hose barred from today (your text)"),
    ],
)
def test_a_rule_entered_late_is_told_all_the_same(
    garden: Path, first: str, last: str, title: str
) -> None:
    bar(garden, first, last)
    found = decided(garden, on(THURSDAY, 16))
    assert of(garden, found, "rule")["Ann"].title == title
    assert {one.state for one in found} == {"due"}


def test_an_old_rule_is_no_news(garden: Path) -> None:
    bar(garden, "1may", "5sep")
    assert of(garden, decided(garden, on(THURSDAY, 16)), "rule") == {}


def test_a_soak_of_a_bed_of_two_kinds_is_one_soak_of_the_week(garden: Path) -> None:
    """The wall has roses and clematis: the book keeps an entry of each, the gardener gave one soak."""
    entries.soak(garden, ["chapel"], "advised", now=on(SUNDAY, 8))
    begin(garden, on(SUNDAY, 12))
    (week,) = of(garden, decided(garden, on(SUNDAY, 17)), "week").values()
    assert week.body.startswith("Given: 1 soak, ")


def test_the_head_has_sundays_look_at_the_week(garden: Path) -> None:
    head(garden, "Zoe")
    soaked(garden)
    dry_days(garden, SUNDAY)
    begin(garden, on(SUNDAY, 12))
    forecast(garden, on(SUNDAY, 5, 30))
    week = of(garden, decided(garden, on(SUNDAY, 17)), "week")
    assert set(week) == {"Zoe"}
    assert week["Zoe"].title == "Abbey: the week to Sun 18"
    assert week["Zoe"].body.startswith(
        "Given: 4 soaks, 845 L. Rain: 0 mm in seven days. Tomorrow likely "
    )
    assert "To Sat 24 no useful rain likely." in week["Zoe"].body
    assert week["Zoe"].body.endswith(
        "Not felt for two weeks: Chapel Wall, Schoolroom, Dole Bed and Orchard Ride."
    )


def test_a_week_with_nothing_in_it_is_not_told(garden: Path) -> None:
    """All that is planted is laid to rest."""
    for bed in ("chapel", "dole", "school", "ride"):
        setup.rest(garden, bed, "today", now=SET_UP)
    found = decided(garden, on(SUNDAY, 23))
    assert found == ()


def test_who_is_named_is_told_whoever_is_the_head(garden: Path) -> None:
    people.person(garden, "Tom", now=SET_UP + timedelta(minutes=1), days="mon")
    said(garden, "rule", whom="named", named=frozenset({uid_of(garden, "Tom")}))
    bar(garden, "18may", "5sep")
    assert set(of(garden, decided(garden, on(THURSDAY, 16)), "rule")) == {"Tom"}
