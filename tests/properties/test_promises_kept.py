"""What holds of a garden under any forecast."""

from collections import Counter
from datetime import date, timedelta
from itertools import pairwise
from random import Random
from typing import NamedTuple

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from soakbook.garden.pages import Pages
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.reckoning.advice.judging import judge
from soakbook.reckoning.advice.report import Verdict
from soakbook.reckoning.advice.rounds import Morning, morning_on
from soakbook.reckoning.physics.ledger import imbalance_mm
from soakbook.reckoning.simulation.futures import picked
from soakbook.reckoning.simulation.run import LEDGER_TOLERANCE_MM, Dawn, next_dawn, run
from soakbook.reckoning.simulation.season import Season
from tests.reckoning.forecasts import at_noon, foretold, in_members, issued
from tests.reckoning.gardens import PLANTED, judged_of, mulch, pages, roses, season, weather

FIRST_DUE = PLANTED + timedelta(days=8)
DUG = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)
POT = roses(name="pots", canopy_start_m2=0.15)
MEMBERS = 21

RAIN_MM = st.one_of(st.just(0.0), st.floats(0, 60, allow_subnormal=False))
ET0_MM = st.floats(0, 9, allow_subnormal=False)
COUNTS = st.integers(1, 12)


class Said(NamedTuple):
    """One day's rain and ET0 in the plain run and in each member."""

    rain_mm: float
    et0_mm: float
    fall_mm: tuple[float, ...]
    asked_mm: tuple[float, ...]


@st.composite
def some_days(draw: st.DrawFn, days: int = 6) -> list[Said]:
    """Days of a forecast with as many members on each."""
    count = draw(COUNTS)
    return [
        Said(
            draw(RAIN_MM),
            draw(ET0_MM),
            tuple(draw(st.lists(RAIN_MM, min_size=count, max_size=count))),
            tuple(draw(st.lists(ET0_MM, min_size=count, max_size=count))),
        )
        for _ in range(days)
    ]


def told(days: list[Said], first: date) -> Forecast:
    return issued(
        first,
        *(
            in_members(
                first + timedelta(days=n),
                one.fall_mm,
                one.asked_mm,
                rain_mm=one.rain_mm,
                et0_mm=one.et0_mm,
            )
            for n, one in enumerate(days)
        ),
    )


def book(*forecasts: Forecast, known: int = 8) -> Pages:
    """Two plantings on 2 mm a day, so many days of it, under chip."""
    days = weather(PLANTED - timedelta(days=5), known + 5, et0_mm=2.0)
    dressing = [mulch(PLANTED + timedelta(days=1), 5.0)]
    return pages((DUG, POT), dressing, days=days, forecasts=forecasts)


def rainy(of: Season) -> Season:
    return of._replace(skies=of.skies.with_rain())


@settings(max_examples=25)
@given(some_days())
def test_members_that_all_say_the_same_are_the_forecast_without_members(days: list[Said]) -> None:
    """Every lane has the plain values under its own errors: many alike members, one, or each day's own alone."""
    alike = [
        one._replace(
            fall_mm=(one.rain_mm,) * len(one.fall_mm), asked_mm=(one.et0_mm,) * len(one.fall_mm)
        )
        for one in days
    ]
    single = [one._replace(fall_mm=one.fall_mm[:1], asked_mm=one.asked_mm[:1]) for one in alike]
    found = [run(rainy(season(book(told(said, FIRST_DUE)), FIRST_DUE, MEMBERS)))[-1]
             for said in (alike, single)]  # fmt: skip
    for _ in days:
        found = [next_dawn(dawn) for dawn in found]
    for one, other in zip(found[0].stores, found[1].stores, strict=True):
        assert np.array_equal(one, other)
    assert judge_alike(told(alike, FIRST_DUE), told(single, FIRST_DUE))


def judge_alike(*forecasts: Forecast) -> bool:
    """Whether a morning is judged alike under either forecast."""
    one, other = (
        morning_on(book(forecast), FIRST_DUE, MEMBERS).judgement for forecast in forecasts
    )
    assert one is not None
    assert other is not None
    return one.judged == other.judged


@settings(max_examples=25)
@given(some_days())
def test_the_plain_run_knows_of_no_member(days: list[Said]) -> None:
    """Member 0 goes with the plain values, whatever the members say."""
    others = [
        one._replace(fall_mm=one.fall_mm[::-1], asked_mm=tuple(x / 2 for x in one.asked_mm))
        for one in days
    ]
    found = [run(rainy(season(book(told(said, FIRST_DUE)), FIRST_DUE, MEMBERS)))[-1]
             for said in (days, others)]  # fmt: skip
    for _ in days:
        found = [next_dawn(dawn) for dawn in found]
    for one, other in zip(found[0].stores, found[1].stores, strict=True):
        assert np.array_equal(np.asarray(one)[:, 0], np.asarray(other)[:, 0])


@settings(max_examples=30)
@given(some_days(), st.integers(5, 12))
def test_without_rain_in_any_member_nothing_is_left_for_the_rain(
    days: list[Said], day: int
) -> None:
    """Nor is any dose made less: the same calls as when the forecast's ET0 alone is told."""
    dry = [one._replace(rain_mm=0.0, fall_mm=(0.0,) * len(one.fall_mm)) for one in days]
    morning = PLANTED + timedelta(days=day)
    found = morning_on(book(told(dry, morning), known=day), morning, MEMBERS)
    assert found.judgement is not None
    assert found.judgement.promise is None
    assert {one.verdict for one in found.judgement.judged} <= {"soak", "leave"}


