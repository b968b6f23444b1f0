"""Cover through the year: straight lines, ramps, constants, months, north and south."""

from datetime import date
from typing import Any

import numpy as np
import pytest

from soakbook.errors import InputError
from soakbook.truth.cover import grass, read_cover
from soakbook.truth.months import NAMES
from soakbook.truth.said import Said


def on(cover: Any, *days: date) -> list[tuple[float, float]]:
    found = read_cover(Said({"cover": cover}), False, [])
    assert found is not None
    kcb, ground = found.on(days)
    return list(zip(np.round(kcb, 3).tolist(), np.round(ground, 3).tolist(), strict=True))


def test_grass_is_half_way_on_the_first_of_april_and_the_last_of_october() -> None:
    days = [
        date(2015, 2, 1),
        date(2015, 4, 1),
        date(2015, 7, 1),
        date(2015, 10, 31),
        date(2015, 12, 31),
    ]
    kcb, ground = grass(southern=False).on(days)
    assert kcb == pytest.approx([0.30, 0.60, 0.90, 0.60, 0.30], abs=0.02)
    assert ground == pytest.approx([0.30, 0.625, 0.95, 0.625, 0.30], abs=0.02)


def test_grass_of_the_south_is_half_a_year_later() -> None:
    days = [date(2015, 1, 1), date(2015, 7, 1), date(2015, 10, 1)]
    assert grass(southern=True).on(days)[0] == pytest.approx([0.90, 0.30, 0.60], abs=0.03)


def test_rows_run_straight_into_each_other_and_round_the_year() -> None:
    rows = [
        {"from": "04-01", "kcb": 0.2, "ground_cover": 0.2},
        {"from": "04-11", "kcb": 0.7, "ground_cover": 0.6},
        {"from": "12-31", "kcb": 0.7, "ground_cover": 0.6},
    ]
    assert on(rows, date(2015, 4, 6), date(2015, 8, 1)) == [(0.45, 0.4), (0.7, 0.6)]
    (new_year,) = on(rows, date(2016, 1, 1))
    assert list(new_year) == pytest.approx([0.695, 0.596], abs=0.001)


def test_a_ramp_begins_on_its_day() -> None:
    rows = [
        {"from": "04-01", "kcb": 0.9, "ground_cover": 0.9, "ramp_days": 10},
        {"from": "10-01", "kcb": 0.3, "ground_cover": 0.3, "ramp_days": 0},
    ]
    days = [
        date(2015, 3, 31),
        date(2015, 4, 6),
        date(2015, 4, 11),
        date(2015, 10, 1),
        date(2015, 10, 2),
    ]
    assert [kcb for kcb, _ in on(rows, *days)] == [0.3, 0.6, 0.9, 0.9, 0.3]


def test_full_dates_hold_once() -> None:
    rows = [
        {"from": date(2010, 4, 1), "kcb": 0.1, "ground_cover": 0.1},
        {"from": "2010-04-11", "kcb": 0.6, "ground_cover": 0.9},
    ]
    found = on(rows, date(2009, 7, 1), date(2010, 4, 6), date(2012, 1, 1))
    assert found == [(0.1, 0.1), (0.35, 0.5), (0.6, 0.9)]


@pytest.mark.parametrize(
    "cover",
    [
        {"kcb": 0.7, "ground_cover": 0.8},
        {"kcb": [0.7] * 12, "ground_cover": [0.8] * 12},
        {"rows": [{"month": 4, "kcb": 0.7, "ground_cover": 0.8}]},
        {"kcb": 0.7, "ground_cover_pct": 80},
        {"kcb": 0.7, "cover": 80},
        {"kcb": dict.fromkeys(NAMES, 0.7), "fraction": dict.fromkeys(NAMES, 0.8)},
        [{"on": "02-29", "basal_coefficient": 0.7, "fc": 0.8}],
    ],
    ids=["constant", "by month", "one month", "per cent", "by size", "by name", "leap day"],
)
def test_ways_to_say_the_same(cover: Any) -> None:
    assert on(cover, date(2015, 1, 1), date(2016, 2, 29)) == [(0.7, 0.8), (0.7, 0.8)]


@pytest.mark.parametrize(
    ("cover", "words"),
    [
        ({"kcb": [0.7] * 11, "ground_cover": [0.8] * 12}, "twelve numbers"),
        ([{"kcb": 0.7, "ground_cover": 0.8}], "a day like"),
        ([{"from": "04-01", "kcb": 0.7, "ground_cover": 0.8}] * 2, "further apart"),
        (
            [
                {"from": "04-01", "kcb": 0.7, "ground_cover": 0.8},
                {"from": date(2010, 5, 1), "kcb": 0.7, "ground_cover": 0.8},
            ],
            "one or the other",
        ),
        (7, "'grass'"),
    ],
)
def test_a_cover_that_cannot_be(cover: Any, words: str) -> None:
    with pytest.raises(InputError, match=words):
        on(cover, date(2015, 1, 1))


def test_lists_of_months_and_rows_of_months_mean_the_same() -> None:
    """Either stands for the middle of its month."""
    values = [0.1 * (1 + month % 7) for month in range(1, 13)]
    listed = {"kcb": values, "ground_cover": values}
    rows = [
        {"month": name, "kcb": value, "ground_cover": value}
        for name, value in zip(NAMES, values, strict=True)
    ]
    days = [date(2015, month, day) for month in range(1, 13) for day in (1, 15, 28)]
    assert on(listed, *days) == on(rows, *days)
    assert on(listed, date(2015, 3, 15)) == [(0.4, 0.4)]


def test_covers_by_name() -> None:
    assert on("bare", date(2015, 7, 1)) == [(0.0, 0.0)]
    assert on({"type": "turf"}, date(2015, 7, 1)) == on("Lawn", date(2015, 7, 1)) == [(0.9, 0.95)]


def test_no_cover_said_is_none() -> None:
    assert read_cover(Said({}), False, []) is None
