"""How dry it has been, and what the newest forecast says: the upper half of what `weather` shows."""

from datetime import date, datetime

from soakbook.garden.heat import extremes_of, heat_ahead
from soakbook.garden.heat_words import heat_words
from soakbook.garden.pages import Pages
from soakbook.garden.promises import judge_promises
from soakbook.garden.spell_words import spell_words
from soakbook.garden.spells import spell_of
from soakbook.garden.tables.credits import credits_of
from soakbook.quantities.dates import month_day
from soakbook.reckoning.advice.outlook_week import week_of, week_words
from soakbook.reckoning.simulation.skies import Skies, skies_of
from soakbook.services.told import Report
from soakbook.store.texts import garden_zone


def dry_and_ahead(pages: Pages, today: date, now: datetime) -> Report:
    """Dry days, the week, heat, the forecast's age and whom to credit; what is not known is null or empty."""
    skies = skies_of(pages, today)
    return {
        "dry": _dry(pages, skies, today) if skies else None,
        "forecast": _forecast(pages, now),
        "week": _week(pages, skies, today) if skies else "",
        "heat": _heat(pages, today),
        "credits": list(credits_of(_services(pages))),
    }


def _dry(pages: Pages, skies: Skies, today: date) -> Report:
    et0 = {day.day: day.et0_mm for day in pages.weather}
    spell = spell_of(
        skies.fell_by_day(),
        et0,
        today,
        fallen_today_mm=sum(piece.rain_mm for piece in skies.ahead.pieces),
        southern=pages.garden.latitude_deg < 0,
    )
    return {
        "useful_rain_on": spell.useful_rain_on,
        "dry_days": spell.dry_days,
        "asked_less_rain_mm": spell.deficit_mm,
        "since": spell.deficit_since,
        "words": [one.word for one in spell.holds],
        "say": list(spell_words(spell)),
    }


def _forecast(pages: Pages, now: datetime) -> Report | None:
    if not pages.forecasts:
        return None
    newest = pages.forecasts[0]
    futures = max(len(day.rain_members_mm) for day in newest.days)
    issued = newest.issued_at.astimezone(garden_zone(pages.garden))
    many = f", in {futures} futures" if futures else ""
    last = newest.days[-1].day
    return {
        "source": newest.source,
        "issued_at": issued,
        "to": last,
        "futures": futures,
        "age_hours": max(0, round((now - issued).total_seconds() / 3600)),
        "say": f"{newest.source}, issued {month_day(issued.date())} {issued:%H:%M}: to {month_day(last)}{many}.",
    }


def _week(pages: Pages, skies: Skies, today: date) -> str:
    if not pages.forecasts or today not in skies.coming:
        return ""
    usual = skies.assumed.et0_mm or None
    week = week_of(pages.forecasts[0], today, fallen_today_mm=0.0, usual_et0_mm=usual)
    return week_words(week) if week else ""


def _heat(pages: Pages, today: date) -> str:
    ahead = extremes_of(pages.forecasts[0].days) if pages.forecasts else {}
    known = extremes_of(day for day in pages.weather if day.day < today)
    heat = heat_ahead({**known, **ahead}, today, pages.garden.heat_c)
    return heat_words(heat, today) if heat else ""


def _services(pages: Pages) -> set[str]:
    """Whose data are shown."""
    kept = {source for day in pages.weather for source, _, _ in day.sources.values()}
    return kept | {one.source for one in pages.forecasts}


def promise_record(pages: Pages, today: date) -> Report:
    """How each service kept its promises of useful rain, as `--json` gives it."""
    from soakbook.garden.promise_words import (
        COUNTED_AS,
        bar_words,
        promise_words,
        reliability_words,
    )
    from soakbook.garden.promises import bar_of, of_service
    from soakbook.reckoning.advice.report import as_json

    skies = skies_of(pages, today)
    record = judge_promises(pages.promises, skies.fell_by_day() if skies else {}, today)
    services = sorted({one.source for one in record.reliabilities})
    report: Report = as_json(
        {
            "schema": "soakbook.promises/1",
            "garden": pages.garden.name,
            "services": [
                {
                    "source": source,
                    "bar": bar_of(of_service(record.reliabilities, source)),
                    "say": bar_words(of_service(record.reliabilities, source)),
                    "leads": [
                        {
                            "lead_days": one.lead_days,
                            "made": one.made,
                            "kept": one.kept,
                            "broken": one.broken,
                            "mornings": one.mornings,
                            "say": reliability_words(one),
                        }
                        for one in record.reliabilities
                        if one.source == source and one.mornings
                    ],
                }
                for source in services
            ],
            "promises": [
                {
                    "source": one.source,
                    "issued_on": one.issued_on,
                    "lead_days": one.lead_days,
                    "last": one.promise.last,
                    "share": one.promise.share,
                    "middle_mm": one.promise.middle_mm,
                    "good": one.promise.good,
                    "fell_mm": one.fell_mm,
                    "outcome": one.outcome,
                    "say": promise_words(one, today),
                }
                for one in record.promises
                if one.issued_on < today
            ],
            "counted_as": COUNTED_AS,
        }
    )
    return report
