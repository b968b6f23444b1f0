"""The days that nobody has measured, as a forecast has them: ahead of the morning and behind it."""

from datetime import date, timedelta
from typing import Any

import pytest

from soakbook.garden.pages import Pages
from soakbook.garden.weather import Forecast, ForecastDay
from soakbook.reckoning.simulation.skies import Skies, skies_of
from tests.reckoning.forecasts import foretold, in_members, issued, wet_in
from tests.reckoning.gardens import PLANTED, at, garden, pages, rain, weather

MORNING = PLANTED + timedelta(days=15)
BEFORE = MORNING - timedelta(days=1)
NEXT = MORNING + timedelta(days=1)


def day(number: int) -> date:
    """So many days after the morning."""
    return MORNING + timedelta(days=number)


def seen(book: Pages, morning: date = MORNING, today: date | None = None) -> Skies:
    found = skies_of(book, morning, today)
    assert found is not None
    return found


def book(*forecasts: Forecast, known: int = 15, **fields: Any) -> Pages:
    """So many dry days of 4 mm from PLANTED on, and forecasts, newest first."""
    return pages(days=weather(days=known), forecasts=forecasts, **fields)


def future_mm(skies: Skies, when: date) -> list[float]:
    """Rain of a day's futures, the plain one first."""
    future = skies.on(when).future
    assert future is not None
    return [round(float(mm), 9) for mm in future.rain_mm]


WET = in_members(MORNING, (1.0, 6.0), (3.0, 1.0))
WETTER = in_members(NEXT, (2.0, 9.0), (2.5, 0.5), tmean_c=26.0)
TWO_DAYS = issued(MORNING, WET, WETTER)


def test_as_far_as_a_forecast_goes_the_days_ahead_are_its() -> None:
    """ET0 and warmth too: the mean of ten days, one of them the morning's 16 degC, one of 26."""
    skies = seen(book(TWO_DAYS))
    assert set(skies.coming) == {MORNING, NEXT}
    assert skies.ahead is skies.coming[MORNING]
    assert [skies.on(one).et0_mm for one in (MORNING, NEXT)] == [2.0, 2.0]
    assert skies.on(NEXT).soil_warmth_c == pytest.approx(17.0)
    future = skies.on(NEXT).future
    assert future is not None
    assert future.et0_mm.tolist() == [2.0, 2.5, 0.5]


def test_beyond_it_they_are_as_the_last_ten_measured() -> None:
    """Not as the forecast's own: 4 mm, though it says 2."""
    skies = seen(book(TWO_DAYS))
    for when in (day(2), day(20)):
        step = skies.on(when)
        assert (step.day, step.future, step.rain_mm) == (when, None, 0.0)
        assert step.et0_mm == pytest.approx(4.0)


def test_the_plain_question_has_none_of_the_rain_and_all_of_the_et0() -> None:
    skies = seen(book(TWO_DAYS))
    assert future_mm(skies, MORNING) == [0.0] * 3
    assert future_mm(skies, NEXT) == [0.0] * 3
    assert skies.on(NEXT).rain_mm == 0.0


def test_with_rain_each_future_has_its_own() -> None:
    skies = seen(book(TWO_DAYS)).with_rain()
    assert future_mm(skies, MORNING) == [6.0, 1.0, 6.0]
    assert future_mm(skies, NEXT) == [9.0, 2.0, 9.0]
    assert skies.on(day(2)).future is None


def test_the_last_ten_measured_are_what_is_assumed_if_nobody_tells() -> None:
    skies = seen(book(TWO_DAYS))
    assert skies.assumed.day == MORNING
    assert skies.assumed.et0_mm == pytest.approx(4.0)
    assert seen(book()).ahead == seen(book()).assumed == seen(book()).on(MORNING)


def test_the_newest_of_two_forecasts_is_believed() -> None:
    older = issued(BEFORE, foretold(BEFORE), foretold(MORNING, 30.0), foretold(day(2), 30.0))
    skies = seen(book(TWO_DAYS, older)).with_rain()
    assert future_mm(skies, MORNING) == [6.0, 1.0, 6.0]
    assert set(skies.coming) == {MORNING, NEXT, day(2)}
    assert future_mm(skies, day(2))[0] == 30.0  # which the newest leaves to the older


