"""The proof of a span of days, made of a book: dated visits, the weather beside them, totals, findings, a digest.

Two proofs of the same days of an unchanged book by one soakbook are the same to the last byte: nothing in it depends on
when it is made. What it looks like stands in `proof_words` and the templates; checking one in `verifying`.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from soakbook.account.canonical import digest_of
from soakbook.account.proof_findings import cautions_of, findings_of
from soakbook.account.proof_record import (
    DIGEST,
    PROOF_SCHEMA,
    DayWeather,
    Felt,
    Proof,
    ProofDay,
    ProofGarden,
    ProofSpan,
    ProofVisit,
    Reading,
    Rest,
    Rule,
)
from soakbook.account.proof_totals import totals_of
from soakbook.account.proof_weather import readings_of, sources_in, total_of, weather_by_day
from soakbook.account.season import FIRST_YEAR, LAST_YEAR
from soakbook.account.visit_record import Visit, methods_of, named_in, visits_of
from soakbook.errors import InputError
from soakbook.garden.entries import BedEntry, Feel, Left, Look, Rain, When, Wilt
from soakbook.garden.pages import Pages
from soakbook.garden.tables.credits import credits_of
from soakbook.reckoning.advice.report import as_json
from soakbook.reckoning.simulation.watering import local_day
from soakbook.version import __version__

A_DAY = timedelta(days=1)
LITRES_DECIMALS = 3
MINUTES_DECIMALS = 2
CM_DECIMALS = 1
DEGREE_DECIMALS = 6


def proof_of(pages: Pages, first: date, last: date) -> Proof:
    """The proof of a span of days.

    Parameters
    ----------
    pages : Pages
        A whole book as it is read.
    first, last : date
        Both included, on the garden's calendar.

    Raises
    ------
    InputError
        The span ends before it begins, is of years that no garden is kept in, or nothing was entered in it.
    """
    if last < first:
        raise InputError("until", last, f"not before {first.isoformat()}")
    if first.year < FIRST_YEAR or last.year > LAST_YEAR:
        right = f"days of the years {FIRST_YEAR} to {LAST_YEAR}"
        raise InputError("from, until", _both(first, last), right)
    zone = ZoneInfo(pages.garden.timezone)
    visits = visits_of(pages, first, last)
    readings = readings_of(pages, first, last)
    if not visits and not readings:
        raise InputError("from, until", _both(first, last), _entered(pages, zone))
    weather = weather_by_day(pages, first, last)
    of_day: dict[date, list[ProofVisit]] = {}
    for visit in visits:
        of_day.setdefault(visit.day, []).append(_visit(pages, visit, zone))
    days = tuple(
        ProofDay(
            day,
            weather[day],
            tuple(_reading(one, zone) for one in readings.get(day, ())),
            tuple(of_day.get(day, ())),
        )
        for day in sorted({*of_day, *readings})
    )
    rules = tuple(
        Rule(one.first, one.last, one.tool, one.source, one.text)
        for one in pages.restrictions
        if one.first <= last and one.last >= first
    )
    garden = pages.garden
    proof = Proof(
        schema=PROOF_SCHEMA,
        made_with=f"soakbook {__version__}",
        garden=ProofGarden(
            garden.uid,
            garden.name,
            round(float(garden.latitude_deg), DEGREE_DECIMALS),
            round(float(garden.longitude_deg), DEGREE_DECIMALS),
            garden.timezone,
        ),
        span=ProofSpan(first, last, (last - first).days + 1),
        totals=totals_of(days, weather),
        days=days,
        rests=_rests(weather, [one.day for one in days]),
        rules=rules,
        findings=findings_of(pages, visits, weather),
        cautions=cautions_of(rules),
        credits=credits_of(sources_in(weather.values())),
        sha256="",
    )
    return proof._replace(sha256=digest_of(as_json(proof), DIGEST))


def proof_report(pages: Pages, first: date, last: date) -> dict[str, Any]:
    """The proof of a span of days as `--json` gives it; parameters as in `proof_of`.

    Raises
    ------
    InputError
        As for `proof_of`.
    """
    report: dict[str, Any] = as_json(proof_of(pages, first, last))
    return report


def _visit(pages: Pages, visit: Visit, zone: ZoneInfo) -> ProofVisit:
    given = visit.given
    reasons = [one.reason for one in visit.entries if isinstance(one, Left)]
    wilts = [one for one in visit.found if isinstance(one, Wilt)]
    holes = [one for one in visit.found if isinstance(one, Look)]
    notes = [one.note for one in visit.entries if one.note]
    written = max(one.written_at for one in visit.entries)
    minutes = given.minutes if given else None
    return ProofVisit(
        bed=visit.bed.key,
        name=visit.bed.name,
        what=visit.what,
        at=_moment(visit.at, zone) if visit.at else None,
        by=visit.by,
        plantings=named_in(pages, visit),
        plants=given.plants if given else None,
        litres=round(given.litres, LITRES_DECIMALS) if given else 0.0,
        soaks=len(visit.soaks),
        kinds=tuple(dict.fromkeys(one.kind for one in visit.soaks)),
        methods=methods_of(visit),
        tap=given.tap if given else None,
        source=given.source if given else None,
        source_guessed=given is not None and given.source_guessed,
        minutes=None if minutes is None else round(minutes, MINUTES_DECIMALS),
        minutes_on_foot=round(given.minutes_on_foot, MINUTES_DECIMALS) if given else None,
        reason=next(iter(reasons), None),
        felt=tuple(_felt(pages, one) for one in visit.found if isinstance(one, Feel)),
        leaves=("upright" if wilts[-1].upright else "limp") if wilts else None,
        wet_to_cm=round(float(holes[-1].wet_to_cm), CM_DECIMALS) if holes else None,
        note="; ".join(notes) or None,
        written_at=_moment(written, zone),
        corrected=any(one.supersedes for one in visit.entries),
    )


def _felt(pages: Pages, feel: Feel) -> Felt:
    name = next((one.name for one in pages.plantings if one.uid == feel.planting_uid), None)
    return Felt(name, feel.ball, feel.bed, feel.unsure)


def _reading(rain: Rain, zone: ZoneInfo) -> Reading:
    return Reading(
        _moment(rain.happened_at, zone),
        _moment(rain.began_at, zone),
        round(float(rain.rain_mm), 2),
        rain.by,
    )


def _moment(when: When, zone: ZoneInfo) -> str:
    if not isinstance(when, datetime):
        return when.isoformat()
    return when.astimezone(zone).replace(microsecond=0).isoformat()


def _rests(weather: Mapping[date, DayWeather], entered: Iterable[date]) -> tuple[Rest, ...]:
    """The stretches between the days on which something was entered."""
    busy = set(entered)
    runs: list[list[date]] = []
    for day in weather:
        if day in busy:
            continue
        if runs and runs[-1][-1] == day - A_DAY:
            runs[-1].append(day)
        else:
            runs.append([day])
    return tuple(
        Rest(
            run[0],
            run[-1],
            len(run),
            total_of((weather[day] for day in run), "rain_mm")[0],
            total_of((weather[day] for day in run), "et0_mm")[0],
        )
        for run in runs
    )


def _both(first: date, last: date) -> str:
    return f"{first.isoformat()} to {last.isoformat()}"


def _entered(pages: Pages, zone: ZoneInfo) -> str:
    """Which days would have been right."""
    kinds = (Rain, BedEntry)
    days: Sequence[date] = [
        local_day(one.happened_at, zone) for one in pages.entries if isinstance(one, kinds)
    ]
    if not days:
        return "nothing is entered in this book yet"
    return (
        "days on which somebody was at a bed or the gauge; what is entered lies between "
        f"{min(days).isoformat()} and {max(days).isoformat()}"
    )
