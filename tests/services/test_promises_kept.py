"""How services kept their promises, as a report."""

from datetime import timedelta
from typing import Any

from soakbook.cli.lists_page import write_promises
from soakbook.cli.paper import Page
from soakbook.garden.pages import Pages
from soakbook.garden.promises import made_by
from soakbook.services.promises_kept import promise_record
from tests.reckoning.forecasts import promising
from tests.reckoning.gardens import PLANTED, ZONE, at, pages, rain, weather

MORNING = PLANTED + timedelta(days=10)
BEFORE = MORNING - timedelta(days=1)
CREDIT = "Weather data by Open-Meteo.com (https://open-meteo.com/), CC BY 4.0."


def record(of: Pages) -> dict[str, Any]:
    return promise_record(of, MORNING, at(MORNING, 7))


def promised(*days_ago: int, source: str = "Open-Meteo") -> tuple[Any, ...]:
    """Surely 9 mm on the day after each of these days, issued at five."""
    days = [MORNING - timedelta(days=n) for n in days_ago]
    told = [promising(day, {day + timedelta(days=1): 9.0}, hour=5, source=source) for day in days]
    return made_by(told, ZONE)


def test_an_evenings_rain_on_the_last_day_keeps_the_promise() -> None:
    """12 mm at eight in the evening of yesterday, promised the day before it."""
    evening = rain(at(BEFORE, 21), 12.0, at(BEFORE, 19))
    of = pages(entries=[evening], days=weather(PLANTED, 10), promises=promised(2))
    one = next(one for one in record(of)["promises"] if one["lead_days"] == 1)
    assert (one["outcome"], one["fell_mm"]) == ("kept", 12.0)


def test_the_services_are_credited_whose_forecasts_or_rain_are_shown() -> None:
    assert record(pages(days=weather(PLANTED, 10), promises=promised(2)))["credits"] == [CREDIT]
    own = pages(days=weather(PLANTED, 10), promises=promised(2, source="mine"))
    assert record(own)["credits"] == []
    by_it = (
        one._replace(sources={"rain_mm": ("Open-Meteo", "analysed", "")})
        for one in weather(PLANTED, 10)
    )
    assert record(own._replace(weather=tuple(by_it)))["credits"] == [CREDIT]


def page_of(of: Pages) -> str:
    page = Page(100)
    write_promises(page, record(of))
    return str(page)


def test_where_nothing_can_be_judged_yet_that_is_said() -> None:
    """Issued yesterday, for today: the day is not over."""
    found = page_of(pages(days=weather(PLANTED, 10), promises=promised(1)))
    assert "a promise is good from 70% of its futures on.\n  None judged yet." in found
    assert found.endswith(CREDIT)


def test_mornings_without_a_good_promise_have_none_judged() -> None:
    dry = made_by([promising(MORNING - timedelta(days=4), {}, hour=5)], ZONE)
    found = page_of(pages(days=weather(PLANTED, 10), promises=dry))
    assert "a service, 1 day ahead: no good promise on 1 morning, none judged yet." in found


def test_a_judged_promise_is_listed_with_the_credit_at_the_foot() -> None:
    found = page_of(pages(days=weather(PLANTED, 10), promises=promised(3)))
    assert "Open-Meteo, 1 day ahead: 1 good promise on 1 morning, 0 kept, 1 broken." in found
    assert "Good promises for a day ahead, the newest last" in found
    assert "None judged yet" not in found
    assert found.endswith(f"\n\n{CREDIT}")


def test_a_service_with_one_future_is_never_believed_and_that_is_said() -> None:
    told = made_by([promising(MORNING - timedelta(days=3), {}, hour=5, source="MET Norway")], ZONE)
    of = pages(days=weather(PLANTED, 10), promises=told)
    (service,) = record(of)["services"]
    assert service["bar"] is None
    found = page_of(of)
    assert "MET Norway: it has one future, so no promise of it is ever good. Its rain is" in found
    assert "70%" not in found
    assert "one judged yet" not in found
