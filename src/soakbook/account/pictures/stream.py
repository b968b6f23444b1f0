"""Litres' way as one stream: what came in joins it, what went branches off, and each is as broad as its litres.

The course itself is reckoned in `channel`.
"""

from collections.abc import Mapping
from textwrap import wrap
from typing import TYPE_CHECKING

from soakbook.account.pictures import ink
from soakbook.account.pictures.channel import Branch, Course, Flow, Page, course
from soakbook.account.pictures.picture import Picture
from soakbook.account.pictures.shapes import box
from soakbook.account.pictures.sheet import Sheet
from soakbook.errors import LedgerError

if TYPE_CHECKING:
    import pandas as pd

AGREES_L = 1e-6
"""How far the two sides may lie apart. [L]"""
HEADING_PT = 30.0
LETTERS_A_LINE = 26
LINE_PT = 14.0
RILL_PT = 3.0
"""A branch narrower than this is a rill. [pt]"""
CUBIC_METRES_FROM_L = 10_000.0
"""In a stream of so much in all, litres are said as cubic metres. [L]"""


def stream(
    joining: Mapping[str, float], leaving: Mapping[str, float], name: str = "stream", title: str = "Litres' way"
) -> Picture:  # fmt: skip
    """The picture of what came in and where it went.

    Parameters
    ----------
    joining : mapping of str to float
        What came in, by name, in the order in which it is to join [L]; the first comes straight from the top.
    leaving : mapping of str to float
        What went, and last what is still held, which runs out at the foot [L].
    name : str
        Leads the identifiers in the SVG: plain letters, figures and dashes.
    title : str
        Stands over the picture.

    Raises
    ------
    LedgerError
        The two sides do not add up to the same.
    InputError
        No matplotlib.

    Notes
    -----
    A signed flow that is below nought is drawn on the other side; one of nought is left out.
    """
    comes, goes = two_sides(joining, leaving)
    total = sum(flow.litres for flow in comes)
    apart = total - sum(flow.litres for flow in goes)
    if not abs(apart) <= AGREES_L:
        raise LedgerError(title, 0, "the whole span", {**joining, **leaving, "apart": apart})
    alt = _alt(title, comes, goes, total)
    straight = (next(iter(joining), ""), next(reversed([*leaving]), ""))
    sheet = _drawn(title, comes, goes, straight)
    return Picture(name, title, alt, sheet.svg(name, title, alt), _table(comes, goes, total))


def two_sides(
    joining: Mapping[str, float], leaving: Mapping[str, float]
) -> tuple[list[Flow], list[Flow]]:
    """What joins and what leaves, each above nought: signed flows below it change sides, before what is held last."""
    comes = [Flow(name, litres) for name, litres in joining.items() if litres > 0]
    comes += [Flow(name, -litres) for name, litres in leaving.items() if litres < 0]
    goes = [Flow(name, litres) for name, litres in leaving.items() if litres > 0]
    crossed = [Flow(name, -litres) for name, litres in joining.items() if litres < 0]
    last = len(goes) - 1 if goes and goes[-1].name == [*leaving][-1] else len(goes)
    return comes, [*goes[:last], *crossed, *goes[last:]]


def litres_words(litres: float, total_l: float) -> str:
    """Litres as they stand at a branch of a stream of so many [L]: cubic metres in a big one, but for mere litres."""
    if total_l >= CUBIC_METRES_FROM_L and litres >= 100:
        return f"{litres / 1000:,.2f} m³"
    return f"{litres:,.0f} L" if litres >= 10 else f"{litres:.2g} L"


