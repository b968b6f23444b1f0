"""A page for each bed: what it is, what stood in it, its soil in section, its numbers, its litres' way."""

from collections.abc import Iterator, Mapping
from typing import Any
from zoneinfo import ZoneInfo

from soakbook.account.beds import HELD_FOR_DAYS, Lost, losses_in
from soakbook.account.contents.behind import shown
from soakbook.account.contents.blocks import Block, Column, Pairs, Row, Section, Table, Text
from soakbook.account.contents.figures import money, whole
from soakbook.account.contents.way_tables import way_tables
from soakbook.account.contents.what_if_page import bed_ways
from soakbook.account.in_sum import Report
from soakbook.account.pictures.picture import Picture
from soakbook.account.pictures.sheet import plain_name
from soakbook.account.reviewed import Account
from soakbook.account.suggestions import bed_page
from soakbook.garden.entries import Loss
from soakbook.garden.records import Bed, Planting, Uid
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import area, counted, litres, minutes, names, number, sentence
from soakbook.reckoning.simulation.watering import living_count

PLANTING_COLUMNS = (
    Column("planting", "name"), Column("in this bed from", "short"), Column("plants"), Column("at the end"),
    Column("lost", "words"),
)  # fmt: skip
STRIP_OF_HUNDRED = 86
"""So wide that most beds have one page."""

NOT_RECKONED = (
    "Nothing was reckoned in this bed in these days: no plants stood in it, or none with weather."
)
UNKNOWN_SOIL = "soil not known, reckoned as loam"


def bed_pages(account: Account, report: Report, strips: Mapping[str, list[Picture]]) -> Iterator[Section]:  # fmt: skip
    """A section for each bed of the account.

    Parameters
    ----------
    account : Account
    report : mapping
        The same, as `json_of` gives it.
    strips : mapping of str to list of Picture
        Each bed's soil in section, by its key.
    """
    beds = {one.uid: one for one in account.pages.beds}
    losses = losses_in(account.pages, account.span)
    for row in report["beds"]:
        bed = beds[row["bed_uid"]]
        blocks: list[Block] = [Text(_about(bed))]
        blocks += _plantings(account, bed.uid, [one for one in losses if one.bed_uid == bed.uid])
        blocks += [
            shown(picture, of_hundred=STRIP_OF_HUNDRED) for picture in strips.get(bed.key, [])
        ]
        blocks.append(Pairs(tuple(_numbers(row))))
        if row["dry_days"] is None:
            blocks.append(Text(NOT_RECKONED))
        else:
            blocks += way_tables(report["ways_of_beds"][bed.key], bed.name)
        blocks += bed_ways(report["what_if"] or (), bed.key, bed.name)
        yield Section(plain_name(bed_page(bed.key)), bed.name, tuple(blocks), new_page=True)


def _about(bed: Bed) -> str:
    soil = UNKNOWN_SOIL if bed.soil == "unknown" else bed.soil
    return f"{area(bed.area_m2)}, {bed.place}, {soil}."


def _plantings(account: Account, bed_uid: Uid, losses: list[Lost]) -> Iterator[Table]:
    """What stood in the bed, whatever part of the season."""
    pages, span = account.pages, account.span
    zone = ZoneInfo(pages.garden.timezone)
    gone = [one for one in pages.entries if isinstance(one, Loss)]
    rows = []
    for one in pages.plantings:
        if one.bed_uid != bed_uid or one.here_from > span.until:
            continue
        lost = [loss for loss in losses if loss.planting_uid == one.uid]
        of_it = [loss for loss in gone if loss.planting_uid == one.uid]
        first, last = (living_count(one, of_it, day, zone) for day in (span.first, span.asked))
        if one.here_from < span.first and first <= 0 and not lost:
            continue
        rows.append(Row((one.name, _since(one), whole(one.count), whole(last), _lost(lost))))
    if rows:
        yield Table("What stood here", PLANTING_COLUMNS, tuple(rows))


def _since(planting: Planting) -> str:
    day = planting.here_from
    return f"{month_day(day)} {day.year}"


def _lost(losses: list[Lost]) -> str:
    """`2 dry ball on 3 June, 1 eaten on 5 July`."""
    return (
        names([f"{one.count} {one.cause} on {month_day(one.day.date())}" for one in losses])
        or "none"
    )


def _numbers(row: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """What the bed was given, what that took, and how wet it stood, each with its name."""
    given = f"{counted(row['visits'], 'watering')}, {litres(row['litres'])}"
    if row["visits"]:
        each = f", {litres(row['litres_per_plant'])} a plant" if row["litres_per_plant"] else ""
        given += f": {litres(row['litres_per_m2'])} a square metre{each}"
    left = f" Looked at and left {row['left']} times." if row["left"] > 1 else ""
    left = " Looked at and left once." if row["left"] == 1 else left
    yield "Given", f"{given}.{left}"
    if row["visits"]:
        tap = "not known of all" if row["minutes"] is None else minutes(row["minutes"])
        yield (
            "Time",
            f"Tap open {tap}; on foot, with stops and the walk, about {number(row['hours'])} h.",
        )
    costs = [
        f"{what} {money(row[cost], row[currency])}"
        for what, cost, currency in (
            ("water", "water_cost", "currency"),
            ("work", "work_cost", "work_currency"),
        )
        if row[cost] is not None
    ]
    if costs:
        yield "Money", f"{sentence(names(costs))}"
    if row["dry_days"] is not None:
        low, middle, high = (
            whole(row[name]) for name in ("dry_days_p10", "dry_days", "dry_days_p90")
        )
        yield "Dry days", f"{middle}, in eight of ten sums {low} to {high}."
        yield "Too wet", _wet(row)
        yield (
            "Rain",
            (
                f"{number(row['rain_gauge_mm'])} mm in the open while something was reckoned here; "
                f"{number(row['rain_into_soil_mm'])} mm of it reached the plants' soil."
            ),
        )


def _wet(row: Mapping[str, Any]) -> str:
    if not row["held_days"]:
        return "No morning too wet for water."
    mornings = f"{counted(row['held_days'], 'morning')} too wet for water"
    if not row["held_visits"]:
        return f"{mornings}; no watering then, or within {HELD_FOR_DAYS} days after."
    given = counted(row["held_visits"], "watering")
    return f"{mornings}; {given} all the same, then or within {HELD_FOR_DAYS} days after."
