"""The season as it might have been: other dressings, other days of planting, other rhythms of the same water.

A world is a change of the book's pages and nothing else. What comes of it is reckoned elsewhere.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import AnyEntry, Feel, Look, MulchLaid, Ruler, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting, Uid
from soakbook.garden.tables.mulches import MULCHES
from soakbook.quantities.dates import month_day
from soakbook.reckoning.advice.following import AS_CALLED, Habit
from soakbook.reckoning.simulation.mulching import layings_by_bed, mulch_on
from soakbook.reckoning.simulation.watering import local_day

MORE_CM = 5.0
DEEPEST_CM = 30.0
NEW_DRESSING = "chip"
"""What is laid where there was nothing, or a sheet: wood chip or bark."""

NORTHERN_AUTUMN, SOUTHERN_AUTUMN = (10, 1), (4, 1)


class World(NamedTuple):
    """The pages of a season as it might have been."""

    key: str
    words: str
    pages: Pages
    since: Mapping[Uid, date]
    """Beds that are counted from a day before the season on, by uid: what was planted in them then."""
    habit: Habit = AS_CALLED
    refused: str | None = None
    """Why it cannot be reckoned, where it cannot."""


def worlds_of(pages: Pages, first: date, until: date) -> tuple[World, ...]:
    """The season as it was, and as it might have been.

    Parameters
    ----------
    pages : Pages
        The book, cut to what may be known on the morning after `until`.
    first, until : date
        The season's days.
    """
    bare, deeper = without_mulch(pages), with_more_mulch(pages)
    return (
        World("as_it_was", "as it was", pages, {}),
        World("no_mulch", "without mulch", bare, {}),
        World("more_mulch", f"with {MORE_CM:g} cm more mulch", deeper, {}),
        _planted("month_earlier", "planted a month earlier", pages, (first, until), a_month_before),
        _planted(
            "autumn",
            f"planted on {_said(autumn_before(pages, first))}",
            pages,
            (first, until),
            lambda _: autumn_before(pages, first),
        ),
        World(
            "twice_half",
            "twice as much half as often",
            with_half_the_soaks(pages, first),
            {},
            Habit(dose_times=2, interval_times=2),
        ),
    )


def unfelt(pages: Pages) -> Pages:
    """The pages without what fingers found: of soil that was not so, they would tell what is not."""
    entries = tuple(one for one in pages.entries if not isinstance(one, Feel | Look))
    return pages._replace(entries=entries)


def without_mulch(pages: Pages) -> Pages:
    """The pages as if nothing had ever been laid on a bed."""
    entries = tuple(one for one in pages.entries if not isinstance(one, MulchLaid | Ruler))
    return pages._replace(entries=entries)


def with_more_mulch(pages: Pages) -> Pages:
    """The pages with the first dressing of each bed 5 cm deeper, though not above 30; where there was none, 5 cm.

    Those are laid on the bed's first planting day. A sheet has no depth and counts as none. What rulers
    found is changed by as many parts of a hundred as they had found off.
    """
    zone, entries = ZoneInfo(pages.garden.timezone), list[AnyEntry]()
    dressed: set[Uid] = set()
    for number, entry in enumerate(pages.entries):
        if isinstance(entry, Ruler):
            entries.append(_measured_in(entry, pages.entries[:number], entries, zone))
        elif isinstance(entry, MulchLaid) and _first_deep(entry, dressed):
            dressed.add(entry.bed_uid)
            depth = min(DEEPEST_CM, entry.depth_cm + MORE_CM)
            entries.append(replace(entry, depth_cm=depth, typed=f"{depth:g}cm"))
        else:
            entries.append(entry)
    new = [_new_dressing(bed.uid, pages) for bed in pages.beds if bed.uid not in dressed]
    return in_order(pages, [*entries, *(one for one in new if one is not None)])


def with_half_the_soaks(pages: Pages, first: date) -> Pages:
    """The pages with every second watering of a season given with the one before it.

    A watering is all that a planting, or a whole bed, was given on a day. Of a bed parted from another in the season
    they begin with its own, as it had no plants before.
    """
    zone = ZoneInfo(pages.garden.timezone)
    begins = {one.uid: max(first, one.parted_on or first) for one in pages.beds}
    days: dict[tuple[Uid, Uid | None], list[date]] = defaultdict(list)
    moments: dict[tuple[Uid, Uid | None, date], datetime | date] = {}
    entries = list[AnyEntry]()
    for entry in pages.entries:
        if isinstance(entry, Soak):
            day = local_day(entry.happened_at, zone)
            whose = entry.bed_uid, entry.planting_uid
            known = days[whose]
            counted = day >= begins.get(entry.bed_uid, first)
            if counted and day not in known:
                known.append(day)
            moments.setdefault((*whose, day), entry.happened_at)
            if counted and known.index(day) % 2 == 1:
                earlier = known[known.index(day) - 1]
                entry = replace(entry, happened_at=moments[*whose, earlier])  # noqa: PLW2901
        entries.append(entry)
    return in_order(pages, entries)


def planted_on(pages: Pages, days: Mapping[Uid, date]) -> Pages:
    """The pages with plantings planted on other days, by uid; losses, dressings and soaks stay where they are.

    Leaf-out and leaf-fall stay as entered, canopies and roots grow from the day on, and a planting that was watered in
    is so on that day.
    """
    plantings = tuple(
        one._replace(planted_on=days.get(one.uid, one.planted_on)) for one in pages.plantings
    )
    return pages._replace(plantings=plantings)


def planted_in(pages: Pages, first: date, until: date) -> tuple[Planting, ...]:
    """What was planted in a season, but for what took a dead plant's place or was moved: those came when they did.

    Parameters
    ----------
    pages : Pages
    first, until : date
        The season's days.
    """
    return tuple(
        one
        for one in pages.plantings
        if first <= one.planted_on <= until and one.replaces is None and one.came_from is None
    )


def a_month_before(day: date) -> date:
    """The same day of the month before, or its last."""
    last = day.replace(day=1) - timedelta(days=1)
    return last.replace(day=min(day.day, last.day))


def autumn_before(pages: Pages, first: date) -> date:
    """The last 1 October before a season, south of the equator the last 1 April."""
    month_day = SOUTHERN_AUTUMN if pages.garden.latitude_deg < 0 else NORTHERN_AUTUMN
    this_year = date(first.year, *month_day)
    return this_year if this_year < first else date(first.year - 1, *month_day)


def in_order(pages: Pages, entries: Iterable[AnyEntry]) -> Pages:
    """The pages with other entries, in the order in which they happened; what has no hour counts at the round's.

    Parameters
    ----------
    pages : Pages
    entries : iterable of entries
        In any order; of one moment they stay as they stand.
    """
    zone, hour = ZoneInfo(pages.garden.timezone), pages.garden.round_hour

    def moment(entry: AnyEntry) -> datetime:
        when = entry.happened_at
        return when if isinstance(when, datetime) else datetime.combine(when, hour, zone)

    return pages._replace(entries=tuple(sorted(entries, key=moment)))


def _planted(
    key: str, words: str, pages: Pages, season: tuple[date, date], when: Callable[[date], date]
) -> World:
    """A world in which what was planted in the season was planted on another day."""
    moved = {one.uid: when(one.planted_on) for one in planted_in(pages, *season)}
    if not moved:
        return World(key, words, pages, {}, refused="nothing was planted in the season")
    earliest = min(moved.values())
    begins = min((day.day for day in pages.weather), default=None)
    if begins is None or earliest < begins:
        known = "has none" if begins is None else f"begins on {_said(begins)}"
        why = f"the book's weather {known}: `soakbook weather` brings it from {_said(earliest)} on"
        return World(key, words, pages, {}, refused=why)
    since: dict[Uid, date] = {}
    for one in pages.plantings:
        if one.uid in moved and moved[one.uid] < season[0]:
            since[one.bed_uid] = min(moved[one.uid], since.get(one.bed_uid, season[0]))
    return World(key, words, planted_on(pages, moved), since)


def _first_deep(laid: MulchLaid, dressed: set[Uid]) -> bool:
    """Whether a dressing has a depth at all, and its bed had none like it before."""
    return laid.bed_uid not in dressed and not MULCHES[laid.kind].sheet


def _new_dressing(bed_uid: Uid, pages: Pages) -> MulchLaid | None:
    planted = [one.planted_on for one in pages.plantings if one.bed_uid == bed_uid]
    if not planted:
        return None
    zone = ZoneInfo(pages.garden.timezone)
    return MulchLaid(
        uid=f"{bed_uid} dressed",
        happened_at=min(planted),
        written_at=datetime.combine(min(planted), pages.garden.round_hour, zone),
        bed_uid=bed_uid,
        kind=NEW_DRESSING,
        depth_cm=MORE_CM,
        typed=f"{MORE_CM:g}cm",
    )


def _measured_in(
    ruler: Ruler, before: tuple[AnyEntry, ...], deeper: list[AnyEntry], zone: ZoneInfo
) -> Ruler:
    """What a ruler would have found in a deeper dressing that had settled alike."""
    day = local_day(ruler.happened_at, zone)
    was, would = (
        mulch_on(day, layings_by_bed(entries, zone).get(ruler.bed_uid, ())).depth_cm
        for entries in (before, deeper)
    )
    if was == 0.0:
        return ruler
    return replace(ruler, measured_cm=min(DEEPEST_CM, ruler.measured_cm * would / was))


def _said(day: date) -> str:
    return f"{month_day(day)} {day.year}"
