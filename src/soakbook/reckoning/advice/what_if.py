"""The garden as it would be if a round were done: tomorrow's likely list, and the two readings of a silent bed."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Soak
from soakbook.garden.pages import Pages
from soakbook.reckoning.advice.calling import BedCall, bed_calls
from soakbook.reckoning.advice.diary import diaries_of
from soakbook.reckoning.advice.judging import Judgement, judge
from soakbook.reckoning.advice.visits import hours_on, people_on
from soakbook.reckoning.advice.walk import fitted, walk
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.run import Dawn, felt, next_dawn
from soakbook.reckoning.simulation.season import season_at

DAYS_TO_COUNT_A_ROUND = 3  # enough to see what is wanted within two days
DAYS_TO_SEE_A_REST = 9


def as_if_done(pages: Pages, calls: Iterable[BedCall], day: date) -> Pages:
    """The pages with these calls entered as given in full at the round hour of a day."""
    at = datetime.combine(day, pages.garden.round_hour, ZoneInfo(pages.garden.timezone))
    done = tuple(
        Soak(
            uid=f"as if done {day} {one.judged.planting.uid}",
            happened_at=at,
            written_at=at,
            bed_uid=call.bed.uid,
            planting_uid=one.judged.planting.uid,
            litres=one.litres,
            typed="as advised",
            kind=one.judged.dose_kind or "soak",
            method=call.supply.method,
        )
        for call in calls
        for one in call.going
    )
    return pages._replace(entries=pages.entries + done)


def tomorrow(
    judgement: Judgement, calls: Iterable[BedCall], earlier: Sequence[Dawn]
) -> tuple[BedCall, ...]:
    """What tomorrow would likely ask for, this round done in full; `earlier` are the dawns before today's."""
    following = judgement.dawn.day + timedelta(days=1)
    pages = as_if_done(judgement.season.pages, calls, judgement.dawn.day)
    dawn = felt(next_dawn(_as_if(judgement.dawn, pages, following)))
    following_round = judge(dawn, DAYS_TO_COUNT_A_ROUND, (*earlier, judgement.dawn))
    return tuple(call for call in bed_calls(following_round) if call.going)


class Yesterday(NamedTuple):
    """What the round of yesterday, or of an earlier day, said to those who were to come."""

    judgement: Judgement
    calls: tuple[BedCall, ...]
    """Fitted to the hours there were."""


def yesterday_of(dawn_before: Dawn, pages: Pages, earlier: Sequence[Dawn]) -> Yesterday | None:
    """The round of yesterday, or of an earlier day, as it stood then; None when nobody was to come or could ask.

    Parameters
    ----------
    dawn_before : Dawn
        That day's dawn.
    pages : Pages
        The book as this morning knows it.
    earlier : sequence of Dawn
        Those before it, oldest first.
    """
    yesterday = dawn_before.day
    if pages.people and not people_on(pages, yesterday):
        return None
    heard = pages.heard_since
    if heard and heard.astimezone(ZoneInfo(pages.garden.timezone)).date() > yesterday:
        return None
    unfelt = dawn_before.unfelt or dawn_before
    known = known_on(pages, yesterday)
    # A finger that came after yesterday's round squares up the same dawn; that round did not know of it.
    season = season_at(unfelt.season, known, yesterday, since=yesterday)
    then = felt(unfelt._replace(season=season))
    judgement = judge(then, DAYS_TO_COUNT_A_ROUND, earlier)
    return Yesterday(judgement, fitted(bed_calls(judgement), hours_on(pages, yesterday)))


def silent_beds(yesterday: Yesterday, pages: Pages) -> tuple[BedCall, ...]:
    """Yesterday's calls of beds of which nothing was heard since, `pages` being what this morning knows."""
    day, walked = yesterday.judgement.dawn.day, walk(yesterday.calls)
    diaries = diaries_of(pages, [call.bed for call in walked], day + timedelta(days=1))
    return tuple(call for call in walked if not diaries[call.bed.uid].heard_of_since(day))


def if_done(dawn_before: Dawn, calls: Iterable[BedCall]) -> Judgement:
    """This morning judged as if yesterday's silent beds had been soaked in full."""
    season = dawn_before.season
    pages = as_if_done(season.pages, calls, dawn_before.day)
    return judge(felt(next_dawn(_as_if(dawn_before, pages, season.morning))), DAYS_TO_SEE_A_REST)


def lasts_until(judgement: Judgement, calls: Iterable[BedCall], visit: date) -> Judgement:
    """The evenings up to the next visit with this round done in full."""
    days = (visit - judgement.dawn.day).days
    pages = as_if_done(judgement.season.pages, calls, judgement.dawn.day)
    return judge(_as_if(judgement.dawn, pages, judgement.season.morning), days)


def _as_if(dawn: Dawn, pages: Pages, morning: date) -> Dawn:
    """The dawn of a season with other soaks: each feel still squares up the dawn it did."""
    season = season_at(dawn.season, pages, morning, dawn.season.touches, dawn.day)
    return dawn._replace(season=season)
