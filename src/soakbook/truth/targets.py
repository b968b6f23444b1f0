"""What a record's numbers are held to: the targets set for it, else those for any profile of known texture."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from soakbook.errors import InputError
from soakbook.truth.said import Said

EVERY_DAYS = (3, 7)
"""A feel is made every so many days; targets hold for the first."""


class Targets(NamedTuple):
    """Bounds of a record's numbers; None where nothing is asked."""

    ub: float | None = None  # RMSE without bias, nothing fitted, m3/m3
    r2: float | None = None
    look_rmse: float | None = None  # after one soaked look, m3/m3
    wetness_rmse: float | None = None  # squared up, a feel every third day
    coverage: float | None = None  # share of days inside the band of 90 %
    et_rmse_mm: float | None = None  # of a day
    et_bias_mm: float | None = None  # of a day, either way
    et_weekly_r2: float | None = None
    percolation_least: float | None = None  # reckoned over measured
    percolation_most: float | None = None


UNSEEN = Targets(ub=0.05, look_rmse=0.06, wetness_rmse=0.13, coverage=0.7)
"""Any profile of known texture that nobody here has seen."""


class Judged(NamedTuple):
    """One target and what came of it."""

    what: str
    value: float | None
    asked: str
    met: bool | None
    """None where the record does not give the number."""
    note: str | None = None
    """What should be known of it."""


class Tally(NamedTuple):
    """What came of some targets together."""

    asked: int
    judged: int
    met: bool | None
    """False when one is missed; None when one could not be judged, or there is none; True when all are met."""


def read_targets(said: Said) -> Targets:
    """The targets under `targets`, else `UNSEEN`.

    Raises
    ------
    InputError
        A target we do not know, or no number.
    """
    found = said.take("targets", "target")
    if found is None:
        return UNSEEN
    name, value = found
    if not isinstance(value, Mapping):
        raise InputError(name, value, "a table of numbers")
    own = Said(value, "targets")
    read = {key: own.number((key,), 0, 1000, "a number from 0 up") for key in Targets._fields}
    if own.left():
        raise InputError(
            name, own.left()[0].partition(": ")[2], f"one of {', '.join(Targets._fields)}"
        )
    return Targets(**read)


def at_most(
    what: str, value: float | None, target: float | None, note: str | None = None
) -> list[Judged]:
    """A number that should not pass its target; nothing where there is no target."""
    if target is None:
        return []
    met = None if value is None else value <= target
    return [Judged(what, value, f"<= {target:g}", met, note)]


def at_least(what: str, value: float | None, target: float | None) -> list[Judged]:
    """A number that should reach its target; nothing where there is no target."""
    if target is None:
        return []
    return [Judged(what, value, f">= {target:g}", None if value is None else value >= target)]


def tally(targets: Sequence[Judged]) -> Tally:
    """How many of some targets could be judged, and whether all are met."""
    known = [one.met for one in targets if one.met is not None]
    whole = len(known) == len(targets) > 0
    met = False if not all(known) else (True if whole else None)
    return Tally(len(targets), len(known), met)
