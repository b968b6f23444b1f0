"""What the gardener should know beside the calls."""

from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Absence, FeltClass, Flow, Person, Restriction, Tap
from soakbook.garden.weather import Forecast
from soakbook.reckoning.advice.report import Round
from soakbook.reckoning.advice.rounds import morning_now, morning_on, round_of
from tests.reckoning.forecasts import SERVICE, foretold, issued
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    call_of,
    feel,
    finding_of,
    garden,
    left,
    loss,
    pages,
    roses,
    soak,
    weather,
    wilt,
)

DAY = PLANTED + timedelta(days=20)  # Wednesday 21 May
BEFORE = DAY - timedelta(days=1)
DRY = weather(PLANTED - timedelta(days=5), 60)
KNOWN = tuple(day for day in DRY if day.day < DAY)
TAP = Tap("tap", "A", flows=(Flow(14.0, PLANTED),))
EARLIER = soak(at(DAY - timedelta(days=2), 8), 10.0)


def round_on(*entries: AnyEntry, day: date = DAY, **fields: Any) -> Round:
    given: dict[str, Any] = {"beds": [bed(tap="A")], "taps": (TAP,), "days": KNOWN}
    plantings = fields.pop("plantings", [roses()])
    return round_of(morning_on(pages(plantings, entries, **given | fields), day, members=10))


def said(of: Round, kind: str) -> str:
    found = finding_of(of, kind)
    return found.say if found else ""


def test_no_word_of_yesterdays_bed_is_said_with_both_readings_and_how_to_settle_it() -> None:
    """It was called yesterday and nothing was entered: neither done nor dry."""
    dug = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)
    now = round_on(EARLIER, plantings=[dug])
    yesterday = call_of(round_on(EARLIER, plantings=[dug], day=BEFORE))
    finding = finding_of(now, "no_word")
    assert finding is not None
    assert finding.bed == "bed"
    assert f"{yesterday.litres:g} L were called for" in finding.say
    assert "If done:" in finding.say
    assert "If not:" in finding.say
    assert f"soakbook soak bed {yesterday.litres:g}l --at yesterday" in finding.say
    assert "soakbook left bed" in finding.say
    assert call_of(now).feel_first


@pytest.mark.parametrize(
    "entry",
    [soak(at(BEFORE, 8), 5.0), left(at(BEFORE, 9)), wilt(at(BEFORE, 15)), left(at(DAY, 6, 30))],
    ids=["soak", "left", "wilt", "this morning"],
)
def test_a_word_settles_it(entry: AnyEntry) -> None:
    assert finding_of(round_on(EARLIER, entry), "no_word") is None


def test_a_feel_alone_is_no_word() -> None:
    assert finding_of(round_on(EARLIER, feel(at(BEFORE, 9), bed="moist")), "no_word")


@pytest.mark.parametrize("felt", ["dust", "wet"])
def test_what_was_called_for_is_what_yesterdays_round_said(felt: FeltClass) -> None:
    """A finger of the afternoon squares up the dawn of a round that did not know of it."""
    afternoon = feel(at(BEFORE, 15), ball=felt, bed=felt)
    yesterday = call_of(round_on(EARLIER, afternoon, day=BEFORE))
    assert yesterday.verdict == "soak"
    say = said(round_on(EARLIER, afternoon), "no_word")
    assert f"when {yesterday.litres:g} L were called for" in say


def test_silence_is_no_silence_where_nobody_was_to_come_or_nothing_was_called() -> None:
    """Ann does not come on Tuesdays; and a bed soaked full the day before was not on the round."""
    ann = Person("ann", "Ann", frozenset({0, 2, 3, 4, 5, 6}))
    assert BEFORE.weekday() == 1
    assert finding_of(round_on(EARLIER, people=(ann,)), "no_word") is None
    full = soak(at(BEFORE - timedelta(days=1), 8), 600.0)
    cool = weather(PLANTED - timedelta(days=5), 25, et0_mm=1.0)
    assert finding_of(round_on(full, days=cool), "no_word") is None


