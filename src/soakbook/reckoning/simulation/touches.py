"""Which dawn a feel squares up, whose soil it was, and the record of what it changed.

A feel before its day's first soak speaks of the evening before; one after it, or after 17:00, of that day's own
evening. What fell or was given between that evening's 17:00 and the finger was in the soil it felt.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Literal, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import BedEntry, Feel, Look, Loss, Rain, Soak, When
from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import STEP_ENDS_AT, RainPiece, fallen_before, step_day
from soakbook.garden.records import FeltClass, Planting, Uid
from soakbook.reckoning.simulation.watering import (
    living_count,
    local_day,
    losses_by_bed,
    soak_step,
)

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
    losses: Sequence[Loss]
    """Those of the bed: they tell who shared the soaks."""


def stores_of(feel: Feel | Look) -> tuple[Store, ...]:
    """The stores that a feel or a look tells of, in the order in which they are squared up."""
    return ("bed",) if isinstance(feel, Look) else tuple(classes_of(feel))


def classes_of(feel: Feel) -> dict[Store, FeltClass]:
    """What a finger found, the ball before the bed."""
    said: dict[Store, FeltClass | None] = {"ball": feel.ball, "bed": feel.bed}
    return {store: found for store, found in said.items() if found is not None}


class Change(NamedTuple):
    """What a feel of one store changed, by the middle member."""

    expected: float  # the wetness the finger should have found
    now: float  # what is thought since
    learned: Mapping[str, float]  # how far each multiplier moved, in its standard deviations


class Squared(NamedTuple):
    """One feel of one store, and what it changed."""

    day: date  # the dawn it squared up
    feel_uid: Uid
    bed_uid: Uid
    planting_uid: Uid
    store: Store
    felt: FeltClass  # of a look, the class nearest to it
    limit: float  # what that store may not fall below on the day
    sodden: tuple[bool, bool]  # whether the bed was, by most members, before and since
    innovation: float
    change: Callable[[], Change]
    """Worked out when somebody asks: a season has a hundred feels, and a page tells of a few."""


class _Given(NamedTuple):
    """A soak, and when it came: one without a time right after the round hour of its day."""

    soak: Soak
    at: datetime
    undated: bool
    day: date
    step: date


class _Told(NamedTuple):
    """What of the pages a feel is read with, gone through once."""

    pages: Pages
    zone: ZoneInfo
    given: Mapping[tuple[Uid, date], Sequence[_Given]]
    """By bed and day."""
    plantings: Mapping[Uid, Sequence[Planting]]
    losses: Mapping[Uid, Sequence[Loss]]
    """Both by bed."""


def touches_by_dawn(
    pages: Pages,
    plantings: Sequence[Planting],
    starts: Sequence[date],
    since: date | None = None,
) -> Mapping[date, tuple[Touch, ...]]:
    """All feels of plantings that are reckoned, by the dawn they square up, in the order they were made.

    Parameters
    ----------
    pages : Pages
    plantings, starts : sequence of Planting, of date
        Those reckoned, and the first day of each.
    since : date, optional
        Dawns before it are not asked for, and some or all of their feels are left out.
    """
    zone = ZoneInfo(pages.garden.timezone)
    feels = [
        (_utc(one, pages), one)
        for one in pages.entries
        if isinstance(one, Feel | Look)
        # A feel squares up the dawn of its own day or the next.
        and (since is None or local_day(one.happened_at, zone) >= since - A_DAY)
    ]
    if not feels:
        return {}
    feels.sort(key=lambda pair: (pair[0], pair[1].uid))
    told = _told(pages)
    rows = {planting.uid: row for row, planting in enumerate(plantings)}
    readings = tuple(one for one in pages.entries if isinstance(one, Rain))
    fallen = fallen_before(
        [moment for moment, _ in feels],
        readings,
        {day.day: day.rain_mm for day in pages.weather},
        told.zone,
        pages.garden.round_hour,
        {day.day: day.rain_by_hour_mm for day in pages.weather if day.rain_by_hour_mm},
    )
    found: dict[date, list[Touch]] = defaultdict(list)
    for (moment, feel), rain in zip(feels, fallen, strict=True):
        uid = _spoken_of(feel, told)
        earlier = _given_before(feel, uid, told)
        dawn = _squared_dawn(moment, earlier, told.zone)
        row = rows.get(uid or "")
        if row is None or starts[row] > dawn:
            continue
        in_step = step_day(moment, told.zone) == dawn
        soaks = tuple(one.soak for one in earlier if one.step == dawn)
        number = sum(one.row == row for one in found[dawn])
        fallen_since, losses = rain if in_step else (), told.losses.get(feel.bed_uid, ())
        found[dawn].append(Touch(feel, row, number, fallen_since, soaks, losses))
    return {dawn: tuple(touches) for dawn, touches in found.items()}


def squared_dawn(feel: Feel | Look, pages: Pages) -> date:
    """The dawn whose stores a feel squares up: its own day's, or the next one's after a soak or 17:00."""
    told = _told(pages)
    earlier = _given_before(feel, _spoken_of(feel, told), told)
    return _squared_dawn(_utc(feel, pages), earlier, told.zone)


def spoken_of(entry: BedEntry, pages: Pages) -> Uid | None:
    """The planting a feel or a wilt speaks of: the named one, else the one with most plants that day."""
    if entry.planting_uid:
        return entry.planting_uid
    planted = [one for one in pages.plantings if one.bed_uid == entry.bed_uid]
    lost = [one for one in pages.entries if isinstance(one, Loss)]
    return _most_plants(entry, planted, lost, ZoneInfo(pages.garden.timezone))


def moment_of(happened_at: When, pages: Pages) -> datetime:
    """When something happened on the garden's clock; without a time, at the round hour of its day."""
    zone = ZoneInfo(pages.garden.timezone)
    if isinstance(happened_at, datetime):
        return happened_at.astimezone(zone)
    return datetime.combine(happened_at, pages.garden.round_hour, zone)


