"""Fixed schedules: on which days they call, what they give, when they leave off."""

from datetime import date

import numpy as np
import pytest

from soakbook.reckoning.advice.calendars import (
    PUBLISHED,
    UMN,
    Rainfall,
    every,
    rained,
    umn_gap,
    visit_days,
)
from soakbook.truth.watering.calendars import LEAVES_OFF, calendar_soaks
from soakbook.truth.watering.days import days_of
from soakbook.truth.watering.trial import trials
from tests.truth.water_trials import dry_summer

TRIALS = trials(dry_summer())
DAYS = days_of(dry_summer(), TRIALS)
SHRUB, ROSE, PERENNIAL, DUG, TREE = range(5)


def soaks(key: str) -> np.ndarray:
    calendar = next(one for one in PUBLISHED if one.key == key)
    return calendar_soaks(calendar, TRIALS, DAYS)


def test_minnesotas_calendar_by_hand() -> None:
    """A shrub planted on 1 April: 14 daily visits, 24 every third day (days 17 to 86), 15 weekly (93 to 191)."""
    called = np.flatnonzero(visit_days(umn_gap, 0, len(DAYS))[:198])
    assert called.tolist() == [*range(1, 15), *range(17, 87, 3), *range(93, 198, 7)]
    given = soaks("umn")
    assert (given[:, SHRUB] > 0).sum() == 53
    assert given[:, SHRUB].sum() == pytest.approx(53 * 0.29 * 10)
    assert given[:, TREE].max() == 7.0


def test_floridas_twenty_weeks() -> None:
    """Every fourth day for 140 days is 35 visits; the last on day 140, 7 August for 20 March."""
    given = soaks("uf")
    assert (given > 0).sum(axis=0).tolist() == [35] * 5
    last = int(np.flatnonzero(given[:, TREE])[-1])
    assert DAYS.came[last].day == date(2018, 8, 7)


def test_councils_and_wardens() -> None:
    """209 days from 20 March to 15 October are 29 weeks and 6 days: 29 and 59 visits, 20 and 10 L a tree."""
    councils, wardens = soaks("councils"), soaks("wardens")
    assert (councils[:, TREE] > 0).sum() == 29
    assert (wardens[:, TREE] > 0).sum() == 59
    assert councils[:, TREE].max() == 20.0
    assert wardens[:, TREE].max() == 10.0
    assert councils[:, DUG].max() == pytest.approx(2.5 * np.pi * 0.225**2 * 50)


def test_nothing_is_given_before_the_day_after_planting() -> None:
    for calendar in PUBLISHED:
        given = calendar_soaks(calendar, TRIALS, DAYS)
        for planting, day in enumerate(DAYS.planted):
            assert not given[: day + 1, planting].any()


def test_leaving_off_after_rain_never_uses_more() -> None:
    kept, left_off = soaks("umn"), soaks("umn_rain")
    assert (left_off <= kept).all()
    assert left_off.sum() < 0.95 * kept.sum()


@pytest.mark.parametrize("rule", [one for one in LEAVES_OFF if one is not None])
def test_rain_is_what_the_gauge_had_before_the_morning(rule: Rainfall) -> None:
    left_off = rained(DAYS.rain_mm, rule)
    assert left_off.any()
    for day in range(len(DAYS)):
        lately = DAYS.rain_mm[max(0, day - rule.days) : day].sum()
        assert left_off[day] == (round(lately, 3) >= rule.mm)


def test_no_rule_never_leaves_off() -> None:
    assert not rained(DAYS.rain_mm, None).any()


def test_a_schedule_counts_from_the_day_of_planting() -> None:
    assert np.flatnonzero(visit_days(every(7), 10, len(DAYS)))[:3].tolist() == [17, 24, 31]
    assert UMN.gap(14) == 3
