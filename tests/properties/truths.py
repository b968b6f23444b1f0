"""Gardens whose truth is known: drawn like a member, from the same prior, but under other uids."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import FeltClass
from soakbook.reckoning.physics.roots import geometry
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import Season
from tests.reckoning.gardens import PLANTED, at, feel, pages, roses, season, soak, weather

RAIN = {PLANTED + timedelta(days=n): mm for n, mm in ((5, 9.0), (13, 22.0), (14, 4.0), (26, 12.0))}
CUTS: tuple[tuple[float, FeltClass], ...] = (
    (0.20, "dust"), (0.50, "dry"), (0.85, "moist"), (1.10, "wet"), (9.0, "sour"),
)  # fmt: skip
HAND_NOISE = 0.12
"""Of a hand on wetness, and above it where the classes meet; common practice, no source."""


class Wet(NamedTuple):
    """Wetness on a dawn, (planting, member): ball, reach, the leading store, and the soil a finger finds in the bed."""

    ball: Floats
    reach: Floats
    lead: Floats
    under_finger: Floats


def laid_out(
    kind: str, count: int, morning: date, members: int, feels: Sequence[AnyEntry] = ()
) -> Season:
    """So many beds of roses, each for itself, under showers; soaked every third morning with three litres a plant."""
    keys = keys_of(kind, count)
    days = (morning - PLANTED).days
    soaks = [
        soak(at(PLANTED + timedelta(days=n), 8), 30.0, key, uid=f"{key} {n}")
        for key in keys for n in range(1, days, 3)
    ]  # fmt: skip
    book = pages([roses(key) for key in keys], [*soaks, *feels], days=weather(days=days, rain=RAIN))
    return season(book, morning, members)


def keys_of(kind: str, count: int) -> list[str]:
    """Bed keys in the order in which the season has them."""
    return [f"{kind} {n:03}" for n in range(count)]


def wet_on(dawn: Dawn) -> Wet:
    """The wetness of all plantings."""
    plot, fixed = dawn.season.parameters(slice(0, dawn.size))
    roots = geometry(plot, fixed, dawn.stores.warm_days)
    ball, reach, beyond = (
        np.asarray(store / capacity)
        for store, capacity in (
            (dawn.stores.ball_store_l, roots.ball_capacity_l),
            (dawn.stores.reach_store_l, roots.reach_capacity_l),
            (dawn.stores.beyond_store_l, roots.beyond_capacity_l),
        )
    )
    share = np.asarray(roots.ball_share_fraction)
    near = np.minimum(np.asarray(roots.root_reach_m + plot.draw_m) / 0.15, 1.0)
    return Wet(ball, reach, share * ball + (1 - share) * reach, near * reach + (1 - near) * beyond)


def course(of: Season) -> Mapping[date, Wet]:
    """Wetness on every dawn."""
    found: dict[date, Wet] = {}

    def watch(dawn: Dawn) -> None:
        found[dawn.day] = wet_on(dawn)

    run(of, watch=watch)
    return found


def true_course(count: int, morning: date, weather_errs: bool = True) -> Mapping[date, Wet]:
    """Of truths: second members of two, whose multipliers, weather and cans err as any member's do.

    Without errors of the weather what was measured is what fell and what the air asked.
    """
    of = laid_out("truth", count, morning, 2)
    if not weather_errs:
        errors, days = of.errors, range(of.errors.days)
        of = of._replace(
            errors=errors._replace(
                et0_factor={row: np.ones_like(errors.et0_factor[row]) for row in days},
                rain_factor={row: np.ones_like(errors.et0_factor[row]) for row in days},
            )
        )
    return {day: Wet(*(field[:, 1:] for field in wet)) for day, wet in course(of).items()}


def feels_of(truth: Mapping[date, Wet], kind: str, every: int, seed: int) -> list[AnyEntry]:
    """What a hand finds in balls and beds every so many mornings, before anything is given."""
    dice = np.random.default_rng(seed)
    felt: list[AnyEntry] = []
    for day, wet in truth.items():
        if day == PLANTED or (day - PLANTED).days % every:
            continue
        for row, key in enumerate(keys_of(kind, len(wet.ball))):
            ball, soil = (
                class_of(float(one[row, 0]) + HAND_NOISE * dice.standard_normal())
                for one in (wet.ball, wet.under_finger)
            )
            felt.append(feel(at(day, 7), key, ball=ball, bed=soil, uid=f"{key} {day}"))
    return felt


def class_of(wetness: float) -> FeltClass:
    """The word for a wetness."""
    return next(name for cut, name in CUTS if wetness < cut)
