"""The lines of one bed: one or many, what only repeats, and what gives way."""

import pytest

from soakbook.cli import call_lines
from soakbook.cli.paper import Page
from tests.cli.reports import Report, call, planting, resting
from tests.cli.test_pouring import CLIMBERS, POURED, head
from tests.cli.test_round_page import MORNING, printed_call
from tests.cli.words import amiss

HOT_REASON = (
    "Roots in the bed: by the reckoning the soil runs short before the next visit. "
    "Over the roots in the bed, not only at the stem."
)


def test_the_total_is_the_sum_of_the_beds_as_printed() -> None:
    beds = [call(litres=22.5), call(order=2, litres=22.5)]
    assert [call_lines.heading(one).split()[3:5] for one in beds] == [["22", "L"], ["22", "L"]]
    assert " 44 L, about" in head(*beds)


@pytest.mark.parametrize(
    ("plantings", "line"),
    [
        ([planting(planting="climbing rose")], "6 climbing roses 2 L, 9 s each"),
        ([planting(planting="The Maple", count=1, litres_each=60.0)], "1 The Maple 60 L, 9 s"),
        (
            [planting(planting="The Maple", count=1), planting(planting="cushion grass", count=4)],
            "1 The Maple 2 L, 9 s; 4 cushion grasses 2 L, 9 s each",
        ),
    ],
)
def test_one_plant_is_not_each(plantings: list[Report], line: str) -> None:
    assert call_lines.doses(call(plantings=plantings)) == line


@pytest.mark.parametrize(
    ("changes", "kept"),
    [
        ({"reason": "Ball wanting, bed holding."}, False),
        ({"reason": "Ball and bed holding.", "ball_state": "holding"}, False),
        (
            {
                "reason": "Bare root; bed holding.",
                "ball_state": None,
                "plantings": [planting(bare_root=True)],
            },
            False,
        ),
        ({"reason": "8.2 mm reached the bed."}, True),
        ({"reason": "Ball and bed holding.", "bed_state": "drying"}, True),
    ],
)
def test_a_reason_that_only_says_the_states_again_is_left_out(changes: Report, kept: bool) -> None:
    lines = printed_call(verdict="feel", litres=0.0, **changes)
    assert (f"    {changes['reason']}" in lines) is kept
    resting_too = call_lines.states(resting())
    assert resting_too == "ball holding, bed holding"


def test_on_a_hot_morning_a_bed_is_six_lines_and_the_first_reason_gives_way() -> None:
    hot = {
        "plantings": CLIMBERS,
        "feel_first": True,
        "reason": HOT_REASON,
        "pour_meanwhile": "Schoolroom Bed",
        "last_safe": None,
    }
    page = Page(80)
    call_lines.write_call(page, call(**hot, **POURED), MORNING)
    assert len(page.lines) == call_lines.MOST_LINES
    text = " ".join(line.text.strip() for line in page.lines)
    assert "Feel one first. Four pours" in text
    assert "runs short" not in text
    assert "Over the roots in the bed" in text
    assert amiss(str(page)) == []


def test_where_there_is_room_every_reason_is_printed() -> None:
    text = " ".join(line.strip() for line in printed_call(reason=HOT_REASON))
    assert HOT_REASON in text
