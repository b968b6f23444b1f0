"""What of a round goes into a calendar, in which words."""

from datetime import date, time, timedelta
from typing import Any

import pytest

from soakbook.garden.heat import HeatSpell
from soakbook.garden.records import Restriction
from soakbook.reckoning.advice.report import Call
from soakbook.reminders.channels.calendar_events import calendar_events
from soakbook.reminders.channels.calendar_keeping import CalendarEvent
from tests.reminders.channels.calendars import CALL, DAY, LONDON, PLANTING, WAITING, at, round_of

UIDS = {"chapel": "c1", "dole": "d1"}
RULE = Restriction(
    "r1", date(2031, 7, 18), date(2031, 9, 5), "hose", "mains", "No hosepipe, please."
)


def events_of(
    *calls: Call, rules: tuple[Restriction, ...] = (), heat: HeatSpell | None = None
) -> tuple[CalendarEvent, ...]:
    return calendar_events(round_of(*calls), UIDS, rules, time(7), LONDON, heat)


def event_of(call: Call, **changes: Any) -> CalendarEvent:
    (event,) = events_of(call._replace(**changes))
    return event


def test_a_bed_to_soak_stands_at_the_rounds_hour() -> None:
    event = event_of(CALL)
    assert (event.key, event.title) == ("bed c1", "Soak Chapel Wall: 12 L")
    assert (event.at, event.alarm) == (at(7), at(7))
    assert event.minutes == 10, "6.2 min on foot, in steps of five"
    assert event.first == event.last == DAY
    assert event.body == (
        "6 climbing roses 2 L each\n"
        "Tap A, about 6 min in all; or 2 cans.\n"
        "On the ball, slowly; the bed needs none.\n"
        "Last safe morning: Fri 16 May."
    )


@pytest.mark.parametrize(
    ("kind", "title"),
    [
        ("rescue", "Soak Chapel Wall: 12 L, a rescue"),
        ("re_wet", "Re-wet Chapel Wall: 12 L"),
        ("water_in", "Water in Chapel Wall: 12 L"),
    ],
)
def test_each_kind_of_soak_by_its_name(kind: str, title: str) -> None:
    assert event_of(CALL, dose_kind=kind).title == title


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({"means": "cans", "cans": 7, "rose_on": True}, "7 cans, rose on, about 6 min in all."),
        ({"means": "cans", "cans": 1}, "1 can, about 6 min in all."),
        ({"means": "hose", "cans": 7}, "Tap A, about 6 min in all."),
        ({"means": "barrow", "tanks": 2, "cans": None}, "2 barrow tanks, about 6 min in all."),
        ({"means": "barrow", "cans": None}, "By barrow, about 6 min in all."),
        ({"means": "drip", "minutes": 30.0}, "Drip, tap A open for 30 min."),
        ({"means": "none", "cans": None}, "Nothing to give it with today."),
        (
            {"pours": 3, "pour_wait_min": 20},
            "Tap A, about 6 min in all; or 2 cans. In 3 pours, 20 min between.",
        ),
    ],
)
def test_how_it_is_given(changes: dict[str, Any], line: str) -> None:
    assert event_of(CALL, **changes).body.splitlines()[1] == line


def test_what_was_given_and_what_is_to_be_felt_first_is_said() -> None:
    body = event_of(CALL, given_today_l=8.0, feel_first=True, last_safe=None).body.splitlines()
    assert body[0] == "Feel one first: if it is moist, leave and say so."
    assert "Already given today 8 L: this is what remains." in body
    assert not any("Last safe" in line for line in body)


def test_plantings_that_get_nothing_are_not_listed() -> None:
    left = PLANTING._replace(planting="clematis", dropped=True)
    dry = PLANTING._replace(planting="fern", litres_each=0.0)
    along = PLANTING._replace(planting="hydrangea", count=1)
    body = event_of(CALL, plantings=(PLANTING, left, dry, along)).body
    assert body.startswith("6 climbing roses 2 L each; 1 hydrangea 2 L\n")


def test_a_bed_to_feel_has_no_litres() -> None:
    event = event_of(CALL, litres=0.0, dose_kind=None, verdict="feel", minutes_on_foot=0.0,
                     reason="The sums lie far apart here.")  # fmt: skip
    assert (event.title, event.body) == ("Feel Chapel Wall", "The sums lie far apart here.")
    assert event.minutes == 5


