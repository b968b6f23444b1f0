"""The sums behind a bed's line, side by side."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.cli.paper import Page
from soakbook.cli.why_page import write_why
from tests.cli.reports import BALL_SUMS, PLANTING_WHY, Report, a_why, planting_why
from tests.cli.words import FORBIDDEN, amiss

CLEMATIS = planting_why(
    planting="clematis and wall shrubs",
    count=5,
    share_due=0.62,
    ball={
        **BALL_SUMS,
        "holds_at_most_l": 0.5,
        "yesterday_l": 0.2,
        "given_l": 0.35,
        "rain_l": 0.001,
        "from_bed_l": 0.05,
        "morning_l": 0.3,
    },
    dose={**PLANTING_WHY["dose"], "said_l": 1.0},
)
SIDE_BY_SIDE = """\
CHAPEL WALL, Thursday 15 May: soak, 17 L

                                                            clematis
                                                climbing    and wall
  One plant of:                                    roses      shrubs
  The ball can hold for the plant                 1.20 L      0.50 L
  It held yesterday morning                       0.70 L      0.20 L
  Given since, as far as the ball took it           none     +0.35 L
  Rain on the ball                               +0.15 L        none
  Drunk or dried away                            -0.30 L     -0.30 L
  From (+) or to (-) the soil round it           -0.05 L     +0.05 L
  It holds this morning                           0.50 L      0.30 L
  Tonight, if left                                0.20 L      0.20 L
  We water before it falls below                  0.50 L      0.50 L

  The soil round it can hold                      24.0 L      24.0 L
  It held yesterday morning                       18.0 L      18.0 L
  Come in since                                   +3.6 L      +3.6 L
  Drunk, dried or drained away                    -0.9 L      -0.9 L
  It holds this morning                           20.7 L      20.7 L
  Tonight, if left                                19.9 L      19.9 L

  So: wanted today, in so many sums              9 of 10     6 of 10
  For each                                           2 L         1 L

  Roots crossing the edge of the ball: by the reckoning the ball runs short
  before the next visit. On the ball, slowly; the bed needs none."""


def printed(report: Report, *, symbols: bool = False, width: int = 80) -> str:
    page = Page(width)
    write_why(page, report, symbols=symbols)
    return str(page)


def rows(report: Report) -> list[str]:
    """The labels of the table that are written."""
    table = printed(report).splitlines()[1:]
    return [line[2:44].rstrip() for line in table if line.endswith(" L")]


def test_two_plantings_stand_side_by_side() -> None:
    why = printed(a_why(plantings=[planting_why(), CLEMATIS]))
    assert why.startswith(SIDE_BY_SIDE)
    assert amiss(why) == []


def test_the_sums_that_are_shown_add_up() -> None:
    """Yesterday, what came and what went are this morning's, as far as their decimals go."""
    ball = planting_why()["ball"]
    came = ball["given_l"] + ball["rain_l"] + ball["from_bed_l"] + ball["felt_l"]
    assert ball["yesterday_l"] + came - ball["gone_l"] == pytest.approx(ball["morning_l"])


def test_what_a_feel_moved_has_a_line_of_its_own_where_it_shows() -> None:
    """Without it what was drunk would hide it: 0.7 + 0.15 - 0.3 - 0.05 would be 0.5, and 0.4 is there."""
    label = "Set right by this morning's feel"
    moved = {**BALL_SUMS, "felt_l": -0.1, "morning_l": 0.4}
    text = printed(a_why(plantings=[planting_why(ball=moved)]))
    figures = {
        line[2:44].strip(): line.split()[-2] for line in text.splitlines() if line.endswith(" L")
    }
    assert figures[label] == "-0.10"
    assert figures["Drunk or dried away"] == "-0.30"
    unmoved = {**BALL_SUMS, "felt_l": 0.004}
    assert label not in rows(a_why(plantings=[planting_why(ball=unmoved)]))


def test_a_line_with_nothing_in_it_is_left_out() -> None:
    dry = {**BALL_SUMS, "given_l": 0.0, "rain_l": 0.0, "from_bed_l": 0.0}
    labels = rows(a_why(plantings=[planting_why(ball=dry)]))
    assert "Rain on the ball" not in labels
    assert not any(label.startswith(("Given", "From")) for label in labels)
    assert "Drunk or dried away" in labels


def test_a_bed_of_bare_roots_has_no_ball() -> None:
    bare = planting_why(ball=None, dose={**PLANTING_WHY["dose"], "said_l": 0.0})
    labels = rows(a_why(plantings=[bare]))
    assert not any("ball" in label for label in labels)
    assert labels[0] == "The soil round it can hold"
    assert "For each" not in labels
    beside = printed(a_why(plantings=[planting_why(), bare])).splitlines()
    held = next(line for line in beside if "ball can hold" in line)
    assert held.endswith("1.20 L")


