"""A year played: programs are woken, killed, begun anew and left asleep as the plan has it; time is handed in."""

import random
import select
from collections import Counter, deque
from datetime import datetime
from functools import partial
from pathlib import Path
from time import monotonic
from typing import NamedTuple

from soakbook.reminders.once import trust_the_clock
from tests.reminders.year.office import Office
from tests.reminders.year.plan import WAKES, Plan
from tests.reminders.year.sights import Sights
from tests.reminders.year.troubles import OFFICE_KINDS, of_kind, skew
from tests.reminders.year.worker import Bid, Point, Worker

LONGEST_S = 60.0
"""A wake-up that lasts longer is a fault."""


class Played(NamedTuple):
    """What was done to the programs."""

    interrupted: Counter[str]
    """Reminders that a program was giving to its channel when it was killed, how often each."""
    at_points: Counter[Point]
    at_random: int
    amid: int
    """Of those at random the ones that broke off a wake-up."""
    sizes_kb: tuple[int, ...]
    """Of a program after each wake-up, where nothing befell it."""


class Player:
    """Who wakes the programs of one book, moment by moment."""

    def __init__(
        self, path: Path, sights: Sights, office: Office, plan: Plan, dice: random.Random
    ) -> None:
        self._begin = partial(Worker, path, sights, office.addresses())
        self._office = office
        self._plan = plan
        self._dice = dice
        self._team: list[Worker] = []
        self._orders = list(plan.orders)
        self._path, self._trusts = path, deque(plan.trusts)
        self._at_random, self._restarts = deque(plan.at_random), deque(plan.restarts)
        self._interrupted: Counter[str] = Counter()
        self._at_points: Counter[Point] = Counter()
        self._killed = self._amid = 0
        self._sizes: list[int] = []
        self._takes_s = 0.004

    def play(self) -> Played:
        """All of the plan's wake-ups."""
        for moment in self._plan.wakes:
            trouble = self._plan.troubles
            self._office.mind(getattr(of_kind(trouble, moment, *OFFICE_KINDS), "kind", None))
            if of_kind(trouble, moment, "gone"):
                self._go(0)
            elif not of_kind(trouble, moment, "asleep"):
                self._wake_all(moment, 2 if of_kind(trouble, moment, "two") else 1)
        self._go(0)
        return Played(
            self._interrupted, self._at_points, self._killed, self._amid, tuple(self._sizes)
        )

    def _wake_all(self, moment: datetime, programs: int) -> None:
        if self._restarts and self._restarts[0] <= moment:
            self._restarts.popleft()
            self._go(0)
        self._go(programs)
        wrong_by = skew(self._plan.troubles, moment)
        while self._trusts and self._trusts[0] <= moment and not wrong_by:
            self._trusts.popleft()
            trust_the_clock(self._path, moment)
        shown = (moment + wrong_by).timestamp()
        while self._at_random and self._at_random[0] <= moment:
            due = self._at_random.popleft()
            near = moment - due < WAKES
            self._wake(shown, moment, self._dice.uniform(0, (8 if near else 2) * self._takes_s))
            self._go(programs)
        began = monotonic()
        self._wake(shown, moment, None)
        self._takes_s += 0.05 * (monotonic() - began - self._takes_s)

    def _wake(self, shown: float, moment: datetime, kill_after_s: float | None) -> None:
        """One wake-up of all; who dies of an order is begun anew and woken at the same moment, until all have woken."""
        victim = None if kill_after_s is None else self._dice.choice(self._team)
        deadline = monotonic() + (kill_after_s or 0)
        self._dice.shuffle(self._team)
        for place, one in enumerate(self._team):
            one.bid(Bid(shown, self._ordered(moment) if place == 0 and victim is None else ()))
        while awake := [one for one in self._team if one.is_awake]:
            left_s = LONGEST_S if victim is None else max(0.0, deadline - monotonic())
            ready, _, _ = select.select([one.reports for one in awake], [], [], left_s)
            if not ready and victim is None:
                raise RuntimeError(f"nobody has woken up for {LONGEST_S:g} s at {moment}")
            if not ready or (victim is not None and monotonic() >= deadline):
                assert victim is not None
                self._kill(victim)
                victim = None
                continue
            for one in awake:
                if one.reports in ready and not self._hear(one):
                    self._bury(one)
                    fresh = self._begin()
                    self._team.append(fresh)
                    fresh.bid(Bid(shown, self._ordered(moment)))
        if victim is not None:
            self._kill(victim)

    def _ordered(self, moment: datetime) -> tuple[Point, ...]:
        """All points that somebody is to die at by now: he does at the first that he passes."""
        return tuple({one.point for one in self._orders if one.since <= moment})

    def _hear(self, one: Worker) -> bool:
        """Take in what a program says; whether it lives."""
        said = one.heard()
        for report in said or ():
            if report.did == "dies":
                order = next(one for one in self._orders if one.point == report.of)
                self._orders.remove(order)
                self._at_points[order.point] += 1
            if report.did == "woke":
                self._sizes.append(int(report.of))
        return said is not None

    def _kill(self, one: Worker) -> None:
        """At random: amid a wake-up, or between two."""
        one.kill()
        while self._hear(one):
            pass
        self._killed += 1
        self._amid += one.is_awake
        self._bury(one)

    def _bury(self, one: Worker) -> None:
        self._team.remove(one)
        if one.buried() and one.unmarked:
            self._interrupted[one.unmarked] += 1

    def _go(self, programs: int) -> None:
        """So many programs from now on; who is too many ends as it should."""
        while len(self._team) > programs:
            self._team[-1].end()
            self._bury(self._team[-1])
        while len(self._team) < programs:
            self._team.append(self._begin())
