"""The pages of the whole garden: litres' way, what the air asked, weeks, months, sources of water, prices."""

from collections.abc import Iterator, Mapping
from datetime import date

from soakbook.account.contents.behind import shown
from soakbook.account.contents.blocks import Block, Column, Row, Section, Table, Text
from soakbook.account.contents.figures import NONE, cubic, money, tenth, whole
from soakbook.account.contents.way_tables import way_tables
from soakbook.account.in_sum import Report
from soakbook.account.pictures.picture import Picture
from soakbook.account.reviewed import Account
from soakbook.quantities.dates import MONTHS, month_day
from soakbook.quantities.saying import area, counted, number

STREAM_OF_HUNDRED, OTHERS_OF_HUNDRED = 78, 90
"""So wide that a page holds the stream with its tables, and the next the two others."""

SUMMED = (
    "rain_mm", "et0_mm", "visits", "litres", "minutes_on_foot", "drunk_l", "soil_evaporated_l", "mulch_evaporated_l",
    "drained_l", "run_off_l",
)  # fmt: skip

MONTH_COLUMNS = (
    Column("month", "name"), Column("rain, mm"), Column("air asked, mm"), Column("warmest, °C"),
    Column("coldest, °C"), Column("times"), Column("given, m³"), Column("hours"), Column("drunk, m³"),
    Column("dried off, m³"), Column("drained, m³"), Column("run off, m³"),
)  # fmt: skip
SOURCE_COLUMNS = (
    Column("month", "name"), Column("source", "short"), Column("times"), Column("litres"),
    Column("tap open, min"), Column("a m³"), Column("cost"),
)  # fmt: skip
PRICE_COLUMNS = (Column("from", "name"), Column("of", "words"), Column("price"))
PRICED = {"water": "a cubic metre of mains water", "hour": "an hour of work"}

WAY_SAYS = (
    "Rain and what was given mix in the soil: no litre that was drunk is the hand's or the rain's alone. Broad is much "
    "water; all that came in goes out again, or is still there at the end."
)
STEPS_SAY = (
    "Given, hours and weather go by calendar days; drunk, dried off, drained and run off by steps from 17:00 to 17:00, "
    "and are those of the plants' ground alone."
)
UNKNOWN_SAYS = "A star: not known of all days of the month."


def season_pages(account: Account, report: Report, pictures: Mapping[str, Picture]) -> Iterator[Section]:  # fmt: skip
    """The sections of the whole garden; what has nothing to show is left out.

    Parameters
    ----------
    account : Account
    report : mapping
        The same, as `json_of` gives it.
    pictures : mapping of str to Picture
        By their names.
    """
    names = {bed["bed"]: bed["name"] for bed in report["beds"]}
    if "stream" in pictures:
        tables = way_tables(report["way"])
        drawn: tuple[Block, ...] = (
            Text(WAY_SAYS),
            shown(pictures["stream"], of_hundred=STREAM_OF_HUNDRED, printed=True),
            *tables,
        )
        yield Section("litres-way", "Litres' way", drawn, new_page=True)
    if "thirst" in pictures:
        over = Text(
            f"What was given is spread over the {area(report['totals']['area_m2'])} of the beds above.",
            small=True,
        )
        blocks = (shown(pictures["thirst"], of_hundred=OTHERS_OF_HUNDRED), over)
        yield Section("air-asked", "What the air asked, what came", blocks, new_page=True)
    weeks = [one for name, one in pictures.items() if name.startswith("tallies")]
    if weeks:
        drawn_weeks = tuple(shown(one, names, of_hundred=OTHERS_OF_HUNDRED) for one in weeks)
        yield Section("weeks", "Week by week", drawn_weeks)
    if report["months"]:
        yield Section("months", "Month by month", tuple(_months(report)), new_page=True)
    if report["sources"] or account.pages.rates:
        yield Section(
            "water", "Where the water came from, and prices", tuple(_sources(account, report))
        )


