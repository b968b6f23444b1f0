"""Months under a line of days, over a new year and over three years."""

from datetime import date, timedelta
from itertools import pairwise

import pytest

from soakbook.account.pictures.foot import Along, months_along


def test_a_southern_season_over_the_new_year() -> None:
    along = Along(date(2031, 7, 1), date(2032, 6, 30), 0.0, 366.0)
    months = months_along(along)
    assert [one.says for one in months] == [
        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "Jan", "Feb", "Mar", "Apr", "May", "Jun",
    ]  # fmt: skip
    assert [one.ends_pt - one.begins_pt for one in months][7] == pytest.approx(29), "a leap year"
    assert [one.year for one in months if one.begins_year] == [2031, 2032]


def test_months_lie_end_to_end_and_are_named_as_there_is_room() -> None:
    along = Along(date(2031, 1, 20), date(2033, 12, 31), 50.0, 560.0)
    months = months_along(along)
    assert len(months) == 36
    assert months[0].begins_pt == 50.0
    assert months[-1].ends_pt == pytest.approx(560.0)
    assert all(one.ends_pt == pytest.approx(after.begins_pt) for one, after in pairwise(months))
    assert {one.says for one in months[1:]} == set("JFMASOND")
    assert months[0].says == "", "twelve days of January have no room for a letter"


def test_one_day() -> None:
    day = date(2031, 5, 15)
    (month,) = months_along(Along(day, day, 10.0, 110.0))
    assert (month.begins_pt, month.ends_pt, month.says) == (10.0, 110.0, "May")
    assert Along(day, day, 10.0, 110.0).x(day + timedelta(days=1)) == 110.0
