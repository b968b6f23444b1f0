"""(40): who is due before the next visit, with the garden's patience; when the rest will be; what waiting risks."""

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.reckoning.advice.due import PATIENCE, RISK, Prospect, below, prospects
from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.simulation.ahead import Evening, Wetness

DAY = date(2031, 6, 2)  # a Monday
NOTHING = Stores(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def evening(
    lead: Sequence[float], limit: float = 0.5, ball: float = 1.0, ball_share: float = 0.0
) -> Evening:
    """One planting; the leading store of each member."""
    leads = np.array([lead], np.float64)
    same = np.ones_like(leads)
    wet = Wetness(
        ball * same, leads, leads, ball_share * same, limit * same, limit * same, limit * same
    )
    return Evening(NOTHING, wet)


def daily(days: int = 30) -> list[date]:
    """Somebody comes every day."""
    return [DAY + timedelta(days=n + 1) for n in range(days)]


def falling(*leads: float) -> list[Evening]:
    """Evenings on which all members stand alike."""
    return [evening([lead]) for lead in leads]


def of(
    evenings: Sequence[Evening], visits: Sequence[date] | None = None, patience: float = 1.0
) -> Prospect:
    return prospects(evenings, visits or daily(len(evenings)), DAY, patience)[0]


def test_risk_and_patience() -> None:
    """DEVELOPERS.md, Deciding, and the ledger: risk 0.35; keen 1, fair 0.8, lean 0.6."""
    assert RISK == 0.35
    assert PATIENCE == {"keen": 1.0, "fair": 0.8, "lean": 0.6}


@pytest.mark.parametrize(
    ("lead", "ball", "ball_share", "patience", "is_below"),
    [
        (0.49, 1.0, 0.0, 1.0, True),
        (0.50, 1.0, 0.0, 1.0, False),
        (0.41, 1.0, 0.0, 0.8, False),
        (0.39, 1.0, 0.0, 0.8, True),
        (0.60, 0.29, 0.51, 1.0, True),
        (0.60, 0.29, 0.50, 1.0, False),
        (0.60, 0.25, 0.51, 0.8, False),
        (0.60, 0.23, 0.51, 0.8, True),
        (0.60, 0.17, 0.51, 0.6, True),
    ],
)
def test_below_the_limit_or_a_leading_ball_below_three_tenths(
    lead: float, ball: float, ball_share: float, patience: float, is_below: bool
) -> None:
    """The limit is 0.5; patience multiplies both thresholds."""
    found = below(evening([lead], 0.5, ball, ball_share).wetness, patience)
    assert found.tolist() == [[is_below]]


def test_the_share_of_members_below_on_any_evening_before_the_next_visit() -> None:
    """Ten members: three dip tonight and come up, one more falls tomorrow. Two evenings to the visit: four of ten."""
    tonight = evening([0.4] * 3 + [0.9] * 7)
    tomorrow = evening([0.9] * 9 + [0.4])
    two_days = [DAY + timedelta(days=2)] * 2
    assert of([tonight, tomorrow], two_days).share_due == pytest.approx(0.4)
    assert of([tonight, tomorrow]).share_due == pytest.approx(0.3)


def test_with_somebody_tomorrow_only_tonight_counts() -> None:
    assert of(falling(0.6, 0.1, 0.1)).share_due == 0.0
    in_three_days = [DAY + timedelta(days=3)] * 3
    assert of(falling(0.6, 0.6, 0.1), in_three_days).share_due == 1.0
    assert of(falling(0.6, 0.6, 0.6), in_three_days).share_due == 0.0


def test_wanted_on_the_first_morning_on_which_it_would_be_due() -> None:
    """It passes its limit on Thursday evening: wanted on Thursday, or on Tuesday before two days without anybody."""
    course = falling(0.9, 0.8, 0.6, 0.4, 0.3, 0.2)
    assert of(course).wanted_on == DAY + timedelta(days=3)
    gap = [DAY + timedelta(days=n) for n in (1, 4, 4, 4, 5, 6)]
    assert of(course, gap).wanted_on == DAY + timedelta(days=1)
    assert of(falling(0.9, 0.8, 0.7)).wanted_on is None


def test_wanted_on_this_morning_where_it_is_due() -> None:
    assert of(falling(0.4, 0.3)).wanted_on == DAY


def test_last_safe_is_the_last_morning_on_which_waiting_leaves_half_the_threshold() -> None:
    """The middle is below 0.25 from Thursday evening: on Wednesday one can still wait for Thursday's visit."""
    found = of(falling(0.6, 0.4, 0.3, 0.2, 0.1))
    assert found.last_safe == DAY + timedelta(days=2)
    assert (found.can_wait, found.half_passed_in) == (True, 3)


def test_last_safe_looks_to_the_next_visit() -> None:
    """Nobody from Wednesday to Friday: on Tuesday waiting for Wednesday is borne, on Wednesday waiting is not."""
    visits = [DAY + timedelta(days=n) for n in (1, 2, 5, 5, 5, 6)]
    assert of(falling(0.6, 0.5, 0.4, 0.3, 0.2, 0.1), visits).last_safe == DAY + timedelta(days=1)


def test_exactly_half_the_threshold_is_borne() -> None:
    assert of(falling(0.25, 0.24)).last_safe == DAY


def test_where_today_cannot_wait_there_is_no_last_safe_morning() -> None:
    found = of(falling(0.2, 0.1))
    assert (found.last_safe, found.can_wait, found.half_passed_in) == (None, False, 0)
    tomorrow_evening = of(falling(0.6, 0.2, 0.1), [DAY + timedelta(days=2)] * 3)
    assert (tomorrow_evening.last_safe, tomorrow_evening.can_wait) == (None, False)
    assert tomorrow_evening.half_passed_in == 1


def test_where_no_end_is_in_sight_there_is_no_last_safe_morning_either() -> None:
    found = of(falling(0.9, 0.8, 0.7))
    assert (found.last_safe, found.can_wait, found.half_passed_in) == (None, True, 3)


def test_the_middle_member_decides_what_is_borne_and_all_of_them_the_harm() -> None:
    """Two of five below half the limit tonight, three tomorrow evening."""
    evenings = [evening([0.2, 0.2, 0.6, 0.6, 0.6]), evening([0.2, 0.2, 0.2, 0.6, 0.6])]
    found = of(evenings)
    assert found.half_passed_in == 1
    assert found.harm_share == pytest.approx(0.4)
    assert of(evenings, [DAY + timedelta(days=2)] * 2).harm_share == pytest.approx(0.6)


def test_patience_leaves_the_last_safe_morning_where_it_is() -> None:
    course = falling(0.6, 0.4, 0.3, 0.2, 0.1)
    assert of(course, patience=0.6).last_safe == of(course, patience=1.0).last_safe


def test_plantings_are_judged_apart() -> None:
    wet = Wetness(
        *(
            np.vstack([a, b])
            for a, b in zip(evening([0.1]).wetness, evening([0.9]).wetness, strict=True)
        )
    )
    found = prospects([Evening(NOTHING, wet)], daily(1), DAY, 1.0)
    assert [one.share_due for one in found] == [1.0, 0.0]


COURSES = st.lists(st.lists(st.floats(0, 1.2), min_size=5, max_size=5), min_size=3, max_size=8)


@given(course=COURSES, gap=st.integers(1, 4))
def test_more_patience_and_nearer_visits_never_ask_for_more(
    course: list[list[float]], gap: int
) -> None:
    evenings = [evening(leads) for leads in course]
    visits = [DAY + timedelta(days=n + gap) for n in range(len(course))]
    keen, lean, near = of(evenings, visits), of(evenings, visits, 0.6), of(evenings)
    assert lean.share_due <= keen.share_due
    assert near.share_due <= keen.share_due
    assert near.can_wait or not keen.can_wait
