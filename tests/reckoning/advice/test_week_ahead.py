"""The foot of the round: the week by the newest forecast, and what to do on the eve of heat."""

import re
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.heat_words import PEOPLE_IN_HEAT
from soakbook.garden.pages import Pages
from soakbook.garden.promises import Made
from soakbook.garden.weather import Forecast
from soakbook.reckoning.advice.report import Round, WeekAhead
from soakbook.reckoning.advice.rounds import morning_now, morning_on, round_of
from soakbook.reckoning.advice.week_ahead import week_ahead
from tests.reckoning.forecasts import SERVICE, foretold, in_members, issued, promising, wet_in
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    finding_of,
    garden,
    pages,
    rain,
    roses,
    season,
    soak,
    weather,
)

MORNING = PLANTED + timedelta(days=12)
BEFORE = MORNING - timedelta(days=1)
KNOWN = weather(PLANTED - timedelta(days=5), 17, et0_mm=2.0)


def day(number: int) -> date:
    """So many days after the morning."""
    return MORNING + timedelta(days=number)


def book(*forecasts: Forecast, **fields: Any) -> Pages:
    given: dict[str, Any] = {"plantings": (roses(),), "days": KNOWN, "forecasts": forecasts}
    return pages(**given | fields)


def a_round(*forecasts: Forecast, **fields: Any) -> Round:
    return round_of(morning_on(book(*forecasts, **fields), MORNING, 5))


def week(*forecasts: Forecast, **fields: Any) -> WeekAhead:
    found = week_ahead(season(book(*forecasts, **fields), MORNING))
    assert found is not None
    return found


def test_without_a_forecast_there_is_no_week() -> None:
    assert a_round().week is None
    assert week_ahead(season(book(), MORNING)) is None


def test_a_forecast_that_does_not_reach_the_morning_has_no_week_for_it() -> None:
    assert a_round(issued(BEFORE, foretold(BEFORE))).week is None
    assert a_round(issued(MORNING, foretold(day(1)))).week is None
    assert a_round(issued(MORNING, foretold(MORNING)._replace(et0_mm=None))).week is None


def test_a_forecast_issued_after_the_round_is_not_known() -> None:
    assert a_round(promising(MORNING, {day(2): 9.0}, hour=8)).week is None


def test_the_week_is_the_forecasts_counted_in_members() -> None:
    """Rain in eight of ten on the third day; the air asks for 2 mm as it did."""
    found = week(promising(MORNING, {day(2): 9.0}, tenths=8, days=12))
    assert found.last == day(6)
    assert found.useful_rain_chance == pytest.approx(0.8)
    assert found.useful_rain_by == day(2)
    assert (found.tmax_c, found.warm_from, found.hot_from) == (21.0, None, None)
    assert found.et0_factor == pytest.approx(1.0)
    assert found.say == "Useful rain likely by Thu 15."
    assert a_round(promising(MORNING, {day(2): 9.0}, tenths=8, days=12)).week == found


def test_the_air_is_measured_against_the_last_ten_days() -> None:
    """3 mm where it was 2: not against what the forecast itself says of today."""
    days = [in_members(day(n), wet_in(0, 0.0), et0_mm=3.0) for n in range(7)]
    assert week(issued(MORNING, *days)).et0_factor == pytest.approx(1.5)


def test_warm_and_hot_days_are_named_from_the_first() -> None:
    highs = (21.0, 24.0, 26.0, 28.0, 31.0, 32.0, 24.0)
    found = week(issued(MORNING, *(foretold(day(n), tmax_c=high) for n, high in enumerate(highs))))
    assert (found.tmax_c, found.warm_from, found.hot_from) == (32.0, day(2), day(4))


def test_rain_of_today_that_has_fallen_is_no_chance_any_more() -> None:
    """6 mm today, all of it from one to three: by the round hour it has fallen, and nothing more is likely."""
    hours = (0.0, 3.0, 3.0) + (0.0,) * 21
    told = issued(MORNING, in_members(MORNING, wet_in(10, 6.0), mean_by_hour_mm=hours))
    assert week(told).useful_rain_chance == 0.0
    assert week(told, known_at=at(MORNING, 1)).useful_rain_chance == 1.0
    assert week(told, known_at=at(MORNING, 2)).useful_rain_chance == 0.0


