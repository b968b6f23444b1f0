"""`python -m soakbook.truth.asking`: how often the round asks for a finger on the specimen garden.

The specimen's season is followed morning by morning: every call is given in full, somebody comes every day, nothing
is barred, and each bed is felt once in so many days, in turn, in the planting with most plants. What a finger finds
is the plain run that nobody felt, with a hand's error of 0.12 of wetness. Counted are bed-mornings on which the
round asks for a feel, as the verdict or beside another.
"""

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from datetime import time as clock
from random import Random
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import AnyEntry, Feel, MulchLaid, Rain, Soak
from soakbook.garden.pages import Pages
from soakbook.reckoning.advice.calling import BedCall, bed_calls
from soakbook.reckoning.advice.feel_first import why_feel
from soakbook.reckoning.advice.judging import judge
from soakbook.reckoning.simulation.ahead import standing
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import Dawn, felt, next_dawn, run
from soakbook.reckoning.simulation.season import MEMBERS, season_at, season_of
from soakbook.reckoning.simulation.squaring import FINGER_SD, class_of
from soakbook.services.books import SPECIMEN
from soakbook.store.book import open_book
from soakbook.store.pages import read_pages

FIRST, LAST = date(2031, 2, 13), date(2031, 10, 15)
BEFORE_ROUND, ROUND = clock(6, 30), clock(7)
SEED = 2031
DAYS_AHEAD = 3
MOST_ASKED = 0.10
"""A gardener who feels every bed once a week bears to be asked on one bed-morning in ten."""

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class Asked(NamedTuple):
    """A season's count."""

    every_days: int
    mornings: Counter[int]
    """Bed-mornings by month."""
    asked: Counter[int]
    why: Counter[str]
    litres: float
    soaks: int

    @property
    def share(self) -> float:
        """Of all bed-mornings, those on which a feel was asked for."""
        return self.asked.total() / self.mornings.total()


class Garden:
    """The specimen as it is watered and felt, and beside it the run that nobody felt, which is the truth."""

    def __init__(self, members: int) -> None:
        self.pages = _untouched()
        self.zone = ZoneInfo(self.pages.garden.timezone)
        self.dawn = self._begun(members)
        self.truth = self._begun(1)

    def _begun(self, members: int) -> Dawn:
        whole = season_of(known_on(self.pages, LAST), LAST, members)
        assert whole is not None
        return run(season_at(whole, known_on(self.pages, FIRST), FIRST))[-1]

    def enter(self, *entries: AnyEntry) -> None:
        """Add what happened on the dawn's day."""
        self.pages = self.pages._replace(entries=(*self.pages.entries, *entries))

    def square_up(self) -> None:
        """Take in this morning's feels."""
        today = self.dawn.day
        season = season_at(self.dawn.season, known_on(self.pages, today), today, since=today)
        self.dawn = felt(self.dawn._replace(season=season))

    def sleep(self) -> None:
        """Go on to the next dawn."""
        tomorrow = self.dawn.day + timedelta(days=1)
        known = known_on(self.pages, tomorrow)
        season = season_at(self.dawn.season, known, tomorrow, since=self.dawn.day)
        self.dawn = felt(next_dawn(self.dawn._replace(season=season)))
        unfelt = season_at(self.truth.season, known, tomorrow, {}, self.truth.day)
        self.truth = next_dawn(self.truth._replace(season=unfelt))

    def fingers(self, every_days: int, hand: Random) -> Iterator[Feel]:
        """This morning's feels, bed after bed in turn."""
        season, day = self.truth.season, self.truth.day
        wet = standing(self.truth).wetness
        for number, bed in enumerate(season.beds):
            errors = [hand.gauss(0.0, FINGER_SD) for _ in range(2)]
            rows = [row for row in range(self.truth.size) if season.bed_of(row).uid == bed.uid]
            if not rows or (day.toordinal() + number) % every_days:
                continue
            row = max(rows, key=lambda one: season.plantings[one].count)
            planting = season.plantings[row]
            ball = class_of(float(wet.ball[row, 0]) + errors[0])
            moment = datetime.combine(day, BEFORE_ROUND, self.zone)
            yield Feel(
                uid=f"feel {bed.uid} {day}",
                happened_at=moment,
                written_at=moment,
                bed_uid=bed.uid,
                planting_uid=planting.uid,
                ball=None if planting.origin == "bare" else ball,
                bed=class_of(float(wet.bed[row, 0]) + errors[1]),
            )

    def soaks(self, call: BedCall) -> Iterator[Soak]:
        """A call given in full at the round hour."""
        for one in call.going:
            planting = one.judged.planting
            moment = datetime.combine(self.dawn.day, ROUND, self.zone)
            yield Soak(
                uid=f"soak {planting.uid} {self.dawn.day}",
                happened_at=moment,
                written_at=moment,
                bed_uid=call.bed.uid,
                planting_uid=planting.uid,
                litres=one.litres,
                typed="advised",
                method=call.supply.method,
            )


