"""The balance held against measured records, each number within its target.

U.S. Climate Reference Network, Bedford and Manhattan 2010-2017 (Diamond et al. 2013, Bell et al. 2013), and
FLUXNET2015 US-AR1 2010-2012 (Pastorello et al. 2020), as they stand in data/; columns vwcN and et_ec_mm. The
targets stand in each record's TOML. They were set by a prototype's results with some room, so they are a fence
against going backwards, not a claim. Textures are from memory.
"""

from functools import cache
from pathlib import Path

import pytest

from soakbook.truth.report import RecordReport
from soakbook.truth.runner import report_on

DATA = Path(__file__).parents[2] / "data"
BEDFORD = "uscrn_bedford_in_daily_2010_2017"
MANHATTAN = "uscrn_manhattan_ks_daily_2010_2017"
AR1 = "us_ar1_fluxnet_daily_2009_2012"


@cache
def judged(name: str) -> RecordReport:
    report = report_on([DATA / f"{name}.toml"])
    assert report.refused == ()
    return report.records[0]


@pytest.mark.parametrize(("name", "targets"), [(BEDFORD, 5), (MANHATTAN, 4), (AR1, 3)])
def test_every_target_of_a_record_is_met(name: str, targets: int) -> None:
    """Columns vwcN and et_ec_mm of the record against the plain run, one look, and feels every third day."""
    found = judged(name).targets
    assert len(found) == targets
    assert {one.what: (one.value, one.asked) for one in found if not one.met} == {}


def test_bedford_by_texture_alone_is_the_prototypes() -> None:
    """Columns vwc5 to vwc50: RMSE 0.125, bias -0.121, ub 0.029, R2 0.79 by another program of the same equations.

    Allowed: half a digit more for the 52 days that are not compared here for want of rain.
    """
    water = judged(BEDFORD).soil_water
    assert water is not None
    assert water.fitted_nothing is not None
    assert water.days_measured == 1680
    assert water.fitted_nothing.rmse == pytest.approx(0.125, abs=0.001)
    assert water.fitted_nothing.bias == pytest.approx(-0.121, abs=0.001)
    assert water.fitted_nothing.ub == pytest.approx(0.029, abs=0.001)
    assert water.fitted_nothing.r2 == pytest.approx(0.79, abs=0.01)


@pytest.mark.parametrize("name", [BEDFORD, MANHATTAN])
def test_feels_better_the_open_ensemble_and_often_is_better_than_seldom(name: str) -> None:
    """Columns vwcN as wetness: a feel every third day, every seventh, none."""
    often, seldom = judged(name).felt
    assert often.score is not None
    assert often.open_score is not None
    assert seldom.score is not None
    assert often.score.rmse < seldom.score.rmse < often.open_score.rmse
