"""How dry it has been, by rain that is known."""

from collections.abc import Sequence
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.runs import Run
from soakbook.garden.spells import (
    Holding,
    Spell,
    consecutive_dry_days,
    dry_run,
    dry_runs,
    is_useful,
    last_useful_rain,
    partial_drought,
    published_words,
    spell_of,
    water_balance,
)

MORNING = date(2031, 6, 20)
YESTERDAY = MORNING - timedelta(days=1)

Rains = Sequence[float | None]


def ending(values: Rains, last: date = YESTERDAY) -> dict[date, float | None]:
    """Values of the days up to a last one."""
    return {
        last - timedelta(days=len(values) - 1 - place): value for place, value in enumerate(values)
    }


def ago(days: int) -> date:
    return MORNING - timedelta(days=days)


def spell(rain: Rains, fallen_today_mm: float = 0.0) -> Spell:
    return spell_of(ending(rain), {}, MORNING, fallen_today_mm=fallen_today_mm)


@pytest.mark.parametrize(
    ("before_mm", "rain_mm", "useful"),
    [
        (0, 5, True),
        (0, 4.9, False),
        (
            2.2,
            2.8,
            True,
        ),  # 2.2 + 2.8 is a hair under 5 or over it: sums of tenths are taken as meant
        (4.7, 0.3, True),
        (9, 0.4, False),  # the day before was the useful one
        (9, 5, True),
        (0, 0, False),
    ],
)
def test_useful_is_five_millimetres_in_two_days(
    before_mm: float, rain_mm: float, useful: bool
) -> None:
    assert is_useful(before_mm, rain_mm) is useful


@pytest.mark.parametrize(
    ("rain", "on", "days"),
    [
        ((6, 0, 0, 0), ago(4), 3),
        ((0, 0, 0, 12), ago(1), 0),
        ((3, 2, 0.5, 0), ago(3), 2),
        ((0, 3, 0, 3), None, 4),
        ((7, None, 0, 0), None, 2),  # what fell before an unknown day is not looked for
        ((7, 0, 0, None), None, 0),
        ((), None, 0),
    ],
)
def test_days_without_useful_rain(rain: Rains, on: date | None, days: int) -> None:
    found = spell(rain)
    assert found.useful_rain_on == on
    assert found.no_useful_rain_days == days


@pytest.mark.parametrize(
    ("rain", "known_from"),
    [((0, 0, 0), ago(3)), ((0, None, 0), ago(1)), ((0, 0, None), None), ((), None)],
)
def test_known_from_is_the_first_day_of_the_unbroken_ones(
    rain: Rains, known_from: date | None
) -> None:
    assert spell(rain).known_from == known_from


def test_a_run_under_a_millimetre_ends_at_rain_and_at_an_unknown_day() -> None:
    assert dry_run(ending([0, 1.0, 0.9, 0.0]), YESTERDAY) == Run(ago(2), ago(1))
    assert dry_run(ending([0, None, 0.9, 0.0]), YESTERDAY) == Run(ago(2), ago(1))
    assert dry_run(ending([0, 0, 1.0]), YESTERDAY) is None
    assert dry_run(ending([0, 0, None]), YESTERDAY) is None


def test_the_longest_run_is_the_most_consecutive_dry_days() -> None:
    rain = ending([0, 0, 0, 4, 0, 0, None, 0, 0])
    assert [run.days for run in dry_runs(rain)] == [3, 2, 2]
    assert consecutive_dry_days(rain) == 3
    assert consecutive_dry_days(ending([1.0, 8, None])) == 0


@pytest.mark.parametrize(
    ("fallen_mm", "words"),
    [
        (0.0, ["absolute drought", "dry spell", "partial drought"]),
        (0.1, ["absolute drought", "dry spell", "partial drought"]),
        (0.2, ["dry spell", "partial drought"]),
        (1.0, ["partial drought"]),
        (6.1, []),
    ],
)
def test_rain_of_the_morning_ends_words_and_lengthens_none(
    fallen_mm: float, words: list[str]
) -> None:
    """Thirty dry days: a mean of 0.2 mm allows 6 mm."""
    found = spell([0.0] * 30, fallen_mm)
    assert [one.word for one in found.holds] == words
    assert {one.days for one in found.holds} <= {30}
    assert found.dry_days == (30 if fallen_mm < 1 else 0)