def test_of_a_day_that_the_newest_leaves_out_the_one_before_tells() -> None:
    """A service without a past begins with tomorrow: today is as yesterday's issue had it."""
    newest = issued(MORNING, foretold(NEXT, 2.0), hour=6)
    older = issued(
        BEFORE, foretold(BEFORE), foretold(MORNING, 4.0, et0_mm=1.5), foretold(NEXT, 9.0)
    )
    skies = seen(book(newest, older)).with_rain()
    assert future_mm(skies, NEXT)[0] == 2.0
    assert skies.ahead.et0_mm == 1.5
    assert skies.ahead is skies.coming[MORNING]


def test_an_issue_names_the_draw_and_without_one_the_garden_does() -> None:
    assert seen(book()).issue == "garden"
    other = TWO_DAYS._replace(source="another")
    later = TWO_DAYS._replace(issued_at=at(MORNING, 3))
    assert len({seen(book(one)).issue for one in (TWO_DAYS, other, later)}) == 3


def by_hours(**rain_mm: float) -> tuple[float, ...]:
    """Rain of each hour of a day: h2=1.0 is a millimetre from two to three."""
    hours = [0.0] * 24
    for name, mm in rain_mm.items():
        hours[int(name[1:])] = mm
    return tuple(hours)


NIGHT = foretold(MORNING, 8.0, rain_by_hour_mm=by_hours(h2=4.0, h3=1.0, h19=3.0))


def test_the_mornings_hours_before_the_issue_have_fallen_and_are_no_promise() -> None:
    """At six 5 mm have fallen in two hours, and 3 are to come, in each future in proportion."""
    skies = seen(book(issued(MORNING, NIGHT, hour=6)))
    assert skies.ahead.rain_mm == pytest.approx(5.0)
    assert [piece.lasted_h for piece in skies.ahead.pieces] == [2.0]
    assert future_mm(skies.with_rain(), MORNING)[0] == pytest.approx(3.0)
    assert set(future_mm(skies.with_rain(), MORNING)[1:]) == {0.0, 3.0, 4.5}
    assert skies.rain_lately_mm() == pytest.approx(5.0)


def test_an_issue_in_the_middle_of_a_shower_has_the_hours_before_its_own() -> None:
    skies = seen(book(issued(MORNING, NIGHT, hour=3)))
    assert skies.ahead.rain_mm == pytest.approx(4.0)
    assert future_mm(skies.with_rain(), MORNING)[0] == pytest.approx(4.0)


def test_of_a_day_that_has_an_hour_less_the_hours_are_counted_from_midnight() -> None:
    """The clocks go forward on 30 March: six o'clock is five hours after midnight. 23 hours are told."""
    morning = date(2031, 3, 30)
    hours = (0.0,) * 4 + (2.0, 3.0) + (0.0,) * 17
    said = foretold(morning, 5.0, rain_by_hour_mm=hours)
    known = weather(morning - timedelta(days=12), 12)
    skies = seen(pages(days=known, forecasts=(issued(morning, said, hour=6),)), morning)
    assert skies.ahead.rain_mm == pytest.approx(2.0)
    assert future_mm(skies.with_rain(), morning)[0] == pytest.approx(3.0)


def parts_mm(skies: Skies, when: date) -> tuple[list[float], list[float]]:
    """What each future of a day supposes to have fallen, and what is to come, the plain one first."""
    future = skies.coming[when].future
    assert future is not None
    return future.fallen_mm.tolist(), future.coming_mm.tolist()


