"""What was known at a moment, taken from the book: the one bridge from files to deciding."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from soakbook.reckoning.advice.rounds import round_of
from soakbook.reckoning.advice.week_ahead import beds_in_heat, heat_known
from soakbook.reminders.sight import Sight
from soakbook.services.mornings import morning_known
from soakbook.services.weather_ahead import spell_known


def sights_of(path: Path, now: datetime, *, by_written: bool = True) -> Callable[[datetime], Sight]:
    """What was known of a book at any moment up to now, each moment reckoned once.

    Parameters
    ----------
    path : Path
        The book.
    now : datetime
        Zone-aware: dawns of its day are kept.
    by_written : bool
        As `mornings.morning_known` has it.

    Raises
    ------
    BookError
        When it is asked: the book cannot be opened.
    """
    seen: dict[datetime, Sight] = {}

    def sight_at(at: datetime) -> Sight:
        if at not in seen:
            may_keep = by_written and now.date() == at.date()
            seen[at] = sight_of(path, at, may_keep=may_keep, by_written=by_written)
        return seen[at]

    return sight_at


def sight_of(path: Path, at: datetime, *, may_keep: bool = False, by_written: bool = True) -> Sight:
    """What was known of a book at a moment.

    Parameters
    ----------
    path : Path
        The book.
    at : datetime
        Zone-aware.
    may_keep, by_written : bool
        As `mornings.morning_known` has them.

    Raises
    ------
    BookError
        The book cannot be opened.
    """
    morning = morning_known(path, at, may_keep=may_keep, by_written=by_written)
    pages = morning.pages
    local = at.astimezone(ZoneInfo(pages.garden.timezone))
    if morning.season is None or morning.judgement is None:
        return Sight(local, pages, round_of(morning))
    return Sight(
        at=local,
        pages=pages,
        round=round_of(morning),
        spell=spell_known(pages, morning.day, local),
        heat=heat_known(morning.season.pages, morning.day),
        in_heat=beds_in_heat(morning.judgement, morning.likely_tomorrow),
    )
