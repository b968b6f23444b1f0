"""Chances and the counting of kept promises against the first paper on how to score them.

Brier (1950), "Verification of forecasts expressed in terms of probability", Monthly Weather Review 78:1-3, from memory.
Its worked table has ten occasions with the chance of rain given and whether it rained; the score printed under it is
0.19. The chances and the rain below are remembered too, and give that score by equation 2 exactly.
"""

from datetime import UTC, date, datetime, timedelta

import pytest

from soakbook.garden.promises import Reliability, chance_of, judge_promises, made_by
from soakbook.garden.weather import Forecast, ForecastDay

CHANCES = (0.7, 0.9, 0.8, 0.4, 0.2, 0.0, 0.0, 0.0, 0.0, 0.1)
RAINED = (False, True, True, True, False, False, False, False, False, False)
"""Brier (1950), table 1, from memory: chance of rain on ten occasions, and whether it came."""

SCORE = 0.19
FIRST = date(2031, 3, 1)
APART = timedelta(days=4)
"""Between two occasions, so that the windows of one day ahead do not meet."""


def occasion(number: int) -> Forecast:
    """Ten members, of which as many bring 8 mm on the day of issue as the chance says."""
    morning = FIRST + number * APART
    wet = round(CHANCES[number] * 10)
    members = (8.0,) * wet + (0.0,) * (10 - wet)
    days = (
        ForecastDay(morning, rain_members_mm=members),
        ForecastDay(morning + timedelta(days=1), rain_members_mm=(0.0,) * 10),
    )
    return Forecast(
        "table 1", datetime(morning.year, morning.month, morning.day, 5, tzinfo=UTC), days
    )


def test_the_score_of_the_chances() -> None:
    """Brier (1950) eq 2 over both classes, rain and no rain, table 1: P = 0.19; the tolerance is for binary tenths."""
    given = [
        chance_of(occasion(n), FIRST + n * APART, FIRST + n * APART + timedelta(days=1))
        for n in range(10)
    ]
    score = sum(
        (chance - came) ** 2 + ((1 - chance) - (1 - came)) ** 2
        for chance, came in zip(given, RAINED, strict=True)
    )
    assert score / 10 == pytest.approx(SCORE, abs=1e-12)


def test_the_promises_of_the_table_counted_by_hand() -> None:
    """Brier (1950), table 1: of 0.7, 0.9 and 0.8 the last two came; 0.4 is doubtful, and came; the rest is none."""
    rain = {
        FIRST + n * APART + timedelta(days=k): 8.0 if RAINED[n] and k == 0 else 0.0
        for n in range(10)
        for k in range(4)
    }
    record = judge_promises(
        made_by([occasion(n) for n in range(10)], UTC), rain, FIRST + 10 * APART
    )
    near = [one for one in record.promises if one.lead_days == 1]
    assert [(one.promise.good, one.outcome) for one in near] == [
        (True, "broken"),
        (True, "kept"),
        (True, "kept"),
        (False, "kept"),
    ]
    assert record.reliabilities[0] == Reliability("table 1", 1, made=3, kept=2, mornings=10)
    assert record.reliabilities[0].broken == 1