def test_without_hours_a_part_is_supposed_to_have_fallen_and_the_rest_is_to_come() -> None:
    """Asked at seven, the round hour, of an issue of six: seven hours of twenty-four."""
    skies = seen(book(issued(MORNING, foretold(MORNING, 8.0, rain_by_hour_mm=()), hour=6)))
    assert skies.ahead.rain_mm == 0.0
    fallen, coming = parts_mm(skies, MORNING)
    assert fallen[0] == pytest.approx(8 * 7 / 24)
    assert coming[0] == pytest.approx(8 * 17 / 24)
    assert future_mm(skies, MORNING)[0] == pytest.approx(8 * 7 / 24)  # of the plain question


def test_of_an_older_issue_nothing_is_known_to_have_fallen_but_supposed() -> None:
    """5 of its 8 mm before the round hour."""
    older = issued(BEFORE, foretold(BEFORE), NIGHT, hour=20)
    skies = seen(book(older))
    assert skies.ahead.rain_mm == 0.0
    fallen, coming = parts_mm(skies, MORNING)
    assert fallen[0] == pytest.approx(5.0)
    assert coming[0] == pytest.approx(3.0)


SHOWER = in_members(
    MORNING,
    (15.0, 14.0),
    rain_mm=15.0,
    rain_by_hour_mm=by_hours(h5=8.0, h6=7.0),
    mean_by_hour_mm=by_hours(h5=8.0, h6=6.5),
)
"""An issue of five: a shower in the next two hours in every future."""


@pytest.mark.parametrize("hour", [8, 16])
def test_a_shower_that_is_over_is_not_to_come(hour: int) -> None:
    """A millimetre in the gauge at eight is all there was of it."""
    reading = rain(at(MORNING, 8), 1.0, at(MORNING, 4))
    asked = book(issued(MORNING, SHOWER, hour=5), entries=[reading])
    skies = seen(asked._replace(known_at=at(MORNING, hour)))
    assert skies.ahead.rain_mm == pytest.approx(1.0)
    fallen, coming = parts_mm(skies, MORNING)
    assert (max(fallen), max(coming)) == (0.0, 0.0)


def test_a_shower_that_is_over_and_that_nobody_measured_may_have_fallen() -> None:
    """The plain question has it too: it is no promise any more."""
    asked = book(issued(MORNING, SHOWER, hour=5))
    skies = seen(asked._replace(known_at=at(MORNING, 8)))
    assert parts_mm(skies, MORNING) == ([15.0, 15.0, 14.0], [0.0, 0.0, 0.0])
    assert future_mm(skies, MORNING) == [15.0, 15.0, 14.0]


def test_a_drizzle_of_the_plain_run_is_not_the_futures_rain() -> None:
    """It has a tenth of a millimetre at three, they have 15 mm in the afternoon; issued and asked at six."""
    said = in_members(
        MORNING,
        (15.0, 15.0),
        rain_mm=0.1,
        rain_by_hour_mm=by_hours(h3=0.1),
        mean_by_hour_mm=by_hours(h15=15.0),
    )
    skies = seen(book(issued(MORNING, said, hour=6))._replace(known_at=at(MORNING, 6)))
    assert skies.ahead.rain_mm == pytest.approx(0.1)
    assert parts_mm(skies, MORNING)[1][1:] == [15.0, 15.0]


def test_a_gauge_owns_its_hours_of_the_morning() -> None:
    """Read at six, with 2.5 mm since five yesterday: the forecast's 5 mm of the night are the gauge's 2.5."""
    reading = rain(at(MORNING, 6), 2.5, at(BEFORE, 17))
    skies = seen(book(issued(MORNING, NIGHT, hour=6), entries=[reading]))
    assert skies.ahead.rain_mm == pytest.approx(2.5)
    assert future_mm(skies.with_rain(), MORNING)[0] == pytest.approx(3.0)


GAP = [day(-3), day(-2), day(-1)]
GAP_TOLD = issued(
    day(-3), foretold(day(-3), 1.0), in_members(day(-2), (2.0, 5.0), (1.5, 1.0)), hour=6
)
"""Said three days ago, of two days; of the last one nobody said anything."""


