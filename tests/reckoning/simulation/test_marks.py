"""Marks: another for all that the steps before a day are made from, the same whatever comes after."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from soakbook.garden.entries import Feel, Loss, Soak
from soakbook.garden.pages import Pages
from soakbook.reckoning.simulation.futures import as_fallen, like_days
from soakbook.reckoning.simulation.season import Season
from tests.reckoning.gardens import (
    PLANTED,
    bed,
    catch,
    feel,
    loss,
    mulch,
    rain,
    roses,
    ruler,
    soak,
    weather,
    with_entries,
)
from tests.reckoning.simulation.kept_garden import MORNING, garden, look, mark, on, season

Change = Callable[[Pages], Pages]

DAYS = 31
DAY = PLANTED + timedelta(days=DAYS)


def adding(*entries: Any) -> Change:
    """With more entries."""
    return lambda book: with_entries(book, *entries)


def day_as(days: int, **fields: Any) -> Change:
    """With another weather on a day."""

    def changed(book: Pages) -> Pages:
        day = PLANTED + timedelta(days=days)
        found = (one._replace(**fields) if one.day == day else one for one in book.weather)
        return book._replace(weather=tuple(found))

    return changed


def bed_as(key: str, **fields: Any) -> Change:
    """With a bed of which something else is said."""
    return lambda book: book._replace(
        beds=tuple(one._replace(**fields) if one.key == key else one for one in book.beds)
    )


def planting_as(uid: str, **fields: Any) -> Change:
    """With a planting of which something else is said."""
    return lambda book: book._replace(
        plantings=tuple(one._replace(**fields) if one.uid == uid else one for one in book.plantings)
    )


def entry_as(kind: type, number: int, **fields: Any) -> Change:
    """With the so-and-so-manieth entry of a kind corrected."""

    def changed(book: Pages) -> Pages:
        uid = [one.uid for one in book.entries if isinstance(one, kind)][number]
        found = (replace(one, **fields) if one.uid == uid else one for one in book.entries)
        return book._replace(entries=tuple(found))

    return changed


def planting(days: int, **fields: Any) -> Change:
    """With one planting more."""
    more = roses(name="more", planted_on=PLANTED + timedelta(days=days), **fields)
    return lambda book: book._replace(plantings=(*book.plantings, more))


BEFORE: dict[str, Change] = {
    "a soak": adding(soak(on(20, 8), 1.0)),
    "a soak corrected": entry_as(Soak, 1, litres=61.0),
    "its method": entry_as(Soak, 1, method="drip"),
    "a feel": adding(feel(on(20), bed="dry")),
    "a feel corrected": entry_as(Feel, 0, ball="moist"),
    "a feel less sure": entry_as(Feel, 0, unsure=True),
    "a feel of the last dawn before": adding(feel(on(DAYS - 1), bed="dry")),
    "a look": adding(look(20)),
    "rain": adding(rain(on(25, 9), 3.0, on(25, 6))),
    "a loss": adding(loss(on(20), 1, planting_uid="bed/staying")),
    "another count lost": entry_as(Loss, 1, count=2),
    "a dressing": adding(mulch(on(20), 2.0)),
    "a dressing measured": adding(ruler(on(20), 2.0, "other")),
    "a jar, whenever": adding(catch(on(60), 3.0, 9.0)),
    "a day's rain": day_as(30, rain_mm=1.0),
    "a day's ET0": day_as(30, et0_mm=3.9),
    "a day's warmth": day_as(30, tmean_c=15.0),
    "a day's wind": day_as(30, wind_2m_m_per_s=3.0, rhmin_percent=40.0),
    "a day's rain unknown": day_as(24, rain_mm=None),
    "a bed's soil": bed_as("bed", soil="clay"),
    "a bed's soil guessed": bed_as("bed", soil="unknown"),
    "a bed's place": bed_as("other", place="south wall foot"),
    "a bed's room": bed_as("other", area_m2=4.0),
    "a ball": planting_as("bed/staying", ball_volume_l=6.0),
    "a ball as it went in": planting_as("bed/staying", ball_felt="dry"),
    "a planting's first day": planting_as("other/dug", planted_on=PLANTED + timedelta(days=4)),
    "what it replaces": planting_as("bed/second", replaces=None),
    "a usual dose": planting_as("bed/staying", usual_dose_l=2.0),
    "leaves": planting_as("bed/second", leaf_out_on=PLANTED + timedelta(days=25)),
    "a planting more": planting(20),
    "one that comes on the day": planting(DAYS),
    "a feel of the dead, which keeps them": adding(
        feel(on(40), planting_uid="bed/first", bed="dry")
    ),
    "a successor of the dead, which keeps them": planting(40, replaces="bed/first"),
}

SINCE: dict[str, Change] = {
    "a soak": adding(soak(on(DAYS, 8), 100.0)),
    "a feel": adding(feel(on(DAYS), ball="dust", bed="dust")),
    "a look": adding(look(DAYS)),
    "rain": adding(rain(on(40, 9), 30.0, on(40, 6))),
    "a loss": adding(loss(on(DAYS), 3, planting_uid="bed/staying")),
    "a dressing": adding(mulch(on(DAYS).date(), 20.0)),
    "a dressing measured": adding(ruler(on(DAYS), 1.0, "other")),
    "weather": day_as(DAYS, rain_mm=40.0, et0_mm=1.0, tmean_c=3.0),
    "leaves": planting_as("bed/second", leaf_out_on=None, leaf_fall_on=DAY + timedelta(days=9)),
    "a planting": planting(DAYS + 1),
    "a successor": planting(DAYS + 1, replaces="bed/second"),
    "its name": planting_as("bed/staying", name="Rosa rugosa"),
    "a bed at rest": bed_as("bed", rests_from=DAY, walk_m=70.0, name="Front"),
    "a bed": lambda book: book._replace(beds=(bed("new"), *book.beds)),
}


@pytest.mark.parametrize("what", BEFORE)
def test_what_the_steps_before_are_made_from_makes_another(what: str) -> None:
    before = mark(season(garden()), DAY)
    assert mark(season(BEFORE[what](garden())), DAY) != before


@pytest.mark.parametrize("what", SINCE)
def test_what_comes_since_does_not(what: str) -> None:
    changed = SINCE[what](garden())
    assert changed != garden()
    assert mark(season(changed), DAY) == mark(season(garden()), DAY)


def test_nor_does_the_morning() -> None:
    marks = {mark(season(garden(), MORNING - timedelta(days=back)), DAY) for back in (0, 1, 7, 10)}
    assert len(marks) == 1


def test_another_day_other_members_and_another_program_have_others() -> None:
    of = season(garden())
    marks = [
        mark(of, DAY),
        mark(of, DAY + timedelta(days=1)),
        mark(of, DAY, "2"),
        mark(season(garden(), members=7), DAY),
    ]
    assert len(set(marks)) == len(marks)


def test_another_numpy_has_another(monkeypatch: pytest.MonkeyPatch) -> None:
    before = mark(season(garden()), DAY)
    monkeypatch.setattr(np, "__version__", "1.0")
    assert mark(season(garden()), DAY) != before


def supposed(of: Season, day: date, et0_mm: float = 3.0) -> Season:
    """The season where nobody measured a day."""
    future = as_fallen(like_days(weather(days=20), [day], et0_mm)[day])
    steps = tuple(one._replace(future=future) if one.day == day else one for one in of.skies.steps)
    return of._replace(skies=of.skies._replace(steps=steps))


def test_who_goes_with_which_future_counts_where_a_day_before_was_supposed() -> None:
    of = season(garden())
    dealt = of._replace(numbers=of.numbers[::-1])
    assert mark(dealt, DAY) == mark(of, DAY)
    before, since = DAY - timedelta(days=3), DAY + timedelta(days=3)
    assert mark(supposed(of, before), DAY) != mark(of, DAY)
    assert mark(supposed(of, before), DAY) != mark(supposed(of, before, 3.5), DAY)
    assert mark(supposed(dealt, before), DAY) != mark(supposed(of, before), DAY)
    assert mark(supposed(dealt, since), DAY) == mark(of, DAY)
