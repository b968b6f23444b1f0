"""What the gardener should know beside the calls: gaps, guesses, silence, what does not fit or last."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from soakbook.garden.pages import Pages
from soakbook.quantities.dates import month_day, short_day
from soakbook.quantities.saying import date_of, day, litres, minutes, names, quoted
from soakbook.reckoning.advice.calling import BedCall
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.report import Finding
from soakbook.reckoning.advice.unreckoned import of_no_start, of_none
from soakbook.reckoning.advice.visits import hours_on, next_visit, people_on
from soakbook.reckoning.advice.walk import dropping_order
from soakbook.reckoning.advice.what_if import if_done, lasts_until
from soakbook.reckoning.simulation.run import Dawn
from soakbook.reckoning.simulation.season import Season

STALE_AFTER_DAYS = 1
LATE_START_SAID_FOR = timedelta(days=14)
MISSED_FOR = timedelta(days=30)
"""After so long a garden does without a forecast, and knows it."""
GAPS_SAID_FOR = timedelta(days=30)
LONG_WORK_MIN = 60.0
GAPS_LISTED = 4


def of_weather(season: Season) -> list[Finding]:
    """Gaps in the weather, how old it is, and plantings it does not reach back to."""
    found = []
    skies = season.skies
    age = weather_age_days(season)
    if age is None or age > STALE_AFTER_DAYS:
        say = f"{_last_seen(season)} {_supposed(season)} Trust your finger first: felt beats reckoned."
        found.append(Finding("weather_old", None, say))
    last = skies.measured_to or season.morning
    found += _of_an_old_forecast(season)
    gaps = [step for step in skies.steps if step.filled and season.first <= step.day <= last]
    if gaps and season.morning - gaps[-1].day < GAPS_SAID_FOR:
        days = names([day(step.day, season.morning) for step in gaps[-GAPS_LISTED:]])
        what = names(sorted({_GAP_WORDS[kind] for step in gaps for kind in step.filled}))
        lack = "day of the weather lacks" if len(gaps) == 1 else "days of the weather lack"
        say = f"{len(gaps)} {lack} {what}, last {days}: reckoned as the ten days before, no rain."
        found.append(Finding("weather_gap", None, say))
    found += of_no_start(season.pages, season.unreckoned, season.morning, skies.first)
    bed_of = season.pages.bed_by_uid()
    late = [
        one
        for one, start in zip(season.plantings, season.starts, strict=True)
        if start > one.here_from and season.morning - start < LATE_START_SAID_FOR
    ]
    seen = any(day.day == skies.first for day in season.pages.weather)
    first = "the first weather" if seen else "the first day that was forecast"
    for planting in late:
        planted = date_of(planting.planted_on, season.morning)
        begins = date_of(skies.first, season.morning)
        say = f"{planting.name}: reckoned from {begins}, {first}, not from {planted}."
        found.append(Finding.of("late_start", bed_of[planting.bed_uid], say))
    return found


def _of_an_old_forecast(season: Season) -> list[Finding]:
    """That what is said of the days ahead was said days ago, or that nothing is said of them any more."""
    if not season.pages.forecasts:
        return []
    newest = season.pages.forecasts[0]
    issued = newest.issued_at.astimezone(ZoneInfo(season.pages.garden.timezone)).date()
    age = (season.morning - issued).days
    if age <= STALE_AFTER_DAYS:
        return []
    on = day(issued, season.morning)
    if not season.skies.coming:
        missed = age <= MISSED_FOR.days
        say = f"No forecast reaches today; the last was that of {on}."
        return [Finding("forecast_old", None, say)] if missed else []
    say = f"The forecast is that of {on}, {age} days old."
    return [Finding("forecast_old", None, say)]


def _last_seen(season: Season) -> str:
    """Up to when the book knows what the air asked for."""
    measured_to = season.skies.measured_to
    if measured_to is not None:
        return f"The book has seen no weather since {day(measured_to, season.morning)}."
    return "The book has no weather but what was forecast."


def _supposed(season: Season) -> str:
    """What the days without weather are taken for."""
    days = "The days since"
    if season.skies.measured_to is None:
        days = f"The days from {day(season.skies.first, season.morning)} on"
    unseen = [step for step in season.skies.steps if step.future is not None]
    told = {one.day for forecast in season.pages.forecasts for one in forecast.days}
    if not unseen:
        return "These calls suppose air like the ten days before and no rain."
    if all(step.day in told for step in unseen):
        zone = ZoneInfo(season.pages.garden.timezone)
        tells = {step.day for step in unseen}
        issues = {
            forecast.issued_at.astimezone(zone).date()
            for forecast in season.pages.forecasts
            if any(one.day in tells for one in forecast.days)
        }
        issued_on = max(issues)
        on = (
            f"on {day(issued_on, season.morning)}" if issued_on < season.morning else "this morning"
        )
        return (
            f"{days} are taken as forecast {on if len(issues) == 1 else 'before'}, with its doubt."
        )
    if any(step.day in told for step in unseen):
        return f"{days} are taken as forecast before, and beyond that like days before, with their doubt."
    return f"{days} are taken like days the book knows, dry ones and wet ones, with their doubt."


_GAP_WORDS = {"et0": "the air's thirst", "temperature": "temperature", "rain": "rain"}


def weather_age_days(season: Season) -> int | None:
    """Days from the last day with weather to the morning."""
    last = season.skies.measured_to
    return None if last is None else (season.morning - last).days


def of_ground(season: Season) -> list[Finding]:
    """Beds planted closer than the reckoning supposes, and soils nobody has named."""
    found = []
    for bed in season.beds:
        if bed.uid in season.crowded:
            part = season.crowded[bed.uid]
            say = f"Its plants' ground comes to more than the bed: each is reckoned on {part:.2f} of its own."
            found.append(Finding.of("crowded", bed, say))
        if bed.soil == "unknown" and bed.sand_fraction is None:
            say = "Its soil is not known: taken as loam, with twice the usual doubt."
            found.append(Finding.of("guess", bed, say))
    return found


def of_time(judgement: Judgement, calls: Sequence[BedCall]) -> list[Finding]:
    """What does not fit the hours, who is missing, and work that is long for one visit."""
    found = []
    pages, today = judgement.season.pages, judgement.dawn.day
    dropped = [one for _, one in dropping_order(calls) if one.dropped]
    if dropped:
        hours = hours_on(pages, today)
        beds = names(
            list(
                dict.fromkeys(
                    f"{one.judged.bed.name} ({one.judged.planting.name})" for one in dropped
                )
            )
        )
        say = (
            f"Does not fit the {minutes(60 * hours)} there are. Left, least harm first: {beds}. "
            "Do not halve every dose."
        )
        found.append(Finding("does_not_fit", None, say))
    if pages.people and not people_on(pages, today):
        found.append(
            Finding(
                "nobody",
                None,
                f"Nobody is down to come today; next on {short_day(next_visit(pages, today))}.",
            )
        )
    for call in calls:
        wanted = call.whole
        if wanted.work.minutes_on_foot > LONG_WORK_MIN:
            trips = (
                f"{wanted.work.tanks} tanks"
                if wanted.work.tanks
                else f"{wanted.work.cans} cans"
                if wanted.work.cans
                else "hose"
            )
            say = (
                f"{litres(wanted.litres)} is {trips} and {minutes(wanted.work.minutes_on_foot)}. Entered as "
                "several beds, the round could fit it to several days."
            )
            found.append(Finding.of("long_work", call.bed, say))
        if (
            call.going
            and call.supply.means in ("hose", "drip", "barrow")
            and call.supply.flow_l_per_min is None
        ):
            say = (
                f"Tap {call.supply.tap} has no flow: fill a can by the watch, "
                f"soakbook tap {call.supply.tap} --fill 10l 43s."
            )
            found.append(Finding.of("no_flow", call.bed, say))
    return found


def of_rules(calls: Iterable[BedCall]) -> list[Finding]:
    """Restrictions that changed how a bed is watered."""
    rules = {call.supply.barred.uid: call.supply.barred for call in calls if call.supply.barred}
    found = []
    for rule in rules.values():
        tool = "Hose" if rule.tool == "hose" else rule.tool.capitalize()
        say = f"{tool} from {rule.source} barred until {month_day(rule.last)}, as you typed it: {rule.text}"
        found.append(Finding("restricted", None, say))
    for call in calls:
        if call.going and call.supply.means == "none":
            say = "Every way of watering it that the book knows is barred today. Ask what your rule allows."
            found.append(Finding.of("no_means", call.bed, say))
    return found


def of_silence(
    dawn_before: Dawn, calls: Sequence[BedCall], silent: Sequence[BedCall]
) -> list[Finding]:
    """Beds of yesterday's round that nothing was heard of, with both readings."""
    if not silent:
        return []
    done = if_done(dawn_before, silent)
    morning = done.dawn.day
    found = []
    for call in silent:
        wanted = [one.prospect.wanted_on for one in done.of_bed(call.bed)]
        rest = min((one for one in wanted if one), default=None)
        now_l = sum(one.litres for now in calls if now.bed.uid == call.bed.uid for one in now.dosed)
        if rest is not None and rest <= morning and now_l > 0:
            say = (
                f"No word from yesterday, when {litres(call.litres)} were called for. Done or not, it is wanted "
                "today."
            )
            found.append(Finding.of("no_word", call.bed, say))
            continue
        leave = "leave it for a week" if rest is None else f"leave it until {day(rest, morning)}"
        if_not = f"soak it now, {litres(now_l)}" if now_l > 0 else "it can wait by the reckoning"
        say = (
            f"No word from yesterday, when {litres(call.litres)} were called for. If done: {leave}. If not: {if_not}. "
            f"Tell me, as\n  soakbook soak {quoted(call.bed.key)} {call.litres:g}l --at yesterday\n"
            f'  soakbook left {quoted(call.bed.key)} "no time" --at yesterday'
        )
        found.append(Finding.of("no_word", call.bed, say))
    return found