def test_behind_the_morning_the_forecast_holds_first_and_then_days_like_the_book() -> None:
    skies = seen(book(GAP_TOLD, known=12))
    assert [step.day for step in skies.steps[-3:]] == GAP
    first, second, third = (step.future for step in skies.steps[-3:])
    assert first is not None
    assert second is not None
    assert third is not None
    assert (first.rain_mm[0], len(first.rain_mm)) == (1.0, 1 + 2)
    assert second.rain_mm.tolist() == [5.0, 2.0, 5.0]
    assert second.et0_mm.tolist() == [2.0, 1.5, 1.0]
    assert third.rain_mm.tolist() == [0.0] * 13
    assert third.et0_mm.tolist() == pytest.approx([4.0] * 13)
    assert skies.measured_to == day(-4)
    assert set(skies.coming) == set()


def test_without_a_forecast_all_of_the_gap_is_like_the_book() -> None:
    rained = {PLANTED + timedelta(days=3): 7.0}
    skies = seen(pages(days=weather(days=12, rain=rained)))
    futures = [step.future for step in skies.steps]
    assert all(future is None for future in futures[:12])
    behind = [future for future in futures[12:] if future is not None]
    assert len(behind) == 3
    assert [one.rain_mm.tolist().index(7.0) for one in behind] == [4, 3, 2]
    assert [one.rain_mm[0] for one in behind] == [0.0] * 3


def test_a_young_book_knows_too_few_days_and_supposes_none() -> None:
    skies = seen(pages(days=weather(days=9)))
    assert all(step.future is None for step in skies.steps)
    assert skies.steps[-1].filled == ("et0", "temperature", "rain")
    assert skies.steps[-1].et0_mm == pytest.approx(4.0)


def test_a_hole_in_the_middle_is_as_the_ten_before() -> None:
    """Only what lies behind the last day with ET0 is supposed; a hole before it is filled as ever."""
    known = tuple(one for one in weather(days=15) if one.day != day(-4))
    skies = seen(pages(days=known))
    assert [step.future for step in skies.steps] == [None] * 15


def test_a_gap_that_a_gauge_owns_has_its_rain_and_no_more() -> None:
    """The gauge was read through the gap: its 3 mm are all there was; ET0 is still supposed."""
    first, last = at(day(-3), 0), at(MORNING, 7)
    skies = seen(book(GAP_TOLD, known=12, entries=[rain(last, 3.0, first)]))
    assert sum(step.rain_mm for step in skies.steps[-3:]) + skies.ahead.rain_mm == pytest.approx(3)
    for step in skies.steps[-3:]:
        assert step.future is not None
        assert step.future.rain_mm.max() == 0.0
        assert "rain" not in step.filled
    second = skies.steps[-2].future
    assert second is not None
    assert second.et0_mm.tolist() == [2.0, 1.5, 1.0]


def test_a_day_with_a_total_and_without_et0_keeps_its_own_rain() -> None:
    """A gauge file gives rain and no ET0: nothing is added to its day."""
    known = weather(days=15, rain={day(-2): 6.0})
    days = [one._replace(et0_mm=None) if one.day in GAP else one for one in known]
    step = seen(pages(days=days, forecasts=(GAP_TOLD,))).steps[-2]
    assert step.rain_mm == 6.0
    assert step.future is not None
    assert step.future.rain_mm.tolist() == [0.0] * 3


def test_dry_from_a_day_on_no_rain_has_come_nor_was_any_supposed() -> None:
    """The gauge's on the morning itself neither: one who asked then could not know of it."""
    readings = [
        rain(at(day(-6), 9), 4.0, at(day(-6), 7)),
        rain(at(day(-5), 9), 5.0, at(day(-5), 7)),
        rain(at(MORNING, 6), 6.0, at(MORNING, 2)),
    ]
    for forecasts in ((), (GAP_TOLD,), (TWO_DAYS,)):
        skies = seen(book(*forecasts, known=12, entries=readings)).dry_from(day(-5))
        assert skies.on(day(-6)).rain_mm == pytest.approx(4.0)
        for n in range(-5, 4):
            step = skies.on(day(n))
            assert (step.day, step.rain_mm) == (day(n), 0.0)
            assert step.future is None or step.future.rain_mm.max() == 0.0


