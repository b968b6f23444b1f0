"""Beds of which nothing can be reckoned: no weather, or none that reaches back to their plants."""

from collections.abc import Iterable
from datetime import date

from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Planting
from soakbook.quantities.dates import month_day
from soakbook.quantities.saying import date_of
from soakbook.reckoning.advice.diary import diaries_of, diary_of
from soakbook.reckoning.advice.report import Finding
from soakbook.reckoning.simulation.cells import start_day

UNRECKONED = ("no_weather", "not_reckoned")
"""Findings that say why a bed has no call."""


def of_no_start(
    pages: Pages, plantings: Iterable[Planting], morning: date, begins: date
) -> list[Finding]:
    """Living plantings that stood too long before the first weather to be reckoned from then."""
    diaries = diaries_of(pages, pages.beds, morning)
    living = {one.uid: of.bed for of in diaries.values() for one, _ in of.living}
    found = []
    for planting in plantings:
        if planting.uid not in living:
            continue
        planted = date_of(planting.planted_on, morning)
        say = (
            f"{planting.name}: planted {planted}, but the weather begins {date_of(begins, morning)}, more than 14 "
            "days later. Bring in the days between with soakbook weather, and they are reckoned."
        )
        found.append(Finding.of("not_reckoned", living[planting.uid], say))
    return found


def of_none(pages: Pages, morning: date) -> list[Finding]:
    """A book without a day gone by that tells what the air asked for; nothing where no plant lives in it."""
    standing = {bed.name: standing_in(pages, bed, morning) for bed in pages.beds}
    beds = tuple(name for name, plantings in standing.items() if plantings)
    if not beds:
        return []
    if pages.weather:
        say = (
            "The weather in the book does not tell what the air asked for, so nothing can be reckoned: that takes at "
            "least the lowest and the highest temperature of each day. Ask for it, soakbook weather, or bring it in: "
            "soakbook weather FILE"
        )
    elif pages.forecasts:
        say = _of_days_to_come_alone(pages, [one for of in standing.values() for one in of])
    else:
        say = (
            "The book has no weather before this morning, so nothing can be reckoned. Ask for some, soakbook weather, "
            "or bring some in: soakbook weather FILE"
        )
    return [Finding("no_weather", None, say, beds)]


def standing_in(pages: Pages, bed: Bed, morning: date) -> tuple[Planting, ...]:
    """The plantings of a bed that have living plants on a morning."""
    return tuple(one for one, _ in diary_of(pages, bed, morning).living)


def _of_days_to_come_alone(pages: Pages, plantings: Iterable[Planting]) -> str:
    """What helps where a service has told of days to come, and of none gone by.

    Such a day is reckoned from once it is over: soon enough for what was planted a fortnight before it at most.
    """
    first = min(day.day for forecast in pages.forecasts for day in forecast.days)
    source = pages.forecasts[0].source
    if any(start_day(one, first) for one in plantings):
        begin = f"Once the first of them, {month_day(first)}, is over, there is a round by it."
    else:
        begin = "What stood for more than 14 days before them cannot be reckoned by them."
    return (
        f"{source} tells of days to come, none gone by. {begin} Days gone by come from the first service, "
        "soakbook weather --ask first, again later if it fails, or from a file of measured weather, "
        "soakbook weather FILE"
    )
