"""Dry runs and heat held against printed definitions, against dates others reported, and against pandas.

De Bilt is station 260 of the KNMI, data/debilt_nl_daily_2014_2019.csv (data/README.md). Definitions: Meteorological
Glossary, 1963, entry "Drought", as quoted at xmetman.com/dry-last-fortnight-in-uk (read; it misprints 0.04 in as 0.4
in); ETCCDI's list of 27 indices (read as climdex.pcic 1.0-3 and others state it). A run's own dates are in the tests.
"""

from datetime import date, timedelta
from pathlib import Path

import pandas as pd
import pytest

from soakbook.garden.heat import dutch_heatwaves, heatwaves, is_summer_day, is_tropical_night
from soakbook.garden.runs import Run
from soakbook.garden.spells import (
    consecutive_dry_days,
    dry_runs,
    last_useful_rain,
    partial_drought,
    published_words,
    spell_of,
    water_balance,
)

DE_BILT = pd.read_csv(
    Path(__file__).parents[2] / "data" / "debilt_nl_daily_2014_2019.csv", parse_dates=["date"]
)
DAYS = [moment.date() for moment in DE_BILT["date"]]


def column(name: str) -> dict[date, float | None]:
    return dict(zip(DAYS, DE_BILT[name].tolist(), strict=True))


RAIN = column("rain_mm")
HIGHS = column("tmax_c")

SHOWERS = [0.0] * 7 + [1.9] + [0.0] * 6 + [2.0] + [0.0] * 6 + [1.9] + [0.0] * 7
"""29 days, 5.8 mm, no 15 days running under 1 mm."""

SERIES = {
    "15 days of 0.0": ([0.0] * 15, {"absolute drought": 15, "dry spell": 15}),
    "14 days of 0.0": ([0.0] * 14, {}),
    "14 days of 0.0, one of 0.2, 14 of 0.0": (
        [0.0] * 14 + [0.2] + [0.0] * 14,
        {"dry spell": 29, "partial drought": 29},
    ),
    "15 days of 0.9": ([0.9] * 15, {"dry spell": 15}),
    "29 days with 5.8 in all": (SHOWERS, {"partial drought": 29}),
    "29 days with 5.9 in all": ([*SHOWERS[:7], 2.0, *SHOWERS[8:]], {}),
}
"""Constructed on the definitions of the Meteorological Glossary, 1963, entry "Drought" (read)."""


@pytest.mark.parametrize("name", SERIES)
def test_the_three_old_words(name: str) -> None:
    rain, words = SERIES[name]
    first = date(1959, 8, 14)
    by_day = {first + timedelta(days=n): mm for n, mm in enumerate(rain)}
    found = published_words(by_day, max(by_day))
    assert {one.word: one.days for one in found} == words


@pytest.mark.parametrize(
    ("first", "days"), [(date(2018, 6, 15), 43), (date(2019, 4, 4), 20)], ids=["2018", "2019"]
)
def test_de_bilts_rainless_runs(first: date, days: int) -> None:
    """Days under 0.2 mm in column rain_mm; data/README.md names the 43 days as the driest run of the record."""
    last = first + timedelta(days=days - 1)
    assert Run(first, last) in dry_runs(RAIN, 0.2)
    assert max(run.days for run in dry_runs(RAIN, 0.2)) == 43
    morning = spell_of(RAIN, {}, last + timedelta(days=1))
    assert ("absolute drought", first, days) in morning.holds
    assert morning.known_from == DAYS[0]


@pytest.mark.parametrize("year", range(2014, 2020))
def test_consecutive_dry_days_of_a_year_as_pandas_counts_them(year: int) -> None:
    """ETCCDI's CDD, the largest number of consecutive days with RR < 1 mm (list of 27 indices), within each year."""
    rain = DE_BILT.loc[DE_BILT["date"].dt.year == year, "rain_mm"]
    wet_days_so_far = (rain >= 1.0).cumsum()
    longest = int((rain < 1.0).groupby(wet_days_so_far).sum().max())
    ours = {day: mm for day, mm in RAIN.items() if day.year == year}
    assert consecutive_dry_days(ours) == longest


