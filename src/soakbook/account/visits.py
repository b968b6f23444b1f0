"""The frame `visits`: every visit to a bed with its litres, minutes and money."""

import math
from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from soakbook.account.columns import VISITS
from soakbook.account.prices import Cost, cost_of_water, cost_of_work, rate_on
from soakbook.account.visit_record import MAINS, Found, Visit, methods_of, named_in, visits_of
from soakbook.garden.entries import Feel, Left, Look, Wilt
from soakbook.garden.pages import Pages

if TYPE_CHECKING:
    import pandas as pd


def visits_frame(pages: Pages, first: date, last: date) -> "pd.DataFrame":
    """The visits of a span of days as a table, with the columns of `columns.VISITS`.

    Parameters
    ----------
    pages : Pages
        As for `visits_of`.
    first, last : date
        Both included, on the garden's calendar.
    """
    import pandas as pd

    rows = [_row(pages, visit) for visit in visits_of(pages, first, last)]
    frame = pd.DataFrame(rows, columns=list(VISITS))
    zone = pages.garden.timezone
    frame["day"] = pd.to_datetime(frame["day"]).astype("datetime64[ns]")
    frame["at"] = pd.to_datetime(frame["at"], utc=True).astype("datetime64[ns, UTC]")
    frame["at"] = frame["at"].dt.tz_convert(zone)
    for name in ("soaks", "plants"):
        frame[name] = frame[name].astype("int64")
    for name in NUMBERS:
        frame[name] = frame[name].astype("float64")
    frame["source_guessed"] = frame["source_guessed"].astype("bool")
    return frame


NUMBERS = (
    "litres", "minutes", "minutes_on_foot", "water_price_per_m3", "water_cost", "work_cost", "wet_to_cm",
)  # fmt: skip


def _row(pages: Pages, visit: Visit) -> Mapping[str, Any]:
    """One row of the frame."""
    left = next((one for one in visit.entries if isinstance(one, Left)), None)
    return {
        "day": visit.day,
        "at": visit.at,
        "bed": visit.bed.key,
        "bed_uid": visit.bed.uid,
        "by": visit.by,
        "what": visit.what,
        "soaks": len(visit.soaks),
        "kinds": ", ".join(dict.fromkeys(one.kind for one in visit.soaks)),
        "method": ", ".join(methods_of(visit)),
        "planting": ", ".join(named_in(pages, visit)),
        **_given_cells(pages, visit),
        "reason": left.reason if left else "",
        **_found_cells(visit.found),
        "note": "; ".join(one.note for one in visit.entries if one.note),
        "entry_uids": tuple(one.uid for one in visit.entries),
    }


def _given_cells(pages: Pages, visit: Visit) -> Mapping[str, Any]:
    given = visit.given
    if given is None:
        return {
            "litres": 0.0,
            "plants": 0,
            "source": "",
            "source_guessed": False,
            "tap": "",
            "minutes": 0.0,
            "minutes_on_foot": math.nan,
            "water_price_per_m3": math.nan,
            "water_cost": 0.0,
            "work_cost": math.nan,
            "currency": "",
            "work_currency": "",
        }
    rate = rate_on(pages.rates, "water", visit.day)
    is_mains = given.source == MAINS
    water = cost_of_water(given.litres, rate) if is_mains else Cost(0.0, "")
    work = cost_of_work(given.minutes_on_foot, rate_on(pages.rates, "hour", visit.day))
    return {
        "litres": given.litres,
        "plants": given.plants,
        "source": given.source,
        "source_guessed": given.source_guessed,
        "tap": given.tap or "",
        "minutes": math.nan if given.minutes is None else given.minutes,
        "minutes_on_foot": given.minutes_on_foot,
        "water_price_per_m3": rate.price if is_mains and rate else math.nan,
        "water_cost": water.amount,
        "work_cost": work.amount,
        "currency": water.currency,
        "work_currency": work.currency,
    }


def _found_cells(found: Sequence[Found]) -> Mapping[str, Any]:
    """What was last found of each thing."""
    cells: dict[str, Any] = {"ball_felt": "", "bed_felt": "", "leaves": "", "wet_to_cm": math.nan}
    for one in found:
        match one:
            case Feel(ball=ball, bed=bed):
                cells["ball_felt"] = ball or cells["ball_felt"]
                cells["bed_felt"] = bed or cells["bed_felt"]
            case Wilt(upright=upright):
                cells["leaves"] = "upright" if upright else "limp"
            case Look(wet_to_cm=depth_cm):
                cells["wet_to_cm"] = depth_cm
    return cells
