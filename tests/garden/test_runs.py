"""Days that follow one another, as runs."""

from datetime import date, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.runs import Run, runs

DAYS = st.lists(st.dates(date(2030, 2, 20), date(2030, 4, 1)))


def test_days_in_any_order_become_runs() -> None:
    """28 February and 1 March follow one another; a day given twice counts once."""
    days = [date(2030, 3, day) for day in (9, 1, 2, 9)] + [date(2030, 2, 28)]
    found = runs(days)
    assert found == (
        Run(date(2030, 2, 28), date(2030, 3, 2)),
        Run(date(2030, 3, 9), date(2030, 3, 9)),
    )
    assert [run.days for run in found] == [3, 1]
    assert runs([]) == ()


@given(DAYS)
def test_runs_hold_the_days_given_and_no_others_and_never_touch(days: list[date]) -> None:
    found = runs(days)
    inside = [run.first + timedelta(days=n) for run in found for n in range(run.days)]
    assert inside == sorted(set(days))
    assert all(later.first - earlier.last > timedelta(days=1) for earlier, later in pairwise(found))
