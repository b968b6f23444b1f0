"""The specimen's climate: scores out of weather, weather out of scores."""

import math
from datetime import date, timedelta
from statistics import fmean

import pytest

from soakbook.specimen import text
from soakbook.specimen.climate import Climate, Weather, climates

LIKE = Climate(0.8, math.log(3), 0.9, 3.0, 0.6)


@pytest.mark.parametrize("rain_mm", [0.3, 5.0, 22.4])
def test_rain_and_its_score_are_a_round_trip(rain_mm: float) -> None:
    assert LIKE.rain_mm(LIKE.rain_score(rain_mm)) == pytest.approx(rain_mm)


def test_the_dry_share_is_dry() -> None:
    """0.8 of a normal distribution lies below 0.8416."""
    assert LIKE.rain_mm(0.84) == 0
    assert LIKE.rain_mm(0.85) > 0
    assert LIKE.rain_mm(9) == 40


def test_rain_takes_from_et0() -> None:
    """By hand: 3.0 - 0.6 x 0.5 x 1 + 0.6 x sqrt(0.75) x 2."""
    assert LIKE.et0_mm(1, 2) == pytest.approx(3.0 - 0.3 + 1.2 * math.sqrt(0.75))
    assert LIKE.et0_mm(0, -20) == 0.1


def test_a_climate_has_the_wet_days_rain_and_et0_of_its_record() -> None:
    """Shares and means over the whole record; beyond its ends there are as many days as asked for.

    Smoothing takes a little off July's heat: 0.05 mm of a mean of 2.5, where days differ from their season by 0.6.
    """
    record = {
        date.fromisoformat(row["date"]): Weather(float(row["rain_mm"]), float(row["eto_mm"]))
        for row in text.rows("weather")
    }
    made = climates(record, before=3, after=2)
    assert min(made) == min(record) - timedelta(days=3)
    assert max(made) == max(record) + timedelta(days=2)
    within = [made[day] for day in record]
    dry = fmean(came.rain_mm == 0 for came in record.values())
    assert fmean(one.dry_share for one in within) == pytest.approx(dry, abs=0.02)
    et0_mm = fmean(came.et0_mm for came in record.values())
    assert fmean(one.et0_mean_mm for one in within) == pytest.approx(et0_mm, abs=0.05)
    scores = [made[day].et0_score(came.et0_mm) for day, came in record.items()]
    assert fmean(score**2 for score in scores) == pytest.approx(1)
