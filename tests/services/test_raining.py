"""A gauge reading entered as a window of time, and what each bed and ball got of it."""

from datetime import timedelta
from pathlib import Path

import pytest

from soakbook.garden.entries import Rain
from soakbook.services.entries import rain, soak
from soakbook.services.mornings import round_report
from tests.services.looking import NOW, Refused, approx, at, entries_of, said


def test_the_window_runs_from_the_last_reading(garden: Path) -> None:
    first = rain(garden, "0mm", now=at(5, 14, 21))
    answer = rain(garden, "15.6mm", kind="gentle", now=NOW)
    entry = entries_of(garden, Rain)[-1]
    assert entry.began_at == at(5, 14, 21)
    assert not entry.began_assumed
    assert (entry.rain_mm, entry.typed, entry.kind) == (15.6, "15.6mm", "gentle")
    assert first["changed"]["began_assumed"]
    assert said(answer).startswith("15.6 mm, gentle, in the 10 h to 06:30.")
    assert "24 hours are taken" not in said(answer)


def test_a_gauge_is_read_once_a_minute(garden: Path) -> None:
    rain(garden, "15.6mm", now=NOW)
    said_of_it = ("15.6mm was entered at 06:30", "--from and --to")
    with Refused(garden, "time of reading", "06:30", *said_of_it):
        rain(garden, "0mm", now=NOW + timedelta(seconds=40))
    with Refused(garden, "to", "06:30", *said_of_it):
        rain(garden, "0mm", to="06:30", now=NOW + timedelta(hours=1))
    with Refused(garden, "at", "06:30", *said_of_it):
        rain(garden, "0mm", at="06:30", now=NOW + timedelta(hours=1))
    rain(garden, "12mm", from_="yesterday 06:30", to="06:30", now=NOW)
    rain(garden, "1mm", now=NOW + timedelta(minutes=2))


def test_a_reading_that_would_reach_back_over_a_week_takes_a_day(garden: Path) -> None:
    rain(garden, "2mm", to="7may 06:00", now=NOW)
    answer = rain(garden, "15.6mm", now=NOW)["changed"]
    assert (answer["began_at"], answer["began_assumed"]) == ("2031-05-14T06:30:00+01:00", True)


def test_the_moment_of_a_reading_may_be_said_as_of_any_entry(garden: Path) -> None:
    rain(garden, "2mm", at="06:00", now=NOW)
    assert entries_of(garden, Rain)[0].happened_at == at(5, 15, 6)
    with Refused(garden, "at", "06:10", "--to or --at"):
        rain(garden, "2mm", at="06:10", to="06:20", now=NOW)


def test_a_first_reading_takes_a_day_and_says_so(garden: Path) -> None:
    answer = rain(garden, "15.6mm", now=NOW)
    assert entries_of(garden, Rain)[0].began_at == NOW - timedelta(days=1)
    assert answer["changed"]["began_assumed"]
    assert "No reading in the week before: 24 hours are taken" in said(answer)


def test_beds_got_their_share_less_what_the_mulch_drank(garden: Path) -> None:
    """A south wall foot has 0.45 of the gauge; of 5 cm of bark a fifth settles in 180 days.

    Each centimetre drinks 0.6 mm: laid on 24 March, 52 days before the 15th of May.
    """
    answer = rain(garden, "15.6mm", kind="gentle", from_="yesterday 20:00", now=NOW)
    got = {one["bed"]: one["soil_mm"] for one in answer["changed"]["beds"]}
    assert got["ride"] == approx(15.6)
    assert got["school"] == approx(15.6)
    drank = 0.6 * 5 * (1 - 0.2 * 52 / 180)
    assert got["chapel"] == approx(15.6 * 0.45 - drank)
    assert "Orchard Ride 15.6" in said(answer)
    assert "(after share and mulch)" in said(answer)


def test_a_ball_catches_what_falls_on_its_own_width(garden: Path) -> None:
    """15 cm across is 0.01767 m2: 15.6 mm on it are 0.276 L; bare roots have no ball."""
    answer = rain(garden, "15.6mm", kind="gentle", now=NOW)
    caught = {one["bed"]: one["balls_caught_l"] for one in answer["changed"]["beds"]}
    assert caught["ride"] == []
    assert len(caught["chapel"]) == 2
    assert 0 < caught["school"][0] <= 15.6 * 0.01768


def test_beds_are_let_off_or_stay_on(garden: Path) -> None:
    before = {one["bed"] for one in round_report(garden, now=NOW)["calls"] if one["litres"]}
    answer = rain(garden, "40mm", kind="gentle", now=NOW)["changed"]
    after = {one["bed"] for one in round_report(garden, now=NOW)["calls"] if one["litres"]}
    assert before
    assert set(answer["still_on"]) == before & after
    assert set(answer["let_off"]) | set(answer["held_back"]) >= before - after
    assert answer["now_on"] == []