def month_name(month: str) -> str:
    """`May 2031` of an ISO date."""
    day = date.fromisoformat(month)
    return f"{MONTHS[day.month - 1]} {day.year}"


def _months(report: Report) -> Iterator[Block]:
    months = report["months"]
    rows = tuple(
        Row(
            (
                month_name(one["month"]),
                _starred(one["rain_mm"], one["rain_unknown_days"]),
                _starred(one["et0_mm"], one["et0_unknown_days"]),
                tenth(one["highest_c"]), tenth(one["lowest_c"]), whole(one["visits"]), cubic(one["litres"]),
                whole(one["minutes_on_foot"] / 60), cubic(one["drunk_l"]),
                cubic(one["soil_evaporated_l"] + one["mulch_evaporated_l"]), cubic(one["drained_l"]),
                cubic(one["run_off_l"]),
            )
        )
        for one in months
    )  # fmt: skip
    sums = {name: sum(one[name] for one in months) for name in SUMMED}
    in_all = (
        "in all", tenth(sums["rain_mm"]), tenth(sums["et0_mm"]), "", "", whole(sums["visits"]),
        cubic(sums["litres"]), whole(sums["minutes_on_foot"] / 60), cubic(sums["drunk_l"]),
        cubic(sums["soil_evaporated_l"] + sums["mulch_evaporated_l"]), cubic(sums["drained_l"]),
        cubic(sums["run_off_l"]),
    )  # fmt: skip
    yield Table("Months", MONTH_COLUMNS, rows, in_all)
    gaps = any(one["rain_unknown_days"] or one["et0_unknown_days"] for one in months)
    yield Text(f"{STEPS_SAY} {UNKNOWN_SAYS}" if gaps else STEPS_SAY, small=True)


def _starred(value_mm: float, unknown_days: int) -> str:
    return f"{tenth(value_mm)}{'*' if unknown_days else ''}"


def _sources(account: Account, report: Report) -> Iterator[Block]:
    sources = report["sources"]
    if sources:
        rows = tuple(
            Row(
                (
                    month_name(one["month"]), one["source"], whole(one["visits"]), whole(one["litres"]),
                    whole(one["minutes"]), _price(one), _cost(one),
                )
            )
            for one in sources
        )  # fmt: skip
        in_all = (
            "in all", "", whole(sum(one["visits"] for one in sources)),
            whole(sum(one["litres"] for one in sources)), "", "", "",
        )  # fmt: skip
        yield Table("Water by month and source", SOURCE_COLUMNS, rows, in_all)
        guessed = sum(one["source_guessed"] for one in report["visits"])
        watered = sum(one["visits"] for one in sources)
        if guessed:
            on = "" if guessed == watered else f"on {guessed:,} of {counted(watered, 'visit')} "
            say = f"The source is that of the bed's tap; {on}it might have been another."
            yield Text(say, small=True)
    span, rates = account.span, account.pages.rates
    prices = tuple(
        Row((f"{month_day(one.from_day)} {one.from_day.year}", PRICED[one.what], money(one.price, one.currency)))
        for one in sorted(rates, key=lambda one: one.from_day)
        if one.from_day <= span.until
    )  # fmt: skip
    if prices:
        yield Table("Prices in the book", PRICE_COLUMNS, prices)
        for one in report["money"]:
            both = money(one["water"] + one["work"], one["currency"])
            yield Text(
                f"Water {money(one['water'], one['currency'])}, work {money(one['work'], one['currency'])}: together "
                f"{both}, each visit at the price of its day."
            )


def _price(source: Report) -> str:
    price = source["water_price_per_m3"]
    return NONE if price is None else f"{price:,.2f}"


def _cost(source: Report) -> str:
    if source["source"] != "mains":
        return NONE
    unpriced = source["unpriced_l"]
    cost = money(source["water_cost"], source["currency"])
    return f"{cost}, {number(unpriced)} L unpriced" if unpriced and source["water_cost"] else cost
