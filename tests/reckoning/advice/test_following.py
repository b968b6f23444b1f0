"""The round followed: what is given is what `morning_on` asks for, on a book in which all before was given."""

from datetime import date, timedelta

import pytest

from soakbook.garden.entries import Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Absence, Person, Restriction, Tap
from soakbook.reckoning.advice.following import (
    AS_CALLED,
    Followed,
    Habit,
    follow,
    left_to_the_round,
    seen_on_mornings,
)
from soakbook.reckoning.advice.rounds import Morning, morning_on
from soakbook.reckoning.simulation.gardens import gardens_of
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.watering import local_day
from tests.reckoning.gardens import (
    ZONE,
    at,
    bed,
    loss,
    mulch,
    pages,
    rain,
    roses,
    soak,
    weather,
    with_entries,
)

FIRST = date(2031, 5, 1)
END = FIRST + timedelta(days=60)
MEMBERS = 25
PEOPLE = (
    Person("ann", "Ann", frozenset(range(6)), hours=0.25),
    Person("rob", "Rob", frozenset({1, 4}), hours=0.2, absences=(Absence(date(2031, 6, 3), date(2031, 6, 12)),)),
)  # fmt: skip
ON_TWO_DAYS = Person("sue", "Sue", frozenset({0, 3}), hours=9.0)
BOOK = pages(
    [
        roses(planted_on=date(2031, 4, 20)),
        roses("wall", name="climbers", count=6, usual_dose_l=8.0, planted_on=FIRST),
        roses("wall", name="yews", count=3, origin="dug", plant_class="conifer", leaf="evergreen",
              ball_volume_l=40.0, ball_diameter_m=0.45, planted_on=FIRST + timedelta(days=6)),
        roses("low", name="ferns", count=40, ball_volume_l=2.0, ball_diameter_m=0.15, cell_m2=0.2,
              plant_class="perennial", leaf="dies_down", planted_on=FIRST + timedelta(days=2)),
    ],
    [
        mulch(FIRST, bed_key="wall"),
        soak(at(FIRST - timedelta(days=4), 18), 60.0),
        soak(at(FIRST + timedelta(days=3), 8), 500.0),
        loss(at(FIRST + timedelta(days=20), 6), 2, "wall", "wall/climbers"),
        loss(at(FIRST + timedelta(days=25), 18), 30, "low", "low/ferns"),
        rain(at(FIRST + timedelta(days=30), 6), 6.0, at(FIRST + timedelta(days=29), 21)),
    ],
    beds=[bed("bed", tap="A"), bed("wall", tap="A", soil="sandy loam", place="south wall foot"),
          bed("low", soil="clay", area_m2=20.0)],
    days=weather(date(2031, 4, 10), 90, rain={FIRST + timedelta(days=n): 9.0 for n in (12, 29, 44)}),
    taps=(Tap("A", "A"),),
    people=PEOPLE,
    restrictions=(Restriction("rule", date(2031, 6, 10), date(2031, 6, 20), "hose", "mains", "no hose"),),
)  # fmt: skip


def followed(
    book: Pages = BOOK, habit: Habit = AS_CALLED, drawn: int = 0, first: date = FIRST
) -> Followed:
    gardens = gardens_of(known_on(left_to_the_round(book, first, {}), END), END, MEMBERS, drawn)
    assert gardens is not None
    return follow(gardens, first, {}, seen_on_mornings(book, first, END), habit)


@pytest.fixture(scope="module")
def as_called() -> Followed:
    return followed()


def given_on(found: Followed, day: date) -> dict[tuple[str, str | None], tuple[float, str, str]]:
    return {
        (one.bed_uid, one.planting_uid): (one.litres, one.kind, one.method)
        for one in found.soaks
        if one.happened_at == at(day, 7)
    }


def asked_by(morning: Morning) -> dict[tuple[str, str | None], tuple[float, str | None, str]]:
    return {
        (call.bed.uid, one.judged.planting.uid): (
            one.litres,
            one.judged.dose_kind,
            call.supply.method,
        )
        for call in morning.calls[: morning.walked]
        for one in call.going
    }


def test_every_morning_gives_what_the_round_of_that_morning_asks_for(as_called: Followed) -> None:
    whole = with_entries(left_to_the_round(BOOK, FIRST, {}), *as_called.soaks)
    kinds, asked_on, dropped = set(), 0, 0
    for number in range(0, 60, 3):
        day = FIRST + timedelta(days=number)
        morning = morning_on(whole, day, MEMBERS)
        asked = asked_by(morning)
        dropped += sum(one.dropped for call in morning.calls for one in call.dosed)
        if day.weekday() == 6:
            assert given_on(as_called, day) == {}
            continue
        assert given_on(as_called, day) == asked
        asked_on += bool(asked)
        kinds |= {kind for _, kind, _ in asked.values()}
    assert asked_on > 8
    assert dropped > 0  # the hours do not always suffice
    assert "can" in {one.method for one in as_called.soaks}


