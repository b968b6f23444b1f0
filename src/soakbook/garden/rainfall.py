"""Rain as windows of time: gauge readings and daily totals brought into the steps of the reckoning.

A reading is an amount for the time since the gauge was last emptied, and it owns those hours: no
other source's rain is added to them. Where a service tells the hours, they are the shape of it: of
a reading within its window, of a daily total within its day. A total without hours stays on its own
day, and counts for the hours that no gauge owns. The step of day d runs from 17:00 of d-1 to 17:00 of d,
because a plant drinks after it is watered. How rain is taken in is the reckoning's; what fell is
said here. All arithmetic is in UTC.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import NamedTuple

from soakbook.garden.entries import Rain, RainKind
from soakbook.garden.hours import HOUR, Hours, Shapes, Wet
from soakbook.garden.windows import Span, in_utc, local_moment, owned, reading_end

STEP_ENDS_AT = time(17)
"""Local time at which a day's step ends (DEVELOPERS.md, The balance by number)."""

ROUND_HOUR = time(7)
READING_REACHES_BACK = timedelta(days=7)
ASSUMED_WINDOW = timedelta(days=1)


class RainPiece(NamedTuple):
    """Rain that fell in one step, from one reading or one daily total.

    `hours_known` is the part of the reading's window that lies in this step [h, 0-25]: intake hours
    are the shorter of it and the kind's own. `None` for a daily total, which says nothing of its
    hours. `lasted_h` is how many hours it rained, where a service tells them [h, 1-25].
    """

    step_day: date
    rain_mm: float
    hours_known: float | None
    kind: RainKind | None
    lasted_h: float | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """Rain, and how long the time is in which it fell."""

    rain_mm: float = 0.0
    lasting: timedelta = timedelta(0)
    wet_h: float = 0.0

    def __add__(self, other: "Part") -> "Part":
        return Part(
            self.rain_mm + other.rain_mm, self.lasting + other.lasting, self.wet_h + other.wet_h
        )


def pieces(
    readings: tuple[Rain, ...],
    day_totals: Mapping[date, float | None],
    zone: tzinfo,
    round_hour: time = ROUND_HOUR,
    shapes: Shapes | None = None,
) -> tuple[RainPiece, ...]:
    """Rain by step, oldest first.

    Each reading is shared over its window as it rained there by the hours that are known, else by
    time; daily totals count with what they have beyond the readings. Steps in which nothing fell
    have no piece; whether a day's rain is known at all is
    `days_without_rain`.

    Parameters
    ----------
    readings
        Gauge readings in force. Where two windows overlap, the one written later owns the overlap,
        and the other keeps its amount only for the hours left to it.
    day_totals
        Local calendar day -> the best daily total known [mm, >= 0], `None` where none is.
    zone
        The garden's zone.
    round_hour
        Local time at which a reading dated without a time was taken.
    shapes
        How each day's rain fell, whosever its total is.

    Returns
    -------
    tuple of RainPiece
        By step, readings before the day's total. Amounts are greater than 0.

    Raises
    ------
    InputError
        A reading that ends before it begins.

    Notes
    -----
    Of a day touched by readings and without hours, remainder = max(0, total - gauge in that day) x
    hours no gauge owns / hours of the day (common practice, no source).
    """
    hours = Hours(shapes or {}, zone)
    spans = tuple(owned(readings, zone, round_hour, hours))
    fallen: dict[tuple[date, int], Part] = defaultdict(Part)
    for span in spans:
        for began_on, part in _split(span, STEP_ENDS_AT, zone, hours):
            fallen[began_on + timedelta(days=1), span.reading] += part
    by_gauge = [
        RainPiece(
            step, part.rain_mm, part.lasting / HOUR, readings[reading].kind, part.wet_h or None
        )
        for (step, reading), part in fallen.items()
        if part.rain_mm > 0
    ]
    gauge = _gauge_by_day(spans, zone, hours)
    by_total: list[RainPiece] = []
    for day, total in day_totals.items():
        if total and (wet := hours.of(day)):
            by_total += by_the_hour(total, wet, _touching(spans, wet), zone)
        elif total and (rest_mm := remainder(total, gauge.get(day), day, zone)) > 0:
            by_total.append(RainPiece(day, rest_mm, None, None))
    return tuple(
        sorted(by_gauge + by_total, key=lambda piece: (piece.step_day, piece.hours_known is None))
    )


def fallen_before(
    moments: Iterable[datetime],
    readings: tuple[Rain, ...],
    day_totals: Mapping[date, float | None],
    zone: tzinfo,
    round_hour: time = ROUND_HOUR,
    shapes: Shapes | None = None,
) -> list[tuple[RainPiece, ...]]:
    """What fell from the start of each moment's step to that moment, so far as its hours are known.

    That is by readings, and by daily totals with hours; the rest as in `pieces`.
    """
    hours = Hours(shapes or {}, zone)
    spans = tuple(owned(readings, zone, round_hour, hours))
    found = []
    for moment in moments:
        step = step_day(moment, zone)
        begins = local_moment(step - timedelta(days=1), STEP_ENDS_AT, zone)
        fallen: dict[int, Part] = defaultdict(Part)
        for span in _between(spans, begins, in_utc(moment)):
            begin, end = max(span.begin, begins), min(span.end, in_utc(moment))
            share = hours.share(begin, end, span.begin, span.end)
            fallen[span.reading] += Part(span.rain_mm * share, end - begin)
        by_gauge = [
            RainPiece(step, part.rain_mm, part.lasting / HOUR, readings[reading].kind)
            for reading, part in fallen.items()
            if part.rain_mm > 0
        ]
        by_total = [
            piece
            for day in (step - timedelta(days=1), step)
            if (total := day_totals.get(day)) and (wet := hours.of(day))
            for piece in by_the_hour(total, wet, _touching(spans, wet), zone, until=in_utc(moment))
            if piece.step_day == step
        ]
        found.append((*by_gauge, *by_total))
    return found


