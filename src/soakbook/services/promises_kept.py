"""How each service kept its promises of useful rain: what `weather --promises` shows."""

from datetime import date, datetime

from soakbook.garden.pages import Pages
from soakbook.garden.promise_words import COUNTED_AS, bar_words, promise_words, reliability_words
from soakbook.garden.promises import Reliability, bar_of, of_service
from soakbook.garden.service_records import record_at
from soakbook.garden.tables.credits import credits_of
from soakbook.reckoning.advice.report import as_json
from soakbook.services.told import Report
from soakbook.weather import met_norway

ONE_FUTURE = frozenset({met_norway.NAME})
"""Services whose forecasts have no futures of their own."""

NEVER_GOOD = (
    "it has one future, so no promise of it is ever good. Its rain is said and puts off no soak."
)


def promise_record(pages: Pages, today: date, now: datetime) -> Report:
    """How each service kept its promises, by what is known now to have fallen, as `--json` gives it."""
    record = record_at(pages, now)
    services = sorted({one.source for one in record.reliabilities})
    report: Report = as_json(
        {
            "schema": "soakbook.promises/1",
            "garden": pages.garden.name,
            "services": [
                {
                    "source": source,
                    **_believed(of_service(record.reliabilities, source)),
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
            "credits": list(credits_of({*services, *_rain_sources(pages)})),
        }
    )
    return report


def _believed(service: Reliability) -> Report:
    """From which share of futures on a service is believed; null where it has only one."""
    if service.source in ONE_FUTURE:
        return {"bar": None, "say": f"{service.source}: {NEVER_GOOD}"}
    return {"bar": bar_of(service), "say": bar_words(service)}


def _rain_sources(pages: Pages) -> set[str]:
    """Whose rain the promises are judged by."""
    return {day.sources["rain_mm"][0] for day in pages.weather if "rain_mm" in day.sources}
