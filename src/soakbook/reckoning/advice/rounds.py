"""The morning's round, from a book's pages and a day to the record that is printed, sent and kept."""

from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, NamedTuple
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Rain
from soakbook.garden.pages import Pages
from soakbook.garden.tables.credits import credits_of
from soakbook.reckoning.advice import findings
from soakbook.reckoning.advice.bed_report import Place, call_report, stages_until, verdict_of
from soakbook.reckoning.advice.broken_promises import left_for_rain, of_broken_promises
from soakbook.reckoning.advice.calling import BedCall, bed_calls
from soakbook.reckoning.advice.drift import of_drift
from soakbook.reckoning.advice.judging import Judgement, judge
from soakbook.reckoning.advice.promised import LOOK_BACK_DAYS
from soakbook.reckoning.advice.question import question_of
from soakbook.reckoning.advice.report import (
    ROUND_SCHEMA,
    Call,
    Finding,
    Gauge,
    Round,
    Tomorrow,
    Totals,
    WeatherSeen,
)
from soakbook.reckoning.advice.visits import hours_on, next_visit, people_on
from soakbook.reckoning.advice.walk import fitted, second_slots, walk
from soakbook.reckoning.advice.week_ahead import of_heat, week_ahead
from soakbook.reckoning.advice.what_if import silent_beds, tomorrow, yesterday_of
from soakbook.reckoning.simulation.knowing import known_now, known_on
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.season import FURTHEST_DAYS, MEMBERS, Season, season_of

if TYPE_CHECKING:
    from soakbook.reckoning.simulation.resuming import Shelf

KEPT_AFTER_DAYS = 365
"""Nothing is kept of a younger season: it is run in less time than that would take."""


class Morning(NamedTuple):
    """One morning reckoned: what the round and its explanations are both made from."""

    pages: Pages
    day: date
    season: Season | None
    judgement: Judgement | None
    before: Dawn | None
    """Yesterday's dawn, from which the sums of a why set out."""
    calls: tuple[BedCall, ...]
    """Fitted to the hours; walk order first, then the rest."""
    walked: int
    findings: tuple[Finding, ...]
    likely_tomorrow: tuple[BedCall, ...]


def morning_on(
    pages: Pages, day: date, members: int = MEMBERS, shelf: "Shelf | None" = None
) -> Morning:
    """A morning as a round asked for by date sees it; dawns of a season of years are looked for on a shelf, and put."""
    return _morning(known_on(pages, day), day, members, shelf)


def morning_now(
    pages: Pages, now: datetime, members: int = MEMBERS, shelf: "Shelf | None" = None
) -> Morning:
    """This morning as it is now, today's soaks counted; of the shelf as in `morning_on`."""
    day = now.astimezone(ZoneInfo(pages.garden.timezone)).date()
    return _morning(known_now(pages, now), day, members, shelf)


def round_of(morning: Morning) -> Round:
    """The round of a morning."""
    pages, judgement = morning.pages, morning.judgement
    calls = _calls(morning)
    to_feel = {call.bed for call in calls if call.feel_first}
    return Round(
        schema=ROUND_SCHEMA,
        garden=pages.garden.name,
        morning=morning.day,
        people=tuple(person.name for person in people_on(pages, morning.day)),
        weather=_weather_seen(morning),
        gauge=_gauge(morning),
        calls=calls,
        totals=_totals(morning),
        tomorrow=_tomorrow(morning),
        week=week_ahead(morning.season) if morning.season else None,
        findings=morning.findings,
        question=question_of(judgement, to_feel) if judgement else None,
    )


def credits_due(pages: Pages) -> tuple[str, ...]:
    """The lines that are due wherever what was reckoned of these pages is shown."""
    return credits_of(_sources(pages) | {one.source for one in pages.forecasts})


def _sources(pages: Pages) -> set[str]:
    return {source for day in pages.weather for source, _, _ in day.sources.values()}