def test_a_bed_that_waits_stands_on_the_day_it_is_likely_wanted() -> None:
    event = event_of(WAITING)
    assert (event.key, event.title) == ("bed c1", "Chapel Wall likely wants water")
    assert (event.first, event.last, event.at) == (date(2031, 5, 18), date(2031, 5, 18), None)
    assert event.alarm == at(7, day=date(2031, 5, 18))
    assert event.body == (
        "Likely, by the reckoning: the round of that morning says whether, and how much.\n"
        "Last safe morning, by the reckoning: Mon 19 May."
    )


def test_the_reason_of_this_morning_does_not_change_a_day_to_come() -> None:
    assert event_of(WAITING) == event_of(WAITING, reason="12 mm reached the bed.")


@pytest.mark.parametrize(
    ("changes", "title"),
    [
        ({"verdict": "held_back"}, "Look at Chapel Wall: it was held back"),
        ({"verdict": "rain"}, "Chapel Wall: did the rain come?"),
        ({"verdict": "soak", "dropped": True}, "Chapel Wall likely wants water"),
    ],
)
def test_why_it_waits_is_in_the_title_where_it_matters(changes: dict[str, Any], title: str) -> None:
    event = event_of(WAITING, wanted_on=DAY, **changes)
    assert event.title == title
    assert event.first == DAY + timedelta(days=1), "nobody goes there this morning"


def test_a_bed_there_is_no_time_for_says_so() -> None:
    body = event_of(WAITING, verdict="soak", dropped=True, last_safe=DAY).body
    assert body == (
        "No time for it on Thu 15 May.\nLast safe morning, by the reckoning: Thu 15 May."
    )


@pytest.mark.parametrize("changes", [{"wanted_on": None}, {"verdict": "laid_by"}])
def test_a_bed_that_wants_nothing_in_sight_has_no_event(changes: dict[str, Any]) -> None:
    assert events_of(WAITING._replace(**changes)) == ()


def test_a_bed_has_one_event_whether_called_or_waiting() -> None:
    assert event_of(CALL).key == event_of(WAITING).key
    keys = [event.key for event in events_of(CALL, WAITING._replace(bed="dole"))]
    assert keys == ["bed c1", "bed d1"]


def test_a_rule_is_quoted_and_not_interpreted() -> None:
    (event,) = events_of(rules=(RULE,))
    assert (event.key, event.title) == ("rule r1", "Barred: hose from the mains (your text)")
    assert event.body == (
        '"No hosepipe, please."\n'
        "A rule is kept as you typed it: the company's text decides, not soakbook."
    )
    assert (event.first, event.last, event.alarm) == (RULE.first, RULE.last, None)


def test_a_rule_on_all_watering_names_no_tool_and_no_source() -> None:
    (event,) = events_of(rules=(RULE._replace(tool="all", source="all"),))
    assert event.title == "Barred: watering (your text)"


def test_rules_that_are_over_are_left_out() -> None:
    over = RULE._replace(first=date(2031, 5, 1), last=DAY - timedelta(days=1))
    today = over._replace(uid="r2", last=DAY)
    assert [event.key for event in events_of(rules=(over, today))] == ["rule r2"]


def test_heat_is_likely_and_ends_with_the_people() -> None:
    heat = HeatSpell(date(2031, 7, 8), date(2031, 7, 14), 34.4, 0, eve=False, open_ended=False)
    (event,) = events_of(heat=heat)
    assert (event.key, event.title) == ("heat", "Heat likely, up to 34 °C")
    assert (event.first, event.last) == (heat.first, heat.last)
    assert event.body.endswith("call for medical help.")
    (longer,) = events_of(heat=heat._replace(open_ended=True))
    assert longer.body.startswith("It may go on for longer.\n")


def test_a_last_safe_morning_before_the_day_is_not_said_of_it() -> None:
    """Soaked this morning, wanted again tomorrow: the last safe morning is this one's."""
    assert (
        "Last safe" not in event_of(WAITING, wanted_on=DAY + timedelta(days=1), last_safe=DAY).body
    )
