"""The season in two sentences, as they head the account on the screen and in its documents."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from soakbook.account.remarks import cubic_metres
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import counted, number

Report = Mapping[str, Any]

DRY_DAYS = (
    "Dry days: days on which some plant's leading store was wanting or parched by the reckoning; half of the sums "
    "have more."
)


def in_sum(report: Report) -> list[str]:
    """Rain against what the air asked, and what was given by hand.

    Parameters
    ----------
    report : mapping
        An account as `json_of` gives it.
    """
    sky, totals = report["sky"], report["totals"]
    first, last = (said_day(sky[name]) for name in ("first", "last"))
    known = "" if not sky["rain_unknown_days"] + sky["et0_unknown_days"] else ", as far as is known"
    rain = (
        f"Rain from {first} to {last} {number(sky['rain_mm'])} mm{known}; the air asked for "
        f"{number(sky['et0_mm'])} mm."
    )
    if sky["driest"]:
        begin, end = (said_day(sky["driest"][name]) for name in ("first", "last"))
        rain += f" Longest without useful rain: {begin} to {end}, {number(sky['driest']['rain_mm'])} mm."
    stored = totals["litres"] - totals["by_source_l"].get("mains", 0.0)
    other = f", {cubic_metres(stored)} of it not from the mains" if stored else ""
    given = (
        f"Given by hand {cubic_metres(totals['litres'])}{other}. {counted(totals['mornings'], 'day')} of watering, "
        f"{number(totals['hours'])} h."
    )
    return [rain, given]


def said_day(day: str) -> str:
    """`6 March` of an ISO date."""
    return month_day(date.fromisoformat(day))
