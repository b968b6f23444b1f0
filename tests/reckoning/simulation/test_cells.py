"""The ground of a plant, and the day from which it is reckoned."""

from datetime import date, timedelta
from math import pi

import pytest

from soakbook.errors import InputError
from soakbook.reckoning.simulation.cells import cells_m2, first_in_cell, least_cell_m2, start_day
from tests.reckoning.gardens import PLANTED, bed, pages, roses


def test_entered_spacing_else_twice_the_full_canopy() -> None:
    book = pages([roses(name="spaced", cell_m2=0.9), roses(name="not", cell_m2=None)])
    cells, crowded = cells_m2(book)
    assert cells == {"bed/spaced": 0.9, "bed/not": 0.8}
    assert crowded == {}


def test_a_crowded_bed_scales_all_its_cells_alike() -> None:
    """10 x 1.0 + 20 x 0.5 = 20 m2 on 15: three quarters each; the bed beside it stays."""
    plantings = [
        roses(name="roses", cell_m2=1.0),
        roses(name="asters", count=20, cell_m2=0.5),
        roses("other", cell_m2=1.0),
    ]
    cells, crowded = cells_m2(pages(plantings, beds=[bed(area_m2=15.0)]))
    assert crowded == {"bed": 0.75}
    assert cells == {"bed/roses": 0.75, "bed/asters": 0.375, "other/roses": 1.0}


def test_a_cell_once_taken_stays_and_who_comes_later_has_what_is_left() -> None:
    """Ten roses take 10 of 16 m2; ten more a week later find 6: 0.6 of their own. Asked before, nobody is crowded."""
    later = roses(name="later", planted_on=PLANTED + timedelta(days=7))
    cells, crowded = cells_m2(pages([later, roses()], beds=[bed(area_m2=16.0)]))
    assert crowded == {"bed": pytest.approx(0.6)}
    assert cells == {"bed/roses": 1.0, "bed/later": pytest.approx(0.6)}
    assert cells_m2(pages([roses()], beds=[bed(area_m2=16.0)]))[1] == {}


def test_who_comes_when_all_is_taken_has_room_for_ball_and_half_its_leaves() -> None:
    """Leaves 0.4 m2: half of them 0.2. A ball 60 cm across: 1.05 x 1.25 x pi 0.3^2 = 0.37. Never more than wished."""
    when = PLANTED + timedelta(days=7)
    late = [
        roses(name="leafy", count=1, planted_on=when),
        roses(name="balled", count=1, planted_on=when, ball_diameter_m=0.6),
        roses(name="small", count=1, planted_on=when, cell_m2=0.1),
    ]
    cells, crowded = cells_m2(pages([roses(), *late], beds=[bed(area_m2=10.0)]))
    assert crowded == {"bed": 0.0}
    assert cells["bed/leafy"] == pytest.approx(0.2)
    assert cells["bed/balled"] == pytest.approx(1.05 * 1.25 * pi * 0.09)
    assert cells["bed/small"] == 0.1


def test_a_bed_filled_to_the_last_inch_is_not_crowded() -> None:
    cells, crowded = cells_m2(pages([roses(count=3, cell_m2=0.1)], beds=[bed(area_m2=0.3)]))
    assert crowded == {}
    assert cells == {"bed/roses": 0.1}


def test_a_replacement_takes_over_the_first_ones_cell_and_crowds_nobody() -> None:
    second = roses(name="second", replaces="bed/roses", count=4, cell_m2=3.0)
    third = roses(name="third", replaces="bed/second", count=1)
    book = pages([roses(), second, third], beds=[bed(area_m2=10.0)])
    cells, crowded = cells_m2(book)
    assert crowded == {}
    assert cells == {"bed/roses": 1.0, "bed/second": 1.0, "bed/third": 1.0}
    assert first_in_cell(book, third).name == "roses"


def test_in_a_circle_none_was_the_first() -> None:
    ones = roses(name="ones", replaces="bed/others")
    others = roses(name="others", replaces="bed/ones")
    with pytest.raises(InputError, match="book check"):
        first_in_cell(pages([ones, others]), ones)


def test_the_least_cell_is_a_quarter_more_than_the_ball() -> None:
    assert least_cell_m2(0.4) == pytest.approx(1.25 * pi * 0.04)


@pytest.mark.parametrize(
    ("late_days", "expected"),
    [(-9, PLANTED), (0, PLANTED), (14, PLANTED + timedelta(days=14)), (15, None)],
)
def test_reckoning_starts_at_planting_or_with_the_first_weather_within_14_days(
    late_days: int, expected: date | None
) -> None:
    assert start_day(roses(), PLANTED + timedelta(days=late_days)) == expected


def test_cells_do_not_hang_on_the_order_of_the_book() -> None:
    plantings = [roses(name=name, count=n, cell_m2=1.7) for n, name in enumerate("abcd", 9)]
    book = pages(plantings, beds=[bed(area_m2=31.0)])
    turned = book._replace(plantings=tuple(reversed(book.plantings)))
    assert cells_m2(turned)[0] == pytest.approx(cells_m2(book)[0])
