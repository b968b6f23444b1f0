"""Reference ET of real days against other programs, and pyet against an official series.

refet (0.5, of the Desert Research Institute) is an independent ASCE and FAO-56 library. KNMI
publishes its own Makkink evaporation for De Bilt, to a tenth of a millimetre.
"""

from pathlib import Path

import numpy as np
import pandas as pd
import pyet
import pytest
import refet
from numpy.typing import NDArray

from soakbook.weather.reference_et import DayInputs, Site, reference_et, wind_at_2m

DATA = Path(__file__).parents[2] / "data"


@pytest.fixture(scope="module")
def de_bilt() -> pd.DataFrame:
    return pd.read_csv(
        DATA / "debilt_nl_daily_2014_2019.csv", index_col="date", parse_dates=["date"]
    )


def test_pyet_gives_the_official_makkink_of_de_bilt(de_bilt: pd.DataFrame) -> None:
    """KNMI station 260, 2014-2019, 2191 days: every one the same to the printed tenth."""
    found = pyet.makkink_knmi(de_bilt["tmean_c"], de_bilt["rs_mj"])
    assert len(found) == 2191
    # half of the printed tenth, and the last bit of a binary fraction
    assert (found - de_bilt["et_makkink_mm"]).abs().max() <= 0.05 + 1e-9


def test_six_years_agree_with_refet(de_bilt: pd.DataFrame) -> None:
    """The same grass by refet, simple clear sky: within 0.005 mm on every day (γ and Gsc are
    rounded elsewhere).

    refet lets ET0 be negative on a few winter days, pyet does not. Against refet's daily.py, version 0.5.
    """
    days = [
        DayInputs(
            day.date(),
            row["tmin_c"],
            row["tmax_c"],
            rhmax_percent=row["rhmax_pct"],
            rhmin_percent=row["rhmin_pct"],
            radiation_mj_m2_day=row["rs_mj"],
            wind_2m_m_per_s=wind_at_2m(row["wind10_ms"], 10.0),
        )
        for day, row in zip(
            pd.DatetimeIndex(de_bilt.index), de_bilt.to_dict("records"), strict=True
        )
    ]
    ours = reference_et(days, Site(52.1, 2.0))
    theirs = refet.Daily(
        tmin=de_bilt["tmin_c"].to_numpy(),
        tmax=de_bilt["tmax_c"].to_numpy(),
        rs=de_bilt["rs_mj"].to_numpy(),
        uz=de_bilt["wind10_ms"].to_numpy(),
        zw=10,
        elev=2.0,
        lat=52.1,
        doy=pd.DatetimeIndex(de_bilt.index).dayofyear.to_numpy(),
        ea=_vapour_pressure(de_bilt),
        method="asce",
        rso_type="simple",
    ).eto()
    found = np.array([result.et0_mm for result in ours], dtype=float)
    assert np.abs(found - np.maximum(theirs, 0.0)).max() < 0.005
    assert found.sum() / 6 == pytest.approx(theirs.sum() / 6, rel=0.001)


def _vapour_pressure(weather: pd.DataFrame) -> NDArray[np.float64]:
    """FAO-56 eq 17 with eq 11, written out: refet takes no humidity in per cent."""
    high, low = (
        0.6108 * np.exp(17.27 * weather[name] / (weather[name] + 237.3))
        for name in ("tmax_c", "tmin_c")
    )
    return np.asarray((low * weather["rhmax_pct"] + high * weather["rhmin_pct"]) / 200, dtype=float)
