"""A season watered by a calendar: its litres are what the calendar's own arithmetic says."""

from datetime import date, datetime, timedelta

import pytest

from soakbook.account.by_calendar import watered_by
from soakbook.garden.entries import Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Restriction, Tap
from soakbook.reckoning.advice.calendars import PUBLISHED
from soakbook.reckoning.simulation.skies import skies_of
from tests.reckoning.gardens import at, bed, garden, loss, pages, rain, roses, soak, weather

FIRST, UNTIL = date(2031, 1, 1), date(2031, 12, 31)
APRIL = date(2031, 4, 1)


def watered(
    book: Pages, key: str, first: date = FIRST, until: date = UNTIL
) -> list[tuple[date, float, str]]:
    skies = skies_of(book, until + timedelta(days=1))
    assert skies is not None
    calendar = next(one for one in PUBLISHED if one.key == key)
    found = watered_by(calendar, book, first, until, skies)
    moments = [one.happened_at for one in found.entries if isinstance(one.happened_at, datetime)]
    assert moments == sorted(moments)
    return [
        (one.happened_at.date(), one.litres, one.method)
        for one in found.entries
        if isinstance(one, Soak) and isinstance(one.happened_at, datetime)
    ]


def test_minnesotas_litres_by_hand() -> None:
    """Ten roses planted on 1 April, 14 + 24 + 15 visits to 9 October; 16 October and later are winter.

    Two die on the twentieth day: from the next visit on eight are watered.
    """
    book = pages(
        [roses(planted_on=APRIL)],
        [
            loss(at(APRIL + timedelta(days=20), 18), 2),
            soak(at(APRIL + timedelta(days=5), 9), 777.0),
        ],
        days=weather(date(2031, 3, 1), 306),
    )
    found = watered(book, "umn")
    visits = [*range(1, 15), *range(17, 87, 3), *range(93, 198, 7)]
    assert [day for day, _, _ in found] == [APRIL + timedelta(days=n) for n in visits]
    dose = 0.29 * 5
    assert [litres for _, litres, _ in found] == pytest.approx(
        [(10 if n <= 20 else 8) * dose for n in visits]
    )
    assert sum(litres for _, litres, _ in found) == pytest.approx(dose * (10 * 16 + 8 * 37))


def test_no_water_takes_out_what_was_given_in_the_season_and_gives_none() -> None:
    book = pages(
        [roses()], [soak(at(date(2031, 5, 9), 9), 30.0), soak(at(date(2030, 12, 9), 9), 5.0)]
    )
    assert watered(book, "none") == [(date(2030, 12, 9), 5.0, "lance")]


def test_it_leaves_off_after_25_mm_in_7_days_at_the_gauge() -> None:
    """The reading of the third day counts for what the total of its days would."""
    book = pages(
        [roses()],
        [rain(at(date(2031, 5, 4), 6), 26.0, at(date(2031, 5, 3), 20))],
        days=weather(date(2031, 4, 20), 60),
    )
    kept, left_off = ({day for day, _, _ in watered(book, key)} for key in ("umn", "umn_rain"))
    assert kept - left_off == {date(2031, 5, n) for n in range(5, 12)}
    assert left_off < kept


def test_the_way_of_the_bed_that_day() -> None:
    rule = Restriction("rule", date(2031, 5, 8), date(2031, 5, 14), "hose", "mains", "no hose")
    book = pages(
        [roses()], beds=[bed("bed", tap="A")], taps=(Tap("A", "A", method="spray"),), restrictions=(rule,)
    )  # fmt: skip
    methods = {day: method for day, _, method in watered(book, "umn")}
    assert methods[date(2031, 5, 7)] == "spray"
    assert methods[date(2031, 5, 8)] == "can"


def test_south_of_the_equator_winter_is_from_april_to_august() -> None:
    book = pages(
        [roses(planted_on=date(2031, 8, 20))],
        days=weather(date(2031, 7, 1), 366),
        garden=garden(latitude_deg=-36.8),
    )
    days = [day for day, _, _ in watered(book, "councils", date(2031, 7, 1), date(2032, 6, 30))]
    assert days[0] == date(2031, 9, 3)
    assert days[-1] == date(2032, 4, 14)
    assert len(days) == 33