def test_rain_of_yesterday_evening_takes_nothing_from_todays() -> None:
    """The gauge had 9 mm from five to midnight; today's 6 mm in the afternoon are still to come."""
    hours = (0.0,) * 15 + (6.0,) + (0.0,) * 8
    told = issued(MORNING, in_members(MORNING, wet_in(10, 6.0), mean_by_hour_mm=hours), hour=6)
    evening = rain(at(BEFORE, 23), 9.0, at(BEFORE, 17))
    assert week(told, entries=[evening]).useful_rain_chance == 1.0


def heat(*highs_c: float, first: int = 0) -> Forecast:
    return issued(
        MORNING, *(foretold(day(first + n), tmax_c=high) for n, high in enumerate(highs_c))
    )


def said_of_heat(told: Sequence[Forecast], **fields: Any) -> str:
    found = finding_of(a_round(*told, **fields), "heat")
    return found.say if found else ""


def test_heat_is_spoken_of_on_its_eve_and_its_days_and_on_no_day_before() -> None:
    """Three days of 27 degC or more from tomorrow, or from today; from the day after tomorrow not yet."""
    assert said_of_heat([heat(22, 29, 30, 31)]) != ""
    assert said_of_heat([heat(22, 24, 29, 30, 31)]) == ""
    assert "no bed wants water before it" in said_of_heat([heat(22, 29, 30, 31)])
    assert said_of_heat([heat(29, 30, 31)]).startswith("Heat from today, likely to Thu 15 at least")
    assert "before it" not in said_of_heat([heat(29, 30, 31)])
    assert said_of_heat([heat(22, 29, 30, 24)]) == ""
    assert said_of_heat([heat(22, 24, 25, 24)]) == ""
    assert said_of_heat([]) == ""


def test_heat_that_has_begun_is_known_by_the_days_before() -> None:
    """Yesterday had it, today not, tomorrow again: its eve; the last day of a run of three is heat still."""
    hot = [one for one in KNOWN if one.day < BEFORE]
    yesterday = [*hot, *weather(BEFORE, 1, et0_mm=2.0, tmean_c=25.0)]
    assert "before it" in said_of_heat([heat(22, 29, 30, 31)], days=yesterday)
    of_two = said_of_heat([heat(29, 30, 22)], days=yesterday)
    assert of_two.startswith(
        "Heat since Mon 12, likely to Wed 14, up to 30 °C. No round between 11"
    )
    assert of_two.endswith(PEOPLE_IN_HEAT)


def test_heat_is_known_by_a_thermometer_alone() -> None:
    """Three days to yesterday of 30 degC, and nobody has forecast today."""
    cool = [one for one in KNOWN if one.day < day(-3)]
    say = said_of_heat([], days=[*cool, *weather(day(-3), 3, et0_mm=2.0, tmean_c=25.0)])
    assert say.startswith(
        "Heat since Sat 10, up to 30 °C yesterday; of today nothing is known. No round"
    )
    assert say.endswith(PEOPLE_IN_HEAT)


def before_heat(*entries: AnyEntry) -> str:
    """What is said in the evening before it, of two beds alike but that the second is the nearer to the tap."""
    highs = enumerate((22, 29, 30, 31))
    told = issued(MORNING, *(foretold(day(n), tmax_c=high, et0_mm=6.0) for n, high in highs))
    beds = [bed(walk_m=80.0), bed("near", walk_m=5.0)]
    two = (roses(canopy_start_m2=0.4), roses("near", canopy_start_m2=0.4))
    done = [soak(at(MORNING, 8), 30.0, one.key) for one in beds]
    of = book(told, beds=beds, plantings=two, entries=[*done, *entries])
    found = finding_of(round_of(morning_now(of, at(MORNING, 20), 5)), "heat")
    return found.say.partition(": ")[2].partition(". No round")[0] if found else ""


def test_the_beds_to_soak_before_it_stand_in_the_order_of_the_walk() -> None:
    assert re.fullmatch(r"Near \d+ L, Bed \d+ L", before_heat())


