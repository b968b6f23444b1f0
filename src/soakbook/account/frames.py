"""The account's frames by name, with what each of their columns holds: the one list that exports and readers go by."""

from collections.abc import Mapping

import pandas as pd

from soakbook.account.beds import BED_COLUMNS
from soakbook.account.columns import SOURCES, VISITS
from soakbook.account.days import DAY_COLUMNS
from soakbook.account.feels import FEEL_COLUMNS
from soakbook.account.months import MONTH_COLUMNS
from soakbook.account.reviewed import Account
from soakbook.account.waits import WAIT_COLUMNS
from soakbook.account.ways import WHAT_IF_COLUMNS

WAYS = "ways"
"""The frame of the season as it might have been, which an account has only where that was asked for."""

FRAMES: Mapping[str, Mapping[str, str]] = {
    "days": DAY_COLUMNS,
    "visits": VISITS,
    "beds": BED_COLUMNS,
    "months": MONTH_COLUMNS,
    "sources": SOURCES,
    "feels": FEEL_COLUMNS,
    "waits": WAIT_COLUMNS,
}
"""Frame -> column -> meaning and unit."""


def frames_of(account: Account) -> dict[str, pd.DataFrame]:
    """Every frame by its name."""
    return {name: getattr(account, name) for name in FRAMES}


def columns_frame(*, with_ways: bool = False) -> pd.DataFrame:
    """One row per column of a frame: what it means; those of `ways`, too, where that is beside them."""
    told = {**FRAMES, WAYS: WHAT_IF_COLUMNS} if with_ways else FRAMES
    rows = [(frame, column, say) for frame, of in told.items() for column, say in of.items()]
    return pd.DataFrame(rows, columns=["frame", "column", "meaning"])
