"""Why a bed is called or left: the sums side by side for each planting, then the same in words.

The sums are those the verdict was made from. A line with nothing in it is left out.
"""

import textwrap
from collections.abc import Callable
from typing import NamedTuple

from soakbook.cli import said
from soakbook.cli.paper import Page, Report
from soakbook.quantities.dates import WEEKDAYS, month_day
from soakbook.quantities.saying import litres, plural

LABEL_COLUMNS = 42
COLUMN = 12
INDENT = 2
FINE_BELOW_L = 2
BALL_LEADS_ABOVE = 0.5
"""With a greater share of the drinking asked of it, the verdict is about the ball."""
PLACES = {"-": 3}
"""Decimals of a symbol by its unit; two for litres and millimetres."""
NONE = "none"

Cell = Callable[[Report], str]


class Row(NamedTuple):
    """A line of the table: what it says, and how it is read off one planting; empty for nothing."""

    label: str
    cell: Cell


def _stands(part: str, key: str) -> Cell:
    """Litres that stand in a store."""

    def cell(planting: Report) -> str:
        sums = planting[part]
        return "" if sums is None else f"{sums[key]:.{_places(sums)}f} L"

    return cell


def _moved(part: str, key: str) -> Cell:
    """Litres that came; NONE where it was too little to show."""

    def cell(planting: Report) -> str:
        sums = planting[part]
        return "" if sums is None else _signed(sums[key], _places(sums))

    return cell


def _felt(part: str) -> Cell:
    """Litres that a feel moved; empty where it was too little to show."""
    moved = _moved(part, "felt_l")

    def cell(planting: Report) -> str:
        text = moved(planting)
        return "" if text == NONE else text

    return cell


def _rest(part: str, *came: str) -> Cell:
    """Litres that went: what is left when all the printed ones of the column are added up."""

    def cell(planting: Report) -> str:
        sums = planting[part]
        if sums is None:
            return ""
        places = _places(sums)
        before = sum(round(sums[key], places) for key in ("yesterday_l", *came))
        return _signed(round(sums["morning_l"], places) - before, places)

    return cell


def _signed(value: float, places: int) -> str:
    figure = f"{value:+.{places}f}"
    return f"{figure} L" if float(figure) else NONE


def _reached(key: str) -> Cell:
    """Litres of the soil that roots have reached, where the verdict is about that soil."""
    stands = _stands("bed", key)

    def cell(planting: Report) -> str:
        bed_leads = planting["roots"]["ball_share_fraction"] <= BALL_LEADS_ABOVE
        return stands(planting) if bed_leads or planting["ball"] is None else ""

    return cell


def _places(sums: Report) -> int:
    """Decimals that the size of the store deserves."""
    return 2 if sums["holds_at_most_l"] < FINE_BELOW_L else 1


def _share_due(planting: Report) -> str:
    return f"{round(10 * planting['share_due'])} of 10"


def _said(planting: Report) -> str:
    return litres(planting["dose"]["said_l"]) if planting["dose"]["said_l"] else ""


GROUPS = (
    (
        Row("The ball can hold for the plant", _stands("ball", "holds_at_most_l")),
        Row("It held yesterday morning", _stands("ball", "yesterday_l")),
        Row("Given since, as far as the ball took it", _moved("ball", "given_l")),
        Row("Rain on the ball", _moved("ball", "rain_l")),
        Row("Drunk or dried away", _rest("ball", "given_l", "rain_l", "from_bed_l", "felt_l")),
        Row("From (+) or to (-) the soil round it", _moved("ball", "from_bed_l")),
        Row("Set right by this morning's feel", _felt("ball")),
        Row("It holds this morning", _stands("ball", "morning_l")),
        Row("Tonight, if left", _stands("ball", "tonight_l")),
        Row("We water before it falls below", _stands("ball", "water_below_l")),
    ),
    (
        Row("The soil round it can hold", _stands("bed", "holds_at_most_l")),
        Row("It held yesterday morning", _stands("bed", "yesterday_l")),
        Row("Come in since", _moved("bed", "gained_l")),
        Row("Drunk, dried or drained away", _rest("bed", "gained_l", "felt_l")),
        Row("Set right by this morning's feel", _felt("bed")),
        Row("It holds this morning", _stands("bed", "morning_l")),
        Row("Tonight, if left", _stands("bed", "tonight_l")),
        Row("Of it the roots have reached", _reached("reach_holds_at_most_l")),
        Row("It holds this morning", _reached("reach_morning_l")),
        Row("We water before it falls below", _reached("reach_water_below_l")),
    ),
    (
        Row("So: wanted today, in so many sums", _share_due),
        Row("For each", _said),
    ),
)