@pytest.mark.parametrize(
    ("count", "width", "blocks"),
    [(1, 80, [1]), (3, 80, [3]), (4, 80, [2, 2]), (8, 80, [3, 3, 2]), (2, 60, [1, 1])],
)
def test_more_plantings_than_fit_go_into_further_blocks(
    count: int, width: int, blocks: list[int]
) -> None:
    many = [planting_why(planting=f"sort{number}") for number in range(count)]
    page = printed(a_why(plantings=many), width=width)
    heads = [line for line in page.splitlines() if line.strip().startswith("One plant of:")]
    assert [line.count("sort") for line in heads] == blocks
    assert amiss(page, width) == []


def test_symbols_stand_in_place_of_the_sums() -> None:
    page = printed(a_why(plantings=[planting_why(), CLEMATIS]), symbols=True).splitlines()
    assert page[2] == "6 climbing roses"
    assert (
        page[3] == "  TAW ball                   1.20 L  total available water of the ball, (14),"
    )
    assert page[4] == f"{'':37}FAO eq 82"
    assert page[5].endswith("  skin depletion, watered part, (24), FAO")
    assert page[7] == "  Ks                          1.000  stress coefficient yesterday, FAO eq 84"
    assert not any("One plant of" in line for line in page)
    assert max(map(len, page)) <= 80
    assert FORBIDDEN.search(page[3])


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        (6.62e-05, "L a plant", "0 L a plant"),
        (-1e-17, "mm", "0 mm"),
        (-0.25, "mm", "-0.25 mm"),
        (0.0004, "-", "0"),
        (45.0123, "L", "45.01 L"),
    ],
)
def test_symbols_have_fixed_digits_and_no_powers_of_ten(
    value: float, unit: str, shown: str
) -> None:
    of = {**PLANTING_WHY["symbols"][0], "value": value, "unit": unit}
    page = printed(a_why(plantings=[planting_why(symbols=[of])]), symbols=True)
    assert page.splitlines()[3].startswith(f"  TAW ball        {shown:>17}  total")


def test_where_the_bed_leads_the_soil_roots_have_reached_has_its_threshold() -> None:
    bed_leads = {**PLANTING_WHY["roots"], "ball_share_fraction": 0.5}
    lines = printed(a_why(plantings=[planting_why(roots=bed_leads)])).splitlines()
    first = next(n for n, line in enumerate(lines) if "roots have reached" in line)
    assert [line.split()[-2] for line in lines[first : first + 3]] == ["6.0", "4.6", "2.3"]
    assert lines[first + 2].startswith("  We water before it falls below")
    assert "roots have reached" not in printed(a_why(plantings=[planting_why()]))
    assert "roots have reached" in printed(a_why(plantings=[planting_why(ball=None)]))


@given(
    st.lists(st.floats(0, 3), min_size=4, max_size=4),
    st.floats(-0.5, 0.5),
    st.sampled_from([1.2, 24.0]),
)
def test_a_column_adds_up_as_it_is_printed(
    amounts: list[float], from_bed: float, size: float
) -> None:
    yesterday, given_l, rain, gone = amounts
    now = yesterday + given_l + rain + from_bed - gone
    ball = {
        **BALL_SUMS,
        "holds_at_most_l": size,
        "yesterday_l": yesterday,
        "given_l": given_l,
        "rain_l": rain,
        "gone_l": gone,
        "from_bed_l": from_bed,
        "felt_l": 0.0,
        "morning_l": now,
    }
    lines = printed(a_why(plantings=[planting_why(ball=ball)])).split("\n\n")[1].splitlines()[2:]
    figures = {line[:40].strip(): line.split()[-2] for line in lines if line.endswith(" L")}
    this_morning = Decimal(figures.pop("It holds this morning"))
    for label in (
        "The ball can hold for the plant",
        "Tonight, if left",
        "We water before it falls below",
    ):
        del figures[label]
    assert sum(map(Decimal, figures.values())) == this_morning


@pytest.mark.parametrize(
    ("changes", "head"),
    [
        ({"verdict": "held_back", "litres": 0.0}, "CHAPEL WALL, Thursday 15 May: held back"),
        ({"verdict": "leave", "litres": 0.0}, "CHAPEL WALL, Thursday 15 May: leave"),
        ({"name": "Well Court"}, "WELL COURT, Thursday 15 May: soak, 17 L"),
    ],
)
def test_the_head_says_the_verdict(changes: Report, head: str) -> None:
    assert printed(a_why(**changes)).splitlines()[0] == head
