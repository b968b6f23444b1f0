"""Litres' way as two tables with one sum: what came, what went."""

from collections.abc import Mapping
from typing import Any

from soakbook.account.contents.blocks import Column, Row, Table
from soakbook.account.contents.figures import share, whole

WORTH_A_ROW_L = 0.05
"""Less is nothing but the reckoning's last digits."""

CAME_COLUMNS = (Column("what came", "name"), Column("litres"), Column("of every 100"))
WENT_COLUMNS = (
    Column("what went", "name"), Column("litres"), Column("of every 100"), Column("eight of ten sums, L"),
)  # fmt: skip


def way_tables(way: Mapping[str, Any], whose: str = "") -> tuple[Table, Table]:
    """Both tables; what was not worth a drop is left out.

    Parameters
    ----------
    way : mapping
        Of the garden or of a bed, as `json_of` gives it.
    whose : str
        Name of the bed; empty for the garden.
    """
    total = way["total_l"]
    of = f", {whose}" if whose else ""
    in_all = ("in all", whole(total), "100")
    came = tuple(
        Row((one["words"], whole(one["litres"]), share(one["litres"], total)))
        for one in way["came"]
        if one["litres"] > WORTH_A_ROW_L
    )
    went = tuple(
        Row(
            (
                one["words"],
                whole(one["litres"]),
                share(one["litres"], total),
                _between(one["likely"]),
            )
        )
        for one in way["went"]
        if one["litres"] > WORTH_A_ROW_L
    )
    return (
        Table(f"Litres that came to the plants' ground{of}", CAME_COLUMNS, came, in_all),
        Table(f"Litres that went from the plants' ground{of}", WENT_COLUMNS, went, (*in_all, "")),
    )


def _between(likely: Any) -> str:
    return "" if likely is None else f"{whole(likely[0])} to {whole(likely[1])}"
