"""What a call says of rain that is forecast: waited for, once; or likely, and not waited for."""

from datetime import timedelta
from typing import Any

import numpy as np
import pytest

from soakbook.garden.records import Person
from soakbook.reckoning.advice.calling import BedCall
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.promise_says import rain_not_waited_for, rain_waited_for
from soakbook.reckoning.advice.promised import Promised
from soakbook.reckoning.advice.report import Call
from soakbook.reckoning.advice.rounds import morning_on, round_of
from tests.reckoning.advice.handmade import call, dosed, judged
from tests.reckoning.forecasts import promising
from tests.reckoning.gardens import PLANTED, call_of, pages, roses, weather

DAY = PLANTED + timedelta(days=8)
"""DUG is first due on this morning."""

DUG = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)
KNOWN = weather(PLANTED - timedelta(days=5), 60, et0_mm=2.0)


def judgement(*shares: float, until_days: int = 0, bar: float = 0.7) -> Judgement:
    """The judgement of a morning, with other promises put into it, planting by planting."""
    found = morning_on(pages((DUG,), days=KNOWN), DAY, 5).judgement
    assert found is not None
    share, nothing = np.array(shares), np.zeros(len(shares))
    promise = Promised(DAY + timedelta(days=until_days), share, nothing, nothing, bar)
    return found._replace(promise=promise if shares else None)


def waiting(*rows: int) -> BedCall:
    return call(
        *(dosed(judged(row=row, verdict="rain", due=False, dose_kind=None)) for row in rows)
    )


def going(*rows: int) -> BedCall:
    return call(*(dosed(judged(row=row)) for row in rows))


def test_what_is_waited_for_is_said_with_its_end_and_with_what_if_not() -> None:
    assert rain_waited_for(judgement(0.8), waiting(0)) == (
        "Rain is likely by tonight, 5 mm or more for this bed in 8 of 10 forecasts. "
        "Should it not come, soak tomorrow: it is not waited for twice."
    )


def test_of_several_plantings_the_least_sure_promise_is_said() -> None:
    assert "in 7 of 10" in rain_waited_for(judgement(0.9, 0.72, 0.1), waiting(0, 1))


def test_the_day_is_named_where_it_is_not_today() -> None:
    """16 May... the eighth day after planting, 9 May, is a Friday; three days on it is Monday."""
    assert "by Mon 12 evening" in rain_waited_for(judgement(0.8, until_days=3), waiting(0))
    assert "by Mon 12 evening" in rain_not_waited_for(judgement(0.8, until_days=3), going(0))


@pytest.mark.parametrize(
    ("share", "tenths"), [(0.704, 7), (0.75, 8), (0.949, 9), (0.96, 10), (1.0, 10), (0.31, 3)]
)
def test_the_share_is_said_in_tenths(share: float, tenths: int) -> None:
    said = rain_not_waited_for(judgement(share, bar=0.3), going(0))
    assert f"5 mm or more for this bed in {tenths} of 10 forecasts" in said


def test_a_good_promise_that_is_not_waited_for_is_likely_and_a_doubtful_one_may_come() -> None:
    assert rain_not_waited_for(judgement(0.7), going(0)) == (
        "Rain is likely by tonight, 5 mm or more for this bed in 7 of 10 forecasts: not waited for."
    )
    for share, bar in ((0.69, 0.7), (0.30, 0.7), (0.8, 0.95)):
        said = rain_not_waited_for(judgement(share, bar=bar), going(0))
        assert said.startswith("Rain may come by tonight")


def test_below_three_tenths_nothing_is_said() -> None:
    assert rain_not_waited_for(judgement(0.29), going(0)) == ""


def test_of_several_plantings_that_are_soaked_the_surest_promise_is_said() -> None:
    assert "in 6 of 10" in rain_not_waited_for(judgement(0.2, 0.6, 0.9), going(0, 1))


def test_without_a_promise_or_without_a_bed_that_waits_or_goes_nothing_is_said() -> None:
    assert rain_waited_for(judgement(), waiting(0)) == ""
    assert rain_not_waited_for(judgement(), going(0)) == ""
    assert rain_waited_for(judgement(0.9), going(0)) == ""
    assert rain_not_waited_for(judgement(0.9), waiting(0)) == ""


def said(tenths: int, days: int = 0, **fields: Any) -> Call:
    day = DAY + timedelta(days=days)
    told = (promising(day, {day: 15.0}, tenths=tenths),)
    book = pages((DUG,), days=KNOWN, forecasts=told, **fields)
    return call_of(round_of(morning_on(book, day, 41)))


@pytest.mark.parametrize(
    ("tenths", "days", "verdict", "words"),
    [
        (
            8,
            0,
            "rain",
            "Rain is likely by tonight, 5 mm or more for this bed in 8 of 10 forecasts.",
        ),
        (
            8,
            1,
            "soak",
            "Rain is likely by tonight, 5 mm or more for this bed in 8 of 10 forecasts:",
        ),
        (5, 0, "soak", "Rain may come by tonight, 5 mm or more for this bed in 5 of 10 forecasts:"),
    ],
    ids=["waited for", "not again", "doubtful"],
)
def test_the_reason_of_a_call_says_it(tenths: int, days: int, verdict: str, words: str) -> None:
    found = said(tenths, days)
    assert (found.verdict, words in found.reason) == (verdict, True)
    assert ("not waited for twice" in found.reason) == (verdict == "rain")


def test_the_reason_says_nothing_of_rain_that_is_not_likely() -> None:
    for tenths in (0, 1, 2):
        found = said(tenths)
        assert (found.verdict, "ain" in found.reason) == ("soak", False)


def test_a_bed_that_waits_is_given_nothing_and_has_no_place_in_the_walk() -> None:
    found = said(10)
    assert (found.verdict, found.litres, found.order, found.dose_kind) == ("rain", 0, None, None)
    assert found.wanted_on == DAY + timedelta(days=1)


def test_the_evening_said_is_the_one_before_the_next_visit() -> None:
    """Nobody tomorrow: of the rain of today and tomorrow."""
    ann = Person("ann", "Ann", frozenset(range(7)) - {(DAY + timedelta(days=1)).weekday()})
    found = said(5, people=(ann,))
    assert "Rain may come by Sat 10 evening" in found.reason
