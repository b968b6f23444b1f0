"""What a bed's strip of soil draws, day by day: the table behind the picture, and the sentence made from it."""

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from soakbook.errors import InputError

if TYPE_CHECKING:
    import pandas as pd

DRY = ("wanting", "parched")


class BedShown(NamedTuple):
    """A bed as pictures name it: its key in the frames, its name, its area [m2, above 0]."""

    key: str
    name: str
    area_m2: float


class Stripped(NamedTuple):
    """A strip's planting, how many plantings the bed has, first and last day, and the table with a row for each day."""

    planting: str
    plantings: int
    first: date
    last: date
    table: "pd.DataFrame"


def strip_days(
    days: "pd.DataFrame", visits: "pd.DataFrame", bed: BedShown, planting_uid: str | None = None
) -> Stripped:
    """What is drawn of one bed: all days of the account, so that the strips of several beds lie under each other.

    Parameters
    ----------
    days : DataFrame
        The account's days of all plantings.
    visits : DataFrame
        The account's visits.
    bed : BedShown
        Which bed.
    planting_uid : str, optional
        Whose ball and soil are shown; unsaid, the planting that was wanting or parched on most evenings, of
        several the one whose soil was driest in the mean.

    Raises
    ------
    InputError
        A bed or a planting without days, an area that is none.
    """
    import pandas as pd

    here = days[days["bed"] == bed.key]
    if here.empty:
        raise InputError("bed", bed.key, "a bed with reckoned days in this account")
    if not bed.area_m2 > 0:
        raise InputError("area_m2", bed.area_m2, "above 0 m2")
    uid = planting_uid or _driest(here)
    shown = here[here["planting_uid"] == uid]
    if shown.empty:
        raise InputError("planting_uid", uid, f"a planting of {bed.key}")
    season = pd.date_range(days["day"].min(), days["day"].max(), name="day")
    stores = ["ball_p50", "ball_state", "bed_p50", "bed_state"]
    by_day = shown.set_index("day")
    table = by_day[stores].astype({"ball_state": object, "bed_state": object}).reindex(season)
    # It rained also on days on which the shown planting, or any in this bed, did not stand.
    rain = days.drop_duplicates("day").set_index("day")["rain_gauge_mm"]
    table.insert(0, "rain_gauge_mm", rain.reindex(season))
    table.insert(1, "into_soil_mm", by_day["into_soil_mm"].reindex(season))
    seen = visits[visits["bed"] == bed.key].set_index("day")
    soaks = seen[seen["what"] == "watered"].groupby(level=0)["litres"].sum()
    table.insert(2, "soak_l", soaks.reindex(season, fill_value=0.0))
    table.insert(3, "soak_l_per_m2", table["soak_l"] / bed.area_m2)
    for felt in ("ball_felt", "bed_felt"):
        said = seen[felt].dropna().astype(str)
        said = said[said != ""].groupby(level=0).agg(lambda words: ", ".join(dict.fromkeys(words)))
        table[felt] = said.reindex(season, fill_value="")
    gone = _gone(here, days["day"].max())
    table["gone"] = [gone.get(day, 0) for day in season]
    return Stripped(
        str(shown["planting"].iloc[-1]),
        here["planting_uid"].nunique(),
        season[0].date(),
        season[-1].date(),
        table.reset_index(),
    )


def strip_alt(bed: BedShown, strip: Stripped) -> str:
    """What the strip shows, as one would tell somebody who cannot see it."""
    table = strip.table
    dry = {
        store: int(table[f"{store}_state"].isin(DRY).sum())
        for store in ("ball", "bed")
        if table[f"{store}_p50"].notna().any()
    }
    sodden = int((table["bed_state"] == "sodden").sum())
    soaked = int((table["soak_l"] > 0).sum())
    felt = int(((table["ball_felt"] != "") | (table["bed_felt"] != "")).sum())
    evenings = " and ".join(
        f"the {store} on {_of(count, 'evening')}" for store, count in dry.items()
    )
    said = [
        f"The soil of {bed.name} in section from {_day(strip.first)} to {_day(strip.last)}, as it stood "
        f"for {strip.planting}: {evenings} wanting or parched",
        f"the bed sodden on {_of(sodden, 'evening')}",
        f"rain in the gauge {table['rain_gauge_mm'].sum():.1f} mm",
        f"soaks on {_of(soaked, 'day')}, {table['soak_l_per_m2'].sum():.1f} L/m2 in all",
        f"felt on {_of(felt, 'day')}",
        f"{_of(int(table['gone'].sum()), 'plant')} gone",
    ]
    return "; ".join(said) + "."


def _driest(here: "pd.DataFrame") -> str:
    """The planting that was wanting or parched on most evenings."""
    evenings = here["state"].isin(DRY).groupby(here["planting_uid"].astype(str)).sum()
    leading = (
        here["ball_p50"].fillna(here["bed_p50"]).groupby(here["planting_uid"].astype(str)).mean()
    )
    order = sorted(evenings.index, key=lambda uid: (-int(evenings[uid]), float(leading[uid]), uid))
    return str(order[0])


def _gone(here: "pd.DataFrame", last: "pd.Timestamp") -> "dict[pd.Timestamp, int]":
    """Plants that died or were moved away, on the day on which they are first missing."""
    import pandas as pd

    missing: dict[pd.Timestamp, int] = {}
    for _, one in here.sort_values("day").groupby("planting_uid", observed=True):
        before = 0
        for day, count in zip(one["day"], one["count"], strict=True):
            if count < before:
                missing[day] = missing.get(day, 0) + before - int(count)
            before = int(count)
        after = one["day"].iloc[-1] + pd.Timedelta(days=1)
        if before and after <= last:
            missing[after] = missing.get(after, 0) + before
    return missing


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"


def _of(count: int, what: str) -> str:
    return f"{count or 'no'} {what}{'' if count == 1 else 's'}"