def test_no_morning_sees_mulch_that_is_laid_after_it() -> None:
    """Else a bed that is just about due would wait for bark that nobody has brought yet."""
    book = BOOK._replace(people=(ON_TWO_DAYS,), restrictions=(), entries=())
    for laid in (FIRST + timedelta(days=n) for n in (4, 7, 11, 14)):
        dressed = with_entries(book, mulch(at(laid, 18), bed_key="wall", depth_cm=25.0))
        found = followed(dressed)
        whole = with_entries(left_to_the_round(dressed, FIRST, {}), *found.soaks)
        for day in (laid, laid + timedelta(days=7)):
            assert given_on(found, day) == asked_by(morning_on(whole, day, MEMBERS)), day


def test_it_begins_with_the_water_that_was_entered_before(as_called: Followed) -> None:
    dry = left_to_the_round(BOOK, date(2031, 4, 1), {})
    assert not any(isinstance(one, Soak) for one in dry.entries)
    without = followed(dry)
    assert sum(one.litres for one in without.soaks) > sum(one.litres for one in as_called.soaks)


def test_a_bed_that_is_followed_from_an_earlier_day_has_its_own_soaks_taken_out_from_then() -> None:
    kept = left_to_the_round(BOOK, FIRST, {"bed": date(2031, 4, 22)})
    assert [one for one in kept.entries if isinstance(one, Soak)] == []
    kept = left_to_the_round(BOOK, FIRST, {"wall": date(2031, 4, 22)})
    assert [one.litres for one in kept.entries if isinstance(one, Soak)] == [60.0]


def test_the_garden_as_it_is_thought_to_be_is_the_same_among_drawn_ones(
    as_called: Followed,
) -> None:
    several = followed(drawn=2)
    mine = [one for one in several.soaks if one.bed_uid in ("bed", "wall", "low")]
    assert mine == list(as_called.soaks)
    assert len({one.bed_uid for one in several.soaks}) == 9
    others = {
        number: sum(one.litres for one in several.soaks if f"member {number} " in one.bed_uid)
        for number in (1, 2)
    }
    assert others[1] != others[2]


def test_twice_the_dose_at_twice_the_interval(as_called: Followed) -> None:
    """One bed alone: after a first soak each next is given when twice the days have gone by than to its call."""
    alone = BOOK._replace(
        beds=BOOK.beds[:1], plantings=BOOK.plantings[:1], entries=(), people=(), restrictions=()
    )
    once, twice = followed(alone), followed(alone, Habit(2, 2))
    first, second = once.soaks[:2]
    doubled = twice.soaks[:2]
    assert doubled[0].litres == 2 * first.litres
    assert doubled[0].happened_at == first.happened_at
    assert len(twice.soaks) <= 0.6 * len(once.soaks)
    gap = doubled[1].happened_at - doubled[0].happened_at
    assert gap >= second.happened_at - first.happened_at
    assert gap.days % 2 == 0
    assert twice.dry.of_beds(["bed"]).mean() > once.dry.of_beds(["bed"]).mean()


def test_what_is_planted_while_its_bed_rests_is_watered_in_that_day_as_the_round_has_it() -> None:
    def watered_in(found: Followed) -> dict[str | None, tuple[date, float]]:
        return {
            one.planting_uid: (local_day(one.happened_at, ZONE), one.litres)
            for one in found.soaks
            if one.kind == "water_in"
        }

    roses_only = BOOK._replace(
        plantings=(
            roses(planted_on=FIRST),
            *(
                roses(name=f"more {n}", planted_on=FIRST + timedelta(days=n))
                for n in (2, 5, 9, 14, 20)
            ),
        ),
        beds=BOOK.beds[:1], entries=(), people=(), restrictions=(),
    )  # fmt: skip
    once = watered_in(followed(roses_only))
    assert len(once) == 6
    assert watered_in(followed(roses_only, Habit(2, 2))) == once


def test_nothing_is_given_while_all_water_is_barred() -> None:
    barred = BOOK._replace(
        restrictions=(
            Restriction("all", FIRST, date(2031, 5, 20), "all", "all", "no water at all"),
        )
    )
    found = followed(barred)
    days = [one.happened_at for one in found.soaks]
    assert min(days) >= at(date(2031, 5, 21), 7)


def test_mornings_before_any_weather_pass() -> None:
    late = BOOK._replace(weather=tuple(one for one in BOOK.weather if one.day >= date(2031, 5, 3)))
    found = followed(late)
    assert found.soaks
    assert min(one.happened_at for one in found.soaks) > at(date(2031, 5, 3), 7)
