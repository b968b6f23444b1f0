"""A season reviewed: the book read once, the season run once, and the frames that tell of it."""

import math
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd

from soakbook.account.beds import beds_frame
from soakbook.account.days import days_frame, no_days
from soakbook.account.feels import feels_frame
from soakbook.account.litres_way import LitresWay, way_of
from soakbook.account.months import months_frame, weather_frame
from soakbook.account.season import A_DAY, LAST_YEAR, Span, bounds_of, span_of
from soakbook.account.sources import sources_frame
from soakbook.account.standing import seasons_told, standing_by_day
from soakbook.account.visits import visits_frame
from soakbook.account.waits import Waits, waits_frame
from soakbook.errors import InputError
from soakbook.garden.entries import Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Uid
from soakbook.reckoning.advice.course import Course, course_of
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.season import season_of
from soakbook.reckoning.simulation.watering import local_day, soak_step
from soakbook.services.seasons import morning_after_all, pages_on, pages_up_to

AFTER_ALL = date(LAST_YEAR + 2, 1, 1)
"""By this morning the last season that can be asked for is over."""


@dataclass(frozen=True)
class Account:
    """One season of a garden, up to a day: frames as documented in `frames`, and where the litres went.

    Attributes
    ----------
    pages : Pages
        The book as it was read, cut to before the morning after `span`.
    span : Span
        The days it covers.
    course : Course or None
        Every step of the reckoning; None where nothing can be reckoned.
    days, weather, visits, waits : DataFrame
    """

    pages: Pages
    span: Span
    course: Course | None
    days: pd.DataFrame
    weather: pd.DataFrame
    visits: pd.DataFrame
    waits: pd.DataFrame

    @property
    def begins(self) -> date:
        """The first day with a planting reckoned or a visit: before it there is nothing to tell."""
        days = [frame["day"].min() for frame in (self.days, self.visits) if len(frame)]
        return min(days).date() if days else self.span.first

    @cached_property
    def beds(self) -> pd.DataFrame:
        """One row per bed."""
        return beds_frame(self.pages, self.span, self.course, self.days, self.visits)

    @cached_property
    def months(self) -> pd.DataFrame:
        """One row per calendar month."""
        stood = np.any(standing_by_day(self.pages, self.span), axis=1)
        return months_frame(self.weather, self.days, self.visits, stood)

    @cached_property
    def sources(self) -> pd.DataFrame:
        """One row per month and source of water."""
        return sources_frame(self.visits)

    @cached_property
    def feels(self) -> pd.DataFrame:
        """One row per feel of a store."""
        return feels_frame(self.course, self.pages, self.span)

    def way(self, bed_uid: Uid | None = None) -> LitresWay:
        """Where the litres of the garden went, or those of one bed.

        Raises
        ------
        InputError
            They do not add up: a fault of ours.
        """
        days, visits = self.days, self.visits
        rows: slice | list[int] = slice(None)
        if bed_uid is not None:
            days, visits = days[days["bed_uid"] == bed_uid], visits[visits["bed_uid"] == bed_uid]
            plantings = self.course.plantings if self.course else ()
            rows = [row for row, one in enumerate(plantings) if one.bed_uid == bed_uid]
        given_l = float(visits["litres"].sum())
        return way_of(days, given_l, self.course, rows, self._evening_before_l(bed_uid))

    def _evening_before_l(self, bed_uid: Uid | None) -> float:
        """Given after 17:00 on the day before the span, where something was reckoned by then [L]."""
        if self.course is None or self.course.season.first >= self.span.first:
            return 0.0
        zone, first = ZoneInfo(self.pages.garden.timezone), self.span.first
        return math.fsum(
            one.litres
            for one in self.pages.entries
            if isinstance(one, Soak)
            and bed_uid in (None, one.bed_uid)
            and local_day(one.happened_at, zone) < first == soak_step(one.happened_at, zone)
        )


def account_of(path: Path, year: int, on: date | None = None) -> Account:
    """The account of a season.

    Parameters
    ----------
    path : Path
        The book.
    year : int
        By which the season is named: the one it begins in.
    on : date, optional
        The morning it is asked on: days before it are in it. Without it, the morning after the last day of which the
        book tells.

    Raises
    ------
    InputError
        The season has not begun, or the book tells nothing of it.
    BookError
        The book cannot be opened or read.
    """
    last = morning_after_all(path)
    asked = last if on is None else min(on, AFTER_ALL)
    if asked is None or last is None:
        right = "a season of which the book tells; there is nothing in it yet"
        raise InputError("year", year, right)
    pages = pages_up_to(path, max(asked, last))
    told = seasons_told(pages, last - A_DAY)
    begun = asked > bounds_of(pages.garden, year)[0]
    if year not in told and (on is None or begun):
        raise InputError("year", year, _those(told))
    return reviewed(path, span_of(pages.garden, year, asked))


def reviewed(path: Path, span: Span) -> Account:
    """The account of a span of days, whatever season it is; frames without rows where the book tells nothing of it.

    Parameters
    ----------
    path : Path
        The book.
    span : Span

    Raises
    ------
    BookError
        The book cannot be opened or read.
    """
    pages = pages_up_to(path, span.asked)
    season = season_of(known_on(pages, span.asked), span.asked, ahead_days=1)
    waits = Waits(pages, span, lambda day: pages_on(path, day))
    course = None if season is None else course_of(season, span.first, waits.see)
    days = no_days() if course is None else days_frame(course, span)
    visits = visits_frame(pages, span.first, span.until)
    put_off = waits_frame(waits.found, pages, days, visits, span.asked)
    return Account(pages, span, course, days, weather_frame(pages, span), visits, put_off)


def _those(told: tuple[int, ...]) -> str:
    """The seasons of which a book tells, for who asked after another."""
    if not told:
        return "a season in which something was planted; nothing has been yet"
    if len(told) == 1:
        return f"{told[0]}: it is the only season of which the book tells"
    which = f"{', '.join(map(str, told[:-1]))} or {told[-1]}"
    if told[-1] - told[0] == len(told) - 1 > 1:
        which = f"a year from {told[0]} to {told[-1]}"
    return f"{which}: those are the seasons of which the book tells"
