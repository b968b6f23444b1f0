"""What the air asked against what fell and what was given, added up from the first day."""

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from soakbook.account.pictures import ink
from soakbook.account.pictures.foot import FOOT_PT, Along, draw_foot
from soakbook.account.pictures.picture import Picture
from soakbook.account.pictures.shapes import line
from soakbook.account.pictures.sheet import Sheet
from soakbook.errors import InputError

if TYPE_CHECKING:
    import pandas as pd
    from numpy.typing import NDArray

LEFT_PT, RIGHT_PT, TOP_PT, HEIGHT_PT = 46.0, ink.PAGE_PT - 142.0, 40.0, 230.0
SCALES_MM = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
"""Steps that the scale may have. [mm]"""
WORDS_PT = 30.0
"""Height that the words at a line's end take. [pt]"""
TITLE = "What the air asked, what fell, what was given"


class Ending(NamedTuple):
    """Words at the end of a line: where the line ends and where they stand [pt], what it is, and how much [mm]."""

    line_pt: float
    words_pt: float
    what: str
    mm: float


def thirst(weather: "pd.DataFrame", visits: "pd.DataFrame", area_m2: float) -> Picture:
    """The picture of three sums: reference ET, rain, and rain with what was given.

    Parameters
    ----------
    weather : DataFrame
        The account's weather, a row for each day.
    visits : DataFrame
        The account's visits, as far as they count.
    area_m2 : float
        Planted area over which what was given is spread [m2, above 0].

    Raises
    ------
    InputError
        No day with known weather, an area that is none, or no matplotlib.
    """
    table = thirst_table(weather, visits, area_m2)
    along = Along(table["day"].iloc[0].date(), table["day"].iloc[-1].date(), LEFT_PT, RIGHT_PT)
    sums = {
        what: np.concatenate([[0.0], table[f"{column}_sum_mm"].to_numpy(float)])
        for what, column in (("the air asked", "et0"), ("rain and given", "rain_and_given"), ("rain", "rain"))
    }  # fmt: skip
    most = max(float(one[-1]) for one in sums.values())
    step = next((one for one in SCALES_MM if most / one <= 5), SCALES_MM[-1])
    full = max(most, step)
    bottom = TOP_PT + HEIGHT_PT
    x = np.linspace(LEFT_PT, RIGHT_PT, along.days + 1)
    y = {what: bottom - HEIGHT_PT * one / full for what, one in sums.items()}
    sheet = Sheet(ink.PAGE_PT, bottom + FOOT_PT + 6)
    size = ink.HEADING_PT
    sheet.words((4, 16), TITLE, size, face="bold")
    _scale(sheet, step, full)
    # Hatched is what was asked and did not come by either way.
    sheet.stroke(gap_strokes(x, y["the air asked"], y["rain and given"]), ink.EARTH, ink.HAIR_PT)
    for what, pen_pt in (
        ("rain", ink.FINE_PT),
        ("rain and given", ink.PEN_PT),
        ("the air asked", 2.4),
    ):
        sheet.stroke([np.column_stack([x, y[what]])], ink.INK, pen_pt)
    for end in endings({what: (float(y[what][-1]), float(sums[what][-1])) for what in sums}):
        sheet.stroke([line((RIGHT_PT + 2, end.line_pt), (RIGHT_PT + 9, end.words_pt))], pen_pt=ink.HAIR_PT)  # fmt: skip
        sheet.words((RIGHT_PT + 12, end.words_pt), end.what)
        sheet.words((RIGHT_PT + 12, end.words_pt + 14), _mm(end.mm), face="bold")
    draw_foot(sheet, along, bottom)
    alt = _alt(table)
    return Picture("thirst", TITLE, alt, sheet.svg("thirst", TITLE, alt), table)