def asked_in_a_season(every_days: int, last: date = LAST, members: int = MEMBERS) -> Asked:
    """How often a feel is asked for, each bed being felt every so many days; 0 for never."""
    garden, hand = Garden(members), Random(SEED)
    mornings: Counter[int] = Counter()
    asked: Counter[int] = Counter()
    why: Counter[str] = Counter()
    litres, soaks = 0.0, 0
    while garden.dawn.day < last:
        if every_days:
            garden.enter(*garden.fingers(every_days, hand))
            garden.square_up()
        judgement = judge(garden.dawn, DAYS_AHEAD)
        month = garden.dawn.day.month
        for call in bed_calls(judgement):
            mornings[month] += 1
            reason = why_feel(judgement, call)
            if reason:
                asked[month] += 1
                why[reason] += 1
            given = tuple(garden.soaks(call))
            litres, soaks = litres + call.litres, soaks + len(given)
            garden.enter(*given)
        garden.sleep()
    return Asked(every_days, mornings, asked, why, litres, soaks)


def page_of(seasons: Sequence[Asked]) -> str:
    """The counts as a table."""
    months = sorted({month for one in seasons for month in one.mornings})
    head = "".join(f"{MONTHS[month - 1]:>5}" for month in months)
    lines = [
        "Bed-mornings on which the round asks for a feel, in a hundred",
        f"{'each bed felt':<18}{head}{'all':>6}{'of':>7}{'soaks':>7}{'m3':>6}",
    ]
    for one in seasons:
        shares = "".join(f"{100 * one.asked[m] / one.mornings[m]:5.0f}" for m in months)
        total = (
            f"{100 * one.share:6.1f}{one.mornings.total():7}{one.soaks:7}{one.litres / 1000:6.1f}"
        )
        lines.append(f"{_every(one):<18}{shares}{total}")
    for one in seasons:
        if one.every_days == 7:
            verdict = "held" if one.share <= MOST_ASKED else "missed"
            lines.append(f"target, felt once a week: at most {100 * MOST_ASKED:.0f}: {verdict}")
    for one in seasons:
        lines += [
            f"{_every(one):<14}{count:5}  {reason}" for reason, count in one.why.most_common()
        ]
    return "\n".join(lines)


def _every(season: Asked) -> str:
    return f"every {season.every_days} days" if season.every_days else "never"


def _untouched() -> Pages:
    """The specimen's garden, weather and dressings; nothing watered, nobody away, nothing barred."""
    with open_book(SPECIMEN, read_only=True, immutable=True) as book:
        pages = read_pages(book)
    kept = tuple(one for one in pages.entries if isinstance(one, Rain | MulchLaid))
    return pages._replace(entries=kept, people=(), restrictions=())


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; the exit status is returned."""
    parser = argparse.ArgumentParser(prog="python -m soakbook.truth.asking")
    parser.add_argument("--every", type=int, nargs="+", default=[7, 0], metavar="DAYS")
    started = time.perf_counter()
    print(page_of([asked_in_a_season(days) for days in parser.parse_args(arguments).every]))
    print(f"{time.perf_counter() - started:.1f} s", file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main())
