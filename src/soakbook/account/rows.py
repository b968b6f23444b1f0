"""Rows of a frame as plain values, for pages, documents and machines."""

from typing import Any

import numpy as np
import pandas as pd

DATED = ("day", "month", "until")


def rows_of(frame: pd.DataFrame) -> list[dict[str, Any]]:
    """A frame's rows as plain values: days as ISO text, what is not known as None."""
    plain: dict[str, list[Any]] = {}
    for name in map(str, frame.columns):
        column = frame[name]
        if name in DATED:
            plain[name] = column.dt.strftime("%Y-%m-%d").tolist()
        elif name == "at":
            plain[name] = [None if pd.isna(one) else one.isoformat() for one in column]
        else:
            plain[name] = [_plain(one) for one in column.tolist()]
    return [dict(zip(plain, values, strict=True)) for values in zip(*plain.values(), strict=True)]


def _plain(value: Any) -> Any:
    if isinstance(value, float):
        return known(value)
    if isinstance(value, tuple):
        return list(value)
    return value.item() if isinstance(value, np.generic) else value


def known(value: float) -> float | None:
    """A number, None where it is none."""
    return None if np.isnan(value) else float(value)