def test_dry_from_a_day_before_the_first_is_dry_throughout() -> None:
    skies = seen(pages(days=weather(rain={PLANTED: 9.0}))).dry_from(PLANTED - timedelta(days=9))
    assert len(skies.steps) == 15
    assert sum(step.rain_mm for step in skies.steps) == 0.0


def test_a_later_morning_asked_for_as_if_has_the_forecast_and_no_like_days() -> None:
    """Tomorrow's likely round: of today the forecast tells; where none does, it is as the last ten, dry."""
    told = seen(book(TWO_DAYS), NEXT, MORNING)
    today = told.steps[-1]
    assert (today.day, today.future is not None) == (MORNING, True)
    assert set(told.coming) == {NEXT}
    untold = seen(book(), NEXT, MORNING).steps[-1]
    assert (untold.day, untold.future, untold.rain_mm) == (MORNING, None, 0.0)
    behind = seen(book(), NEXT).steps[-1]
    assert behind.future is not None


def test_what_fell_before_the_issue_is_not_fallen_on_another_morning() -> None:
    """Asked for as if it were tomorrow, today's rain is the forecast's whole day."""
    as_if = seen(book(issued(MORNING, NIGHT, foretold(NEXT), hour=6)), NEXT, MORNING)
    future = as_if.steps[-1].future
    assert future is not None
    assert as_if.steps[-1].rain_mm + future.rain_mm[0] == pytest.approx(8.0)
    assert as_if.ahead.rain_mm == 0.0


def test_a_service_of_another_zone_is_read_on_the_gardens_clock() -> None:
    """22:00 UTC on the day before is eight on the morning in Brisbane: eight hours have passed."""
    brisbane = garden(timezone="Australia/Brisbane")
    forecast = Forecast("a service", at(BEFORE, 23), (NIGHT,))
    skies = seen(book(forecast, garden=brisbane))
    assert skies.ahead.rain_mm == pytest.approx(5.0)


def test_a_forecast_that_says_nothing_of_the_morning_leaves_it_as_assumed() -> None:
    skies = seen(book(issued(BEFORE, foretold(BEFORE), foretold(NEXT, 4.0))))
    assert set(skies.coming) == {NEXT}
    assert skies.ahead == skies.assumed
    assert skies.on(MORNING).future is None


def test_a_day_of_a_forecast_without_a_temperature_is_warm_as_the_last_ten() -> None:
    bare = ForecastDay(MORNING, 0.0, 2.0, rain_members_mm=wet_in(3, 5.0))
    step = seen(book(issued(MORNING, bare))).ahead
    assert step.soil_warmth_c == pytest.approx(16.0)
    assert step.filled == ()


def test_a_day_with_et0_and_without_rain_has_the_forecasts_rain_and_its_own_et0() -> None:
    """A station without a gauge, and a service that failed since."""
    days = [one if one.day != BEFORE else one._replace(rain_mm=None) for one in weather(days=15)]
    told = issued(BEFORE, in_members(BEFORE, (2.0, 6.0), (1.0, 3.0)), hour=6)
    step = seen(pages(days=days, forecasts=(told,))).steps[-1]
    assert step.future is not None
    assert step.future.fallen_mm.tolist() == [6.0, 2.0, 6.0]
    assert step.future.et0_mm.tolist() == [4.0] * 3
    assert step.filled == ()


def test_what_a_gauge_owns_of_a_day_gone_by_the_forecast_does_not_bring_again() -> None:
    """12 mm from two to four, in the gauge at seven; nobody read it after, and the service is dead."""
    told = issued(BEFORE, foretold(BEFORE, 12.0, rain_by_hour_mm=by_hours(h2=6.0, h3=6.0)), hour=0)
    reading = rain(at(BEFORE, 7), 12.0, at(BEFORE, 0))
    skies = seen(book(told, known=14, entries=[reading]))
    step = skies.steps[-1]
    assert step.rain_mm == pytest.approx(12.0)
    assert step.future is not None
    assert step.future.rain_mm.max() == 0.0