def test_what_a_reading_brought_is_its_own_alone(garden: Path) -> None:
    """Two readings of one night: the second is told without what the first brought."""
    rain(garden, "10mm", now=at(5, 14, 22))
    answer = rain(garden, "5mm", now=NOW)
    got = {one["bed"]: one["soil_mm"] for one in answer["changed"]["beds"]}
    assert got["ride"] == approx(5)


def test_a_catch_of_several_days_is_counted_over_all_its_steps(garden: Path) -> None:
    answer = rain(garden, "12mm", from_="11may", kind="gentle", now=NOW)
    got = {one["bed"]: one["soil_mm"] for one in answer["changed"]["beds"]}
    assert entries_of(garden, Rain)[0].began_at == at(5, 11, 7)
    assert got["ride"] == approx(12)
    assert "in the 4 days to 06:30" in said(answer)


@pytest.mark.parametrize(
    ("from_", "lasting"),
    [
        ("14may 04:30", "26 h"),
        ("13may 06:30", "48 h"),
        ("12may 06:30", "3 days"),
        ("10may 16:30", "4 days 14 h"),
    ],
)
def test_a_long_window_is_told_in_days_and_hours(garden: Path, from_: str, lasting: str) -> None:
    assert f"in the {lasting} to 06:30" in said(rain(garden, "12mm", from_=from_, now=NOW))


@pytest.mark.parametrize("amount", ["abc", ""])
def test_what_is_no_depth_is_answered_with_depths(garden: Path, amount: str) -> None:
    with Refused(garden, "rain", amount, "write 15.6mm or 0.6in"):
        rain(garden, amount, now=NOW)


def test_rain_of_an_evening_bears_on_tomorrow(garden: Path) -> None:
    answer = rain(garden, "8mm", kind="burst", from_="17:30", to="18:10", now=at(5, 15, 18, 30))
    got = {one["bed"]: one["soil_mm"] for one in answer["changed"]["beds"]}
    assert got["ride"] == approx(8)
    assert "in the 40 min to 18:10" in said(answer)
    assert "Still on today" not in said(answer)


def test_a_reading_over_an_earlier_one_says_which_counts(garden: Path) -> None:
    rain(garden, "3mm", now=at(5, 15, 6))
    answer = rain(garden, "4mm", from_="yesterday 20:00", now=NOW)
    assert "this one counts" in said(answer)
    older = rain(garden, "2mm", from_="12may 08:00", to="12may 20:00", now=NOW)
    assert "this one counts" not in said(older)


def test_a_trace_is_a_measurement(garden: Path) -> None:
    answer = rain(garden, "trace", now=NOW)
    assert entries_of(garden, Rain)[0].rain_mm == 0.0
    assert said(answer).startswith("A trace, in the 24 h")


def test_a_day_without_its_hour_is_the_round_hour(garden: Path) -> None:
    rain(garden, "4mm", to="yesterday", now=NOW)
    assert entries_of(garden, Rain)[0].happened_at == at(5, 14, 7)
    with Refused(garden, "to", "today", "with its hour"):
        rain(garden, "4mm", to="today", now=NOW)


def test_a_window_that_cannot_be_is_refused(garden: Path) -> None:
    with Refused(garden, "from", "06:20", "before the reading"):
        rain(garden, "4mm", from_="06:20", to="06:10", now=NOW)
    with Refused(garden, "from", "1apr", "at most 31 days"):
        rain(garden, "4mm", from_="1apr", now=NOW)
    with Refused(garden, "to", "08:00", "not come yet"):
        rain(garden, "4mm", to="08:00", now=NOW)


def test_litres_are_no_rain(garden: Path) -> None:
    with Refused(garden, "rain", "4l", "rain is a depth"):
        rain(garden, "4l", now=NOW)


def test_a_garden_without_weather_keeps_its_gauge(new_book: Path) -> None:
    answer = rain(new_book, "4mm", now=NOW)
    assert len(entries_of(new_book, Rain)) == 1
    assert "soakbook weather FILE" in said(answer)
    assert answer["changed"]["beds"] == []


def test_a_soak_in_the_same_steps_is_not_taken_for_rain(garden: Path) -> None:
    soak(garden, ["ride"], "600l", method="broadcast", now=at(5, 15, 6))
    answer = rain(garden, "5mm", now=NOW)
    got = {one["bed"]: one["soil_mm"] for one in answer["changed"]["beds"]}
    assert got["ride"] == approx(5)


def test_a_reading_of_days_ago_says_what_it_changes_for_today(garden: Path) -> None:
    """40 mm of an evening nine days ago: the beds it names are those on this morning's round."""
    answer = rain(garden, "40mm", from_="6may 17:30", to="6may 23:00", now=NOW)
    report = round_report(garden, now=NOW)
    wanted = [one["bed"] for one in report["calls"] if one["verdict"] == "soak"]
    assert wanted
    changed = answer["changed"]
    assert {*changed["still_on"], *changed["now_on"]} == set(wanted)
    assert "40 mm, in the 6 h to 23:00 Tue 6. Beds got: " in said(answer)
    assert "Still on today: " in said(answer)
    assert "Still on Thu" not in said(answer)
    assert all(0 < one["soil_mm"] <= 40 for one in changed["beds"])
