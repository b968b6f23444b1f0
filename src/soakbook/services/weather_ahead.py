"""How dry it has been, and what the newest forecasts say: the upper half of what `weather` shows."""

from collections.abc import Iterator
from datetime import date, datetime, tzinfo

from soakbook.garden.fallen_days import fallen_of
from soakbook.garden.heat import extremes_of, heat_ahead
from soakbook.garden.heat_words import heat_words
from soakbook.garden.pages import Pages
from soakbook.garden.runs import Run, runs
from soakbook.garden.spell_words import spell_words
from soakbook.garden.spells import Spell, spell_of
from soakbook.garden.tables.credits import credits_of
from soakbook.garden.told_days import stitched
from soakbook.garden.weather import Forecast
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import names
from soakbook.reckoning.advice.outlook_week import week_words
from soakbook.reckoning.advice.week_ahead import week_told
from soakbook.reckoning.simulation.skies import Skies, skies_of
from soakbook.services.told import Report
from soakbook.store.texts import garden_zone


def dry_and_ahead(pages: Pages, today: date, now: datetime) -> Report:
    """Dry days, the week, heat, the forecast's age and whom to credit; what is not known is null or empty."""
    pages = pages._replace(known_at=now)
    skies = skies_of(pages, today)
    return {
        "dry": _dry(pages, today, now) if skies else None,
        "forecast": _forecast(pages, now),
        "week": _week(pages, skies, today) if skies else "",
        "heat": _heat(pages, today),
        "credits": list(credits_of(_services(pages))),
    }


def spell_known(pages: Pages, today: date, now: datetime) -> Spell:
    """How dry it has been up to a moment of the garden's day."""
    et0, fallen = {day.day: day.et0_mm for day in pages.weather}, fallen_of(pages, now)
    return spell_of(
        fallen.by_day(),
        et0,
        today,
        fallen_today_mm=fallen.today_mm(),
        southern=pages.garden.latitude_deg < 0,
    )


def _dry(pages: Pages, today: date, now: datetime) -> Report:
    spell = spell_known(pages, today, now)
    return {
        "useful_rain_on": spell.useful_rain_on,
        "dry_days": spell.dry_days,
        "asked_less_rain_mm": spell.deficit_mm,
        "since": spell.deficit_since,
        "words": [one.word for one in spell.holds],
        "say": list(spell_words(spell)),
    }


def _forecast(pages: Pages, now: datetime) -> Report | None:
    """The newest, and where it leaves days out those that tell of them; or, if none reaches today, the last."""
    told = stitched(pages.forecasts)
    if told is None:
        return None
    newest, zone = pages.forecasts[0], garden_zone(pages.garden)
    futures = max(len(day.rain_members_mm) for day in newest.days)
    issued = newest.issued_at.astimezone(zone)
    today, last = now.astimezone(zone).date(), told.days[-1].day
    return {
        "source": newest.source,
        "issued_at": issued,
        "to": last,
        "futures": futures,
        "age_hours": max(0, round((now - issued).total_seconds() / 3600)),
        "say": " ".join(_issues(pages, today)) if last >= today else _run_out(pages, last),
    }


def _issues(pages: Pages, today: date) -> Iterator[str]:
    """Each issue that tells of days ahead, the older ones of what the newer leave out."""
    zone, told = garden_zone(pages.garden), set[date]()
    for place, forecast in enumerate(pages.forecasts):
        days = [day for day in forecast.days if day.day not in told and day.day >= today]
        told |= {day.day for day in days}
        if not days and place > 0:
            continue
        futures = max(len(day.rain_members_mm) for day in forecast.days)
        many = f", in {futures} futures" if futures else ""
        by = _issued_by(forecast, zone)
        if place == 0:
            rest = _rest_of_today(forecast, today)
            yield f"{by}: to {month_day(forecast.days[-1].day)}{many}{rest}."
        else:
            spans = [_span(run) for run in runs(day.day for day in days)]
            yield f"{names(spans)} by {by}{many}."


def _rest_of_today(newest: Forecast, today: date) -> str:
    if newest.begun is None or newest.begun.day != today:
        return ""
    return f", and today's rain from {newest.begun.from_hour:02d}:00 on"


def _run_out(pages: Pages, last: date) -> str:
    """That no forecast tells of today or later, and which told of the last day."""
    forecast = next(one for one in pages.forecasts if any(day.day == last for day in one.days))
    by = _issued_by(forecast, garden_zone(pages.garden))
    return f"None reaches today. The last, by {by}, went to {month_day(last)}."


def _issued_by(forecast: Forecast, zone: tzinfo) -> str:
    """`Open-Meteo, issued 14 May 07:00`."""
    issued = forecast.issued_at.astimezone(zone)
    return f"{forecast.source}, issued {month_day(issued.date())} {issued:%H:%M}"


def _span(run: Run) -> str:
    first, last = month_day(run.first), month_day(run.last)
    return first if run.days == 1 else f"{first} to {last}"


def _week(pages: Pages, skies: Skies, today: date) -> str:
    week = week_told(pages, today, skies.assumed.et0_mm or None)
    return week_words(week) if week else ""


def _heat(pages: Pages, today: date) -> str:
    told = stitched(pages.forecasts)
    ahead = extremes_of(told.days) if told else {}
    known = extremes_of(day for day in pages.weather if day.day < today)
    heat = heat_ahead({**ahead, **known}, today, pages.garden.heat_c)
    return heat_words(heat, today) if heat else ""


def _services(pages: Pages) -> set[str]:
    """Whose data are shown."""
    kept = {source for day in pages.weather for source, _, _ in day.sources.values()}
    return kept | {one.source for one in pages.forecasts}