@settings(max_examples=30)
@given(some_days(), st.integers(5, 12))
def test_forecast_rain_never_calls_for_a_soak_nor_for_more(days: list[Said], day: int) -> None:
    """Due or not, and why, is asked as if none came: rain can only put off, or make a dose less."""
    morning = PLANTED + timedelta(days=day)
    dry = [one._replace(rain_mm=0.0, fall_mm=(0.0,) * len(one.fall_mm)) for one in days]
    with_rain, without = (
        morning_on(book(told(said, morning), known=day), morning, MEMBERS) for said in (days, dry)
    )
    for uid in (DUG.uid, POT.uid):
        one, other = judged_of(with_rain, uid), judged_of(without, uid)
        assert one.prospect.share_due == other.prospect.share_due
        assert one.prospect.can_wait == other.prospect.can_wait
        if other.verdict == "leave":
            assert one.verdict == "leave"
        else:
            assert one.verdict in ("soak", "rain")
    for call in with_rain.calls:
        for one_dosed in call.dosed:
            uid = one_dosed.judged.planting.uid
            assert one_dosed.needed_l.p50 <= needed(without, uid) + 1e-9


def needed(of: Morning, uid: str) -> float:
    """Litres a plant by (42), the middle member."""
    return next(
        one.needed_l.p50
        for call in of.calls
        for one in call.dosed
        if one.judged.planting.uid == uid
    )


@settings(max_examples=40)
@given(
    st.integers(0, 20), st.integers(0, 20), st.floats(5.0, 60.0), st.floats(1.0, 3.0), st.booleans()
)
def test_more_and_wetter_futures_never_turn_rain_into_a_soak(
    one: int, other: int, rain_mm: float, times: float, plain_wet: bool
) -> None:
    """Twenty futures, some wet: as many and more of them, as much and more in each."""
    few, many = sorted((one, other))
    drier = verdicts(few, rain_mm, plain_wet)
    for wetter in (verdicts(many, rain_mm, plain_wet), verdicts(few, times * rain_mm, plain_wet)):
        for before, after in zip(drier, wetter, strict=True):
            assert (before, after) in {
                ("leave", "leave"), ("soak", "soak"), ("soak", "rain"), ("rain", "rain")
            }  # fmt: skip


def verdicts(wet: int, rain_mm: float, plain_wet: bool) -> list[Verdict]:
    """Each planting's, where so many of twenty futures are wet on the morning."""
    said = foretold(
        FIRST_DUE,
        rain_mm if plain_wet else 0.0,
        rain_members_mm=(rain_mm,) * wet + (0.0,) * (20 - wet),
        et0_members_mm=(2.0,) * 20,
        mean_by_hour_mm=at_noon(1.0),
    )
    dawns = run(season(book(issued(FIRST_DUE, said)), FIRST_DUE, MEMBERS), last=9)
    return [one.verdict for one in judge(dawns[-1], earlier=dawns[:-1]).judged]


@settings(max_examples=25)
@given(some_days(days=4), st.integers(0, 6))
def test_water_adds_up_over_days_that_nobody_measured(days: list[Said], beyond: int) -> None:
    """Forecast days behind the morning and like days after them: the season's ledger closes in every member."""
    first = PLANTED + timedelta(days=12)
    morning = first + timedelta(days=len(days) + beyond)
    of = season(book(told(days, first), known=12), morning, MEMBERS)
    behind = [step for step in of.skies.steps if step.future is not None]
    assert len(behind) == len(days) + beyond
    dawns: list[Dawn] = []
    run(of, watch=dawns.append)
    plot, _ = of.parameters(slice(0, 2))
    for before, after in pairwise(dawns):
        assert after.flows is not None
        gap_mm = imbalance_mm(plot.cell_m2, before.stores, after.stores, after.flows)
        assert np.abs(gap_mm).max() <= LEDGER_TOLERANCE_MM
        assert np.asarray(after.stores.ball_store_l).min() >= -1e-9
    fell = np.zeros((2, MEMBERS))
    for dawn in dawns:
        fell += 0.0 if dawn.flows is None else dawn.flows.rain_l
    shares = np.asarray(plot.rain_share * plot.cell_m2)
    plain_mm = sum(one.rain_mm for one in days)
    assert np.allclose(fell[:, 0], plain_mm * shares[:, 0])


@settings(max_examples=25)
@given(some_days(), st.randoms(use_true_random=False))
def test_members_in_another_order_are_another_deal_of_the_same_futures(
    days: list[Said], random: Random
) -> None:
    """As many members go with each, its rain and its ET0 together."""
    count = len(days[0].fall_mm)
    order = random.sample(range(count), count)
    turned = [
        one._replace(
            fall_mm=tuple(one.fall_mm[n] for n in order),
            asked_mm=tuple(one.asked_mm[n] for n in order),
        )
        for one in days
    ]
    dealt = []
    for said in (days, turned):
        of = rainy(season(book(told(said, FIRST_DUE)), FIRST_DUE, 1 + 4 * count))
        future = of.skies.on(FIRST_DUE).future
        assert future is not None
        mine = picked(of.numbers, future)
        dealt.append(Counter(zip(mine.rain_mm[1:].tolist(), mine.et0_mm[1:].tolist(), strict=True)))
    said_of = Counter(zip(days[0].fall_mm, days[0].asked_mm, strict=True))
    assert dealt[0] == dealt[1] == Counter({pair: 4 * many for pair, many in said_of.items()})


def test_a_forecast_without_hours_and_members_is_a_forecast() -> None:
    """The least that a service may say: rain and ET0 of a day."""
    bare = ForecastDay(FIRST_DUE, rain_mm=3.0, et0_mm=2.0)
    assert morning_on(book(issued(FIRST_DUE, bare)), FIRST_DUE, MEMBERS).judgement is not None
