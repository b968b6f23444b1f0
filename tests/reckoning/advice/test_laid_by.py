"""Laid by after leaf fall, and through the winter."""

from datetime import date, timedelta

import pytest

from soakbook.garden.records import Bed, Planting
from tests.reckoning.advice.judged import judged
from tests.reckoning.gardens import PLANTED, bed, roses, weather

AUTUMN = PLANTED.replace(month=11, day=20)


@pytest.mark.parametrize(
    ("planting", "of_bed", "verdict"),
    [
        (roses(), bed(), "laid_by"),
        (roses(plant_class="perennial", leaf="dies_down"), bed(), "laid_by"),
        (roses(leaf="evergreen"), bed(), "leave"),
        (roses(), bed(place="south wall foot"), "leave"),
    ],
    ids=["deciduous", "dies down", "evergreen", "wall foot"],
)
def test_laid_by_after_leaf_fall_in_soil_that_is_moist(
    planting: Planting, of_bed: Bed, verdict: str
) -> None:
    """At the latest on 15 November; evergreens and wall feet stay on."""
    rained = {AUTUMN - timedelta(days=n): 20.0 for n in range(1, 40)}
    days = weather(PLANTED - timedelta(days=5), 210, rain=rained, et0_mm=0.5, tmean_c=9.0)
    one = judged(plantings=(planting,), of_bed=of_bed, days=days, day=AUTUMN)
    assert one.lead.p50 > 0.8
    assert one.verdict == verdict


def test_not_laid_by_in_dry_soil_nor_in_leaf_nor_before_leaf_out() -> None:
    shower = {AUTUMN - timedelta(days=20): 60.0}
    dry = weather(PLANTED - timedelta(days=5), 210, rain=shower, et0_mm=0.5, tmean_c=9.0)
    wet = weather(
        PLANTED - timedelta(days=5), 210, rain={AUTUMN - timedelta(days=40): 90.0}, et0_mm=0.5
    )
    half_dry = judged(days=dry, day=AUTUMN)
    assert 0.3 < half_dry.lead.p50 < 0.8
    assert half_dry.verdict == "leave"
    assert judged(days=wet, day=AUTUMN - timedelta(days=38)).verdict == "leave"
    winter = date(2031, 2, 20)
    planted = roses(planted_on=date(2031, 2, 3))
    cold = weather(
        date(2031, 1, 20), 60, rain={winter - timedelta(days=1): 30.0}, et0_mm=0.3, tmean_c=4.0
    )
    new = judged(plantings=(planted,), days=cold, day=winter)
    assert (new.lead.p50 > 0.8, new.verdict) == (True, "leave")


def test_what_was_laid_by_stays_so_through_the_winter() -> None:
    """Planted the spring before, bare since November, in soil that is moist: January does not wake it."""
    january = date(2032, 1, 20)
    rained = {january - timedelta(days=n): 8.0 for n in range(1, 60, 3)}
    days = weather(PLANTED - timedelta(days=5), 280, rain=rained, et0_mm=0.4, tmean_c=5.0)
    old = judged(days=days, day=january)
    assert (old.lead.p50 > 0.8, old.verdict) == (True, "laid_by")
    new = judged(days=days, day=january, plantings=(roses(planted_on=january - timedelta(days=9)),))
    assert new.verdict == "leave"
