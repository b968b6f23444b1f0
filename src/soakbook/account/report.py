"""The season's account as one record: what `account --json` gives, and what pages and documents are set from."""

from datetime import date
from typing import Any, NamedTuple

import pandas as pd

from soakbook.account.findings import findings_of
from soakbook.account.litres_way import CAME, WENT, LitresWay
from soakbook.account.prices import money_by_currency
from soakbook.account.remarks import Remark, remarks_of
from soakbook.account.reviewed import Account
from soakbook.account.rows import known, rows_of
from soakbook.account.spells import DryTime, driest
from soakbook.account.standing import plants_of
from soakbook.account.suggestions import Suggestion, second_year, suggestions_of
from soakbook.account.ways import Way as Other
from soakbook.garden.tables.credits import credits_of
from soakbook.reckoning.advice.report import as_json

ACCOUNT_SCHEMA = "soakbook.account/1"


class Sky(NamedTuple):
    """Rain and ET0 of the half-year in which things grow, as far as it has come."""

    first: date
    last: date
    rain_mm: float
    et0_mm: float
    rain_unknown_days: int
    et0_unknown_days: int
    driest: DryTime | None


class Money(NamedTuple):
    """What water and work came to in one currency."""

    currency: str
    water: float
    work: float


class Totals(NamedTuple):
    """The garden's sums."""

    litres: float
    by_source_l: dict[str, float]
    mornings: int
    visits: int
    left: int
    minutes: float | None
    hours: float
    area_m2: float
    litres_per_m2: float | None
    plants: int
    """That stood, each once: of two beds that one stood in, both count it."""
    litres_per_plant: float | None
    dry_days: float | None
    lost: int


class Flow(NamedTuple):
    """One arm of litres' way."""

    name: str
    words: str
    litres: float
    likely: tuple[float, float] | None


class Way(NamedTuple):
    """Litres' way, both sides with one sum."""

    came: tuple[Flow, ...]
    went: tuple[Flow, ...]
    total_l: float


class Report(NamedTuple):
    """The account; tables as lists of rows, with the columns of the frames."""

    schema: str
    garden: str
    season: str
    year: int
    first: date
    until: date
    closed: bool
    sky: Sky
    totals: Totals
    beds: list[dict[str, Any]]
    money: tuple[Money, ...]
    way: Way
    ways_of_beds: dict[str, Way]
    remarks: tuple[Remark, ...]
    what_if: tuple[Other, ...] | None
    """None where it was not asked for."""
    suggestions: tuple[Suggestion, ...]
    second_year: str | None
    months: list[dict[str, Any]]
    sources: list[dict[str, Any]]
    visits: list[dict[str, Any]]
    feels: list[dict[str, Any]]
    waits: list[dict[str, Any]]
    findings: tuple[str, ...]
    credits: tuple[str, ...]


def report_of(account: Account, ways: tuple[Other, ...] | None = None) -> Report:
    """The account of a season as a record.

    Parameters
    ----------
    account : Account
    ways : tuple of Way, optional
        The season as it might have been, as `what_if` gives it: without them some suggestions cannot be made.
    """
    span = account.span
    return Report(
        schema=ACCOUNT_SCHEMA,
        garden=account.pages.garden.name,
        season=span.name,
        year=span.year,
        first=account.begins,
        until=span.until,
        closed=span.closed,
        sky=sky_of(account),
        totals=totals_of(account),
        beds=rows_of(account.beds),
        money=tuple(
            Money(currency, water, work)
            for currency, (water, work) in money_by_currency(account.visits).items()
        ),
        way=_way(account.way()),
        ways_of_beds={
            key: _way(account.way(uid))
            for key, uid in zip(account.beds["bed"], account.beds["bed_uid"], strict=True)
        },
        remarks=remarks_of(account),
        what_if=ways,
        suggestions=suggestions_of(account, ways or ()),
        second_year=second_year(account) if span.closed else None,
        months=rows_of(account.months),
        sources=rows_of(account.sources),
        visits=rows_of(account.visits),
        feels=rows_of(account.feels),
        waits=rows_of(account.waits),
        findings=findings_of(account),
        credits=credits_of(
            {source for day in account.pages.weather for source, _, _ in day.sources.values()}
        ),
    )


def json_of(report: Report) -> dict[str, Any]:
    """The same in plain dicts, lists, numbers and texts."""
    found: dict[str, Any] = as_json(report)
    return found


def sky_of(account: Account) -> Sky:
    """Rain against what the air asked for: April to September, in the south October to March, as far as it has come."""
    span = account.span
    north = account.pages.garden.latitude_deg >= 0
    begins, ends = (4, 9) if north else (10, 3)
    first = date(span.year, begins, 1)
    last = date(span.year if north else span.year + 1, ends, 30 if north else 31)
    weather = account.weather
    inside = (weather["day"] >= pd.Timestamp(first)) & (weather["day"] <= pd.Timestamp(last))
    half = weather[inside] if inside.any() else weather
    return Sky(
        first=half["day"].min().date(),
        last=half["day"].max().date(),
        rain_mm=float(half["rain_mm"].sum()),
        et0_mm=float(half["et0_mm"].sum()),
        rain_unknown_days=int(half["rain_mm"].isna().sum()),
        et0_unknown_days=int(half["et0_mm"].isna().sum()),
        driest=driest(weather),
    )


def totals_of(account: Account) -> Totals:
    """The sums under the beds."""
    beds, watered = account.beds, account.visits[account.visits["what"] == "watered"]
    litres = float(beds["litres"].sum())
    area_m2, plants = float(beds["area_m2"].sum()), plants_of(account.pages, account.span)
    dry = beds["dry_days"].dropna()
    return Totals(
        litres=litres,
        by_source_l={
            str(key): float(value)
            for key, value in watered.groupby("source")["litres"].sum().items()
        },
        mornings=int(watered["day"].nunique()),
        visits=len(watered),
        left=int(beds["left"].sum()),
        minutes=known(watered["minutes"].sum(min_count=max(1, len(watered)))),
        hours=float(beds["hours"].sum()),
        area_m2=area_m2,
        litres_per_m2=litres / area_m2 if area_m2 else None,
        plants=plants,
        litres_per_plant=litres / plants if plants else None,
        dry_days=float(dry.sum()) if len(dry) else None,
        lost=int(beds["lost"].sum()),
    )


def _way(way: LitresWay) -> Way:
    def flows(side: Any, words: Any) -> tuple[Flow, ...]:
        return tuple(Flow(name, words[name], side[name], way.likely.get(name)) for name in words)

    return Way(flows(way.came, CAME), flows(way.went, WENT), way.total_l)