def _told(pages: Pages) -> _Told:
    zone = ZoneInfo(pages.garden.timezone)
    given: dict[tuple[Uid, date], list[_Given]] = defaultdict(list)
    for one in pages.entries:
        if isinstance(one, Soak):
            when, day = one.happened_at, local_day(one.happened_at, zone)
            undated = not isinstance(when, datetime)
            given[one.bed_uid, day].append(
                _Given(one, _utc(one, pages), undated, day, soak_step(when, zone))
            )
    plantings: dict[Uid, list[Planting]] = defaultdict(list)
    for planting in pages.plantings:
        plantings[planting.bed_uid].append(planting)
    return _Told(pages, zone, given, plantings, losses_by_bed(pages))


def _squared_dawn(moment: datetime, earlier: Iterable[_Given], zone: ZoneInfo) -> date:
    local = moment.astimezone(zone)
    soaked = any(one.day == local.date() for one in earlier)
    return local.date() + A_DAY if soaked or local.time() > STEP_ENDS_AT else local.date()


def _given_before(feel: Feel | Look, spoken_of: Uid | None, told: _Told) -> list[_Given]:
    """Soaks of what was felt that came before the finger, on its day or the one before: no other counts with it."""
    moment, felt = _utc(feel, told.pages), (None, spoken_of)
    day = moment.astimezone(told.zone).date()
    return [
        one
        for when in (day - A_DAY, day)
        for one in told.given.get((feel.bed_uid, when), ())
        if one.soak.planting_uid in felt
        and (one.at < moment or (one.at == moment and not one.undated))
    ]


def _spoken_of(entry: BedEntry, told: _Told) -> Uid | None:
    if entry.planting_uid:
        return entry.planting_uid
    bed = entry.bed_uid
    return _most_plants(entry, told.plantings.get(bed, ()), told.losses.get(bed, ()), told.zone)


def _most_plants(
    entry: BedEntry, planted: Iterable[Planting], losses: Sequence[Loss], zone: ZoneInfo
) -> Uid | None:
    """Which of a bed's plantings had most plants on the day of an entry."""
    day = local_day(entry.happened_at, zone)
    counts = [(living_count(one, losses, day, zone), one.uid) for one in planted]
    most, uid = max(counts, key=lambda pair: pair[0], default=(0, None))
    return uid if most > 0 else None


def _utc(entry: BedEntry, pages: Pages) -> datetime:
    """In UTC, for where an hour comes twice moments of one zone compare by the clock on the wall."""
    return moment_of(entry.happened_at, pages).astimezone(UTC)
