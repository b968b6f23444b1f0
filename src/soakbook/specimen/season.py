"""The specimen's season acted out: `python -m soakbook.specimen.season` writes `source/entries.csv`.

Five people follow the round as people do: mostly in full, now and then in part, sometimes not; twice a week a
finger goes into two beds, those first that the round asks for; on two mornings nothing is written down. A
well-meaning neighbour gives the Dole Bed a can a rose for a week. The dice are seeded, so the same rounds give the
same season. What a finger finds is a plain run that no feel has squared up, with a hand's error; nothing here steers
a verdict.
"""

import csv
import tempfile
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from random import Random
from typing import NamedTuple

from soakbook.garden.pages import Pages
from soakbook.garden.records import FeltClass
from soakbook.reckoning.advice.calling import BedCall, Dosed
from soakbook.reckoning.advice.feel_first import feel_first
from soakbook.reckoning.advice.rounds import Morning, morning_on
from soakbook.reckoning.advice.visits import people_on
from soakbook.reckoning.simulation.ahead import Standing, standing
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.run import run
from soakbook.reckoning.simulation.season import season_of
from soakbook.reckoning.simulation.squaring import FINGER_SD, class_of
from soakbook.specimen import text
from soakbook.specimen.build import begun
from soakbook.store.pages import read_pages

FIRST, LAST = date(2031, 2, 13), date(2031, 10, 31)
SEED = 25
NO_WORD_DAYS = (date(2031, 6, 10), date(2031, 6, 24))
NEIGHBOUR = (date(2031, 4, 24), date(2031, 5, 1))
FEEL_WEEKDAYS = (0, 3)
BEDS_FELT = 2
IN_FULL, IN_PART = 0.88, 0.07
READ_AT, ROUND_AT = time(6, 30), time(7, 20)
REASONS = ("no time", "too wet to walk on", "looked well at dawn", "ran out of morning")

LOSSES = (
    (date(2031, 5, 4), "dole", "shrub roses lifted from the old bed", 1, "drowned"),
    (date(2031, 7, 12), "bank", "sun shrubs", 2, "dry ball"),
    (date(2031, 6, 12), "school", "perennials and grasses", 4, "drought"),
    (date(2031, 7, 5), "school", "perennials and grasses", 5, "drought"),
    (date(2031, 6, 30), "ride", "hornbeam whips", 6, "drought"),
    (date(2031, 8, 3), "ride", "hornbeam whips", 8, "drought"),
)
WILTS = ((date(2031, 5, 2), time(15, 10), "dole"), (date(2031, 7, 11), time(14, 30), "infirm"))

COLUMNS = (
    "what", "happened", "written", "by", "bed", "planting", "typed", "number", "kind", "method", "began",
    "ball", "felt_bed", "note",
)  # fmt: skip


SAID = {
    (date(2031, 5, 14), "chapel"): "rain in the air",
    (date(2031, 5, 14), "infirm"): "rain in the air",
}
"""Beds that somebody decided to leave, whatever the dice."""

Row = dict[str, str]


class Day(NamedTuple):
    """One day's round, what the fingers are in, and the dice."""

    morning: Morning
    unfelt: Standing | None
    dice: Random

    @property
    def date(self) -> date:
        """The day."""
        return self.morning.day

    def somebody(self) -> str:
        """One of those who come."""
        return self.dice.choice(
            [person.name for person in people_on(self.morning.pages, self.date)] or ["Ann"]
        )


def act(pages: Pages) -> list[Row]:
    """The rows of the season's entries, in the order they happened."""
    dice = Random(SEED)
    written: list[Row] = []
    for offset in range((LAST - FIRST).days + 1):
        day = FIRST + timedelta(days=offset)
        for row in _gauge_read(day):
            pages = _with(pages, written, row)
        today = Day(morning_on(pages, day), _unfelt(pages, day), dice)
        for row in (*_feels(today), *_round(today), *_neighbour(day), *_lost_and_limp(day)):
            pages = _with(pages, written, row)
    return written


def _with(pages: Pages, written: list[Row], row: Row) -> Pages:
    entry = text.entry(len(written), row)
    written.append(row)
    return pages._replace(entries=(*pages.entries, entry))


def _gauge_read(day: date) -> Iterator[Row]:
    """What fell yesterday in known hours, read this morning."""
    for row in text.rows("weather"):
        if row["rain_from"] and date.fromisoformat(row["date"]) == day - timedelta(days=1):
            yield _row(
                "rain", f"{row['date']}T{row['rain_to']}", _at(day, READ_AT), "Ann",
                typed=f"{row['rain_mm']}mm", number=row["rain_mm"], kind=row["rain_kind"],
                began=f"{row['date']}T{row['rain_from']}",
            )  # fmt: skip


