"""Futures of the ensemble by local days. All bodies are made, in the documented shape."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import WeatherError
from soakbook.garden.weather import WeatherSeries
from soakbook.weather.open_meteo.members import (
    Issue,
    futures_of,
    mean_hours,
    members,
    scaled_members,
)
from tests.weather.open_meteo.made import Made, made_members

MAY = datetime(2031, 5, 1, tzinfo=UTC)
ISSUE = Issue(datetime(2031, 5, 2, 5, 40, tzinfo=UTC), datetime(2031, 5, 2, tzinfo=UTC))
RAIN, ET0 = "precipitation", "et0_fao_evapotranspiration"


def read(
    body: Made, zone: str = "Etc/GMT", first_day: date = date(2031, 5, 1)
) -> dict[tuple[int, str], WeatherSeries]:
    found = members(futures_of(body), ZoneInfo(zone), first_day, ISSUE)
    return {(one.day.day, one.variable): one for one in found}


def test_whole_days_of_all_members_the_control_first() -> None:
    """72 labels: two whole days in GMT, the third lacks its last hour."""
    found = read(made_members(MAY, 72))
    assert list(found) == [(1, "rain_mm"), (1, "et0_mm"), (2, "rain_mm"), (2, "et0_mm")]
    rain = found[1, "rain_mm"]
    assert rain.numbers == pytest.approx([2.4 * member for member in range(51)])
    assert found[1, "et0_mm"].numbers == (2.4,) * 51
    assert rain == WeatherSeries(
        date(2031, 5, 1),
        "members",
        "rain_mm",
        rain.numbers,
        "Open-Meteo",
        "forecast",
        *ISSUE[:2],
        "51 futures of ecmwf_ifs025_ensemble",
    )


def test_days_before_the_first_are_left_out() -> None:
    found = read(made_members(MAY, 72), first_day=date(2031, 5, 2))
    assert {day for day, _ in found} == {2}


@pytest.mark.parametrize("count", [2, 18, 51])
def test_members_are_counted_not_assumed(count: int) -> None:
    assert len(read(made_members(MAY, 49, count))[1, "rain_mm"].numbers) == count


def test_members_in_any_order_and_with_a_models_name_behind() -> None:
    body = made_members(MAY, 49, 12, model="ecmwf_ifs025_ensemble")
    body["hourly"] = dict(reversed(body["hourly"].items()))
    numbers = read(body)[1, "rain_mm"].numbers
    assert numbers == pytest.approx([2.4 * member for member in range(12)])


def test_a_day_of_clock_change_has_its_own_hours() -> None:
    found = read(
        made_members(datetime(2031, 10, 25, tzinfo=UTC), 72, 2), "Europe/London", date(2031, 10, 26)
    )
    assert found[26, "rain_mm"].numbers == (0.0, 2.5)


def test_a_day_that_one_member_lacks_is_left_out() -> None:
    body = made_members(MAY, 72, 3)
    body["hourly"][f"{RAIN}_member02"][30] = None
    body["hourly"][f"{ET0}_member01"][5] = None
    assert list(read(body)) == [(1, "rain_mm"), (2, "et0_mm")]


def test_a_model_without_evaporation_has_rain_alone() -> None:
    body = made_members(MAY, 49, 3)
    for name in [name for name in body["hourly"] if name.startswith(ET0)]:
        body["hourly"][name] = [None] * 49
        body["hourly_units"][name] = "undefined"
    assert {variable for _, variable in read(body)} == {"rain_mm"}


def test_members_that_lack_one_of_the_two_do_not_count() -> None:
    body = made_members(MAY, 49, 4)
    del body["hourly"][f"{ET0}_member02"]
    found = read(body)
    assert found[1, "rain_mm"].numbers == pytest.approx((0.0, 2.4, 7.2))
    assert len(found[1, "et0_mm"].numbers) == 3


def test_a_member_that_says_nothing_is_left_out_and_counted() -> None:
    body = made_members(MAY, 49, 4)
    body["hourly"][f"{RAIN}_member02"] = [None] * 49
    assert futures_of(body).silent == 1
    found = read(body)
    assert found[1, "rain_mm"].numbers == pytest.approx((0.0, 2.4, 7.2))
    assert len(found[1, "et0_mm"].numbers) == 3


def test_the_hours_of_a_day_are_kept_in_the_mean_of_its_futures() -> None:
    """Three futures of 0, 0.1 and 0.2 mm an hour; in one hour the last has 3.2 mm."""
    body = made_members(MAY, 49, 3)
    body["hourly"][f"{RAIN}_member02"][8] = 3.2  # the label is the hour's end
    day = date(2031, 5, 1)
    first, second = mean_hours(futures_of(body), ZoneInfo("Etc/GMT"), day, ISSUE)
    assert first.numbers == (0.1,) * 7 + (1.1,) + (0.1,) * 16
    assert second.numbers == (0.1,) * 24
    assert (first.of, first.variable, first.method) == (
        "mean hours",
        "rain_mm",
        "mean of 3 futures",
    )


def test_an_hour_that_came_twice_counts_once() -> None:
    body = made_members(MAY, 49, 2)
    body["hourly"] = {name: [*column[:5], *column[4:]] for name, column in body["hourly"].items()}
    assert read(body)[1, "rain_mm"].numbers == pytest.approx((0.0, 2.4))


def test_a_value_that_cannot_be_costs_its_day_and_many_the_answer() -> None:
    body = made_members(MAY, 72, 2)
    body["hourly"][f"{RAIN}_member01"][30] = -3.0
    assert [day for day, variable in read(body) if variable == "rain_mm"] == [1]
    body["hourly"][f"{RAIN}_member01"] = [200.0] * 72
    with pytest.raises(WeatherError, match="values of precipitation in its futures") as said:
        read(body)
    assert said.value.kind == "rubbish"


def without(name: str) -> Callable[[Made], None]:
    def change(body: Made) -> None:
        for column in [one for one in body["hourly"] if one.startswith(name)]:
            del body["hourly"][column]

    return change


def with_other(part: str, name: str, value: Any) -> Callable[[Made], None]:
    def change(body: Made) -> None:
        body[part][name] = value

    return change


@pytest.mark.parametrize(
    ("change", "say"),
    [
        (without(RAIN), "precipitation in 0 futures: fewer than two"),
        (without(f"{RAIN}_member"), "precipitation in 1 futures: fewer than two"),
        (without(ET0), "no column et0_fao_evapotranspiration"),
        (with_other("hourly", f"{RAIN}_member01", [0.0] * 3), "3 values for 49 times"),
        (with_other("hourly", f"{ET0}_member01", ["x"] * 49), "no number"),
        (with_other("hourly", "time", ["soon"] * 49), "soon"),
        (with_other("hourly_units", f"{RAIN}_member01", "inch"), "in inch, not in mm"),
        (with_other("hourly_units", f"{ET0}_member01", "undefined"), "in undefined, not in mm"),
    ],
)
def test_a_body_that_is_no_answer_is_refused(change: Callable[[Made], None], say: str) -> None:
    body = made_members(MAY, 49, 3)
    change(body)
    with pytest.raises(ValueError, match=say):
        futures_of(body)


def test_futures_that_all_say_nothing_of_rain_are_refused() -> None:
    body = made_members(MAY, 49, 2)
    body["hourly"][RAIN] = body["hourly"][f"{RAIN}_member01"] = [None] * 49
    with pytest.raises(ValueError, match="precipitation says nothing for this place"):
        futures_of(body)


@pytest.mark.parametrize(
    ("ours_mm", "theirs_mm", "factor"),
    [(2.2, 2.4, 2.2 / 2.4), (1.0, 2.4, 0.7), (4.0, 2.4, 1.2), (2.2, 0.0, 1.0)],
    ids=["scaled", "at least 0.7", "at most 1.2", "nothing to scale by"],
)
def test_their_evaporation_is_brought_to_ours(
    ours_mm: float, theirs_mm: float, factor: float
) -> None:
    day = date(2031, 5, 1)
    series = members(futures_of(made_members(MAY, 49, 3)), ZoneInfo("Etc/GMT"), day, ISSUE)
    scaled = scaled_members(series, {day: ours_mm}, {day: theirs_mm})
    by_variable = {one.variable: one.numbers for one in scaled if one.day == day}
    assert by_variable["et0_mm"] == pytest.approx((2.4 * factor,) * 3, abs=5e-4)
    assert by_variable["rain_mm"] == pytest.approx((0.0, 2.4, 4.8))
    # the second day is not in the forecast: as it was
    assert [one for one in scaled if one.day > day] == [one for one in series if one.day > day]


def test_rain_alone_gets_our_evaporation_in_every_future() -> None:
    day = date(2031, 5, 1)
    rain = members(futures_of(made_members(MAY, 49, 3)), ZoneInfo("Etc/GMT"), day, ISSUE)[0]
    found = scaled_members((rain,), {day: 2.3456}, {})
    assert [one.variable for one in found] == ["rain_mm", "et0_mm"]
    assert found[1].numbers == (2.346,) * 3
    assert found[1].method == "as in the forecast, the same in every future"
    assert scaled_members((rain,), {}, {}) == (rain,)