def thirst_table(weather: "pd.DataFrame", visits: "pd.DataFrame", area_m2: float) -> "pd.DataFrame":
    """A row for each day: what the air asked, rain, what was given, and their sums since the first [mm].

    The days are those from the first to the last of which rain or reference ET is known; where one is not, it adds
    nothing to its sum and stands empty.
    """
    import pandas as pd

    if not area_m2 > 0:
        raise InputError("area_m2", area_m2, "above 0 m2")
    known = weather[weather["et0_mm"].notna() | weather["rain_mm"].notna()]
    if known.empty:
        raise InputError("weather", "none", "a day of which rain or ET0 is known")
    span = pd.date_range(known["day"].min(), known["day"].max(), name="day")
    table = weather.set_index("day")[["et0_mm", "rain_mm"]].reindex(span)
    given = visits[visits["what"] == "watered"].groupby("day")["litres"].sum()
    table["given_l"] = given.reindex(span, fill_value=0.0)
    table["given_mm"] = table["given_l"] / area_m2
    table["et0_sum_mm"] = table["et0_mm"].fillna(0.0).cumsum()
    table["rain_sum_mm"] = table["rain_mm"].fillna(0.0).cumsum()
    table["rain_and_given_sum_mm"] = table["rain_sum_mm"] + table["given_mm"].cumsum()
    return table.reset_index()


def gap_strokes(
    x: "NDArray[np.float64]", asked: "NDArray[np.float64]", came: "NDArray[np.float64]"
) -> "list[NDArray[np.float64]]":
    """Upright strokes between two lines of a page, y down, wherever less came than was asked."""
    at = np.arange(x[0], x[-1], 4.0)
    tops, feet = np.interp(at, x, asked), np.interp(at, x, came)
    return [
        line((one, top), (one, foot))
        for one, top, foot in zip(at, tops, feet, strict=True)
        if foot > top + 0.5
    ]


def endings(ends: dict[str, tuple[float, float]]) -> list[Ending]:
    """Words for the ends of lines, given as (y [pt], sum [mm]), from the top, none on another."""
    found: list[Ending] = []
    for what, (y, mm) in sorted(ends.items(), key=lambda one: one[1][0]):
        words = max(y, found[-1].words_pt + WORDS_PT) if found else y
        found.append(Ending(y, words, what, mm))
    over = found[-1].words_pt + 16 - (TOP_PT + HEIGHT_PT + FOOT_PT) if found else 0.0
    return [one._replace(words_pt=one.words_pt - max(over, 0.0)) for one in found]


def _scale(sheet: Sheet, step: float, full: float) -> None:
    """Sums in millimetres up the left side, each with a hair line."""
    bottom = TOP_PT + HEIGHT_PT
    for mm in np.arange(0, full + step / 1000, step):
        y = bottom - HEIGHT_PT * mm / full
        sheet.stroke([line((LEFT_PT, y), (RIGHT_PT, y))], ink.WASH, ink.HAIR_PT)
        sheet.words((LEFT_PT - 5, y + 4), f"{mm:g}", ink.SMALL_PT, align="right")
    sheet.words((4, TOP_PT - 6), "mm", ink.SMALL_PT, face="slanted")


def _alt(table: "pd.DataFrame") -> str:
    last = table.iloc[-1]
    unknown = int((table["et0_mm"].isna() | table["rain_mm"].isna()).sum())
    first, end = (f"{day.day} {day:%B %Y}" for day in (table["day"].iloc[0], last["day"]))
    gap = last["et0_sum_mm"] - last["rain_and_given_sum_mm"]
    gap_words = f"{_mm(abs(gap))} {'less' if gap >= 0 else 'more'} than the air asked"
    return (
        f"{TITLE}, added up from {first} to {end}: the air asked {_mm(last['et0_sum_mm'])}; rain "
        f"{_mm(last['rain_sum_mm'])}; with what was given, {_mm(table['given_mm'].sum())} over the planted "
        f"ground, {_mm(last['rain_and_given_sum_mm'])}, {gap_words}."
        + (f" On {unknown} of the days rain or what the air asked is not known." if unknown else "")
    )


def _mm(depth: float) -> str:
    return f"{depth:,.0f} mm" if abs(depth) >= 10 else f"{depth:.1f} mm"