def _drawn(title: str, comes: list[Flow], goes: list[Flow], straight: tuple[str, str]) -> Sheet:
    total = sum(flow.litres for flow in comes)
    lines = max((len(_lines(flow.name)) for flow in (*comes, *goes)), default=1)
    page = Page(ink.PAGE_PT, (lines + 1) * LINE_PT + 18)
    if not total:
        sheet = Sheet(ink.PAGE_PT, HEADING_PT + 40)
        _heading(sheet, title)
        sheet.words((4, HEADING_PT + 20), "No water came in, none went.")
        return sheet
    first, last = straight
    way = course(comes, goes, page, from_top=comes[0].name == first, to_foot=goes[-1].name == last)
    sheet = Sheet(ink.PAGE_PT, way.height_pt + HEADING_PT)
    _heading(sheet, title)
    down = (0.0, HEADING_PT)
    branches = [*way.joining, *way.leaving]
    sheet.fill([one.outline + down for one in branches], ink.WASH)
    sheet.stroke(
        [thread + down for one in branches for thread in one.threads], ink.EARTH, ink.HAIR_PT
    )
    # A rill is inked all over once it has left: two banks would make it look broader than it is.
    is_rill = [one.width_pt < RILL_PT and one.side != "through" for one in branches]
    rills = [one for one, thin in zip(branches, is_rill, strict=True) if thin]
    broad = [one for one, thin in zip(branches, is_rill, strict=True) if not thin]
    sheet.fill([one.outline[1:-1] + down for one in rills], ink.INK)
    sheet.stroke([one.banks[1] + down for one in rills], ink.INK, ink.HAIR_PT / 2)
    banks = [one.banks[0][:2] for one in rills]
    banks += [bank for one in broad for bank in one.banks]
    sheet.stroke([bank + down for bank in banks], ink.INK, ink.PEN_PT)
    for one in branches:
        _branch_words(sheet, one, total, foot=one is way.leaving[-1])
    _waist_words(sheet, way, total)
    return sheet


def _heading(sheet: Sheet, title: str) -> None:
    size = ink.HEADING_PT
    sheet.words((4, 16), ink.shortened(title, ink.PAGE_PT - 8, size * 1.1), size, face="bold")


def _branch_words(sheet: Sheet, branch: Branch, total: float, *, foot: bool) -> None:
    """Name and litres over a branch; under what runs out at the foot."""
    lines = _lines(branch.flow.name)
    x, y = branch.words
    align = {"left": "left", "right": "right", "through": "middle"}[branch.side]
    below = foot and branch.side == "through"
    base = y + HEADING_PT + (22 if below else -12 - LINE_PT * len(lines))
    for number, words in enumerate(lines):
        sheet.words((x, base + LINE_PT * number), words, align=align)
    litres = litres_words(branch.flow.litres, total)
    sheet.words((x, base + LINE_PT * len(lines)), litres, align=align, face="bold")


def _waist_words(sheet: Sheet, way: Course, total: float) -> None:
    """All of it, written into the stream where it runs in one bed."""
    words = f"in all {litres_words(total, total)}"
    room = ink.room_pt(words, ink.LETTERS_PT)
    middle = way.waist_pt + HEADING_PT
    left = ink.PAGE_PT / 2 - room / 2
    sheet.fill([box(left, middle - 10, left + room, middle + 8)], ink.WASH)
    sheet.words((ink.PAGE_PT / 2, middle + 4), words, align="middle", face="bold")


def _lines(name: str) -> list[str]:
    lines = wrap(name, LETTERS_A_LINE) or [""]
    return lines if len(lines) <= 2 else [lines[0], ink.shortened(" ".join(lines[1:]), 190.0)]


def _table(comes: list[Flow], goes: list[Flow], total: float) -> "pd.DataFrame":
    import pandas as pd

    rows = [("in", *flow) for flow in comes] + [("out", *flow) for flow in goes]
    table = pd.DataFrame(rows, columns=["way", "flow", "litres"]).astype({"litres": float})
    table["share"] = table["litres"] / total if total else table["litres"]
    return table


def _alt(title: str, comes: list[Flow], goes: list[Flow], total: float) -> str:
    if not total:
        return f"{title}: no water came in, none went."

    def listed(flows: list[Flow]) -> str:
        return ", ".join(f"{flow.name} {litres_words(flow.litres, total)}" for flow in flows)

    return (
        f"{title} as one stream of {litres_words(total, total)}. "
        f"Into it came: {listed(comes)}. Out of it went: {listed(goes)}."
    )
