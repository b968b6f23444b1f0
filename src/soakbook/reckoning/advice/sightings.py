"""What of a bed's entries counts when limp leaves are asked after: looks, fingers, and water since."""

from datetime import datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import When, Wilt
from soakbook.garden.records import FeltClass, Planting
from soakbook.reckoning.advice.diary import Diary
from soakbook.reckoning.advice.triage import LATELY_DAYS, Phase, Seen, phase_of

LOOKS_HOLD = timedelta(days=2)
FINGER_HOLDS = timedelta(hours=18)
"""A finger of noon still speaks for the next dawn: little is drunk overnight. common practice, no source."""
WEEK = timedelta(days=7)


class Look(NamedTuple):
    """One look at a planting's leaves."""

    moment: datetime
    hour: time | None
    """None where it was not said."""
    upright: bool

    @property
    def phase(self) -> Phase | None:
        """The part of the day."""
        return None if self.hour is None else phase_of(self.hour)


def seen_of(diary: Diary, planting: Planting, now: datetime) -> Seen | None:
    """What was seen and felt of a planting; None when nobody looked at it in two days.

    Parameters
    ----------
    diary : Diary
        Of the planting's bed, on the day of `now`, knowing no more than was known then.
    planting : Planting
    now : datetime
        Zone-aware.
    """
    looks = [
        _look(diary, one.happened_at, one.upright)
        for one in diary.entries
        if isinstance(one, Wilt) and diary.spoken_of(one) == planting.uid
    ]
    looks = [one for one in looks if now - LOOKS_HOLD <= one.moment]
    if not looks:
        return None
    last, watered = looks[-1], _watered(diary, planting)
    counting = [one for one in looks if watered is None or one.moment > watered]
    feels = [
        one
        for one in diary.feels()
        if diary.spoken_of(one) == planting.uid
        and diary.moment(one.happened_at) >= last.moment - FINGER_HOLDS
        and (watered is None or diary.moment(one.happened_at) > watered)
    ]
    return Seen(
        phase=_phase(counting or [last]),
        hour=f"{last.hour:%H:%M}" if last.hour else "",
        upright=last.upright,
        soaked_since=not counting,
        dusk_gone=now.astimezone(diary.zone).date() > last.moment.date(),
        ball=_last([one.ball for one in feels]),
        bed=_last([one.bed for one in feels]),
        has_ball=planting.origin != "bare",
        moved_lately=(diary.morning - planting.planted_on).days < LATELY_DAYS[planting.origin],
        soft_leaves=planting.plant_class == "soft",
        afternoons=_afternoons(diary, now),
    )


def limp_at_noon(entry: Wilt, zone: ZoneInfo) -> bool:
    """Whether leaves were seen limp in the afternoon."""
    when = entry.happened_at
    if entry.upright or not isinstance(when, datetime):
        return False
    return phase_of(when.astimezone(zone).time()) == "noon"


def _look(diary: Diary, when: When, upright: bool) -> Look:
    moment = diary.moment(when)
    hour = moment.time() if isinstance(when, datetime) else None
    return Look(moment, hour, upright)


def _phase(looks: list[Look]) -> Phase | None:
    """That of the last look; but limp in the morning stands all day, until they are seen upright."""
    last = looks[-1]
    standing = max((n for n, one in enumerate(looks) if one.upright), default=-1)
    same_day = [one for one in looks[standing + 1 :] if one.moment.date() == last.moment.date()]
    return "dawn" if any(one.phase == "dawn" for one in same_day) else last.phase


def _watered(diary: Diary, planting: Planting) -> datetime | None:
    """When water last reached a planting."""
    return max((diary.moment(one.happened_at) for one in diary.soaks(planting)), default=None)


def _last(found: list[FeltClass | None]) -> FeltClass | None:
    return next((one for one in reversed(found) if one), None)


def _afternoons(diary: Diary, now: datetime) -> int:
    """Afternoons of a week on which something at the bed was limp."""
    moments = [
        diary.moment(one.happened_at)
        for one in diary.entries
        if isinstance(one, Wilt) and limp_at_noon(one, diary.zone)
    ]
    return len({one.date() for one in moments if now - WEEK < one})
