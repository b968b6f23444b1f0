"""What the ways come to in which a season might have gone: records, and the frame of them."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import pandas as pd


class Doubt(NamedTuple):
    """A number as it is thought to be, and between which it likely lies.

    As given: the middle member, and where eight of ten lie. By the round: the garden as it is thought to be, and the
    least and the most of it and those drawn beside it.
    """

    middle: float
    low: float
    high: float


class Given(NamedTuple):
    """What the soaks of a way come to; the change is against the season as it was, member by member."""

    litres: float
    visits: int
    """Beds watered, each once a day."""
    dry_days: Doubt
    dry_days_change: Doubt


class ByRound(NamedTuple):
    """What following the round comes to; changes are against the round in the season as it was, garden by garden."""

    litres: Doubt
    visits: Doubt
    """Beds watered, each once a day."""
    dry_days: Doubt
    litres_change: Doubt
    visits_change: Doubt
    dry_days_change: Doubt


class Way(NamedTuple):
    """One way the season might have gone; `bed` is its key, empty for the whole garden."""

    key: str
    words: str
    bed: str = ""
    given: Given | None = None
    by_round: ByRound | None = None
    """None for a calendar, too."""
    refused: str = ""
    """Why it cannot be reckoned, where it cannot."""


WHAT_IF_COLUMNS: Mapping[str, str] = {
    "way": "its sign: as_it_was, no_mulch, more_mulch, month_earlier, autumn, twice_half, or a calendar's",
    "words": "the same in words",
    "bed": "key of the bed; empty for the whole garden",
    "given_litres": "given by hand, at the nozzle, as entered or by the calendar [L]",
    "given_visits": "beds watered, each once a day",
    "given_dry_days": "days on which beds stood dry, added up over beds: half of the sums have more",
    "given_dry_days_low": "a tenth of the sums have fewer",
    "given_dry_days_high": "a tenth of the sums have more",
    "given_dry_days_change": "against the season as it was, sum by sum: half have more",
    "given_dry_days_change_low": "a tenth have less",
    "given_dry_days_change_high": "a tenth have more",
    "round_litres": "asked for by the round and given [L]",
    "round_litres_low": "the least of the garden and eight drawn beside it [L]",
    "round_litres_high": "the most [L]",
    "round_visits": "beds watered, each once a day",
    "round_visits_low": "the least of them",
    "round_visits_high": "the most",
    "round_dry_days": "days on which beds stood dry, added up over beds, the middle sum",
    "round_dry_days_low": "the least of them",
    "round_dry_days_high": "the most",
    "round_litres_change": "against the round in the season as it was [L]",
    "round_litres_change_low": "the least of the gardens [L]",
    "round_litres_change_high": "the most [L]",
    "round_visits_change": "the same for visits",
    "round_visits_change_low": "the least of the gardens",
    "round_visits_change_high": "the most",
    "round_dry_days_change": "the same for dry days",
    "round_dry_days_change_low": "the least of the gardens",
    "round_dry_days_change_high": "the most",
    "refused": "why the way cannot be reckoned; empty where it can",
}
"""Columns of the frame. NaN where a way is not reckoned so."""


def what_if_frame(ways: Sequence[Way]) -> "pd.DataFrame":
    """One row per way, columns as documented in `WHAT_IF_COLUMNS`."""
    import pandas as pd

    rows = [
        {
            "way": one.key,
            "words": one.words,
            "bed": one.bed,
            **_columns("given", one.given),
            **_columns("round", one.by_round),
            "refused": one.refused,
        }
        for one in ways
    ]
    return pd.DataFrame(rows, columns=list(WHAT_IF_COLUMNS))


def _columns(manner: str, found: Given | ByRound | None) -> dict[str, float]:
    columns: dict[str, float] = {}
    for name, value in (found._asdict() if found is not None else {}).items():
        if isinstance(value, Doubt):
            columns |= {
                f"{manner}_{name}": value.middle,
                f"{manner}_{name}_low": value.low,
                f"{manner}_{name}_high": value.high,
            }
        else:
            columns[f"{manner}_{name}"] = value
    return columns