def test_if_not_done_it_is_to_be_soaked_now_even_where_the_round_has_no_time_for_it() -> None:
    ann = Person("ann", "Ann", frozenset({1}))
    tom, in_haste = (Person("tom", "Tom", frozenset({2}), hours) for hours in (2.0, 0.05))
    for wednesday, fits in ((tom, True), (in_haste, False)):
        found = round_on(EARLIER, people=(ann, wednesday))
        assert call_of(found).dropped is not fits
        assert "wanted today" in said(found, "no_word")


def test_what_was_done_would_rest_until_a_day_that_the_reckoning_gives() -> None:
    """Entered as done, the bed is not called before the day that was named."""
    cool = weather(PLANTED - timedelta(days=5), 25, et0_mm=2.0)
    dug = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)
    silent = round_on(plantings=[dug], days=cool)
    called = call_of(round_on(plantings=[dug], days=cool, day=BEFORE))
    done = soak(at(BEFORE, 7), called.litres, planting_uid="bed/roses")
    entered = call_of(round_on(done, plantings=[dug], days=cool))
    assert entered.verdict == "leave"
    assert entered.wanted_on is not None
    assert f"leave it until {entered.wanted_on:%a %-d}" in said(silent, "no_word")


def test_will_not_last_names_the_plants_and_the_day() -> None:
    """Nobody for four days: a small ball is parched before they come, however full it is today."""
    ann = Person(
        "ann", "Ann", absences=(Absence(DAY + timedelta(days=1), DAY + timedelta(days=3)),)
    )
    small = roses(name="clematis", ball_volume_l=3.0, ball_diameter_m=0.18, canopy_start_m2=0.3)
    found = finding_of(round_on(left(BEFORE), plantings=[small], people=(ann,)), "will_not_last")
    assert found is not None
    assert found.bed == "bed"
    assert "nobody comes until Sun 25" in found.say
    assert "clematis" in found.say
    assert "likely parched by Thu 22" in found.say


def test_what_lasts_is_not_warned_of() -> None:
    ann = Person(
        "ann", "Ann", absences=(Absence(DAY + timedelta(days=1), DAY + timedelta(days=3)),)
    )
    dug = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)
    assert call_of(round_on(left(BEFORE), plantings=[dug], people=(ann,))).verdict == "soak"
    assert (
        finding_of(round_on(left(BEFORE), plantings=[dug], people=(ann,)), "will_not_last") is None
    )
    assert finding_of(round_on(left(BEFORE)), "will_not_last") is None


def test_nobody_down_to_come_is_said() -> None:
    weekend = Person("tom", "Tom", frozenset({5, 6}))
    found = round_on(left(BEFORE), people=(weekend,))
    assert "next on Sat 24" in said(found, "nobody")
    assert found.totals.hours_available == 0.0
    assert not call_of(found).dropped  # it waits for whoever turns up


def test_what_does_not_fit_is_listed() -> None:
    found = round_on(left(BEFORE), garden=garden(hours_by_default=0.1))
    assert "6 min" in said(found, "does_not_fit")
    assert "Bed (roses)" in said(found, "does_not_fit")
    assert (found.totals.dropped, found.totals.calls, call_of(found).litres) == (1, 0, 0.0)


BAN = Restriction("ban", PLANTED, DAY, "hose", "mains", "No hose on mains water.")


def test_a_rule_is_given_as_it_was_typed() -> None:
    found = round_on(left(BEFORE), restrictions=(BAN,))
    assert call_of(found).means == "cans"
    assert "No hose on mains water." in said(found, "restricted")
    assert finding_of(found, "no_means") is None
    assert (
        finding_of(round_on(left(BEFORE), restrictions=(BAN._replace(last=BEFORE),)), "restricted")
        is None
    )


def test_where_every_way_is_barred_the_round_says_so() -> None:
    every = BAN._replace(tool="all", source="all")
    found = round_on(left(BEFORE), restrictions=(every,))
    assert (call_of(found).means, call_of(found).verdict) == ("none", "soak")
    assert finding_of(found, "no_means")


def test_gaps_in_the_weather_are_named() -> None:
    holes = tuple(day for day in KNOWN if day.day not in (PLANTED, BEFORE - timedelta(days=3)))
    found = said(round_on(left(BEFORE), days=holes), "weather_gap")
    assert "2 days" in found
    assert "Sat 17" in found
    assert finding_of(round_on(left(BEFORE)), "weather_gap") is None