def test_what_was_soaked_this_evening_counts_before_it() -> None:
    """2 L a rose of the one bed: alike before, it wants less than the other now."""
    bare = re.findall(r"(\d+) L", before_heat())
    soaked = re.findall(r"(\d+) L", before_heat(soak(at(MORNING, 19), 20.0)))
    assert bare[0] == bare[1] == soaked[0]
    assert int(soaked[1]) < int(bare[1])


def test_what_heat_is_the_garden_says() -> None:
    warm = heat(22, 26, 26, 26)
    assert said_of_heat([warm]) == ""
    assert said_of_heat([warm], garden=garden(heat_c=25.0)) != ""


def test_on_the_eve_beds_are_named_with_what_tomorrow_will_likely_want() -> None:
    """The thirsty one with its litres, both as young, the ones in their balls to be shaded; none left out."""
    highs = enumerate((22, 29, 30, 31))
    told = issued(MORNING, *(foretold(day(n), tmax_c=high, et0_mm=6.0) for n, high in highs))
    thirsty = roses(canopy_start_m2=0.4)
    wet = roses("wet", ball_volume_l=60.0, ball_diameter_m=0.6)
    entries = [soak(at(BEFORE, 8), 400.0, "wet")]
    of = a_round(told, plantings=(thirsty, wet), entries=entries, beds=[bed(), bed("wet")])
    found = finding_of(of, "heat")
    assert found is not None
    assert found.bed is None
    assert "Soak this evening or by 8 tomorrow: Bed " in found.say
    assert "Wet" not in found.say.split("No round")[0]
    assert "under 4 weeks in the ground: Bed and Wet" in found.say


def test_what_has_stood_four_weeks_is_not_looked_at_twice() -> None:
    old = roses(planted_on=MORNING - timedelta(days=28))
    young = roses("young", planted_on=MORNING - timedelta(days=27))
    known = weather(PLANTED - timedelta(days=25), 37, et0_mm=2.0)
    say = said_of_heat([heat(22, 29, 30, 31)], plantings=(old, young), days=known)
    assert "under 4 weeks in the ground: Young." in say


def test_where_nothing_is_wanted_before_it_that_is_said() -> None:
    wet = [soak(at(MORNING - timedelta(days=n), 8), 300.0) for n in (1, 2)]
    dug = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=60.0, ball_diameter_m=0.6)
    say = said_of_heat([heat(22, 29, 30, 31)], plantings=(dug,), entries=wet)
    assert "By the reckoning no bed wants water before it." in say


@pytest.mark.parametrize(
    ("tenths", "broken", "bed_says", "foot_says"),
    [
        (7, 0, "Rain is likely by tonight", "Useful rain likely today."),
        (7, 6, "Rain may come by tonight", "useful rain is doubtful, about 7 chances in 10."),
        (6, 0, "Rain may come by tonight", "useful rain is doubtful, about 6 chances in 10."),
        (10, 6, "Rain is likely by tonight", "Useful rain likely today."),
    ],
)
def test_the_foot_and_a_bed_say_the_same_of_the_same_rain(
    tenths: int, broken: int, bed_says: str, foot_says: str
) -> None:
    """Today's 30 mm in so many tenths of the futures, half of it over by seven, and nothing in the gauge by then."""
    hours = tuple(1.0 if hour in (3, 15) else 0.0 for hour in range(24))
    told = issued(
        MORNING,
        in_members(MORNING, wet_in(tenths, 30.0), mean_by_hour_mm=hours),
        *(in_members(day(n), wet_in(0, 0.0)) for n in range(1, 7)),
    )
    made = tuple(Made(SERVICE, day(-3 - n), 1, 0.9, 8.0) for n in range(broken))
    dry = rain(at(MORNING, 7), 0.0, at(day(-1), 17))
    of = round_of(morning_on(book(told, promises=made, entries=[dry]), MORNING, 200))
    assert of.week is not None
    assert of.week.say.endswith(foot_says)
    (call,) = of.calls
    assert call.reason.startswith(bed_says) or f" {bed_says}" in call.reason
    assert f"in {tenths} of 10 forecasts" in call.reason