def _feels(today: Day) -> Iterator[Row]:
    """Twice a week a finger in two beds, where the round asks for one first, before anything is watered."""
    truth = today.unfelt
    if truth is None or today.date.weekday() not in FEEL_WEEKDAYS or today.date in NO_WORD_DAYS:
        return
    judgement = today.morning.judgement
    calls = today.dice.sample(today.morning.calls, len(today.morning.calls))
    calls.sort(key=lambda call: judgement is None or not feel_first(judgement, call))
    for call in calls[:BEDS_FELT]:
        most = max(call.dosed, key=lambda one: one.judged.count).judged
        wet = truth.wetness
        ball = "" if most.ball is None else _felt(plain(wet.ball, most.row), today.dice)
        yield _row(
            "feel", _at(today.date, READ_AT), _at(today.date, READ_AT), today.somebody(),
            bed=call.bed.key, planting=most.planting.name, ball=ball,
            felt_bed=_felt(plain(wet.bed, most.row), today.dice),
        )  # fmt: skip


def _felt(wetness: float, dice: Random) -> FeltClass:
    return class_of(wetness + dice.gauss(0.0, FINGER_SD))


def _unfelt(pages: Pages, day: date) -> Standing | None:
    """The garden as a plain run has it that no feel has squared up: what the fingers are in."""
    season = season_of(known_on(pages, day), day, members=1)
    return season and standing(run(season._replace(touches={}))[-1])


def _round(today: Day) -> Iterator[Row]:
    """The walk, mostly done: in full, in part, left with a reason, or not heard of."""
    if today.date in NO_WORD_DAYS:
        return
    at = datetime.combine(today.date, ROUND_AT)
    for call in today.morning.calls[: today.morning.walked]:
        by, luck = today.somebody(), today.dice.random()
        at += timedelta(minutes=call.work.minutes_on_foot)
        said = SAID.get((today.date, call.bed.key))
        if said or luck > IN_FULL + IN_PART:
            reason = said or today.dice.choice(REASONS)
            yield _row("left", _moment(at), _moment(at), by, bed=call.bed.key, typed=reason)
        elif luck > IN_FULL and call.litres >= 4:
            litres = round(call.litres * today.dice.uniform(0.4, 0.7))
            yield _soak(call, at, by, litres, None)
        else:
            for one in call.going:
                yield _soak(call, at, by, one.litres, one)


def _soak(call: BedCall, at: datetime, by: str, litres: float, one: Dosed | None) -> Row:
    kind = one.judged.dose_kind if one else "soak"
    return _row(
        "soak", _moment(at), _moment(at), by, bed=call.bed.key,
        planting=one.judged.planting.name if one else "", typed=f"{litres:g}l", number=f"{litres:g}",
        kind=kind or "soak", method=call.supply.method,
    )  # fmt: skip


def _neighbour(day: date) -> Iterator[Row]:
    """A can a rose on the Dole Bed, out of kindness; found out and written down afterwards."""
    if NEIGHBOUR[0] <= day <= NEIGHBOUR[1]:
        yield _row(
            "soak", _at(day, time(16)), _at(NEIGHBOUR[1], time(19)), "Ann", bed="dole", typed="14cans",
            number="140", kind="soak", method="can", note="the neighbour, with the best intentions",
        )  # fmt: skip


def _lost_and_limp(day: date) -> Iterator[Row]:
    for lost_on, bed, planting, count, cause in LOSSES:
        if lost_on == day:
            at = _at(day, time(18))
            yield _row(
                "loss", at, at, "Ann", bed=bed, planting=planting, number=str(count), kind=cause
            )
    for seen_on, hour, bed in WILTS:
        if seen_on == day:
            yield _row("wilt", _at(day, hour), _at(day, hour), "Joan", bed=bed)


def _row(what: str, happened: str, written: str, by: str, **more: str) -> Row:
    return (
        dict.fromkeys(COLUMNS, "")
        | {"what": what, "happened": happened, "written": written, "by": by}
        | more
    )


def _at(day: date, hour: time) -> str:
    return _moment(datetime.combine(day, hour))


def _moment(at: datetime) -> str:
    return at.isoformat(timespec="minutes")


def main() -> None:
    """Write the season's entries among the specimen's text."""
    with tempfile.TemporaryDirectory() as folder, begun(Path(folder) / "corrody.book") as book:
        pages = read_pages(book)
    rows = act(pages._replace(forecasts=tuple(reversed(text.forecasts()))))
    target = Path(__file__).parent / "source" / "entries.csv"
    with target.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    print(f"{target}: {len(rows)} entries")


if __name__ == "__main__":
    main()
