"""A small garden with two kinds of water, prices that change, and the specimen garden's pages."""

from collections.abc import Sequence
from datetime import date, datetime
from functools import cache
from typing import Any

from soakbook.garden.entries import AnyEntry
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Flow, Rate, Tap
from soakbook.interface import open_book
from soakbook.services.books import SPECIMEN
from tests.reckoning.gardens import at, bed, pages, roses

JUNE = date(2031, 6, 1)
HOSE = Tap("tap A", "A", "mains", "lance", (Flow(12.0, date(2031, 5, 1)),))
BUTT = Tap("tap butt", "butt", "butt", "can")
RATES = (
    Rate("w1", date(2031, 5, 10), "water", 4.0),
    Rate("w2", date(2031, 6, 15), "water", 5.0),
    Rate("h1", date(2031, 5, 1), "hour", 12.0),
)


@cache
def specimen() -> Pages:
    """The specimen garden's whole book."""
    return open_book(SPECIMEN).pages()


def beds() -> tuple[Bed, Bed]:
    """One bed by the hose, one by cans from a butt; 20 m and 10 m from the water."""
    return (
        bed("wall", name="Chapel Wall", tap="A", walk_m=20.0),
        bed("shade", name="Infirmary Shade", tap="butt", walk_m=10.0),
    )


def garden(entries: Sequence[AnyEntry], **fields: Any) -> Pages:
    """Ten roses at the wall, ten in the shade, planted on 1 May 2031."""
    given: dict[str, Any] = {
        "beds": beds(),
        "taps": (HOSE, BUTT),
        "rates": RATES,
        "plantings": (roses("wall"), roses("shade")),
    } | fields
    return pages(given.pop("plantings"), entries, **given)


def on(day: int, hour: int = 7, month: int = 6) -> datetime:
    """A moment of 2031."""
    return at(date(2031, month, day), hour)
