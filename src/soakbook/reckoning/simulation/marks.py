"""The mark of a season up to a day: a digest of all that its steps and feels before that day are made from.

Two seasons with one mark have the same dawn on that day, to the last bit. So a dawn that was kept holds as long as
its mark does. What is kept, and how a season goes on from it, stands in `kept` and `resuming`.

Every field of `Season`, and why it is in or not:

- `pages`: of them what no other field holds: the plantings' records, for their first water, who replaces or comes
  from whom, and their shares of the soaks before a feel; and the losses, which tell who had those soaks. All else of
  the pages gets to the steps through the fields below.
- `morning`: no; the steps before a day are those of any morning after it.
- `members`: in.
- `skies`: the steps of the days before, with rain, ET0, warmth, the most that leaves can drink and what members
  suppose of a day that nobody measured; not `ahead`, `assumed`, `coming`, `raining`, which are of the morning and
  later; not `filled` and `measured_to`, which are words about it; `night_minima` make leaf days and nothing else.
- `first`: in; the errors are counted from it.
- `plantings`, `starts`, `bed_index`: in, of those that have begun; who comes later moves nobody. Leaf days that
  somebody entered are in as far as they lie before the day.
- `beds`: their uids, which are seeds, and what they were parted from; whatever else is said of a bed is in `plain` or
  in what was drawn.
- `shares`: no; they are in `plain` and in what was drawn.
- `plain`: in. `plot` and `fixed` follow from it and the beliefs.
- `beliefs`: as drawn, which holds the seeds and how far each bed is in doubt. The mark is of a season laid out and not
  yet run.
- `cuts`, `bed_cuts`, `grounds`: no; worked out of the others.
- `errors`: not the numbers, which follow from the beds' seeds, the day and the members; the seeds are in.
- `numbers`: only where a day before was supposed; else no step asks for it.
- `given`: in, of the days before.
- `layings`: in, as far as they were laid or measured before.
- `leaf_days`: in, planting by planting, each date as far as it lies before the day.
- `touches`: in, of the dawns before, with the rain and soaks that the finger met.
- `unreckoned`, `crowded`: no; they are for findings. A cell that was made smaller is in `plain`.

Beside these: who has left (`gone`), the version of numpy, whose draws these are, and a mark of the program's own code.
"""

import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from hashlib import blake2b
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from soakbook.garden.entries import Feel, Look, Loss, Soak
from soakbook.garden.records import Planting, Uid
from soakbook.reckoning.simulation.gone import gone_before
from soakbook.reckoning.simulation.leaf import growing_year, leaf_days_of
from soakbook.reckoning.simulation.parting import drawn_as
from soakbook.reckoning.simulation.season import Season
from soakbook.reckoning.simulation.skies import Step
from soakbook.reckoning.simulation.touches import Touch
from soakbook.reckoning.simulation.watering import local_day


def mark_of(season: Season, day: date, leaving_on: Mapping[date, frozenset[Uid]], code: str) -> str:
    """The digest of all from which the dawn of a day comes about.

    Parameters
    ----------
    season : Season
        Laid out and not yet run.
    day : date
        After the season's first, not after its morning.
    leaving_on : mapping of date to frozenset of Uid
        Who leaves on which dawn.
    code : str
        What tells the program's own code from another.
    """
    digest = blake2b(digest_size=32)
    begun = season.active(day)
    steps = _steps(season, day)
    said = (
        (code, np.__version__, season.members, season.first.toordinal(), day.toordinal()),
        [_planting(season, row, day) for row in range(begun)],
        [_record(one) for one in season.pages.plantings if one.planted_on < day],
        [(bed.uid, bed.parted_from) for bed in _beds(season, begun)],
        sorted(drawn_as(season.pages.beds).items()),
        sorted(gone_before(season, leaving_on, day)),
        [(n, [_plain(one) for one in step.pieces]) for n, step in enumerate(steps) if step.pieces],
        list(_losses(season, day)),
        list(_dressings(season, day)),
        list(_felt(season, day)),
    )
    for part in said:
        digest.update(json.dumps(part, separators=(",", ":")).encode())
        digest.update(b"\n")
    for array in _arrays(season, day, steps, begun):
        digest.update(f"{array.dtype.str}{array.shape}\n".encode())
        digest.update(np.ascontiguousarray(array).tobytes())
    return digest.hexdigest()


