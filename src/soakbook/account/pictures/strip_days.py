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
    """A strip's planting and what it is among those of the bed, first and last day, and the table, a row a day."""

    planting: str
    among: str
    first: date
    last: date
    table: "pd.DataFrame"


class Frames(NamedTuple):
    """What strips are drawn from: the account's frames of all beds."""

    days: "pd.DataFrame"
    visits: "pd.DataFrame"
    feels: "pd.DataFrame"


def strip_days(frames: Frames, bed: BedShown, planting_uid: str | None = None) -> Stripped:
    """What is drawn of one bed: all days of the account, so that the strips of several beds lie under each other.

    Parameters
    ----------
    frames : Frames
        The account's.
    bed : BedShown
        Which bed.
    planting_uid : str, optional
        Whose ball and soil are shown, with what was felt there; unsaid, the driest.

    Raises
    ------
    InputError
        A bed or a planting without days, an area that is none.
    """
    import pandas as pd

    days, visits, feels = frames
    here = _here(days, bed)
    if not bed.area_m2 > 0:
        raise InputError("area_m2", bed.area_m2, "above 0 m2")
    uid = planting_uid or driest(days, bed)
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
    watered = visits[(visits["bed"] == bed.key) & (visits["what"] == "watered")]
    soaks = watered.groupby("day")["litres"].sum()
    table.insert(2, "soak_l", soaks.reindex(season, fill_value=0.0))
    table.insert(3, "soak_l_per_m2", table["soak_l"] / bed.area_m2)
    own = feels[(feels["planting_uid"] == uid) & (feels["bed"] == bed.key)]
    for store in ("ball", "bed"):
        said = own[own["store"] == store].groupby("day")["felt"].agg(_each_once)
        table[f"{store}_felt"] = said.reindex(season, fill_value="")
    gone = _gone(here, days["day"].max())
    table["gone"] = [gone.get(day, 0) for day in season]
    return Stripped(
        str(shown["planting"].iloc[-1]),
        _among(here["planting_uid"].nunique(), is_driest=uid == driest(days, bed)),
        season[0].date(),
        season[-1].date(),
        table.reset_index(),
    )


def driest(days: "pd.DataFrame", bed: BedShown) -> str:
    """The planting that was wanting or parched on most evenings; of several, whose soil was driest in the mean.

    Parameters
    ----------
    days : DataFrame
        The account's days of all plantings.
    bed : BedShown
        Which bed.

    Raises
    ------
    InputError
        A bed without days.
    """
    here = _here(days, bed)
    by_uid = here["planting_uid"].astype(str)
    evenings = here["state"].isin(DRY).groupby(by_uid).sum()
    leading = here["ball_p50"].fillna(here["bed_p50"]).groupby(by_uid).mean()
    order = sorted(evenings.index, key=lambda uid: (-int(evenings[uid]), float(leading[uid]), uid))
    return str(order[0])


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
        f"the {store} on {_none_or(count, 'evening')}" for store, count in dry.items()
    )
    said = [
        f"The soil of {bed.name} in section from {_day(strip.first)} to {_day(strip.last)}, as it stood "
        f"for {strip.planting}: {evenings} wanting or parched",
        f"the bed sodden on {_none_or(sodden, 'evening')}",
        f"rain in the gauge {table['rain_gauge_mm'].sum():.1f} mm",
        f"soaks on {_none_or(soaked, 'day')}, {table['soak_l_per_m2'].sum():.1f} L/m2 in all",
        f"felt on {_none_or(felt, 'day')}",
        f"{_none_or(int(table['gone'].sum()), 'plant')} gone",
    ]
    return "; ".join(said) + "."


def _here(days: "pd.DataFrame", bed: BedShown) -> "pd.DataFrame":
    here = days[days["bed"] == bed.key]
    if here.empty:
        raise InputError("bed", bed.key, "a bed with reckoned days in this account")
    return here


def _among(plantings: int, *, is_driest: bool) -> str:
    if plantings == 1:
        return ""
    return f", {'the driest' if is_driest else 'one'} of its {plantings} plantings"


def _each_once(words: "pd.Series[str]") -> str:
    return ", ".join(dict.fromkeys(words.astype(str)))


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


def _none_or(count: int, what: str) -> str:
    return f"{count or 'no'} {what}{'' if count == 1 else 's'}"
