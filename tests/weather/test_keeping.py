"""What of local days goes into the book. Hours here are made."""

from dataclasses import replace
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from soakbook.garden.weather import WeatherDay
from soakbook.weather.answers import HourTable, Told
from soakbook.weather.columns import QUANTITIES
from soakbook.weather.hour_rows import sound_rows
from soakbook.weather.hours import LocalDays, days_of
from soakbook.weather.keeping import DECIMALS, told_of
from soakbook.weather.reference_et import Site, reference_et
from tests.weather.made_hours import GLOUCESTER, changed, made_hours

MAY = datetime(2031, 5, 1, tzinfo=UTC)
FETCHED = datetime(2031, 5, 2, 5, 40, tzinfo=UTC)
ISSUED = datetime(2031, 5, 2, 0, 0, tzinfo=UTC)


def days(table: HourTable, site: Site = GLOUCESTER) -> LocalDays:
    return days_of(sound_rows(table, "made"), ZoneInfo("Etc/GMT"), site)


def told(found: LocalDays, site: Site = GLOUCESTER, today: date = date(2031, 5, 2)) -> Told:
    return told_of(found, site, today=today, source="Made", fetched_at=FETCHED, issued_at=ISSUED)


def of_day(answer: Told, day: date) -> dict[str, float]:
    return {value.variable: value.value for value in answer.values if value.day == day}


def test_every_variable_of_a_day_is_kept_by_its_name() -> None:
    answer = told(days(made_hours(MAY, 72)))
    kept = of_day(answer, date(2031, 5, 1))
    assert list(kept) == list(DECIMALS)
    assert kept["rain_mm"] == 0.0
    assert (kept["tmin_c"], kept["tmax_c"], kept["tmean_c"]) == (10.0, 20.0, 15.0)
    assert kept["wind_2m_m_per_s"] == 2.24
    assert kept["vapour_pressure_kpa"] == 1.0728
    from_files = {quantity.variable for quantity in QUANTITIES.values()}
    assert set(DECIMALS) - {"et0_mm"} <= from_files
    assert set(WeatherDay._fields) - {"day", "rain_by_hour_mm", "sources"} <= set(DECIMALS)


def test_evaporation_is_that_of_reference_et() -> None:
    found = days(made_hours(MAY, 72))
    (expected,) = reference_et([found.days[0].inputs], GLOUCESTER)
    answer = told(found)
    assert of_day(answer, found.days[0].day)["et0_mm"] == pytest.approx(expected.et0_mm, abs=5e-4)
    (method,) = {value.method for value in answer.values if value.variable == "et0_mm"}
    assert method == expected.method


def test_days_gone_by_are_analysed_and_the_others_forecast() -> None:
    answer = told(days(made_hours(MAY, 72)))
    kinds = {value.day.day: (value.kind, value.issued_at) for value in answer.values}
    assert kinds == {1: ("analysed", None), 2: ("forecast", ISSUED), 3: ("forecast", ISSUED)}
    assert {(value.source, value.fetched_at) for value in answer.values} == {("Made", FETCHED)}


def test_hours_of_rain_are_kept_of_dry_days_too() -> None:
    """Else a day of which nobody knows the hours would look like one without a wet hour."""
    made = made_hours(MAY, 72)
    wet = made._replace(rain_mm=changed(made.rain_mm, {30: 1.25, 47: 0.4}))
    dry, series, last = told(days(wet)).series
    assert dry.numbers == last.numbers == (0.0,) * 24
    assert (series.day, series.of, series.variable) == (date(2031, 5, 2), "hours", "rain_mm")
    assert series.numbers == (0.0,) * 6 + (1.25,) + (0.0,) * 16 + (0.4,)
    assert (series.source, series.kind, series.issued_at) == ("Made", "forecast", ISSUED)


def test_the_same_read_later_says_the_same() -> None:
    """Times of fetching apart: another second of reckoning, and of noise far behind the point."""
    made = made_hours(MAY, 72, rain_mm=(0.1,) * 72)
    other = made._replace(
        temperature_c=tuple(value + 1e-9 for value in made.temperature_c if value is not None)
    )
    assert told(days(made)) == told(days(other))


def test_filled_hours_are_said_in_what_was_made_from_instants() -> None:
    made = made_hours(MAY, 72)
    holed = made._replace(temperature_c=changed(made.temperature_c, {30: None}))
    said = {
        value.variable
        for value in told(days(holed)).values
        if value.method.endswith("; an hour or more between its neighbours")
    }
    assert said == set(DECIMALS) - {"rain_mm", "radiation_mj_m2_day"}


def test_a_method_of_the_day_itself_goes_before_ours() -> None:
    found = days(made_hours(MAY, 24, radiation_w_m2=()))
    (one,) = found.days
    inputs = replace(one.inputs, radiation_mj_m2_day=14.0)
    by_cloud = one._replace(inputs=inputs, methods={"radiation_mj_m2_day": "from cloud"})
    answer = told(LocalDays((by_cloud,)))
    methods = {value.variable: value.method for value in answer.values}
    assert methods["radiation_mj_m2_day"] == "from cloud"
    assert methods["tmin_c"] == "lowest of the day's hours"


def test_what_is_not_known_is_not_kept() -> None:
    answer = told(days(made_hours(MAY, 24, radiation_w_m2=(), wind_10m_m_per_s=())))
    kept = of_day(answer, date(2031, 5, 1))
    assert set(DECIMALS) - set(kept) == {"radiation_mj_m2_day", "wind_2m_m_per_s"}
    (method,) = [value.method for value in answer.values if value.variable == "et0_mm"]
    assert "wind taken as 2 m/s" in method


@pytest.mark.parametrize(
    ("first", "latitude_deg", "factor", "said"),
    [
        (datetime(2031, 6, 1, tzinfo=UTC), 51.88, 1.04, False),
        (datetime(2031, 6, 1, tzinfo=UTC), 51.88, 1.3, True),
        (datetime(2031, 6, 1, tzinfo=UTC), 51.88, 0.8, True),
        (datetime(2031, 10, 1, tzinfo=UTC), 51.88, 1.2, False),  # as it is in October
        (datetime(2031, 12, 1, tzinfo=UTC), -42.9, 1.3, True),
    ],
)
def test_their_evaporation_far_from_ours_is_said(
    first: datetime, latitude_deg: float, factor: float, said: bool
) -> None:
    """Fourteen days whose own evaporation is ours times a factor."""
    site = Site(latitude_deg, 40.0)
    found = days(made_hours(first, 24 * 14, radiation_w_m2=(120.0,) * (24 * 14)), site)
    ours = reference_et([one.inputs for one in found.days], site)
    own = LocalDays(
        tuple(
            one._replace(own_et0_mm=(et.et0_mm or 0.0) * factor)
            for one, et in zip(found.days, ours, strict=True)
        )
    )
    findings = told(own, site).findings
    assert bool(findings) == said
    assert all("a unit may be wrong" in finding for finding in findings)


def test_findings_of_the_days_go_along_and_no_days_tell_nothing() -> None:
    assert told(LocalDays((), ("a finding",))) == Told((), (), ("a finding",))
