"""The totals of a proof: sums of what stands in it, so that a reader who adds up comes to the same."""

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from soakbook.account.proof_record import (
    BedTotal,
    DayWeather,
    PersonTotal,
    ProofDay,
    ProofVisit,
    SourceTotal,
    Totals,
)
from soakbook.account.proof_weather import total_of

SUM_DECIMALS = 3


def totals_of(days: Sequence[ProofDay], weather: Mapping[date, DayWeather]) -> Totals:
    """Sums over the span.

    Parameters
    ----------
    days : sequence of ProofDay
        With their visits.
    weather : mapping of date to DayWeather
        Every day of the span.
    """
    visits = [visit for day in days for visit in day.visits]
    rain_mm, rain_unknown = total_of(weather.values(), "rain_mm")
    et0_mm, et0_unknown = total_of(weather.values(), "et0_mm")
    return Totals(
        visit_days=sum(bool(day.visits) for day in days),
        visits=len(visits),
        watered=_count(visits, "watered"),
        left=_count(visits, "left"),
        looked=_count(visits, "looked"),
        soaks=sum(one.soaks for one in visits),
        litres=_sum(one.litres for one in visits),
        minutes=_sum(one.minutes for one in visits),
        minutes_on_foot=_sum(one.minutes_on_foot for one in visits),
        rain_mm=rain_mm,
        rain_days_unknown=rain_unknown,
        et0_mm=et0_mm,
        et0_days_unknown=et0_unknown,
        by_bed=_by_bed(visits),
        by_source=_by_source(visits),
        by_person=_by_person(visits),
    )


def _by_bed(visits: Sequence[ProofVisit]) -> tuple[BedTotal, ...]:
    found = []
    for key in sorted({one.bed for one in visits}):
        of_bed = [one for one in visits if one.bed == key]
        found.append(
            BedTotal(
                key,
                of_bed[0].name,
                _count(of_bed, "watered"),
                _count(of_bed, "left"),
                _count(of_bed, "looked"),
                _sum(one.litres for one in of_bed),
                _sum(one.minutes for one in of_bed),
            )
        )
    return tuple(sorted(found, key=lambda one: one.name))


def _by_source(visits: Sequence[ProofVisit]) -> tuple[SourceTotal, ...]:
    found = []
    for source in sorted({one.source for one in visits if one.source is not None}):
        of_it = [one for one in visits if one.source == source]
        found.append(SourceTotal(source, _sum(one.litres for one in of_it), len(of_it)))
    return tuple(found)


def _by_person(visits: Sequence[ProofVisit]) -> tuple[PersonTotal, ...]:
    found = []
    for by in sorted({one.by for one in visits}, key=lambda name: (name is None, name or "")):
        of_them = [one for one in visits if one.by == by]
        found.append(
            PersonTotal(
                by,
                len(of_them),
                _sum(one.litres for one in of_them),
                _sum(one.minutes_on_foot for one in of_them),
            )
        )
    return tuple(found)


def _count(visits: Sequence[ProofVisit], what: str) -> int:
    return sum(one.what == what for one in visits)


def _sum(values: Iterable[float | None]) -> float:
    return round(math.fsum(value for value in values if value is not None), SUM_DECIMALS)
