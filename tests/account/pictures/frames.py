"""Frames as the account makes them, of a made-up garden, with the columns that pictures read."""

from datetime import date

import numpy as np
import pandas as pd

STATES = ((1.02, "sodden"), (0.75, "holding"), (0.45, "drying"), (0.2, "wanting"), (-1.0, "parched"))  # fmt: skip


def state_of(fraction: float) -> str:
    """A state by bounds of the tests' own; none without a store."""
    return next((word for bound, word in STATES if fraction > bound), "")


def weather(first: date, days: int) -> tuple[pd.DatetimeIndex, np.ndarray, np.ndarray]:
    """Days, rain and what the air asked: rain each ninth day, more of it in winter."""
    index = pd.date_range(first, periods=days)
    turn = np.cos(2 * np.pi * (index.dayofyear.to_numpy() - 10) / 365)
    rain = np.where(np.arange(days) % 9 == 0, 4 + 3 * turn + (np.arange(days) % 7), 0.0)
    return index, np.round(rain, 1), np.round(2.6 - 2.3 * turn, 2)


def planting_days(
    bed: str,
    uid: str,
    index: pd.DatetimeIndex,
    *,
    rain: np.ndarray,
    et0: np.ndarray,
    count: int = 10,
    bare: bool = False,
    every: int = 6,
    ball_capacity_mm: float = 12.0,
) -> pd.DataFrame:
    """One planting's days by a bucket as simple as can be: what pictures need is only that it moves."""
    soaked = np.where((np.arange(len(index)) % every == 0) & (et0 > 1.5), 6.0, 0.0)
    stores = {}
    for name, capacity in (("ball", ball_capacity_mm), ("bed", 45.0)):
        water, fractions = capacity, []
        for fallen, given, asked in zip(rain, soaked, et0, strict=True):
            water = min(max(water + 0.8 * fallen + given - 0.8 * asked, 0.0), 1.15 * capacity)
            fractions.append(water / capacity)
        stores[name] = np.array(fractions)
    if bare:
        stores["ball"] = np.full(len(index), np.nan)
    states = {name: [state_of(one) for one in values] for name, values in stores.items()}
    return pd.DataFrame(
        {
            "day": index,
            "bed": bed,
            "bed_uid": f"uid-{bed}",
            "planting_uid": uid,
            "planting": f"{count} of {uid}",
            "count": count,
            "rain_gauge_mm": rain,
            "et0_mm": et0,
            "given_l": soaked * 18.0,
            "into_soil_mm": np.round(rain * 0.6, 2),
            "ball_p50": stores["ball"],
            "bed_p50": stores["bed"],
            "state": states["bed" if bare else "ball"],
            "ball_state": states["ball"],
            "bed_state": states["bed"],
        }
    )


def garden(first: date = date(2031, 1, 1), days: int = 365) -> pd.DataFrame:
    """Three beds: a wall with two plantings, a hedge with bare roots, one planted late that loses plants."""
    index, rain, et0 = weather(first, days)
    late = max(days // 3, 0)
    school = planting_days(
        "school", "grasses", index[late:], rain=rain[late:], et0=et0[late:], count=140, every=4
    )
    school.loc[school["day"] >= index[min(late + days // 4, days - 1)], "count"] = 131
    frame = pd.concat(
        [
            planting_days("chapel", "roses", index, rain=rain, et0=et0, count=6),
            planting_days("chapel", "clematis", index, rain=rain, et0=et0, ball_capacity_mm=8.0),
            planting_days("ride", "whips", index, rain=rain, et0=et0, bare=True, every=40),
            school,
        ],
        ignore_index=True,
    )
    words = ("bed", "bed_uid", "planting", "planting_uid", "state", "ball_state", "bed_state")
    return frame.astype(dict.fromkeys(words, "category"))


def visits(rows: list[tuple[str, str, str, float]]) -> pd.DataFrame:
    """Visits out of (day, bed, what, litres)."""
    frame = pd.DataFrame(rows, columns=["day", "bed", "what", "litres"])
    return frame.astype({"day": "datetime64[ns]", "litres": float})


def visits_of(days: pd.DataFrame) -> pd.DataFrame:
    """The soaks that stand in the days, and every 17 days a visit that left the bed."""
    rows: list[tuple[str, str, str, float]] = []
    for bed, here in days.groupby("bed", observed=True):
        given = here.groupby("day")["given_l"].sum()
        for number, (day, litres) in enumerate(given.items()):
            if litres > 0:
                rows.append((str(day), str(bed), "watered", litres))
            elif number % 17 == 3:
                rows.append((str(day), str(bed), "left", 0.0))
    return visits(rows)


def feels(rows: list[tuple[str, str, str, str, str]]) -> pd.DataFrame:
    """Feels out of (day, bed, planting's uid, store, felt)."""
    frame = pd.DataFrame(rows, columns=["day", "bed", "planting_uid", "store", "felt"])
    return frame.astype({"day": "datetime64[ns]"})


def feels_of(days: pd.DataFrame) -> pd.DataFrame:
    """A feel every 11 days in the first planting of each bed, class after class."""
    classes = ("dust", "dry", "moist", "wet", "sour")
    rows: list[tuple[str, str, str, str, str]] = []
    for bed, here in days.groupby("bed", observed=True):
        uid = str(here["planting_uid"].iloc[0])
        own = here[here["planting_uid"] == uid]
        for number, (day, ball) in enumerate(zip(own["day"], own["ball_p50"], strict=True)):
            if number % 11 == 4:
                found = classes[number // 11 % 5]
                stores = ("ball", "bed") if np.isfinite(ball) else ("bed",)
                rows += [(str(day), str(bed), uid, store, found) for store in stores]
    return feels(rows)


def weather_of(days: pd.DataFrame) -> pd.DataFrame:
    """The weather that stands in the days."""
    named = days.drop_duplicates("day")[["day", "rain_gauge_mm", "et0_mm"]]
    return named.rename(columns={"rain_gauge_mm": "rain_mm"}).reset_index(drop=True)
