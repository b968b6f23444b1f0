"""Pictures as documents show them, each with the table behind it in words."""

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from soakbook.account.contents.blocks import Column, Row, Shown, Table
from soakbook.account.pictures.picture import Picture
from soakbook.quantities.dates import month_day

if TYPE_CHECKING:
    import pandas as pd

DIGITS = 4
HEADS: Mapping[str, str] = {
    "day": "day", "week": "week of", "bed": "bed", "watered": "watered", "left": "left",
    "et0_mm": "air asked, mm", "rain_mm": "rain, mm", "given_l": "given, L", "given_mm": "given, mm",
    "et0_sum_mm": "air asked so far, mm", "rain_sum_mm": "rain so far, mm",
    "rain_and_given_sum_mm": "rain and given so far, mm",
    "rain_gauge_mm": "rain, mm", "into_soil_mm": "into the soil, mm", "soak_l": "soaks, L",
    "soak_l_per_m2": "soaks, L/m²", "ball_p50": "water in the ball, of 1", "ball_state": "ball",
    "bed_p50": "water in the bed, of 1", "bed_state": "bed", "ball_felt": "ball felt", "bed_felt": "bed felt",
    "gone": "plants gone",
}  # fmt: skip
"""Columns of the pictures' frames in words; a column without any keeps its own name."""

DECIMALS: Mapping[str, int] = {"ball_p50": 2, "bed_p50": 2, "soak_l_per_m2": 2, "given_mm": 2}
SHOWN_DECIMALS = 1


def shown(
    picture: Picture,
    names: Mapping[str, str] | None = None,
    *,
    of_hundred: int = 100,
    printed: bool = False,
) -> Shown:
    """A picture with the table behind it.

    Parameters
    ----------
    picture : Picture
        As it was drawn.
    names : mapping of str to str, optional
        Names of beds by their keys, where the table has a column of beds.
    of_hundred : int
        Width on paper, in hundredths of a line's.
    printed : bool
        Whether its numbers are printed with it already.
    """
    behind = None if printed else _table(picture, names or {})
    return Shown(picture.name, picture.title, picture.alt, behind, of_hundred)


def csv_of(frame: "pd.DataFrame") -> bytes:
    """A picture's frame as CSV, numbers to four figures behind the point."""
    text: str = frame.round(DIGITS).to_csv(index=False, lineterminator="\r\n")
    return text.encode("utf-8")


def _table(picture: Picture, names: Mapping[str, str]) -> Table:
    frame = picture.table
    texts = {str(name): [_cell(str(name), value, names) for value in frame[name]] for name in frame}
    columns = tuple(
        Column(HEADS.get(name, name), "n" if frame[name].dtype.kind in "if" else "short")
        for name in texts
    )
    rows = tuple(Row(cells) for cells in zip(*texts.values(), strict=True))
    return Table(f"The table behind: {picture.title}", columns, rows)


def _cell(name: str, value: Any, names: Mapping[str, str]) -> str:
    if hasattr(value, "strftime"):
        return month_day(value)
    if isinstance(value, float):
        if math.isnan(value):
            return ""
        text = f"{value:,.{DECIMALS.get(name, SHOWN_DECIMALS)}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    return names.get(value, value) if isinstance(value, str) else str(value)