def _morning(pages: Pages, day: date, members: int, shelf: "Shelf | None") -> Morning:
    season = season_of(pages, day, members, _days_ahead(pages, day))
    if season is None:
        return Morning(
            pages, day, None, None, None, (), 0, tuple(findings.of_no_weather(pages)), ()
        )
    *earlier, last = _dawns(season, shelf)
    season, judgement = last.season, judge(last, earlier=earlier)
    # With nobody down to come there is no time to fit the round to: it waits for whoever turns up.
    hours, wanted = hours_on(pages, day), bed_calls(judgement)
    fit = fitted(wanted, hours) if hours > 0 else wanted
    walked = walk(fit)
    rest = tuple(call for call in fit if not call.going)
    before = earlier[-1] if earlier else None
    yesterday = yesterday_of(before, pages, earlier[:-1]) if before else None
    silent = silent_beds(yesterday, pages) if yesterday else ()
    visited = yesterday or left_for_rain(pages, day, earlier[:-1])
    found = [
        *(findings.of_silence(before, fit, silent) if before else ()),
        *(of_broken_promises(visited, fit, season) if visited else ()),
        *findings.of_time(judgement, fit),
        *findings.of_gap_in_visits(judgement, fit),
        *findings.of_rules(fit),
        *findings.of_weather(season),
        *findings.of_ground(season),
        *of_drift(judgement),
    ]
    calls = (*walked, *sorted(rest, key=_rest_order))
    likely = tomorrow(judgement, walked, earlier)
    found += of_heat(judgement, likely)
    return Morning(
        pages,
        day,
        season,
        judgement,
        before,
        calls,
        len(walked),
        tuple(found),
        likely,
    )


def _dawns(season: Season, shelf: "Shelf | None") -> tuple[Dawn, ...]:
    if shelf is None or (season.morning - season.first).days < KEPT_AFTER_DAYS:
        return run(season, last=LOOK_BACK_DAYS + 1)
    # Imported here: a young garden's morning has nothing of it.
    from soakbook.reckoning.simulation.resuming import run_on

    return run_on(season, LOOK_BACK_DAYS + 1, shelf)


def _days_ahead(pages: Pages, day: date) -> int:
    """How far may be looked: from tomorrow as from today, and for tomorrow's likely round to its next visit."""
    return max(FURTHEST_DAYS + 1, (next_visit(pages, day + timedelta(days=1)) - day).days)


def _rest_order(call: BedCall) -> tuple[int, date, str]:
    dropped = any(one.dropped for one in call.dosed)
    held = call.verdict == "held_back"
    wanted = min(
        (one.judged.prospect.wanted_on or date.max for one in call.dosed), default=date.max
    )
    return (0 if dropped else 1 if held else 2, wanted, call.bed.key)


def _calls(morning: Morning) -> tuple[Call, ...]:
    """The calls numbered: the walk first, then the beds to be felt, then the rest."""
    judgement = morning.judgement
    if judgement is None:
        return ()
    walked = morning.calls[: morning.walked]
    slots = second_slots(walked)
    names = {call.bed.uid: call.bed.name for call in walked}
    silent = {one.bed for one in morning.findings if one.kind == "no_word"}
    rest = morning.calls[morning.walked :]
    felt = [call for call in rest if verdict_of(judgement, call) == "feel"]
    others = [call for call in rest if call not in felt]
    found, until = [], stages_until(judgement)
    for place, call in enumerate([*walked, *felt, *others]):
        order = place + 1 if place < len(walked) + len(felt) else None
        meanwhile = names.get(slots.get(call.bed.uid) or "")
        at = Place(order, meanwhile, call.bed.key in silent)
        found.append(call_report(judgement, call, at, until))
    return tuple(found)


def _totals(morning: Morning) -> Totals:
    walked = morning.calls[: morning.walked]
    work = [call.work for call in walked]
    return Totals(
        calls=len(walked),
        litres=sum(call.litres for call in walked),
        minutes=sum(one.minutes or 0.0 for one in work),
        minutes_on_foot=sum(one.minutes_on_foot for one in work),
        cans=sum(one.cans or 0 for one in work),
        hours_available=hours_on(morning.pages, morning.day),
        dropped=sum(one.dropped for call in morning.calls for one in call.dosed),
    )


def _tomorrow(morning: Morning) -> Tomorrow | None:
    if morning.judgement is None:
        return None
    calls = morning.likely_tomorrow
    return Tomorrow(morning.day + timedelta(days=1), len(calls), sum(call.litres for call in calls))


def _weather_seen(morning: Morning) -> WeatherSeen:
    season, pages = morning.season, morning.pages
    return WeatherSeen(
        measured_to=season.skies.measured_to if season else None,
        forecast_to=max(season.skies.coming, default=None) if season else None,
        age_days=findings.weather_age_days(season) if season else None,
        sources=tuple(sorted(_sources(pages))),
        credits=credits_due(pages),
    )


def _gauge(morning: Morning) -> Gauge | None:
    """The last reading taken since yesterday's round hour."""
    garden = morning.pages.garden
    since = datetime.combine(
        morning.day - timedelta(days=1), garden.round_hour, ZoneInfo(garden.timezone)
    )
    readings = [one for one in morning.pages.entries if isinstance(one, Rain)]
    if not readings or not isinstance(readings[-1].happened_at, datetime):
        return None
    last = readings[-1]
    if readings[-1].happened_at <= since:
        return None
    return Gauge(last.rain_mm, last.kind, last.began_at.isoformat(), last.happened_at.isoformat())
