"""A dressing's depth, drink and shade from day to day."""

from datetime import timedelta

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.tables.mulches import MULCHES
from soakbook.reckoning.simulation.mulching import (
    BARE,
    Laying,
    layings_by_bed,
    mulch_on,
    settled_depth_cm,
)
from tests.reckoning.gardens import PLANTED, ZONE, mulch, ruler


def laid(depth_cm: float, kind: str = "chip", cover: float = 1.0, days_ago: int = 0) -> Laying:
    return Laying(PLANTED - timedelta(days=days_ago), kind, depth_cm, cover)


@pytest.mark.parametrize(("depth_cm", "factor"), [(2.5, 0.61), (5.0, 0.37), (7.5, 0.23)])
def test_chip_keeps_back_what_it_is_said_to(depth_cm: float, factor: float) -> None:
    """(9) at three depths, to two digits: half at 3.5 cm is common practice, no source."""
    found = mulch_on(PLANTED, [laid(depth_cm)])
    assert found.evaporation_factor == pytest.approx(factor, abs=0.005)
    assert found.capacity_mm == pytest.approx(0.6 * depth_cm)


def test_half_the_evaporation_at_the_half_depth_of_each_kind() -> None:
    """(9): FAO-56 chapter 10 has 0.50 at full cover; partly covered, only the covered part counts."""
    for kind, one in MULCHES.items():
        if not one.sheet:
            assert mulch_on(PLANTED, [laid(one.half_cm, kind)]).evaporation_factor == pytest.approx(
                0.5
            )
    half_covered = mulch_on(PLANTED, [laid(3.5, cover=0.5)])
    assert half_covered.evaporation_factor == pytest.approx(0.75)
    assert half_covered.capacity_mm == pytest.approx(0.5 * 3.5 * 0.6)


def test_no_dressing_is_bare_ground() -> None:
    assert mulch_on(PLANTED, []) == BARE
    assert mulch_on(PLANTED - timedelta(days=1), [laid(5.0)]) == BARE


@pytest.mark.parametrize(("age_days", "left_cm"), [(0, 5.0), (90, 4.5), (180, 4.0), (400, 4.0)])
def test_depth_settles_along_a_line_over_180_days(age_days: int, left_cm: float) -> None:
    """Chip settles to 0.8 of its depth."""
    laying = laid(5.0)
    day = PLANTED + timedelta(days=age_days)
    assert settled_depth_cm(day, laying, MULCHES["chip"]) == pytest.approx(left_cm)
    assert mulch_on(day, [laying]).depth_cm == pytest.approx(left_cm)


def test_each_laying_settles_by_its_own_clock() -> None:
    """5 cm of chip laid 180 days ago is 4; 2 cm of compost laid today is 2: half 4 x 3.5 + 2 x 4.5 over 6."""
    found = mulch_on(PLANTED, [laid(5.0, days_ago=180), laid(2.0, "compost")])
    half_cm = (4.0 * 3.5 + 2.0 * 4.5) / 6.0
    assert found.depth_cm == pytest.approx(6.0)
    assert found.capacity_mm == pytest.approx(4.0 * 0.6 + 2.0 * 1.2)
    assert found.evaporation_factor == pytest.approx(2 ** (-6.0 / half_cm))


def test_a_sheet_keeps_back_065_whatever_its_depth_and_drinks_nothing() -> None:
    for depth_cm in (0.1, 3.0):
        found = mulch_on(PLANTED, [laid(depth_cm, "sheet", cover=0.8)])
        assert found.evaporation_factor == pytest.approx(1 - 0.65 * 0.8)
        assert found.capacity_mm == 0.0


def test_chip_over_a_sheet_works_on_what_the_sheet_lets_through() -> None:
    found = mulch_on(PLANTED, [laid(0.1, "sheet"), laid(3.5)])
    assert found.evaporation_factor == pytest.approx(0.35 * 0.5)
    assert found.capacity_mm == pytest.approx(3.5 * 0.6)


def layings(*entries: AnyEntry) -> tuple[Laying, ...]:
    return layings_by_bed(entries, ZONE).get("bed", ())


def test_a_ruler_sets_the_depth_of_its_day_and_it_settles_on_from_there() -> None:
    """Chip, 6 cm, keeps 0.8 by 180 days: after 90 days 5.4 cm are reckoned, and 2.7 cm measured halve it for good."""
    day = PLANTED + timedelta(days=90)
    found = layings(mulch(PLANTED, 6.0), ruler(day, 2.7))
    assert mulch_on(day - timedelta(days=1), found).depth_cm == pytest.approx(
        6.0 * (1 - 0.2 * 89 / 180)
    )
    assert mulch_on(day, found).depth_cm == pytest.approx(2.7)
    assert mulch_on(PLANTED + timedelta(days=180), found).depth_cm == pytest.approx(0.5 * 6 * 0.8)


def test_a_ruler_scales_all_that_lies_there_alike_and_leaves_the_cover() -> None:
    """3 cm of chip and 3 of compost measured at 4 cm: 2 each, that take 0.6 and 1.2 mm a centimetre."""
    found = layings(
        mulch(PLANTED, 3.0, cover_fraction=0.5),
        mulch(PLANTED, 3.0, kind="compost", cover_fraction=0.5),
        ruler(PLANTED, 4.0),
    )
    lies = mulch_on(PLANTED, found)
    assert lies.depth_cm == pytest.approx(4.0)
    assert lies.cover_fraction == 0.5
    assert lies.capacity_mm == pytest.approx(0.5 * (2 * 0.6 + 2 * 1.2))


def test_what_is_laid_after_a_ruler_is_not_scaled_by_it() -> None:
    found = layings(mulch(PLANTED, 4.0), ruler(PLANTED, 2.0), mulch(PLANTED, 3.0))
    assert mulch_on(PLANTED, found).depth_cm == pytest.approx(2.0 + 3.0)


def test_a_later_ruler_overrules_an_earlier_one() -> None:
    found = layings(
        mulch(PLANTED, 4.0), ruler(PLANTED, 2.0), ruler(PLANTED + timedelta(days=9), 3.0)
    )
    assert mulch_on(PLANTED + timedelta(days=9), found).depth_cm == pytest.approx(3.0)


def test_a_mulch_gone_keeps_nothing_back() -> None:
    found = layings(mulch(PLANTED, 4.0), ruler(PLANTED, 0.0), ruler(PLANTED, 3.0))
    lies = mulch_on(PLANTED, found)
    assert (lies.depth_cm, lies.evaporation_factor, lies.capacity_mm) == (0.0, 1.0, 0.0)


def test_a_ruler_where_nothing_deep_lies_changes_nothing() -> None:
    assert layings(ruler(PLANTED, 3.0)) == ()
    sheet = mulch(PLANTED, 1.0, kind="sheet")
    assert layings(sheet, ruler(PLANTED, 3.0)) == layings(sheet)
