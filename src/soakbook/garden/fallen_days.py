"""Rain that is known to have fallen: on calendar days of the garden's zone, and between two moments.

Nothing forecast counts, and no reckoning's step: promises and dry spells are judged by this. What a moment could not
know is left out. Windows and shapes are those of `windows`, `hours` and `rainfall`.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Rain
from soakbook.garden.hours import HOUR, Hours
from soakbook.garden.pages import Pages
from soakbook.garden.rainfall import Part, by_the_hour, length_of, remainder
from soakbook.garden.runs import ONE_DAY
from soakbook.garden.told_days import hours_gone
from soakbook.garden.weather import Forecast, WeatherDay
from soakbook.garden.windows import Span, in_utc, local_moment, owned

KNOWN_KINDS = ("measured", "analysed")
"""Of a day's total; a forecast that went by is nobody's knowledge."""


class Fallen(NamedTuple):
    """What a moment knows of the rain before it."""

    at: datetime
    zone: ZoneInfo
    spans: tuple[Span, ...]
    """Owned by gauge readings, in the order of time."""
    ends: tuple[datetime, ...]
    """Of the spans."""
    hours: Hours
    totals: Mapping[date, float]
    """Of the days known by their totals; of the moment's own day what a service told as gone by."""

    @property
    def today(self) -> date:
        """The day of the moment."""
        return self.at.astimezone(self.zone).date()

    def on(self, day: date) -> float | None:
        """What fell on a day before the moment's own [mm]; None where it is not known.

        It is where gauges own all but an hour of it, or its total is known.
        """
        if day >= self.today:
            return None
        begin, end = self._ends_of(day)
        if day not in self.totals:
            lasting = sum(
                (min(one.end, end) - max(one.begin, begin) for one in self._touching(begin, end)),
                timedelta(0),
            )
            if end - begin - lasting > HOUR:
                return None
        return self._between(begin, end)

    def by_day(self, first: date | None = None) -> dict[date, float]:
        """What fell on each day that is known, from one on or from the first of all, up to the one before the moment's.

        Parameters
        ----------
        first
            None: the first with a total or a reading.
        """
        begun = [
            *self.totals,
            *(span.begin.astimezone(self.zone).date() for span in self.spans[:1]),
        ]
        day = first or min(begun, default=self.today)
        found = {}
        while day < self.today:
            fell_mm = self.on(day)
            if fell_mm is not None:
                found[day] = fell_mm
            day += ONE_DAY
        return found

    def today_mm(self) -> float:
        """What is known to have fallen from the last midnight to the moment [mm]."""
        return self.between(local_moment(self.today, time(0), self.zone), self.at)

    def between(self, since: datetime, until: datetime) -> float:
        """What is known to have fallen between two moments [mm]: by the hours told, else in proportion to time.

        Parameters
        ----------
        since, until
            Zone-aware; what comes after the moment of knowing is not counted.
        """
        return self._between(in_utc(since), min(in_utc(until), in_utc(self.at)))

    def _between(self, begin: datetime, end: datetime) -> float:
        by_gauge = sum(
            one.rain_mm
            * self.hours.share(max(one.begin, begin), min(one.end, end), one.begin, one.end)
            for one in self._touching(begin, end)
        )
        day, last = begin.astimezone(self.zone).date(), end.astimezone(self.zone).date()
        beyond = 0.0
        while day <= last:
            if total_mm := self.totals.get(day):
                beyond += self._beyond_gauges(day, total_mm, begin, end)
            day += ONE_DAY
        return by_gauge + beyond

    def _beyond_gauges(self, day: date, total_mm: float, since: datetime, until: datetime) -> float:
        """Of a day's total what fell between two moments in hours that no reading owns."""
        midnight, next_midnight = self._ends_of(day)
        begin, end = max(since, midnight), min(until, next_midnight)
        if begin >= end:
            return 0.0
        spans = tuple(self._touching(midnight, next_midnight))
        if wet := self.hours.of(day):
            found = by_the_hour(total_mm, wet, spans, self.zone, begin, end)
            return sum(piece.rain_mm for piece in found)
        gauge = self._part(spans, midnight, next_midnight)
        free = length_of(day, self.zone) - gauge.lasting
        if not free:
            return 0.0
        rest_mm = remainder(total_mm, gauge, day, self.zone)
        return rest_mm * ((end - begin - self._part(spans, begin, end).lasting) / free)

    def _part(self, spans: Iterable[Span], begin: datetime, end: datetime) -> Part:
        """What readings have between two moments."""
        part = Part()
        for one in spans:
            first, last = max(one.begin, begin), min(one.end, end)
            if first < last:
                share = self.hours.share(first, last, one.begin, one.end)
                part += Part(one.rain_mm * share, last - first)
        return part

    def _touching(self, begin: datetime, end: datetime) -> Iterator[Span]:
        for one in self.spans[bisect_right(self.ends, begin) :]:
            if one.begin >= end:
                break
            yield one

    def _ends_of(self, day: date) -> tuple[datetime, datetime]:
        midnight = local_moment(day, time(0), self.zone)
        return midnight, local_moment(day + ONE_DAY, time(0), self.zone)


def fallen_of(pages: Pages, at: datetime) -> Fallen:
    """What a moment knows of the rain before it.

    Of the moment's own day that is what gauges have, and for the hours that none owns what a forecast issued on the
    day told as gone by when it was issued.

    Parameters
    ----------
    pages
        What lies after the moment is left out.
    at
        Zone-aware.
    """
    zone, round_hour = ZoneInfo(pages.garden.timezone), pages.garden.round_hour
    today = at.astimezone(zone).date()
    before = [day for day in pages.weather if day.day < today]
    totals = {day.day: day.rain_mm for day in before if _is_known(day) and day.rain_mm is not None}
    shapes = {day.day: day.rain_by_hour_mm for day in before if day.rain_by_hour_mm}
    if gone := _gone_by(pages.forecasts, at, zone):
        totals[today], shapes[today] = sum(gone), gone
    hours = Hours(shapes, zone)
    readings = tuple(
        one for one in pages.entries if isinstance(one, Rain) and _is_read(one, at, zone)
    )
    spans = tuple(owned(readings, zone, round_hour, hours))
    return Fallen(at, zone, spans, tuple(span.end for span in spans), hours, totals)


def _is_known(day: WeatherDay) -> bool:
    """Whether somebody saw its total; one that nobody signs was brought in by hand."""
    source = day.sources.get("rain_mm")
    return source is None or source[1] in KNOWN_KINDS


def _is_read(reading: Rain, at: datetime, zone: ZoneInfo) -> bool:
    """Whether a reading was taken by a moment; one without a time counts on its whole day."""
    happened = reading.happened_at
    if isinstance(happened, datetime):
        return happened <= at
    return happened <= at.astimezone(zone).date()


def _gone_by(forecasts: Iterable[Forecast], at: datetime, zone: ZoneInfo) -> tuple[float, ...]:
    """The day's hours that lay behind the newest issue of the same day, as it told them."""
    today = at.astimezone(zone).date()
    for forecast in forecasts:
        if forecast.issued_at <= at and forecast.issued_at.astimezone(zone).date() == today:
            for day in forecast.days:
                if day.day == today:
                    return day.rain_by_hour_mm[: hours_gone(today, forecast.issued_at, zone)]
    return ()
