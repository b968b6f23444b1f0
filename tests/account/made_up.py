"""Accounts of books that were never written: reviewed from pages in memory, whatever stands in them."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from soakbook.account.days import days_frame, no_days
from soakbook.account.months import weather_frame
from soakbook.account.reviewed import Account
from soakbook.account.season import span_of
from soakbook.account.visits import visits_frame
from soakbook.account.waits import waits_frame
from soakbook.garden.entries import AnyEntry
from soakbook.garden.pages import Pages
from soakbook.reckoning.advice.course import course_of
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.season import season_of
from tests.account.books import HOSE, RATES
from tests.reckoning.gardens import bed, feel, left, loss, pages, roses, soak, weather

CLOSED = date(2031, 11, 1)
MAY_20 = date(2031, 5, 20)


def account_from(told: Pages, asked: date = CLOSED, members: int = 12) -> Account:
    """The account of 2031 of a book that is only pages, of few members."""
    span = span_of(told.garden, 2031, asked)
    season = season_of(known_on(told, asked), asked, members, ahead_days=1)
    course = None if season is None else course_of(season, span.first)
    days = no_days() if course is None else days_frame(course, span)
    return Account(
        told, span, course, days, weather_frame(told, span),
        visits_frame(told, span.first, span.until),
        waits_frame([], told, days, visits_frame(told, span.first, span.until), span.asked),
    )  # fmt: skip


def entries(bed_key: str = "wall") -> list[AnyEntry]:
    """Two soaks, a feel, a bed left, two roses lost."""
    return [
        soak(MAY_20, 60.0, bed_key),
        feel(date(2031, 5, 24), bed_key, ball="dry", bed="moist"),
        left(date(2031, 5, 25), bed_key, "rain in the air"),
        soak(date(2031, 6, 3), 80.0, bed_key),
        loss(date(2031, 6, 10), 2, bed_key, f"{bed_key}/roses"),
    ]


def small(asked: date = CLOSED, **fields: Any) -> Account:
    """Ten roses in one bed, watered twice, two of them lost."""
    return account_from(small_book(**fields), asked)


def small_book(
    name: str = "Chapel Wall",
    said: Sequence[AnyEntry] | None = None,
    days: int = 60,
    **fields: Any,
) -> Pages:
    """The pages of it."""
    given: dict[str, Any] = {"taps": (HOSE,), "rates": RATES} | fields
    return pages(
        given.pop("plantings", [roses("wall")]),
        entries() if said is None else said,
        beds=given.pop("beds", [bed("wall", name=name, tap="A")]),
        days=weather(days=days, rain={MAY_20: 12.0}),
        **given,
    )