def test_rain_of_the_morning_is_useful_with_yesterdays() -> None:
    assert spell([0, 0, 3], 2.0).useful_rain_on == MORNING
    assert spell([0, 0, 3], 2.0).no_useful_rain_days == 0
    assert spell([0, 0, 3], 1.9).useful_rain_on is None
    assert spell([0, 0, None], 5.0).useful_rain_on == MORNING


def test_a_partial_drought_reaches_as_far_back_as_its_mean_allows() -> None:
    """40 days of 0.2 mm after a wet one: the stretch holds them all and not the wet day; 28 days are too few."""
    rain = ending([9.0] + [0.2] * 40)
    assert partial_drought(rain, YESTERDAY) == Run(ago(40), YESTERDAY)
    assert partial_drought(ending([0.0] * 28), YESTERDAY) is None
    assert partial_drought(ending([None] + [0.0] * 28), YESTERDAY) is None


def test_words_say_since_when() -> None:
    rain = ending([0.5] * 5 + [0.0] * 15)
    assert published_words(rain, YESTERDAY) == (
        Holding("absolute drought", ago(15), 15),
        Holding("dry spell", ago(20), 20),
    )


def test_evaporation_against_rain_counts_days_on_which_both_are_known() -> None:
    """Known from 10 March: 4 + 4 + 4 - 20 - 1; the 12th lacks its rain, the 14th its evaporation."""
    rain = {date(2031, 3, day): mm for day, mm in ((10, 20.0), (11, 1.0), (13, 0.0), (14, 3.0))}
    et0 = {date(2031, 3, day): 4.0 for day in (9, 10, 11, 12, 13)}
    found = water_balance(rain, et0, date(2031, 3, 15))
    assert found is not None
    assert found.since == date(2031, 3, 10)
    assert found.deficit_mm == pytest.approx(-9.0)
    assert (found.days, found.days_missing) == (3, 2)


@pytest.mark.parametrize(
    ("morning", "southern", "since"),
    [
        (date(2031, 3, 2), False, date(2031, 3, 1)),
        (date(2031, 2, 28), False, date(2030, 3, 1)),
        (date(2031, 9, 5), True, date(2031, 9, 1)),
        (date(2031, 8, 31), True, date(2030, 9, 1)),
    ],
)
def test_the_count_begins_with_spring(morning: date, southern: bool, since: date) -> None:
    days = {date(2029, 1, 1) + timedelta(days=n): 1.0 for n in range(1100)}
    found = water_balance(dict(days), dict.fromkeys(days, 3.0), morning, southern=southern)
    assert found is not None
    assert found.since == since
    assert found.deficit_mm == pytest.approx(2.0 * (morning - since).days)


def test_on_its_first_morning_nothing_is_counted_yet() -> None:
    known = ending([1.0] * 40, date(2031, 2, 28))
    assert water_balance(known, known, date(2031, 3, 1)) is None
    found = spell_of(known, known, date(2031, 3, 1))
    assert (found.deficit_mm, found.deficit_since, found.deficit_days_missing) == (None, None, 0)


def test_rain_of_the_morning_counts_against_evaporation() -> None:
    rain, et0 = ending([0.0, 0.0]), ending([4.0, 5.0])
    assert spell_of(rain, et0, MORNING, fallen_today_mm=6.0).deficit_mm == pytest.approx(3.0)


def test_the_morning_and_later_days_are_not_looked_at() -> None:
    """A forecast in the same mapping changes nothing."""
    rain = ending([6, 0, 0, 0])
    forecast = {MORNING + timedelta(days=n): 20.0 for n in range(5)}
    assert spell_of({**rain, **forecast}, {**rain, **forecast}, MORNING) == spell_of(
        rain, rain, MORNING
    )


@given(st.lists(st.one_of(st.none(), st.floats(0, 12)), min_size=1, max_size=60), st.floats(0, 9))
def test_more_rain_never_makes_it_drier(rain: list[float | None], more_mm: float) -> None:
    """Put on any one day, the last known."""
    wetter = [*rain[:-1], None if rain[-1] is None else rain[-1] + more_mm]
    before, after = spell(rain), spell(wetter)
    assert after.dry_days <= before.dry_days
    assert after.no_useful_rain_days <= before.no_useful_rain_days
    assert {one.word for one in after.holds} <= {one.word for one in before.holds}
    assert last_useful_rain(ending(rain), YESTERDAY) == before.useful_rain_on
