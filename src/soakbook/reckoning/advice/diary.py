"""What was lately entered about one bed, and what a finger overrules."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import BedEntry, Feel, Left, Look, Loss, Soak, When, Wilt
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, FeltClass, Planting, Uid
from soakbook.reckoning.simulation.start import CLASS_MIDS
from soakbook.reckoning.simulation.touches import moment_of, spoken_of
from soakbook.reckoning.simulation.watering import (
    living_count,
    local_day,
    losses_by_bed,
    soak_shares,
)

DRY_CLASSES: tuple[FeltClass, ...] = ("dust", "dry")
WET_CLASSES: tuple[FeltClass, ...] = ("wet", "sour")
FELT_HOLDS_DAYS = 2


class Diary(NamedTuple):
    """One bed's entries as a morning knows them, oldest first, and its living plantings with their counts."""

    pages: Pages
    bed: Bed
    morning: date
    entries: tuple[BedEntry, ...]
    living: tuple[tuple[Planting, int], ...]

    @property
    def zone(self) -> ZoneInfo:
        """The garden's zone."""
        return ZoneInfo(self.pages.garden.timezone)

    def moment(self, happened_at: When) -> datetime:
        """When something happened; without a time, at the round hour of its day."""
        return moment_of(happened_at, self.pages)

    def days_since(self, entry: BedEntry) -> int:
        """Whole days from an entry's day to the morning."""
        return (self.morning - local_day(entry.happened_at, self.zone)).days

    def feels(self) -> tuple[Feel, ...]:
        """All feels."""
        return tuple(one for one in self.entries if isinstance(one, Feel))

    def touches(self) -> tuple[Feel | Look, ...]:
        """All feels, and all looks into a hole."""
        return tuple(one for one in self.entries if isinstance(one, Feel | Look))

    def soaks(self, planting: Planting | None = None) -> tuple[Soak, ...]:
        """All soaks, or those that reached one planting."""
        return tuple(
            one
            for one in self.entries
            if isinstance(one, Soak)
            and (planting is None or one.planting_uid in (None, planting.uid))
        )

    def spoken_of(self, entry: BedEntry) -> str | None:
        """The planting a feel or a wilt speaks of: the named one, else the one with most plants that day."""
        return spoken_of(entry, self.pages)

    def felt_since_soak(self, planting: Planting, ball: bool) -> FeltClass | None:
        """What a finger last found in a planting's ball (or bed) today or yesterday, since its last soak."""
        soaks = self.soaks(planting)
        last = self.moment(soaks[-1].happened_at) if soaks else None
        for feel in reversed(self.feels()):
            found = feel.ball if ball else feel.bed
            if found is None or self.spoken_of(feel) != planting.uid:
                continue
            stale = self.days_since(feel) >= FELT_HOLDS_DAYS
            return None if stale or (last and last >= self.moment(feel.happened_at)) else found
        return None

    def felt_dry_mid(self, planting: Planting, ball: bool) -> float | None:
        """The wetness of a store that a finger found dust or dry, which overrules the reckoning; else None."""
        found = self.felt_since_soak(planting, ball)
        return CLASS_MIDS[found] if found in DRY_CLASSES else None

    def ball_felt_today(self, planting: Planting) -> bool:
        """Whether a finger was in a planting's ball today."""
        today = (one for one in self.feels() if one.ball and self.days_since(one) == 0)
        return any(self.spoken_of(one) == planting.uid for one in today)

    def felt_wet_today(self, planting: Planting, ball: bool) -> bool:
        """Whether a finger found a store wet or sour this morning, since its last soak."""
        today = any(self.days_since(one) == 0 for one in self.feels())
        return today and self.felt_since_soak(planting, ball) in WET_CLASSES

    def left_today(self, planting: Planting) -> Left | None:
        """The visit of today on which a planting was looked at and left, if it was not soaked since."""
        visits = [
            one
            for one in self.entries
            if isinstance(one, Left)
            and one.planting_uid in (None, planting.uid)
            and self.days_since(one) == 0
        ]
        soaks = self.soaks(planting)
        if not visits or (
            soaks and self.moment(soaks[-1].happened_at) > self.moment(visits[-1].happened_at)
        ):
            return None
        return visits[-1]

    def bed_felt_wet(self) -> bool:
        """Whether the soil was found wet or sour in the last two days."""
        lately = [
            one.bed for one in self.feels() if one.bed and self.days_since(one) < FELT_HOLDS_DAYS
        ]
        return bool(lately) and lately[-1] in WET_CLASSES

    def given_on(self, day: date) -> tuple[Soak, ...]:
        """Soaks of one day."""
        return tuple(one for one in self.soaks() if local_day(one.happened_at, self.zone) == day)

    def soaks_in_week(self) -> int:
        """Days with a soak among the last seven, today's included."""
        days = {local_day(one.happened_at, self.zone) for one in self.soaks()}
        return sum(timedelta(0) <= self.morning - day < timedelta(days=7) for day in days)

    def felt_in_week(self) -> bool:
        """Whether a finger or an eye was in the soil in the last seven days."""
        return any(self.days_since(one) < 7 for one in self.touches())

    def heard_of_since(self, day: date) -> bool:
        """Whether a soak, a visit without water or a wilt was entered for that day or later."""
        words = (Soak, Left, Wilt)
        return any(
            isinstance(one, words) and local_day(one.happened_at, self.zone) >= day
            for one in self.entries
        )

    def hours_since_soak(self, planting: Planting) -> float | None:
        """Hours from a planting's last soak to the round."""
        soaks = self.soaks(planting)
        if not soaks:
            return None
        return (
            self.moment(self.morning) - self.moment(soaks[-1].happened_at)
        ).total_seconds() / 3600

    def usual_last_given(self, planting: Planting) -> date | None:
        """The last day on which a planting had its usual dose or more."""
        if planting.usual_dose_l is None:
            return None
        losses = tuple(one for one in self.pages.entries if isinstance(one, Loss))
        for soak in reversed(self.soaks(planting)):
            for one, litres in soak_shares(soak, self.pages, losses, self.zone):
                if one.uid == planting.uid and litres >= 0.95 * planting.usual_dose_l:
                    return local_day(soak.happened_at, self.zone)
        return None


def diary_of(pages: Pages, bed: Bed, morning: date) -> Diary:
    """The diary of one bed, of the day's own losses those that its pages know of; of one at rest nothing lives."""
    return diaries_of(pages, [bed], morning)[bed.uid]


def diaries_of(pages: Pages, beds: Sequence[Bed], morning: date) -> dict[Uid, Diary]:
    """The diaries of some beds by uid, the book gone through once."""
    zone, tomorrow = ZoneInfo(pages.garden.timezone), morning + timedelta(days=1)
    losses = losses_by_bed(pages)
    told: dict[Uid, list[BedEntry]] = {bed.uid: [] for bed in beds}
    for one in pages.entries:
        if isinstance(one, BedEntry) and one.bed_uid in told:
            told[one.bed_uid].append(one)
    found = {}
    for bed in beds:
        lost = losses.get(bed.uid, ())
        living = tuple(
            (one, count)
            for one in pages.plantings_of(bed)
            if one.here_from <= morning
            and not bed.rests_on(morning)
            and (count := living_count(one, lost, tomorrow, zone)) > 0
        )
        found[bed.uid] = Diary(pages, bed, morning, tuple(told[bed.uid]), living)
    return found
