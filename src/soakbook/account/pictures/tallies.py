"""Weeks as tally strokes: a row for each bed, a stroke for each visit that watered it, a ring for each that left it."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import TYPE_CHECKING, NamedTuple

from soakbook.account.pictures import ink
from soakbook.account.pictures.foot import MONTHS
from soakbook.account.pictures.picture import Picture
from soakbook.account.pictures.shapes import line, ring
from soakbook.account.pictures.sheet import Sheet
from soakbook.account.pictures.strokes import GROUP_ROW_PT, rows_of_groups, tally
from soakbook.errors import InputError

if TYPE_CHECKING:
    import pandas as pd

NAMES_PT, RIGHT_PT = 142.0, ink.PAGE_PT - 6.0
NAME_LETTERS_PT = 10.5
WEEKS_A_BLOCK = 15
"""Of more weeks the rest begins again below: 15 leave room for two groups of five beside each other."""
ROWS_A_PAGE = 28
"""Rows of beds, all blocks together, that an A4 page has room for."""
TOP_PT, MONTHS_PT, RING_PT, BLOCK_GAP_PT = 28.0, 22.0, 2.6, 12.0
TITLE = "Visits by the week"


class Block(NamedTuple):
    """Some weeks in a row, each named by its Monday."""

    weeks: list[date]

    @property
    def week_pt(self) -> float:
        """Width of a week [pt]."""
        return (RIGHT_PT - NAMES_PT) / max(len(self.weeks), 10)


def tallies_of(visits: "pd.DataFrame", beds: Mapping[str, str]) -> list[Picture]:
    """The picture of every bed's weeks; of many beds several, each for as many as a page has room for, on one calendar.

    Parameters
    ----------
    visits : DataFrame
        The account's visits.
    beds : mapping of str to str
        Names of the beds by their keys, in the order of the rows.

    Raises
    ------
    InputError
        A visit to a bed that is not among the beds, or no matplotlib.
    """
    weeks = sorted(set(tally_table(visits, beds, None, None)["week"].dt.date))
    if not weeks:
        return [tallies(visits, beds)]
    at_once = max(ROWS_A_PAGE // len(blocks_of(weeks)), 1)
    keys = list(beds)
    return [
        tallies(
            visits[visits["bed"].isin(keys[begin : begin + at_once])],
            {key: beds[key] for key in keys[begin : begin + at_once]},
            weeks[0],
            weeks[-1] + timedelta(days=6),
            part=number,
        )
        for number, begin in enumerate(range(0, len(keys), at_once), 1)
    ]


def tallies(
    visits: "pd.DataFrame",
    beds: Mapping[str, str],
    first: date | None = None,
    last: date | None = None,
    part: int = 1,
) -> Picture:
    """The picture of every bed's weeks.

    Parameters
    ----------
    visits : DataFrame
        The account's visits.
    beds : mapping of str to str
        Names of the beds by their keys, in the order of the rows; beds without a visit have an empty row.
    first, last : date, optional
        Of the weeks that are drawn; unsaid, those of the first and the last visit.
    part : int
        Which of several pictures, from 1: those after the first have it in their names.

    Raises
    ------
    InputError
        A visit to a bed that is not among the beds, or no matplotlib.
    """
    table = tally_table(visits, beds, first, last)
    counts = {
        (str(bed), week): (int(watered), int(left))
        for bed, week, watered, left in zip(
            table["bed"], table["week"].dt.date, table["watered"], table["left"], strict=True
        )
    }
    weeks = sorted({week for _, week in counts})
    blocks = blocks_of(weeks)
    heights = [_heights(block, beds, counts) for block in blocks]
    tall = sum(sum(one.values()) + MONTHS_PT + BLOCK_GAP_PT for one in heights)
    sheet = Sheet(ink.PAGE_PT, TOP_PT + max(tall, 20.0) + 20)
    sheet.words((4, 16), TITLE, ink.HEADING_PT, face="bold")
    top = TOP_PT
    for block, rows in zip(blocks, heights, strict=True):
        top = _draw_block(sheet, block, rows, top, (beds, counts))
    if weeks:
        _key(sheet, top + 6)
    else:
        sheet.words((4, TOP_PT + 16), "No visit in this time.")
    alt = _alt(table, beds, weeks)
    name = f"tallies-{part}" if part > 1 else "tallies"
    return Picture(name, TITLE, alt, sheet.svg(name, TITLE, alt), table)


def tally_table(
    visits: "pd.DataFrame", beds: Mapping[str, str], first: date | None, last: date | None
) -> "pd.DataFrame":
    """A row for every bed and week, named by its Monday, with on how many visits the bed was watered, and left.

    A visit is one a day and person, however many soaks were entered.
    """
    import pandas as pd

    unknown = sorted(set(visits["bed"]) - set(beds))
    if unknown:
        raise InputError("bed", unknown[0], "a bed of this account")
    day = visits["day"].dt.normalize()
    within = visits["what"].isin(["watered", "left"])
    if first is not None:
        within &= day >= pd.Timestamp(first)
    if last is not None:
        within &= day <= pd.Timestamp(last)
    seen, day = visits[within], day[within]
    begin = pd.Timestamp(first) if first is not None else day.min()
    end = pd.Timestamp(last) if last is not None else day.max()
    weeks = pd.DatetimeIndex([])
    if begin is not pd.NaT and end is not pd.NaT:
        weeks = pd.date_range(_monday(begin), _monday(end), freq="7D")
    index = pd.MultiIndex.from_product([list(beds), weeks], names=["bed", "week"])
    monday = day - pd.to_timedelta(day.dt.weekday, unit="D")
    watered = (seen["what"] == "watered").astype(int)
    left = (seen["what"] == "left").astype(int)
    counted = (
        pd.DataFrame({"watered": watered, "left": left})
        .groupby([seen["bed"].astype(str), monday])
        .sum()
    )
    return counted.reindex(index, fill_value=0).astype(int).reset_index()


def blocks_of(weeks: list[date]) -> list[Block]:
    """Weeks in blocks as even as can be, none of more than `WEEKS_A_BLOCK`."""
    count = -(-len(weeks) // WEEKS_A_BLOCK)
    size = -(-len(weeks) // count) if count else 1
    return [Block(weeks[begin : begin + size]) for begin in range(0, len(weeks), size)]


def month_heads(block: Block) -> list[tuple[int, str]]:
    """Which weeks begin a month, and what is written over them; the first and January have their year.

    A week belongs to the month in which most of its days lie. A first month with fewer than two weeks here goes
    without words: the next would stand on them, and has the year instead.
    """
    thursdays = [week + timedelta(days=3) for week in block.weeks]
    begins = [
        number
        for number, day in enumerate(thursdays)
        if number == 0 or day.month != thursdays[number - 1].month
    ]
    if len(begins) > 1 and begins[1] < 2:
        begins = begins[1:]
    return [
        (number, _month_words(thursdays[number], with_year=number == begins[0]))
        for number in begins
    ]


def _month_words(day: date, *, with_year: bool) -> str:
    year = f" {day.year}" if with_year or day.month == 1 else ""
    return f"{MONTHS[day.month - 1]}{year}"


Counts = dict[tuple[str, date], tuple[int, int]]


def _heights(block: Block, beds: Mapping[str, str], counts: Counts) -> dict[str, float]:
    """Height of each bed's row: its fullest week's strokes, and the rings below them where there are any."""
    found = {}
    for bed in beds:
        here = [counts[bed, week] for week in block.weeks]
        rows = max(rows_of_groups(watered, block.week_pt - 3) for watered, _ in here)
        rings = any(left for _, left in here)
        found[bed] = max(rows, 1) * GROUP_ROW_PT + (7.0 if rings else 0.0) + 4.0
    return found


def _draw_block(
    sheet: Sheet, block: Block, rows: dict[str, float], top: float, given: tuple[Mapping[str, str], Counts]
) -> float:  # fmt: skip
    """Draw some weeks for all beds; where the next may begin."""
    beds, counts = given
    for number, words in month_heads(block):
        x = NAMES_PT + number * block.week_pt
        at = (min(x, RIGHT_PT - ink.room_pt(words, ink.SMALL_PT)), top + 12)
        sheet.words(at, words, ink.SMALL_PT)
        sheet.stroke([line((x, top + 15), (x, top + MONTHS_PT))], pen_pt=ink.HAIR_PT)
    top += MONTHS_PT
    strokes, rings = [], []
    for bed, height in rows.items():
        name = ink.shortened(beds[bed], NAMES_PT - 6, NAME_LETTERS_PT)
        sheet.words((4, top + 13), name, NAME_LETTERS_PT)
        for number, week in enumerate(block.weeks):
            watered, left = counts[bed, week]
            x = NAMES_PT + number * block.week_pt + 2
            strokes += tally(watered, x, top + 3, block.week_pt - 3)
            step = min(2 * RING_PT + 1.6, (block.week_pt - 2) / max(left, 1))
            y = top + height - RING_PT - 2.5
            rings += [ring((x + RING_PT + step * one, y), RING_PT) for one in range(left)]
        top += height
        sheet.stroke([line((4, top), (RIGHT_PT, top))], ink.WASH, ink.FINE_PT)
    sheet.stroke(strokes, ink.INK, ink.PEN_PT)
    sheet.stroke(rings, ink.EARTH, 0.8)
    return top + BLOCK_GAP_PT


def _key(sheet: Sheet, top: float) -> None:
    sheet.stroke(tally(1, NAMES_PT + 2, top - 2, 20), ink.INK, ink.PEN_PT)
    sheet.words((NAMES_PT + 9, top + 7), "watered", ink.SMALL_PT)
    sheet.stroke([ring((NAMES_PT + 72, top + 4), RING_PT)], ink.EARTH, 0.8)
    sheet.words((NAMES_PT + 79, top + 7), "looked at and left", ink.SMALL_PT)


def _monday(day: "pd.Timestamp") -> "pd.Timestamp":
    import pandas as pd

    return day.normalize() - pd.Timedelta(days=day.weekday())


def _alt(table: "pd.DataFrame", beds: Mapping[str, str], weeks: list[date]) -> str:
    if not weeks:
        return f"{TITLE}: no visit in this time."
    watered, left = (table.groupby("bed")[what].sum().to_dict() for what in ("watered", "left"))
    each = "; ".join(f"{name} {watered[bed]} and {left[bed]}" for bed, name in beds.items())
    return (
        f"{TITLE}, {len(weeks)} from that of Monday {weeks[0].day} {weeks[0]:%B %Y}: tally strokes for "
        f"{sum(watered.values())} visits that watered a bed, rings for {sum(left.values())} that left it. "
        f"By bed, watered and left: {each}."
    )