def days_without_rain(
    readings: tuple[Rain, ...],
    day_totals: Mapping[date, float | None],
    zone: tzinfo,
    round_hour: time = ROUND_HOUR,
) -> tuple[date, ...]:
    """Days of `day_totals` whose rain is not known.

    Such a day has no total, and more than an hour of it that no gauge owns.
    """
    hours = Hours({}, zone)
    gauge = _gauge_by_day(tuple(owned(readings, zone, round_hour, hours)), zone, hours)
    return tuple(
        day
        for day, total in day_totals.items()
        if total is None and length_of(day, zone) - gauge.get(day, Part()).lasting > HOUR
    )


def step_day(moment: datetime, zone: tzinfo) -> date:
    """Day whose step holds this moment: its own day until 17:00 local time, the next one after."""
    local = moment.astimezone(zone)
    return local.date() + timedelta(days=1) if local.time() > STEP_ENDS_AT else local.date()


def by_the_hour(
    total_mm: float,
    wet: Sequence[Wet],
    spans: Sequence[Span],
    zone: tzinfo,
    since: datetime | None = None,
    until: datetime | None = None,
) -> list[RainPiece]:
    """A day's total in the hours in which it rained and that no reading owns, by step.

    Parameters
    ----------
    total_mm
        What fell on the day [mm, > 0].
    wet
        Its wet hours, one at least.
    spans
        Those of readings that touch the day, in any order.
    zone
        The garden's zone.
    since, until
        Moments in UTC between which it counts; None: the whole day.
    """
    scale = total_mm / sum(one.rain_mm for one in wet)
    fallen: dict[date, Part] = defaultdict(Part)
    for one in wet:
        begin = one.begin if since is None else max(one.begin, since)
        end = one.end if until is None else min(one.end, until)
        taken = sum(
            (min(span.end, end) - max(span.begin, begin)) / HOUR
            for span in spans
            if span.begin < end and span.end > begin
        )
        left = (end - begin) / HOUR - taken
        if left > 0:
            step = step_day(one.begin + HOUR / 2, zone)
            fallen[step] += Part(one.rain_mm * scale * left, HOUR * left, 1.0)
    return [RainPiece(step, part.rain_mm, None, None, part.wet_h) for step, part in fallen.items()]


def remainder(total_mm: float, gauge: Part | None, day: date, zone: tzinfo) -> float:
    """What a day's total without hours has beyond the readings that own a part of the day."""
    if gauge is None:
        return total_mm
    length = length_of(day, zone)
    return max(0.0, total_mm - gauge.rain_mm) * ((length - gauge.lasting) / length)


def length_of(day: date, zone: tzinfo) -> timedelta:
    """How long a local day is: 23 to 25 hours."""
    return local_moment(day + timedelta(days=1), time(0), zone) - local_moment(day, time(0), zone)


def began_at(
    previous: Iterable[Rain], ended_at: datetime, round_hour: time = ROUND_HOUR
) -> tuple[datetime, bool]:
    """Start of a reading's window, and whether it is assumed.

    It is the end of the last reading before it, if that is at most seven days back; else 24 hours
    before, assumed.
    """
    zone = ended_at.tzinfo or UTC
    earlier = [
        end
        for end in (reading_end(reading, zone, round_hour) for reading in previous)
        if end < in_utc(ended_at)
    ]
    last = max(earlier, default=None)
    if last is not None and in_utc(ended_at) - last <= READING_REACHES_BACK:
        return last.astimezone(zone), False
    return (in_utc(ended_at) - ASSUMED_WINDOW).astimezone(zone), True


def _touching(spans: Sequence[Span], wet: Sequence[Wet]) -> Sequence[Span]:
    """Those of a book's spans, in the order of time, that may own some of the wet hours of a day."""
    return _between(spans, wet[0].begin, wet[-1].end)


def _between(spans: Sequence[Span], begin: datetime, end: datetime) -> Sequence[Span]:
    """Those of a book's spans that have some of the time between two moments."""
    first = bisect_right(spans, begin, key=_end_of)
    return spans[first : bisect_left(spans, end, key=lambda span: span.begin)]


def _end_of(span: Span) -> datetime:
    return span.end


def _split(span: Span, cut_at: time, zone: tzinfo, hours: Hours) -> Iterator[tuple[date, Part]]:
    """Parts of a span between daily cuts, each with the day on which its stretch began."""
    day = span.begin.astimezone(zone).date()
    if local_moment(day, cut_at, zone) > span.begin:
        day -= timedelta(days=1)
    begin = span.begin
    while begin < span.end:
        end = min(span.end, local_moment(day + timedelta(days=1), cut_at, zone))
        share = hours.share(begin, end, span.begin, span.end)
        yield day, Part(span.rain_mm * share, end - begin, hours.wet_h(begin, end))
        begin, day = end, day + timedelta(days=1)


def _gauge_by_day(spans: Iterable[Span], zone: tzinfo, hours: Hours) -> dict[date, Part]:
    """Rain and hours that readings own of each local calendar day."""
    days: dict[date, Part] = defaultdict(Part)
    for span in spans:
        for day, part in _split(span, time(0), zone, hours):
            days[day] += part
    return days