def _steps(season: Season, day: date) -> tuple[Step, ...]:
    first = season.skies.first
    return season.skies.steps[(season.first - first).days : (day - first).days]


def _beds(season: Season, begun: int) -> Iterator[Any]:
    """Beds in which somebody has begun, in the season's order."""
    there = set(season.bed_index[:begun].tolist())
    return (bed for number, bed in enumerate(season.beds) if number in there)


def _arrays(
    season: Season, day: date, steps: tuple[Step, ...], begun: int
) -> Iterator[np.ndarray[Any, Any]]:
    weather = [(step.et0_mm, step.soil_warmth_c, step.kc_max) for step in steps]
    yield np.array(weather, np.float64)
    supposed = [(n, step.future) for n, step in enumerate(steps) if step.future is not None]
    for number, future in supposed:
        yield np.array([number])
        yield from future
    if supposed:
        yield season.numbers
    yield np.concatenate([np.asarray(field)[:begun] for field in season.plain.plot], axis=1)
    yield np.asarray(season.plain.wilting_point)[:begun]
    yield np.asarray(season.plain.saturation)[:begun]
    yield season.beliefs.of_bed[np.unique(season.bed_index[:begun])]
    yield season.beliefs.of_planting[:begun]
    rows = {one.uid: row for row, one in enumerate(season.plantings[:begun])}
    given = [
        (when.toordinal(), rows[uid], *litres)
        for when, of_day in season.given.items()
        if when < day
        for uid, litres in of_day.items()
        if uid in rows
    ]
    yield np.array(sorted(given), np.float64)


def _record(planting: Planting) -> list[Any]:
    """A planting as it was entered, but for its name, what of it was said or guessed, and its leaf days."""
    fields = planting._asdict()
    for left_out in ("name", "said", "leaf_out_on", "leaf_fall_on"):
        del fields[left_out]
    return _plain(fields.values())


def _plain(values: Iterable[Any]) -> list[Any]:
    """Values as JSON has them, days by their number."""
    return [one.toordinal() if isinstance(one, date) else one for one in values]


def _planting(season: Season, row: int, day: date) -> list[Any]:
    """Who stands in a row, in which bed, since when, and when it came into leaf and went out of it before a day."""
    planting, start = season.plantings[row], season.starts[row]
    days, leaf = season.leaf_days, []
    if planting.leaf == "deciduous":
        last = growing_year(day - timedelta(days=1), days.southern)
        for year in range(growing_year(start, days.southern), last + 1):
            out, fall = leaf_days_of(planting, date(year, 12, 31), days)
            leaf += [min(out, day).toordinal(), min(fall, day).toordinal()]
    return [planting.uid, season.bed_of(row).uid, start.toordinal(), _record(planting), leaf]


def _losses(season: Season, day: date) -> Iterator[tuple[Any, ...]]:
    zone = ZoneInfo(season.pages.garden.timezone)
    for one in season.pages.entries:
        if isinstance(one, Loss) and (when := local_day(one.happened_at, zone)) < day:
            yield one.planting_uid, when.toordinal(), one.count, one.cause


def _dressings(season: Season, day: date) -> Iterator[Any]:
    for uid, layings in sorted(season.layings.items()):
        for one in layings:
            if one.laid_on < day:
                measured = [(when.toordinal(), by) for when, by in one.scaled if when < day]
                dressed = (one.laid_on.toordinal(), one.kind, one.depth_cm, one.cover_fraction)
                yield uid, dressed, measured


def _felt(season: Season, day: date) -> Iterator[Any]:
    for dawn, touches in sorted(season.touches.items()):
        if dawn < day:
            yield dawn.toordinal(), [_touch(season, one) for one in touches]


def _touch(season: Season, touch: Touch) -> tuple[Any, ...]:
    return (
        season.plantings[touch.row].uid,
        touch.number,
        _finger(touch.feel),
        [_plain(piece) for piece in touch.fallen],
        [_soak(one) for one in touch.soaks],
    )


def _finger(feel: Feel | Look) -> tuple[Any, ...]:
    if isinstance(feel, Look):
        return feel.uid, feel.wet_to_cm
    return feel.uid, feel.ball, feel.bed, feel.unsure


def _soak(soak: Soak) -> tuple[Any, ...]:
    when = soak.happened_at.isoformat()
    return soak.uid, when, soak.bed_uid, soak.planting_uid, soak.litres, soak.method