def test_old_weather_is_said_with_its_last_day() -> None:
    old = tuple(day for day in KNOWN if day.day < DAY - timedelta(days=4))
    assert "no weather since Fri 16" in said(round_on(left(BEFORE), days=old), "weather_old")
    assert finding_of(round_on(left(BEFORE)), "weather_old") is None


def test_a_book_without_weather_says_so_and_calls_nothing() -> None:
    later = weather(DAY + timedelta(days=5), 10)
    found = round_on(days=later)
    assert [one.kind for one in found.findings] == ["no_weather"]
    assert found.calls == ()


def test_weather_that_begins_too_late_or_late_is_said() -> None:
    def begun(days: int) -> Round:
        return round_on(left(BEFORE), days=weather(PLANTED + timedelta(days=days), 20 - days))

    assert finding_of(begun(0), "late_start") is None
    assert finding_of(begun(10), "late_start")
    refused = finding_of(begun(15), "not_reckoned")
    assert refused is not None
    assert refused.bed == "bed"
    assert call_of_or_none(begun(15)) is None


def call_of_or_none(of: Round) -> Any:
    return next((one for one in of.calls if one.bed == "bed"), None)


def test_a_crowded_bed_and_an_unknown_soil_are_guesses_that_are_said() -> None:
    found = round_on(left(BEFORE), beds=[bed(tap="A", area_m2=5.0, soil="unknown")])
    assert "0.50" in said(found, "crowded")
    assert "loam" in said(found, "guess")


def test_long_work_and_an_untested_tap_are_said() -> None:
    """Three hundred roses take over an hour; a tap without a test has no minutes."""
    found = round_on(
        left(BEFORE), plantings=[roses(count=300, cell_m2=0.1)], garden=garden(hours_by_default=9.0)
    )
    assert finding_of(found, "long_work")
    untested = round_on(left(BEFORE), taps=(Tap("tap", "A"),))
    assert "Tap A" in said(untested, "no_flow")
    assert call_of(untested).minutes is None


def test_a_planting_all_lost_has_no_call() -> None:
    found = round_on(left(BEFORE), loss(BEFORE, 10))
    assert found.calls == ()


def test_what_was_entered_this_morning_counts_now() -> None:
    """Two of ten found dead at half past six; a soak at eight: not called again, and eight are counted."""
    book = pages(
        [roses()],
        [left(BEFORE), loss(at(DAY, 6, 30), 2), soak(at(DAY, 8), 40.0, by="Ann")],
        days=KNOWN,
    )
    before, after = (round_of(morning_now(book, at(DAY, hour), members=10)) for hour in (7, 9))
    assert (call_of(before).verdict, call_of(before).given_today_l) == ("soak", 0.0)
    assert [one.count for one in call_of(before).plantings] == [8]
    assert (
        call_of(after).verdict,
        call_of(after).given_today_l,
        call_of(after).given_today_by,
    ) == ("leave", 40.0, "Ann")


def test_a_bed_soaked_this_evening_is_not_called_again_tonight() -> None:
    cool = weather(PLANTED - timedelta(days=5), 25, et0_mm=2.0)
    book = pages([roses()], [left(BEFORE), soak(at(DAY, 19), 60.0)], days=cool)
    evening = call_of(round_of(morning_now(book, at(DAY, 21), members=10)))
    assert (evening.verdict, evening.given_today_l) == ("leave", 60.0)
    assert call_of(round_of(morning_now(book, at(DAY, 18), members=10))).verdict == "soak"


@pytest.mark.parametrize(
    ("hour", "on"), [(19, "this morning"), (13, "on Tue 20")], ids=["this morning", "last night"]
)
def test_the_day_of_an_issue_is_the_gardens(hour: int, on: str) -> None:
    """19:00 UTC of Tuesday is five on Wednesday morning in Melbourne, 13:00 UTC eleven on Tuesday night."""
    days = tuple(foretold(DAY - timedelta(days=n)) for n in (3, 2, 1, 0))
    told = Forecast("a service", datetime.combine(BEFORE, time(hour), UTC), days)
    of = round_on(
        left(BEFORE),
        days=weather(PLANTED - timedelta(days=5), 22),
        forecasts=(told,),
        garden=garden(timezone="Australia/Melbourne"),
    )
    assert f"The days since are taken as forecast {on}, with its doubt." in said(of, "weather_old")