def write_why(page: Page, report: Report, *, symbols: bool) -> None:
    """Write the sums of one bed's morning; with `symbols` in FAO-56 terms."""
    page.text(_head(report), hang=INDENT, bold=True)
    if symbols:
        for planting in report["plantings"]:
            _symbols(page, planting)
    else:
        for block in _blocks(report["plantings"], (page.width - LABEL_COLUMNS - INDENT) // COLUMN):
            _sums(page, block)
    for paragraph in report["say"]:
        page.line()
        page.text(paragraph, indent=INDENT)
    if report["credits"]:
        page.line()
    for line in report["credits"]:
        page.text(line, hang=INDENT)


def _head(report: Report) -> str:
    morning = said.day_of(report["morning"])
    dose = f", {litres(report['litres'])}" if report["litres"] else ""
    day = f"{WEEKDAYS[morning.weekday()]} {month_day(morning)}"
    return f"{report['name'].upper()}, {day}: {said.VERDICTS[report['verdict']]}{dose}"


def _blocks(plantings: list[Report], size: int) -> list[list[Report]]:
    """As many plantings side by side as the paper takes, shared out evenly."""
    count = -(-len(plantings) // size)
    each = -(-len(plantings) // count) if count else 0
    return [plantings[start : start + each] for start in range(0, len(plantings), each or 1)]


def _sums(page: Page, plantings: list[Report]) -> None:
    page.line()
    for label, line in _column_heads(plantings):
        page.line(f"{'':{INDENT}}{label:<{LABEL_COLUMNS}}{line}")
    apart = False
    for group in GROUPS:
        table = [(row, [row.cell(planting) for planting in plantings]) for row in group]
        written = [(row, cells) for row, cells in table if set(cells) - {"", NONE}]
        if apart and written:
            page.line()
        apart = apart or bool(written)
        for row, cells in written:
            figures = "".join(f"{cell:>{COLUMN}}" for cell in cells)
            page.line(f"{'':{INDENT}}{row.label:<{LABEL_COLUMNS}}{figures}")


def _column_heads(plantings: list[Report]) -> list[tuple[str, str]]:
    """The plantings' names over their columns, wrapped, standing on the bottom line."""
    names = [
        textwrap.wrap(planting["planting"], COLUMN - 1, break_on_hyphens=False)
        for planting in plantings
    ]
    height = max(map(len, names))
    padded = [[""] * (height - len(name)) + name for name in names]
    lines = ["".join(f"{part:>{COLUMN}}" for part in line) for line in zip(*padded, strict=True)]
    return [*(("", line) for line in lines[:-1]), ("One plant of:", lines[-1])]


def _symbols(page: Page, planting: Report) -> None:
    page.line()
    page.line(f"{planting['count']:,} {plural(planting['planting'], planting['count'])}", bold=True)
    for one in planting["symbols"]:
        figure = f"{one['value']:.{PLACES.get(one['unit'], 2)}f}"
        unit = "" if one["unit"] == "-" else one["unit"]
        value = f"{figure if float(figure) else '0'} {unit}".strip()
        front = f"{one['symbol']:<15} {value:>17}  "
        page.text(f"{front}{one['name']}, {one['equation']}", indent=INDENT, hang=len(front))
