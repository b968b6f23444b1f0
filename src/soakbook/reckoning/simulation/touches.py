"""Which dawn a feel squares up, whose soil it was, and the record of what it changed.

A feel before its day's first soak speaks of the evening before; one after it, or after 17:00, of that day's own
evening. What fell or was given between that evening's 17:00 and the finger was in the soil it felt.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Literal, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import BedEntry, Feel, Look, Loss, Rain, Soak, When
from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import STEP_ENDS_AT, RainPiece, fallen_before, step_day
from soakbook.garden.records import FeltClass, Planting, Uid
from soakbook.reckoning.simulation.watering import living_count, local_day, soak_step

A_DAY = timedelta(days=1)

Store = Literal["ball", "bed"]


class Touch(NamedTuple):
    """A feel or a look into a hole, the row of its planting, and the water that the evening's stores had not."""

    feel: Feel | Look
    row: int
    number: int
    """How many feels of that planting square up the same dawn before it."""
    fallen: tuple[RainPiece, ...]
    """Between 17:00 and the feel."""
    soaks: tuple[Soak, ...]
    """Given to the bed between 17:00 and the feel."""


class Squared(NamedTuple):
    """What one feel of one store changed, by the middle member."""

    day: date  # the dawn it squared up
    feel_uid: Uid
    bed_uid: Uid
    planting_uid: Uid
    store: Store
    felt: FeltClass  # of a look, the class nearest to it
    expected: float  # the wetness the finger should have found
    now: float  # what is thought since
    limit: float  # what that store may not fall below on the day
    sodden: tuple[bool, bool]  # whether the bed was, by most members, before and since
    innovation: float
    moved_l: float  # into the ball, or into the soil round it, of one plant
    learned: Mapping[str, float]  # how far each multiplier moved, in its standard deviations


def touches_by_dawn(
    pages: Pages, plantings: Sequence[Planting], starts: Sequence[date]
) -> Mapping[date, tuple[Touch, ...]]:
    """All feels of plantings that are reckoned, by the dawn they square up, in the order they were made.

    Parameters
    ----------
    pages : Pages
    plantings, starts : sequence of Planting, of date
        Those reckoned, and the first day of each.
    """
    feels = [one for one in pages.entries if isinstance(one, Feel | Look)]
    if not feels:
        return {}
    zone = ZoneInfo(pages.garden.timezone)
    rows = {planting.uid: row for row, planting in enumerate(plantings)}
    soaks = [one for one in pages.entries if isinstance(one, Soak)]
    readings = tuple(one for one in pages.entries if isinstance(one, Rain))
    found: dict[date, list[Touch]] = defaultdict(list)
    for feel in feels:
        row = rows.get(spoken_of(feel, pages) or "")
        moment = moment_of(feel.happened_at, pages)
        earlier = _soaks_before(feel, pages, soaks)
        dawn = _squared_dawn(moment, earlier, zone)
        if row is None or starts[row] > dawn:
            continue
        in_step = step_day(moment, zone) == dawn
        fallen = fallen_before(moment, readings, zone, pages.garden.round_hour) if in_step else ()
        given = tuple(one for one in earlier if soak_step(one.happened_at, zone) == dawn)
        number = sum(one.row == row for one in found[dawn])
        found[dawn].append(Touch(feel, row, number, fallen, given))
    return {dawn: tuple(touches) for dawn, touches in found.items()}


def squared_dawn(feel: Feel | Look, pages: Pages) -> date:
    """The dawn whose stores a feel squares up: its own day's, or the next one's after a soak or 17:00."""
    soaks = [one for one in pages.entries if isinstance(one, Soak)]
    moment = moment_of(feel.happened_at, pages)
    zone = ZoneInfo(pages.garden.timezone)
    return _squared_dawn(moment, _soaks_before(feel, pages, soaks), zone)


def _squared_dawn(moment: datetime, soaks: Iterable[Soak], zone: ZoneInfo) -> date:
    soaked = any(local_day(soak.happened_at, zone) == moment.date() for soak in soaks)
    late = soaked or moment.time() > STEP_ENDS_AT
    return moment.date() + timedelta(days=1) if late else moment.date()


def _soaks_before(feel: Feel | Look, pages: Pages, soaks: Iterable[Soak]) -> list[Soak]:
    """Soaks of what was felt, in the day before the feel; one without a time comes after the round hour."""
    moment = moment_of(feel.happened_at, pages)
    felt = (None, spoken_of(feel, pages))
    return [
        soak
        for soak in soaks
        if soak.bed_uid == feel.bed_uid
        and soak.planting_uid in felt
        and isinstance(soak.happened_at, datetime)
        and timedelta(0) <= moment - soak.happened_at < A_DAY
    ]


def spoken_of(entry: BedEntry, pages: Pages) -> Uid | None:
    """The planting a feel or a wilt speaks of: the named one, else the one with most plants that day."""
    if entry.planting_uid is not None:
        return entry.planting_uid
    zone = ZoneInfo(pages.garden.timezone)
    day = local_day(entry.happened_at, zone)
    losses = [one for one in pages.entries if isinstance(one, Loss)]
    counts = [
        (living_count(one, losses, day, zone), one.uid)
        for one in pages.plantings
        if one.bed_uid == entry.bed_uid
    ]
    most, uid = max(counts, key=lambda pair: pair[0], default=(0, None))
    return uid if most > 0 else None


def moment_of(happened_at: When, pages: Pages) -> datetime:
    """When something happened on the garden's clock; without a time, at the round hour of its day."""
    zone = ZoneInfo(pages.garden.timezone)
    if isinstance(happened_at, datetime):
        return happened_at.astimezone(zone)
    return datetime.combine(happened_at, pages.garden.round_hour, zone)