def of_gap_in_visits(judgement: Judgement, calls: Sequence[BedCall]) -> list[Finding]:
    """Balls that today's dose will not carry to the next day on which somebody comes."""
    pages, today = judgement.season.pages, judgement.dawn.day
    visit = next_visit(pages, today)
    if visit == today + timedelta(days=1) or not any(call.going for call in calls):
        return []
    after = lasts_until(judgement, calls, visit)
    found = []
    for call in calls:
        short = [
            (one, one.prospect.half_passed_in)
            for one in after.of_bed(call.bed)
            if one.prospect.last_safe is None and one.prospect.half_passed_in < (visit - today).days
        ]
        if short:
            first: date = today + timedelta(days=min(days for _, days in short))
            driest = names([one.planting.name for one, _ in short])
            when = "parched already" if first <= today else f"likely parched by {short_day(first)}"
            say = (
                f"Will not last: nobody comes until {short_day(visit)}; {driest} {when}. Soak later today, shade "
                "them, or find someone."
            )
            found.append(Finding.of("will_not_last", call.bed, say))
    return found


def of_no_weather(pages: Pages) -> list[Finding]:
    """A book without weather, or with none that reaches back to its plants, can say nothing yet.

    The pages are cut to what is known on the morning.
    """
    assert pages.known_at is not None
    morning = pages.known_at.astimezone(ZoneInfo(pages.garden.timezone)).date()
    if any(day.et0_mm is not None for day in pages.weather):
        return of_no_start(pages, pages.plantings, morning, pages.weather[0].day)
    return of_none(pages, morning)