@pytest.mark.parametrize("year", range(2014, 2020))
def test_summer_days_and_tropical_nights_of_a_year_as_pandas_counts_them(year: int) -> None:
    """ETCCDI's SU, TX > 25 °C, and TR, TN > 20 °C (list of 27 indices); 25.0 itself came twice in 2015 and in 2017."""
    of_year = DE_BILT[DE_BILT["date"].dt.year == year]
    assert sum(map(is_summer_day, of_year["tmax_c"].tolist())) == (of_year["tmax_c"] > 25).sum()
    assert sum(map(is_tropical_night, of_year["tmin_c"].tolist())) == (of_year["tmin_c"] > 20).sum()


HEATWAVES = {
    # nos.nl, 6 August 2018, and rd.nl, 6 August 2018: 15 to 27 July; 28 July had 24.2 (read)
    Run(date(2018, 7, 15), date(2018, 7, 27)),
    # the same: began on Sunday 29 July (read); its last day, 7 August, from memory
    Run(date(2018, 7, 29), date(2018, 8, 7)),
    # pzc.nl, 27 August 2019: 22 to 27 July (read)
    Run(date(2019, 7, 22), date(2019, 7, 27)),
    # welingelichtekringen.nl, 9 August 2020: 23 to 28 August 2019 (read)
    Run(date(2019, 8, 23), date(2019, 8, 28)),
}


def test_the_national_heatwaves_of_2018_and_2019() -> None:
    """Rule: station De Bilt, five days of 25 °C or more, three of them of 30 °C or more (nos.nl, 2018, read)."""
    found = {run for run in dutch_heatwaves(HIGHS) if run.first.year in (2018, 2019)}
    assert found == HEATWAVES


def test_the_one_national_heatwave_of_the_four_years_before() -> None:
    """2018's was "the first in three years" (nos.nl, 6 August 2018, read): one in summer 2015, none in 2016, 2017.

    Its dates, 30 June to 5 July 2015, are the record's own column tmax_c, not read elsewhere.
    """
    before = [run for run in dutch_heatwaves(HIGHS) if run.first.year < 2018]
    assert before == [Run(date(2015, 6, 30), date(2015, 7, 5))]


@pytest.mark.parametrize(("heat_c", "spells"), [(25.0, 22), (26.0, 16), (27.0, 10), (28.0, 8)])
def test_british_thresholds_at_de_bilt(heat_c: float, spells: int) -> None:
    """Three days running at or above each threshold of the British map (BBC, 2022): pandas' count, column tmax_c."""
    hot = DE_BILT["tmax_c"] >= heat_c
    lengths = hot.groupby((~hot).cumsum()).sum()
    assert sum(length >= 3 for length in lengths.tolist()) == spells
    assert len(heatwaves(HIGHS, heat_c)) == spells


def test_useful_rain_and_balance_of_2018_as_pandas_counts_them() -> None:
    """Our own rules, 5 mm in two days, evaporation less rain from 1 March: columns rain_mm and et_makkink_mm.

    Common practice, no source; pandas' rolling and cumulative sums are the independent count.
    """
    morning = date(2018, 7, 28)
    table = DE_BILT.set_index("date").loc[: pd.Timestamp(2018, 7, 27)]
    rain = table["rain_mm"]
    two_days = rain.rolling(2).sum()
    useful = two_days[(two_days >= 5.0) & ((rain >= 5.0) | (rain.shift() < 5.0))]
    assert last_useful_rain(RAIN, morning - timedelta(days=1)) == useful.index[-1].date()
    season = table.loc[pd.Timestamp(2018, 3, 1) :]
    balance = water_balance(RAIN, column("et_makkink_mm"), morning)
    assert balance is not None
    assert (balance.since, balance.days, balance.days_missing) == (date(2018, 3, 1), 149, 0)
    assert balance.deficit_mm == pytest.approx((season["et_makkink_mm"] - season["rain_mm"]).sum())


def test_partial_drought_of_2018_as_pandas_counts_it() -> None:
    """At least 29 days with a mean of 0.2 mm at most (Meteorological Glossary, 1963, entry "Drought", as its table
    of definitions is quoted); the longest such stretch to 27 July 2018 by expanding means from its end backwards.
    """
    last = date(2018, 7, 27)
    backwards = DE_BILT.set_index("date").loc[: pd.Timestamp(last), "rain_mm"].iloc[::-1]
    means = backwards.expanding(min_periods=29).mean().round(9)
    found = partial_drought(RAIN, last)
    assert found is not None
    assert found.first == means[means <= 0.2].index[-1].date()
