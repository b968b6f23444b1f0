"""What an account says under its table: money, rain, promises, feels, ground too wet, and how sure it all is."""

from collections.abc import Sequence
from datetime import date, time
from typing import NamedTuple
from zoneinfo import ZoneInfo

import pandas as pd

from soakbook.account.feels import AS_RECKONED, DRIER, WETTER
from soakbook.account.prices import money_by_currency
from soakbook.account.reviewed import Account
from soakbook.garden.records import Rate
from soakbook.garden.service_records import record_at
from soakbook.garden.windows import local_moment
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import counted, names, number

RAINS_TOLD = 2
PENCE_TO = 20.0
RAIN_WORTH_TELLING_MM = 10.0
RAN_OFF_WORTH_TELLING_MM = 2.0

FEELS_TO_TELL = 5
MOST_OFF_FROM_SD = 0.4
"""Fewer feels, or nearer ones, are the finger's own error. common practice, no source."""

GOOD_LEAD_DAYS = 1
"""Promises are counted by the mornings that surely promised useful rain by the next day: those put soaks off."""


class Remark(NamedTuple):
    """A few sentences about one thing."""

    about: str
    say: str


class Off(NamedTuple):
    """One store of a bed, by how far its feels came out to one side of the reckoning."""

    bed_uid: str
    bed: str
    store: str
    feels: int
    mean_sd: float


def remarks_of(account: Account) -> tuple[Remark, ...]:
    """All that can be said of a season, in the order of a page; what has nothing to say is left out."""
    said = (
        ("money", _money(account)),
        ("rain", _rain(account)),
        ("promises", _promises(account)),
        ("feels", _feels(account)),
        ("held back", _held(account)),
        ("doubt", _doubt(account)),
    )
    return tuple(Remark(about, say) for about, say in said if say)


def most_off(account: Account) -> Off | None:
    """The store whose feels came out furthest to one side of the reckoning; None where none is worth saying."""
    feels = account.feels
    if feels.empty:
        return None
    by_store = feels.groupby(["bed_uid", "bed", "store"], as_index=False)["off"].agg(
        ["count", "mean"]
    )
    found = [
        Off(row["bed_uid"], row["bed"], row["store"], row["count"], row["mean"])
        for row in by_store.to_dict("records")
        if row["count"] >= FEELS_TO_TELL
    ]
    worst = max(found, key=lambda one: abs(one.mean_sd), default=None)
    return worst if worst is not None and abs(worst.mean_sd) >= MOST_OFF_FROM_SD else None


def cubic_metres(litres: float) -> str:
    """`26.3 m³`, below one cubic metre litres."""
    if litres >= 1000:
        return f"{litres / 1000:,.1f} m³"
    return f"{number(litres)} L"


def _money(account: Account) -> str:
    visits, span = account.visits, account.span
    sums = money_by_currency(visits)
    mains = visits[visits["source"] == "mains"]
    priced = mains["water_cost"].notna()
    priced_l, unpriced_l = (float(mains.loc[one, "litres"].sum()) for one in (priced, ~priced))
    paid = visits["work_cost"].notna()
    hours, unpaid_hours = (
        float(visits.loc[one, "minutes_on_foot"].sum()) / 60 for one in (paid, ~paid)
    )
    parts = []
    for what, amount in (
        ("water", f"{cubic_metres(priced_l)} mains"),
        ("hour", f"{number(hours)} h"),
    ):
        rates = [one for one in account.pages.rates if one.what == what]
        costs = [(currency, of[what == "hour"]) for currency, of in sums.items()]
        told = [f"{currency} {_amount(cost)}" for currency, cost in costs if cost]
        prices = _prices(rates, span.first, span.until)
        if told and prices:
            parts.append(f"{amount} at {prices} = {names(told)}.")
    begun = {one.what for one in account.pages.rates if one.from_day <= span.until}
    if unpriced_l and "water" in begun:
        parts.append(f"{cubic_metres(unpriced_l)} of mains water came before the first price.")
    elif unpriced_l and parts:
        parts.append(f"{cubic_metres(unpriced_l)} of mains water has no price in the book.")
    if unpaid_hours and "hour" in begun:
        parts.append(f"{number(unpaid_hours)} h came before the first price of an hour.")
    if not parts and not begun:
        return "No price of water or work is in the book: soakbook rate 1apr water 3.20 enters one."
    return " ".join(parts)


def _amount(cost: float) -> str:
    """`114`, and `8.64` where the pence are much of it."""
    return f"{cost:,.0f}" if cost >= PENCE_TO else f"{cost:.2f}"


def _prices(rates: Sequence[Rate], first: date, until: date) -> str:
    """`4.00`, or `4.00, 4.40 from 1 July`: those in force within a season, of two of one day the later written."""
    by_day = {one.from_day: one for one in rates}
    ordered = [by_day[day] for day in sorted(by_day)]
    begun = [f"{one.price:.2f}" for one in ordered if one.from_day <= first][-1:]
    later = [one for one in ordered if first < one.from_day <= until]
    alone = not begun and len(later) == 1
    said = [
        f"{one.price:.2f}" if alone else f"{one.price:.2f} from {month_day(one.from_day)}"
        for one in later
    ]
    return ", ".join([*begun, *said])


