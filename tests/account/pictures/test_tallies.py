"""Weeks as strokes: each visit is one, five are four and one across, none is lost at the edges."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.account.pictures.strokes import GROUP_ROW_PT, STROKE_PT, rows_of_groups, tally
from soakbook.account.pictures.tallies import (
    WEEKS_A_BLOCK,
    Block,
    blocks_of,
    month_heads,
    tallies,
    tally_table,
)
from soakbook.errors import InputError
from tests.account.pictures.frames import garden, visits, visits_of

BEDS = {"dole": "Dole Bed", "bank": "Bakehouse Bank", "ride": "Orchard Ride hedge"}
SEEN = visits(
    [
        ("2031-05-05", "dole", "watered", 20.0),  # a Monday
        ("2031-05-11", "dole", "watered", 20.0),  # the Sunday after it
        ("2031-05-12", "dole", "left", 0.0),
        ("2031-05-12", "bank", "watered", 50.0),
        ("2031-05-12", "bank", "watered", 30.0),  # by somebody else
        ("2031-05-30", "bank", "looked", 0.0),  # neither a stroke nor a ring
    ]
)


def test_the_table_counts_visits_by_week_and_bed() -> None:
    table = tally_table(SEEN, BEDS, None, None)
    weeks = table["week"].dt.strftime("%Y-%m-%d")
    rows = list(zip(table["bed"], weeks, table["watered"], table["left"], strict=True))
    assert rows == [
        ("dole", "2031-05-05", 2, 0),
        ("dole", "2031-05-12", 0, 1),
        ("bank", "2031-05-05", 0, 0),
        ("bank", "2031-05-12", 2, 0),
        ("ride", "2031-05-05", 0, 0),
        ("ride", "2031-05-12", 0, 0),
    ]


def test_a_span_brings_its_empty_weeks_and_leaves_out_what_lies_outside() -> None:
    table = tally_table(SEEN, BEDS, date(2031, 5, 12), date(2031, 5, 31))
    assert sorted({str(one.date()) for one in table["week"]}) == ["2031-05-12", "2031-05-19", "2031-05-26"]  # fmt: skip
    assert table["watered"].sum() == 2


def test_a_garden_s_visits_are_all_there_and_the_sentence_says_them() -> None:
    seen = visits_of(garden())
    beds = {"chapel": "Chapel Wall", "ride": "Ride", "school": "School", "new": "New"}
    picture = tallies(seen, beds)
    right = seen.groupby(["bed", "what"]).size()
    watered, left = (picture.table.groupby("bed")[one].sum() for one in ("watered", "left"))
    for bed in ("chapel", "ride", "school"):
        assert [watered[bed], left[bed]] == [right[bed, "watered"], right[bed, "left"]]
        assert f"{beds[bed]} {right[bed, 'watered']} and {right[bed, 'left']}" in picture.alt
    assert picture.alt.endswith("New 0 and 0.")
    assert picture.svg == tallies(seen, beds).svg


def test_no_visit_and_a_visit_to_no_bed() -> None:
    picture = tallies(SEEN.iloc[:0], BEDS)
    assert picture.alt == "Visits by the week: no visit in this time."
    assert picture.table.empty
    with pytest.raises(InputError, match="bed: 'dole' cannot be right; a bed of this account"):
        tallies(SEEN, {"bank": "Bank", "ride": "Ride"})


def test_forty_beds_over_three_years_are_drawn() -> None:
    from xml.etree import ElementTree

    seen = visits(
        [
            (str(date(2031, 1, 1) + timedelta(days=9 * number)), f"b{number % 40}", "watered", 5.0)
            for number in range(122)
        ]
    )
    picture = tallies(seen, {f"b{number}": f"Bed {number} " * 9 for number in range(40)})
    assert picture.table["watered"].sum() == 122
    assert len(ElementTree.fromstring(picture.svg)) > 2


@given(st.integers(0, 60), st.floats(5, 60))
def test_a_stroke_for_each_and_every_fifth_across(count: int, room: float) -> None:
    strokes = tally(count, 100.0, 50.0, room)
    assert len(strokes) == count
    across = [one for one in strokes if np.ptp(one[:, 0]) > 5]
    assert len(across) == count // 5
    if count:
        bottom = max(one[:, 1].max() for one in strokes)
        rows = rows_of_groups(count, room)
        assert bottom <= 50.0 + (rows - 1) * GROUP_ROW_PT + STROKE_PT + 1e-9
        assert bottom > 50.0 + (rows - 1) * GROUP_ROW_PT


def test_no_strokes_take_no_row() -> None:
    assert rows_of_groups(0, 30.0) == 0
    assert rows_of_groups(10, 30.0) == 1, "two groups of five stand beside each other"
    assert rows_of_groups(11, 30.0) == 2


@given(st.integers(1, 200))
def test_blocks_hold_all_weeks_in_order(count: int) -> None:
    weeks = [date(2031, 1, 6) + timedelta(days=7 * number) for number in range(count)]
    blocks = blocks_of(weeks)
    assert [week for block in blocks for week in block.weeks] == weeks
    assert all(len(block.weeks) <= WEEKS_A_BLOCK for block in blocks)


def test_months_over_weeks_at_the_new_year() -> None:
    weeks = [date(2031, 12, 15) + timedelta(days=7 * number) for number in range(8)]
    assert month_heads(Block(weeks)) == [(0, "Dec 2031"), (2, "Jan 2032"), (7, "Feb")]
    assert month_heads(Block(weeks[1:])) == [(1, "Jan 2032"), (6, "Feb")]
    assert month_heads(Block(weeks[:1])) == [(0, "Dec 2031")]
