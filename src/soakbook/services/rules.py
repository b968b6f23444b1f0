"""Rules and prices: what is barred, from when to when, and what water and work cost."""

from datetime import datetime
from pathlib import Path
from typing import Any

from soakbook.errors import InputError
from soakbook.garden.records import Rate, Restriction
from soakbook.quantities.dates import month_day, parse_day
from soakbook.quantities.names import check
from soakbook.quantities.saying import names
from soakbook.quantities.spans import parse_span
from soakbook.quantities.written import bare_number
from soakbook.reckoning.advice.supply import supply_of
from soakbook.services.cautions import RULE
from soakbook.services.desk import writing
from soakbook.services.pen import Pen
from soakbook.services.settings import put
from soakbook.services.told import Report, told

NEEDED = {
    "tool": "what is barred: hose, can, drip, spray or all",
    "source": "which water it speaks of: mains, butt, tank, barrow or all",
    "text": "the rule in its own words",
}
RATE_AHEAD_DAYS = 300


def restriction(
    path: Path, first: str, last: str, *, now: datetime, by: str | None = None, **typed: str
) -> Report:
    """Enter a rule on watering, which the round then keeps to.

    Parameters
    ----------
    path : Path
        The book.
    first, last : str
        Its days as typed, both included.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.
    **typed
        Options as typed, all needed: tool, source, text.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    for option, right in NEEDED.items():
        if not typed.get(option, "").strip():
            raise InputError(option, typed.get(option), right)
    with writing(Pen(path, now, by)) as desk:
        begin, end = parse_span(f"{first}..{last}", "days", desk.today)
        said = {
            "first": begin,
            "last": end,
            "tool": typed["tool"].strip().casefold(),
            "source": typed["source"].strip().casefold(),
            "text": typed["text"].strip(),
        }
        record, changes = put(desk, Restriction, None, said)
        after = desk.reread().pages
    turned = [
        (bed.name, supply.means)
        for bed in after.beds
        if (supply := supply_of(after, bed, begin)).barred
    ]
    cans = [name for name, means in turned if means == "cans"]
    nothing = [name for name, means in turned if means == "none"]
    say = (
        f"Barred {month_day(begin)} to {month_day(end)} {end.year}: {record.tool} from {record.source}. "
        f"{RULE}",
        f"By can in those days: {names(cans)}." if cans else "",
        f"No way left that the book knows: {names(nothing)}." if nothing else "",
    )
    return told("restriction", None, say, {"fields": changes, "guesses": []})


def rate(
    path: Path,
    day: str,
    what: str,
    price: str,
    *,
    now: datetime,
    by: str | None = None,
    **typed: str,
) -> Report:
    """Enter a price from a day on; a second one for the same day takes the place of the first.

    Parameters
    ----------
    path : Path
        The book.
    day, what, price : str
        As typed: what is water, by the cubic metre, or hour.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.
    **typed
        Options as typed: currency; else that of the rate with the latest day.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    unknown = next((option for option in typed if option != "currency"), None)
    if unknown:
        raise InputError(unknown, typed[unknown], "currency")
    with writing(Pen(path, now, by)) as desk:
        said: dict[str, Any] = {
            "from_day": parse_day(day, "day", desk.today, ahead_days=RATE_AHEAD_DAYS),
            "what": what.strip().casefold(),
            "price": bare_number(price, "price", "4.00, the currency apart"),
        }
        check("price", said["price"], typed=price)
        if "currency" in typed:
            said["currency"] = _currency(typed["currency"])
        elif desk.pages.rates:
            said["currency"] = desk.pages.rates[-1].currency
        place = (said["from_day"], said["what"])
        old = next((one for one in desk.pages.rates if (one.from_day, one.what) == place), None)
        record, changes = put(desk, Rate, old, said)
    per = "a cubic metre of water" if record.what == "water" else "an hour of work"
    on = f"{month_day(record.from_day)} {record.from_day.year}"
    say = (f"From {on} {per} costs {record.price:.2f} {record.currency}.",)
    return told("rate", None, say, {"fields": changes, "guesses": []})


def _currency(text: str) -> str:
    code = text.strip().upper()
    if len(code) != 3 or not code.isalpha():
        raise InputError("currency", text, "three letters: GBP, EUR or USD")
    return code
