"""Mornings and evenings of the small garden: who is told of which bed, and what a gardener reads."""

from datetime import date, time
from pathlib import Path

import pytest

from soakbook.garden.reminding import Notice
from soakbook.services import entries, people, setup
from soakbook.store.book import open_book
from soakbook.store.outbox import add_notices
from tests.reminders.garden_days import (
    DAY,
    SET_UP,
    THURSDAY,
    beds_in,
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

FRIDAY, SATURDAY, SUNDAY, MONDAY = (THURSDAY + n * DAY for n in range(1, 5))
ANNS = {"Chapel Wall", "Schoolroom", "Orchard Ride"}
TOMS_FEEL = Notice(
    uid="n1",
    what="feel",
    whom="",
    about="",
    for_day=THURSDAY + 30 * DAY,
    zone="Europe/London",
    title="Abbey: go and feel",
    body="A finger in a ball.",
    beds=(),
    due_at=on(THURSDAY, 7),
    late_from=on(THURSDAY, 12),
    not_after=on(THURSDAY, 23),
)


def thursday(path: Path, hour: int) -> tuple[Notice, ...]:
    """What Thursday brings up to an hour."""
    return decided(path, on(THURSDAY, hour))


def test_each_has_their_beds_in_the_morning_and_what_they_want(garden: Path) -> None:
    found = thursday(garden, 8)
    assert [one.what for one in found] == ["round", "round"]
    rounds = of(garden, found, "round")
    assert {who: beds_in(garden, one) for who, one in rounds.items()} == {
        "Ann": ANNS,
        "Tom": {"Dole Bed"},
    }
    ann, tom = rounds["Ann"], rounds["Tom"]
    assert ann.title == "Abbey, Thu 15 May: 3 beds by 10:00"
    assert ann.body.startswith("Chapel Wall 45 L (a rescue), Schoolroom 60 L (a rescue) and Orch")
    assert "Not to be put off: Chapel Wall and Schoolroom. Last safe morning" in ann.body
    assert ann.body.endswith("Answer: soakbook remind done | half | could-not | left --by Ann.")
    assert "No useful rain since 15 January; roots are still in the ball." in tom.body
    assert {one.state for one in found} == {"due"}


def test_nothing_is_said_where_nothing_is_to_be_done(garden: Path) -> None:
    soaked(garden)
    for bed in ("chapel", "school", "ride", "dole"):
        now = on(THURSDAY, 6, 50)
        if bed == "ride":  # came bare-rooted
            entries.feel(garden, [bed], bed="moist", now=now)
        else:
            entries.feel(garden, [bed], ball="moist", bed="moist", now=now)
    assert thursday(garden, 12) == ()


def test_who_is_away_has_no_bed_that_day(garden: Path) -> None:
    people.person(garden, "Ann", now=SET_UP, away="2031-05-15..2031-05-16")
    rounds = of(garden, thursday(garden, 8), "round")
    assert {who: beds_in(garden, one) for who, one in rounds.items()} == {
        "Tom": {*ANNS, "Dole Bed"}
    }


def test_on_a_day_on_which_nobody_comes_the_keeper_has_what_cannot_wait(garden: Path) -> None:
    for name in ("Ann", "Tom", "Zoe"):
        people.person(garden, name, now=SET_UP, away="2031-05-15..2031-05-15")
    rounds = of(garden, thursday(garden, 8), "round")
    assert {who: beds_in(garden, one) for who, one in rounds.items()} == {
        "Ann": {"Chapel Wall", "Schoolroom"},
        "Tom": {"Dole Bed"},
    }


@pytest.mark.parametrize(
    ("whom", "named", "told"),
    [
        ("head", (), {"Ann"}),
        ("all", (), {"Ann", "Tom"}),
        ("named", ("Zoe",), {"Zoe"}),
        ("named", ("Zoe", "Tom"), {"Tom"}),  # who was entered first, and keeps one
    ],
)
def test_a_round_goes_to_whom_it_was_said(
    garden: Path, whom: str, named: tuple[str, ...], told: set[str]
) -> None:
    uids = frozenset(uid_of(garden, name) for name in named)
    said(garden, "round", whom=whom, named=uids)
    rounds = of(garden, thursday(garden, 8), "round")
    assert set(rounds) == told
    beds = [uid for one in rounds.values() for uid in one.beds]
    assert len(beds) == len(set(beds)) == 4


def test_where_nobody_of_those_named_is_left_the_head_is_told(garden: Path) -> None:
    head(garden, "Zoe")
    said(garden, "round", whom="named", named=frozenset({"somebody-gone"}))
    assert set(of(garden, thursday(garden, 8), "round")) == {"Zoe"}


def test_a_kind_switched_off_or_at_another_hour(garden: Path) -> None:
    said(garden, "round", hour=time(7, 45))
    assert thursday(garden, 7) == ()
    assert {one.due_at for one in thursday(garden, 8)} == {on(THURSDAY, 7, 45)}
    said(garden, "unheard", wanted=False, now=on(THURSDAY, 8))
    assert [one.what for one in thursday(garden, 23)] == ["dry", "dry"]


def test_what_falls_into_quiet_hours_waits_for_their_end(garden: Path) -> None:
    said(garden, "round", quiet_from=time(20), quiet_until=time(8, 30))
    found = thursday(garden, 8)
    assert {one.due_at for one in found} == {on(THURSDAY, 8, 30)}


def test_rain_that_did_not_come_gives_its_bed_and_the_round_the_others(garden: Path) -> None:
    """On Sunday the clay is left for 12 mm at noon; not a drop falls."""
    soaked(garden)
    dry_days(garden, SUNDAY)
    begin(garden, on(SUNDAY, 5))
    forecast(garden, on(SUNDAY, 5, 30), rain_mm={SUNDAY: 12.0})
    sunday = of(garden, decided(garden, on(SUNDAY, 8)), "round")
    assert "Dole Bed" not in {bed for one in sunday.values() for bed in beds_in(garden, one)}
    weathered(garden, SUNDAY, SUNDAY, on(MONDAY, 5))
    forecast(garden, on(MONDAY, 5, 30))
    found = decided(garden, on(MONDAY, 8))
    (tom,) = [one for one in found if one.what == "promise"]
    assert (beds_in(garden, tom), tom.title) == ({"Dole Bed"}, "Abbey: the rain did not come")
    assert tom.body == (
        "0 mm fell, 12 mm were likely here. Left for it, and to be soaked this morning: Dole Bed 98 L. "
        "Last safe morning today. Not left for a forecast again before it has been soaked or rained on. "
        "Answer: soakbook remind done | half | could-not | left --by Tom."
    )
    assert {who: beds_in(garden, one) for who, one in of(garden, found, "round").items()} == {
        "Ann": {"Chapel Wall", "Schoolroom"}
    }


def test_rain_that_did_not_come_gives_nothing_that_an_earlier_round_gave(garden: Path) -> None:
    said(garden, "promise", hour=time(9))
    soaked(garden)
    dry_days(garden, SUNDAY)
    begin(garden, on(SUNDAY, 5))
    forecast(garden, on(SUNDAY, 5, 30), rain_mm={SUNDAY: 12.0})
    decided(garden, on(SUNDAY, 8))
    weathered(garden, SUNDAY, SUNDAY, on(MONDAY, 5))
    found = decided(garden, on(MONDAY, 12))
    assert "Dole Bed" in beds_in(garden, of(garden, found, "round")["Tom"])
    assert of(garden, found, "promise") == {}


def test_no_word_goes_to_the_next_and_then_to_the_head_and_then_there_is_silence(
    garden: Path,
) -> None:
    """Tom's bed; he, Ann and Zoe come, and Zoe is the head."""
    head(garden, "Zoe")
    thursday(garden, 8)
    first = of(garden, thursday(garden, 18), "unheard")
    assert {who: beds_in(garden, one) for who, one in first.items()} == {
        "Tom": ANNS,
        "Ann": {"Dole Bed"},
    }
    assert first["Ann"].title == "Abbey: Dole Bed not heard of, not to be put off"
    assert first["Ann"].body.startswith("Was it done? If not: 140 L, 10 min at tap A.")
    assert first["Tom"].title == "Abbey: 3 beds not heard of, not to be put off"
    second = of(garden, thursday(garden, 20), "unheard")
    assert {who: beds_in(garden, one) for who, one in second.items()} == {
        "Zoe": {*ANNS, "Dole Bed"}
    }
    assert thursday(garden, 23) == ()
    # past their last safe morning they are asked after every three days, not every evening
    dry_days(garden, FRIDAY)
    asked = of(garden, decided(garden, on(FRIDAY, 23)), "unheard")
    assert {bed for one in asked.values() for bed in beds_in(garden, one)} <= {"Orchard Ride"}


@pytest.mark.parametrize("answer", ["soak", "half", "left", "feel"])
def test_an_answer_ends_it(garden: Path, answer: str) -> None:
    thursday(garden, 8)
    now = on(THURSDAY, 9)
    if answer == "soak":
        entries.soak(garden, ["dole"], "140l", now=now, by="Tom")
    elif answer == "half":
        entries.soak(garden, ["dole"], "70l", now=now, by="Tom")
    elif answer == "left":
        entries.left(garden, ["dole"], "looked at, needs none", now=now, by="Tom")
    else:
        entries.feel(garden, ["dole"], ball="moist", now=now, by="Tom")
    asked = of(garden, thursday(garden, 23), "unheard")
    assert "Dole Bed" not in {bed for one in asked.values() for bed in beds_in(garden, one)}


def test_who_could_not_passes_the_bed_on_and_is_not_asked_again(garden: Path) -> None:
    """Tom could not, nor could Ann, whom it would have gone to: it is Zoe's."""
    thursday(garden, 8)
    entries.left(garden, ["dole"], "could not", now=on(THURSDAY, 9), by="Tom")
    entries.left(garden, ["dole"], "no time", now=on(THURSDAY, 10), by="ann")
    asked = of(garden, thursday(garden, 18), "unheard")
    assert beds_in(garden, asked["Zoe"]) == {"Dole Bed"}
    assert asked["Zoe"].body.startswith("Tom and ann could not get there. Wanted: 140 L, 10 min")
    assert of(garden, thursday(garden, 23), "unheard").keys() == set()  # the head is Ann


def test_nobody_is_asked_after_what_rain_has_settled(garden: Path) -> None:
    thursday(garden, 8)
    entries.rain(garden, "60mm", now=on(THURSDAY, 16), from_="09:00", to="15:00")
    assert of(garden, thursday(garden, 23), "unheard") == {}


def test_nobody_is_asked_after_a_bed_laid_to_rest_since_the_morning(garden: Path) -> None:
    thursday(garden, 8)
    setup.rest(garden, "dole", "today", now=on(THURSDAY, 12))
    asked = of(garden, thursday(garden, 23), "unheard")
    assert {bed for one in asked.values() for bed in beds_in(garden, one)} == ANNS


def test_a_bed_renamed_since_the_morning_is_asked_after_all_the_same(garden: Path) -> None:
    thursday(garden, 8)
    setup.bed(garden, "dole", now=on(THURSDAY, 12), new_key="clay", name="Clay Bed")
    assert beds_in(garden, of(garden, thursday(garden, 18), "unheard")["Ann"]) == {"Clay Bed"}


def test_before_the_round_nothing_is_unheard_of(garden: Path) -> None:
    said(garden, "unheard", hour=time(7))
    said(garden, "round", hour=time(12))
    assert [one for one in thursday(garden, 11) if one.what == "unheard"] == []


def test_go_and_feel_comes_once_a_week(garden: Path) -> None:
    """The clay was soaked and never felt."""
    soaked(garden)
    told: list[date] = []
    for n in range(1, 10):
        day = THURSDAY + n * DAY
        entries.soak(garden, ["chapel"], "45l", now=on(day, 5), by="Ann")
        entries.soak(garden, ["school"], "60l", now=on(day, 5), by="Ann")
        entries.soak(garden, ["dole"], "60l", now=on(day, 18), by="Ann")
        weathered(garden, day - DAY, day - DAY, on(day, 5))
        begin(garden, on(day, 6))
        feels = of(garden, decided(garden, on(day, 8)), "feel")
        told += [day for one in feels.values() if "Dole Bed" in beds_in(garden, one)]
    assert told == [FRIDAY, FRIDAY + 7 * DAY]


def test_go_and_feel_says_how_and_what_to_type(garden: Path) -> None:
    soaked(garden)
    dry_days(garden, FRIDAY)
    feel = of(garden, decided(garden, on(FRIDAY, 8)), "feel")["Tom"]
    assert feel.title == "Abbey: go and feel Dole Bed"
    assert feel.body == (
        "Dole Bed (never felt): by the reckoning nothing is due, and nobody has looked. A finger in a ball, and one a "
        "hand's breadth outside it; gloves on. Then: soakbook feel dole --ball ? --bed ? (dust, dry, moist, wet, sour)."
    )


def test_go_and_feel_of_a_day_to_come_keeps_none_back(garden: Path) -> None:
    """It was sent by a clock that stood wrong."""
    soaked(garden)
    dry_days(garden, FRIDAY)
    with open_book(garden) as book:
        dole = (uid_of(garden, "Dole Bed"),)
        ahead = TOMS_FEEL._replace(whom=uid_of(garden, "Tom"), beds=dole)
        add_notices(book, [ahead])
    assert "Tom" in of(garden, decided(garden, on(FRIDAY, 8)), "feel")


def test_a_bed_to_feel_is_told_apart_from_the_round_and_once_a_week(garden: Path) -> None:
    """A round whose beds have all had their water is withdrawn, whatever there is to feel besides."""
    soaked(garden)
    dry_days(garden, SATURDAY)
    begin(garden, on(SATURDAY, 6))
    found = decided(garden, on(SATURDAY, 8))
    ann = of(garden, found, "round")["Ann"]
    feel = of(garden, found, "feel")["Ann"]
    assert beds_in(garden, feel) == {"Orchard Ride"}
    assert "Orchard Ride" not in beds_in(garden, ann)
