"""One place's year: undisturbed, then with all that can befall; counted."""

import random
import shutil
import sys
from collections import Counter
from pathlib import Path
from time import monotonic
from typing import NamedTuple

from soakbook.reminders.kinds import USUAL
from tests.reminders.year.calendar import counted
from tests.reminders.year.garden import Place, make
from tests.reminders.year.office import Office
from tests.reminders.year.plan import Plan, by_point, plan, undisturbed
from tests.reminders.year.playing import Played, Player
from tests.reminders.year.sights import Sights
from tests.reminders.year.sky import DAYS
from tests.reminders.year.tally import Tally, against_calendar, outbox, tally
from tests.reminders.year.worker import Point


class Stage(NamedTuple):
    """What a year is played on."""

    made: Path
    sights: Sights


class Tried(NamedTuple):
    """What came of a year."""

    zone: str
    tally: Tally
    kinds: Counter[str]
    """Reminders due, by kind."""
    faults: tuple[str, ...]
    """All that is not as it must be, in words."""
    at_points: Counter[Point]
    at_random: int
    amid: int
    troubles: Counter[str]
    sizes_kb: tuple[int, ...]
    """Of the undisturbed program, after each wake-up."""


def tried(place: Place, folder: Path, days: int, scale: float, seed: int) -> Tried:
    """The first days of a place's year, tried.

    Parameters
    ----------
    place
        Where.
    folder
        For one of its own, with the books and what the mail server writes down.
    days
        How many.
    scale
        Share of a whole year's kills and troubles.
    seed
        For what is drawn.
    """
    own, began = folder / place.zone.replace("/", " "), monotonic()
    own.mkdir()

    def say(text: str) -> None:
        print(f"  {place.zone}, {monotonic() - began:.0f} s: {text}", file=sys.stderr, flush=True)

    dice = random.Random(f"{seed} {place.zone}")
    made = own / "made.book"
    make(made, place)
    sights = Sights(made)
    sights.reckon(place, days, say)
    stage = Stage(made, sights)
    clean, quiet = _played(stage, "undisturbed", undisturbed(place, days, sights.moments()), dice)
    must = outbox(clean)
    faults = list(against_calendar(must, counted(place, days, sights)))
    bare = tally(must, must, Counter(_sheet(clean)), quiet, ())
    faults += [*bare.lost, *bare.doubled]
    faults += [f"undisturbed, and sent again: {bare.again}"] * (bare.again > 0)
    if days == DAYS:
        faults += [f"never due: {kind}" for kind in {*USUAL} - {one.what for one in must}]
    say(f"{len(must)} reminders due")
    moments = sorted({one.due_at for one in must})
    drawn = plan(place, days, scale, moments, dice)
    path, played = _played(stage, "tried", drawn, dice)
    found = tally(outbox(path), must, _sheet(path), played, drawn.troubles)
    for point, times in (by_point(drawn.orders) - played.at_points).items():
        faults.append(f"not killed as planned: {point}, {times} times")
    return Tried(
        place.zone,
        found,
        Counter(one.what for one in must),
        (*faults, *found.lost, *found.doubled),
        played.at_points,
        played.at_random,
        played.amid,
        Counter(one.kind for one in drawn.troubles),
        quiet.sizes_kb,
    )


def _played(stage: Stage, name: str, drawn: Plan, dice: random.Random) -> tuple[Path, Played]:
    """The book after it."""
    folder = stage.made.with_name(name)
    folder.mkdir()
    path = folder / "garden.book"
    shutil.copyfile(stage.made, path)
    path.chmod(0o600)
    with Office(path.with_name("taken")) as office:
        played = Player(path, stage.sights, office, drawn, dice).play()
    return path, played


def _sheet(path: Path) -> Counter[str]:
    """What the server took in a book's year."""
    return Counter(path.with_name("taken").read_text().split())
