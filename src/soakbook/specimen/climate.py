"""The specimen's climate: what each day of its record is like, and scores by which to invent days like it.

A score is a number as from a normal distribution with mean 0 and sd 1: one for a day's rain, from which no drop to a
burst, and one for its ET0. Round each day the record itself is smoothed; what is drawn with it is `sky_ahead`'s.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from statistics import NormalDist, fmean
from typing import NamedTuple

RAIN_TAKES = 0.5
"""Correlation of the scores of ET0 and rain, turned round: the record's wet days have it at 0.7 sd below others'."""

RAIN_LEAVES = math.sqrt(1 - RAIN_TAKES**2)
"""What is ET0's own."""

ET0_LEAST_MM, RAIN_MOST_MM = 0.1, 40.0
"""Limits of a day; the record stays well within."""

RECORD_BEGINS = date(2031, 2, 1)
"""The first day of the record; those before it were invented after it (`winter`)."""

DRY_OVER_DAYS, RAIN_OVER_DAYS, ET0_OVER_DAYS = 25.0, 40.0, 20.0
"""Width (sd) of the normal weights by which days near in the year make a day's climate."""

NORMAL = NormalDist()


class Weather(NamedTuple):
    """What came on a day of the record."""

    rain_mm: float
    et0_mm: float


class Climate(NamedTuple):
    """What a day of the year is like, as the record has it round that day."""

    dry_share: float
    log_rain_mean: float
    log_rain_sd: float
    et0_mean_mm: float
    et0_sd_mm: float

    def rain_mm(self, score: float) -> float:
        """The rain of a score."""
        wet = (NORMAL.cdf(score) - self.dry_share) / (1 - self.dry_share)
        if wet <= 0:
            return 0.0
        amount = NORMAL.inv_cdf(min(wet, 1 - 1e-9))
        return min(RAIN_MOST_MM, math.exp(self.log_rain_mean + self.log_rain_sd * amount))

    def rain_score(self, rain_mm: float) -> float:
        """The score of a day on which it rained."""
        amount = (math.log(rain_mm) - self.log_rain_mean) / self.log_rain_sd
        return NORMAL.inv_cdf(self.dry_share + (1 - self.dry_share) * NORMAL.cdf(amount))

    def et0_score(self, et0_mm: float) -> float:
        """The score of an ET0, rain's part and its own together."""
        return (et0_mm - self.et0_mean_mm) / self.et0_sd_mm

    def et0_mm(self, rain_score: float, own_score: float) -> float:
        """The ET0 of a day with both scores."""
        score = -RAIN_TAKES * rain_score + RAIN_LEAVES * own_score
        return max(ET0_LEAST_MM, self.et0_mean_mm + self.et0_sd_mm * score)


def climates(record: Mapping[date, Weather], before: int, after: int) -> dict[date, Climate]:
    """What each day is like, from so many days before the record's first to so many after its last.

    Rain amounts are lognormal round their smoothed mean, ET0 normal round a smoothed straight line; the spread of each
    is widened by one factor so that over the record its scores have sd 1.
    """
    first = min(record)
    rough = {
        first + timedelta(days=place): _rough(list(record.values()), place)
        for place in range(-before, len(record) + after)
    }
    rain_factor = _rms(
        (math.log(came.rain_mm) - rough[day].log_rain_mean) / rough[day].log_rain_sd
        for day, came in record.items()
        if came.rain_mm > 0
    )
    et0_factor = _rms(rough[day].et0_score(came.et0_mm) for day, came in record.items())
    return {
        day: one._replace(
            log_rain_sd=one.log_rain_sd * rain_factor, et0_sd_mm=one.et0_sd_mm * et0_factor
        )
        for day, one in rough.items()
    }


def dot(one: Sequence[float], other: Sequence[float]) -> float:
    """The sum of the products, place by place."""
    return sum(a * b for a, b in zip(one, other, strict=True))


def _rough(record: Sequence[Weather], place: int) -> Climate:
    """Smoothed round a day, counted from the record's first."""
    wet = [(n, math.log(came.rain_mm)) for n, came in enumerate(record) if came.rain_mm > 0]
    near = _near(place, range(len(record)), DRY_OVER_DAYS)
    near_wet = _near(place, [n for n, _ in wet], RAIN_OVER_DAYS)
    log_mean = dot(near_wet, [log for _, log in wet])
    return Climate(
        dot(near, [float(came.rain_mm == 0) for came in record]),
        log_mean,
        math.sqrt(dot(near_wet, [(log - log_mean) ** 2 for _, log in wet])),
        *_line(place, [came.et0_mm for came in record]),
    )


def _line(place: int, et0_mm: Sequence[float]) -> tuple[float, float]:
    """Mean and sd of ET0 at a place, about a straight line through the days near it."""
    near = _near(place, range(len(et0_mm)), ET0_OVER_DAYS)
    middle, mean = dot(near, range(len(et0_mm))), dot(near, et0_mm)
    spread = [n - middle for n in range(len(et0_mm))]
    slope = dot(near, [s * (mm - mean) for s, mm in zip(spread, et0_mm, strict=True)])
    slope /= dot(near, [s * s for s in spread])
    off = [mm - mean - slope * s for s, mm in zip(spread, et0_mm, strict=True)]
    return mean + slope * (place - middle), math.sqrt(dot(near, [one**2 for one in off]))


def _near(place: int, places: Sequence[int], width: float) -> list[float]:
    """Normal weights of places by how near they are, together 1."""
    weights = [math.exp(-0.5 * ((one - place) / width) ** 2) for one in places]
    total = sum(weights)
    return [one / total for one in weights]


def _rms(values: Iterable[float]) -> float:
    return math.sqrt(fmean(one**2 for one in values))