def test_a_bed_is_spoken_of_by_its_name_and_days_as_elsewhere() -> None:
    """Planted on 1 May, weather from the 16th: too late; the year is said of a planting of the year before."""
    found = finding_of(
        round_on(left(BEFORE), days=weather(PLANTED + timedelta(days=15), 5)), "not_reckoned"
    )
    assert found is not None
    assert (found.bed, found.names) == ("bed", ("Bed",))
    assert "roses: planted 1 May, but the weather begins 16 May, more" in found.say
    old = roses(planted_on=date(2030, 11, 3))
    say = said(round_on(days=KNOWN, plantings=[old]), "not_reckoned")
    assert "planted 3 November 2030, but the weather begins 26 April, more" in say


def test_beds_of_which_nothing_can_be_said_are_named_if_anything_lives_in_them() -> None:
    later = weather(DAY + timedelta(days=5), 10)
    both = [roses(), roses("low")]
    found = round_on(plantings=both, days=later)
    assert [one.names for one in found.findings] == [("Bed", "Low")]
    dead = loss(BEFORE, 10)
    assert [one.names for one in round_on(dead, plantings=both, days=later).findings] == [("Low",)]
    assert round_on(dead, days=later).findings == ()
    assert (
        finding_of(round_on(dead, days=weather(PLANTED + timedelta(days=15), 5)), "not_reckoned")
        is None
    )


def test_a_forecast_that_is_used_up_is_said_to_be() -> None:
    def told(days_ago: int) -> str:
        on = DAY - timedelta(days=days_ago)
        days = [foretold(on + timedelta(days=n)) for n in range(8)]
        return said(round_on(left(BEFORE), forecasts=(issued(on, *days),)), "forecast_old")

    assert told(1) == ""
    assert told(7) == "The forecast is that of Wed 14, 7 days old."
    assert told(8) == "No forecast reaches today; the last was that of Tue 13."
    assert told(20) == "No forecast reaches today; the last was that of 1 May."


def ahead_alone(planted_days_ago: int, *, first: int) -> Round:
    """A garden that has a forecast from so many days after the morning on, and no weather."""
    days = [foretold(DAY + timedelta(days=first + n)) for n in range(9)]
    planted = roses(planted_on=DAY - timedelta(days=planted_days_ago))
    told = issued(DAY + timedelta(days=min(first, 0)), *days)
    return round_on(plantings=[planted], days=weather(DAY, 5), forecasts=(told,))


def test_days_to_come_alone_begin_nothing_for_what_stood_long_before_them() -> None:
    long, young = (said(ahead_alone(days, first=0), "no_weather") for days in (20, 10))
    for say in (long, young):
        assert "SERVICE tells of days to come, none gone by." in say.replace(SERVICE, "SERVICE")
        assert "soakbook weather --ask first" in say
        assert "soakbook weather FILE" in say
    assert "stood for more than 14 days before them cannot be reckoned" in long
    assert "Once the first of them, 21 May, is over, there is a round by it." in young
    assert said(ahead_alone(20, first=-3), "no_weather") == long


def test_days_as_they_were_forecast_are_not_called_weather_seen() -> None:
    found = ahead_alone(10, first=-3)
    assert said(found, "weather_old").startswith(
        "The book has no weather but what was forecast. The days from Sun 18 on are taken as forecast"
    )
    late = "roses: reckoned from 18 May, the first day that was forecast, not from 11 May."
    assert said(found, "late_start") == late


def test_rain_without_temperatures_is_no_weather_to_reckon_with() -> None:
    """Taken to have asked for nothing, the air would leave every bed for a fortnight."""
    bare = tuple(one._replace(et0_mm=None, tmin_c=None, tmax_c=None, tmean_c=None) for one in KNOWN)
    found = round_on(left(BEFORE), days=bare)
    assert found.calls == ()
    say = said(found, "no_weather")
    assert say.startswith("The weather in the book does not tell what the air asked for")
    assert "lowest and the highest temperature" in say