def _rain(account: Account) -> str:
    days, beds = account.days, account.beds
    if days.empty:
        return ""
    rained = beds[beds["rain_gauge_mm"] > 0]
    parts = []
    if len(rained):
        by_share = sorted(
            rained.to_dict("records"),
            key=lambda bed: float(bed["rain_into_soil_mm"] / bed["rain_gauge_mm"]),
        )
        told = [by_share[-1], *by_share[: len(by_share) > 1]]
        each = [
            f"{bed['name']} let {number(bed['rain_into_soil_mm'])} of {number(bed['rain_gauge_mm'])} mm into its soil"
            for bed in told
        ]
        parts.append(f"{names(each)}.")
    falls = days.groupby("day")["rain_gauge_mm"].first().nlargest(RAINS_TOLD)
    for day, gauge_mm in falls[falls >= RAIN_WORTH_TELLING_MM].sort_index().items():
        parts.append(_one_rain(days[days["day"] == day], day, float(gauge_mm), account))
    return " ".join(parts)


def _one_rain(day: pd.DataFrame, when: object, gauge_mm: float, account: Account) -> str:
    """What one rain brought the beds; a day's rain is that up to its 17:00."""
    name_of = {bed.key: bed.name for bed in account.pages.beds}
    ground = day["count"] * day["cell_m2"]
    by_bed = (
        pd.DataFrame(
            {
                "into": day["into_soil_mm"] * ground,
                "off": day["run_off_l"],
                "drained": day["drained_l"],
                "ground": ground,
            }
        )
        .groupby(day["bed"], observed=True)
        .sum()
    )
    into = (by_bed["into"] / by_bed["ground"]).sort_values()
    said = f"Of {number(gauge_mm)} mm up to 17:00 on {month_day(pd.Timestamp(str(when)).date())}"
    if len(into) > 1:
        said += (
            f" {name_of[into.index[0]]} got {number(float(into.iloc[0]))}, "
            f"{name_of[into.index[-1]]} {number(float(into.iloc[-1]))}"
        )
    else:
        said += f" {name_of[into.index[0]]} got {number(float(into.iloc[0]))}"
    off = (by_bed["off"] / by_bed["ground"]).sort_values()
    if float(off.iloc[-1]) >= RAN_OFF_WORTH_TELLING_MM:
        said += f"; {number(float(off.iloc[-1]))} ran off {name_of[off.index[-1]]}"
    return f"{said}."


def _promises(account: Account) -> str:
    zone = ZoneInfo(account.pages.garden.timezone)
    at = local_moment(account.span.asked, time(0), zone)
    good = [
        one
        for one in record_at(account.pages, at).promises
        if one.promise.good
        and one.lead_days == GOOD_LEAD_DAYS
        and account.span.first <= one.issued_on <= account.span.until
        and one.outcome != "not yet known"
    ]
    waits = account.waits
    if not good and waits.empty:
        return ""
    kept = sum(one.outcome == "kept" for one in good)
    put_off = waits.drop_duplicates(["day", "bed_uid"])
    regretted = waits[waits["regretted"]].drop_duplicates(["day", "bed_uid"])
    said = f"{counted(len(good), 'morning')} surely promised useful rain by the next day; {kept} kept it."
    if len(put_off):
        said += f" {counted(len(put_off), 'soak')} put off for rain, {len(regretted)} regretted."
    else:
        said += " No soak was put off for rain."
    return said


def _feels(account: Account) -> str:
    feels = account.feels
    if feels.empty:
        return ""
    said = []
    for store, words in (("ball", "Balls"), ("bed", "Soil round them")):
        mine = feels.loc[feels["store"] == store, "came_out"].value_counts()
        if len(mine):
            counts = [int(mine.get(one, 0)) for one in (AS_RECKONED, DRIER, WETTER)]
            said.append(
                f"{words} as reckoned {counted(counts[0], 'time')}, drier {counts[1]}, wetter {counts[2]}."
            )
    off = most_off(account)
    if off is not None:
        name = {bed.uid: bed.name for bed in account.pages.beds}[off.bed_uid]
        what = "balls" if off.store == "ball" else "soil"
        said.append(
            f"Most off: {name}, {what} {'drier' if off.mean_sd < 0 else 'wetter'} than reckoned."
        )
    return " ".join(said)


def _held(account: Account) -> str:
    """Beds that were watered on a morning too wet for water, or soon after it."""
    beds = account.beds[account.beds["held_visits"] > 0]
    if beds.empty:
        return ""
    each = [
        f"{bed['name']} {bed['held_visits']} of its {bed['visits']}"
        for bed in beds.sort_values("held_visits", ascending=False).to_dict("records")
    ]
    return (
        f"Watered on a morning too wet for water, or within 3 days of one: {names(each)} waterings."
    )


def _doubt(account: Account) -> str:
    tests = [
        flow.tested_on
        for tap in account.pages.taps
        for flow in tap.flows
        if flow.tested_on <= account.span.until
    ]
    said = []
    if tests:
        last = max(tests)
        year = "" if last >= account.span.first else f" {last.year}"
        said.append(f"Given water is as good as the hose test (last {month_day(last)}{year}).")
    way = account.way()
    for name, words in (("drunk_l", "Drunk"), ("drained_l", "drained past the roots")):
        if name in way.likely:
            low, high = way.likely[name]
            said.append(f"{words} {cubic_metres(low)} to {cubic_metres(high)}")
    reckoned = said[1:] if tests else said
    found = said[:1] if tests else []
    if reckoned:
        found.append(f"{', '.join(reckoned)} in eight of ten sums.")
    guessed = account.days.loc[account.days["guessed"] != "", "day"].nunique()
    if guessed:
        found.append(f"{counted(guessed, 'day')} of the weather had a gap and was supposed.")
    return " ".join(found)
