"""What an account says under its table, of small made-up accounts, to the letter."""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Literal

import pandas as pd
import pytest

from soakbook.account.days import no_days
from soakbook.account.feels import FEEL_COLUMNS
from soakbook.account.months import weather_frame
from soakbook.account.remarks import cubic_metres, most_off, remarks_of
from soakbook.account.reviewed import Account
from soakbook.account.season import Span
from soakbook.account.visits import visits_frame
from soakbook.account.waits import WAIT_COLUMNS
from soakbook.garden.entries import AnyEntry
from soakbook.garden.promises import Made, made_by
from soakbook.garden.records import Flow, Rate, Tap
from soakbook.quantities.saying import number
from tests.reckoning.forecasts import promising
from tests.reckoning.gardens import PLANTED, ZONE, at, bed, pages, roses, soak, weather

UNTIL = date(2031, 7, 31)
SPAN = Span(2031, date(2031, 1, 1), UNTIL, closed=False)


def rate(
    day: date, price: float, what: Literal["water", "hour"] = "water", currency: str = "GBP"
) -> Rate:
    return Rate(f"{what} {day} {price}", day, what, price, currency)


def account(
    entries: Sequence[AnyEntry] = (),
    rates: Sequence[Rate] = (),
    promises: tuple[Made, ...] = (),
    taps: Sequence[Tap] = (),
    days: int = 91,
) -> Account:
    """Ten roses on tap A, 14 L a minute, watered as the entries say; nothing is reckoned."""
    told = pages(
        [roses()], entries, beds=[bed(tap="A")], days=weather(days=days), rates=tuple(rates),
        promises=promises, taps=tuple(taps),
    )  # fmt: skip
    waits = pd.DataFrame(columns=list(WAIT_COLUMNS)).astype({"regretted": "bool"})
    visits = visits_frame(told, SPAN.first, SPAN.until)
    return Account(told, SPAN, None, no_days(), weather_frame(told, SPAN), visits, waits)


def said(of: Account, about: str) -> str:
    return next((one.say for one in remarks_of(of) if one.about == about), "")


def watered(*litres_on: tuple[date, float]) -> list[AnyEntry]:
    return [soak(at(day, 7), litres) for day, litres in litres_on]


MAY, JUNE, JULY = date(2031, 5, 10), date(2031, 6, 10), date(2031, 7, 10)


def test_a_price_that_changes_in_mid_season_is_told_with_its_day() -> None:
    """1,000 L at 4.00 and 2,000 L at 4.40: 4 and 8.80, in all 12.80."""
    of = account(
        watered((JUNE, 1000.0), (JULY, 2000.0)),
        [rate(date(2031, 1, 1), 4.0), rate(date(2031, 7, 1), 4.4)],
    )
    assert said(of, "money") == "3.0 m³ mains at 4.00, 4.40 from 1 July = GBP 12.80."


def test_water_before_the_first_price_is_told_apart() -> None:
    of = account(watered((MAY, 500.0), (JULY, 2000.0)), [rate(date(2031, 6, 1), 4.0)])
    assert said(of, "money") == (
        "2.0 m³ mains at 4.00 = GBP 8.00. 500 L of mains water came before the first price."
    )


def test_two_currencies_are_not_added() -> None:
    """2 m3 at 4.00 pounds, 3 m3 at 5.00 euros."""
    of = account(
        watered((MAY, 2000.0), (JULY, 3000.0)),
        [rate(date(2031, 1, 1), 4.0), rate(date(2031, 6, 1), 5.0, currency="EUR")],
    )
    assert said(of, "money") == "5.0 m³ mains at 4.00, 5.00 from 1 June = EUR 15.00 and GBP 8.00."


def test_hours_have_a_price_of_their_own() -> None:
    """Two waterings, on foot for as long as the frame of visits has; water has no price."""
    of = account(watered((MAY, 2000.0), (JULY, 3000.0)), [rate(date(2031, 1, 1), 14.0, "hour")])
    hours = of.visits["minutes_on_foot"].sum() / 60
    cost = 14.0 * hours
    assert said(of, "money") == (
        f"{number(hours)} h at 14.00 = GBP {cost:,.0f}. 5.0 m³ of mains water has no price in the book."
    )


def test_hours_before_the_first_price_of_one_are_told_apart() -> None:
    of = account(watered((MAY, 2000.0), (JULY, 3000.0)), [rate(date(2031, 6, 1), 14.0, "hour")])
    before, after = of.visits["minutes_on_foot"] / 60
    assert said(of, "money") == (
        f"{number(after)} h at 14.00 = GBP {14 * after:,.0f}. 5.0 m³ of mains water has no price in the book. "
        f"{number(before)} h came before the first price of an hour."
    )


def test_of_two_prices_of_one_day_the_one_written_later_is_told() -> None:
    day = date(2031, 6, 1)
    of = account(
        watered((JULY, 1000.0)), [rate(date(2031, 1, 1), 3.0), rate(day, 9.0), rate(day, 4.0)]
    )
    assert said(of, "money") == "1.0 m³ mains at 3.00, 4.00 from 1 June = GBP 4.00."


def test_without_a_price_it_says_how_one_is_entered() -> None:
    of = account(watered((MAY, 500.0)))
    assert said(of, "money") == (
        "No price of water or work is in the book: soakbook rate 1apr water 3.20 enters one."
    )


@pytest.mark.parametrize("price", [4.0, 0.0])
def test_where_there_is_a_price_it_is_not_said_that_there_is_none(price: float) -> None:
    """Nothing was given, or the water was free."""
    free = watered((JUNE, 100.0)) if price == 0 else []
    assert said(account(free, [rate(date(2031, 1, 1), price)]), "money") == ""


def test_a_price_of_next_season_is_none_of_this_one() -> None:
    of = account(watered((MAY, 500.0)), [rate(date(2031, 9, 1), 4.0)])
    assert said(of, "money").startswith("No price of water or work")


def promises(mm: float, *issued: date) -> tuple[Made, ...]:
    tomorrow = [promising(day, {day + timedelta(days=1): mm}, hour=5) for day in issued]
    return made_by(tomorrow, ZONE)


def test_without_promises_there_is_nothing_to_say_of_them() -> None:
    assert said(account(), "promises") == ""


def test_promises_are_counted_by_their_mornings() -> None:
    """Two of three mornings promised nine millimetres that never came; no planting waited for them."""
    of = account(promises=promises(9.0, PLANTED, JUNE))
    assert said(of, "promises") == (
        "2 mornings surely promised useful rain by the next day; 0 kept it. No soak was put off for rain."
    )


def test_what_is_not_yet_known_is_not_counted() -> None:
    """The rain of the day after the last is nobody's yet."""
    assert said(account(promises=promises(9.0, UNTIL)), "promises") == ""


def test_one_soak_put_off_is_one_though_two_plantings_waited() -> None:
    of = account(promises=promises(9.0, JUNE))
    row = {"day": pd.Timestamp(JUNE), "bed": "bed", "bed_uid": "bed", "regretted": True}
    waits = pd.DataFrame([{**row, "planting_uid": uid} for uid in ("a", "b")])
    with_waits = Account(
        of.pages, SPAN, None, of.days, of.weather, of.visits, waits.reindex(columns=[*WAIT_COLUMNS])
    )
    assert said(with_waits, "promises") == (
        "1 morning surely promised useful rain by the next day; 0 kept it. 1 soak put off for rain, 1 regretted."
    )


def felt(store: str, *off: float) -> pd.DataFrame:
    rows = [
        {
            "bed_uid": "bed", "bed": "bed", "store": store, "off": one,
            "came_out": "as reckoned" if one == 0 else "drier" if one < 0 else "wetter",
        }
        for one in off
    ]  # fmt: skip
    return pd.DataFrame(rows, columns=[*FEEL_COLUMNS])


def with_feels(*frames: pd.DataFrame) -> Account:
    of = account()
    of.__dict__["feels"] = pd.concat(frames, ignore_index=True)
    return of


def test_feels_are_told_by_store_and_which_came_out_furthest_off() -> None:
    of = with_feels(felt("ball", 0.0, 0.0, 0.2, -0.1), felt("bed", -1.0, -1.0, -1.0, 0.0, -0.5))
    assert said(of, "feels") == (
        "Balls as reckoned 2 times, drier 1, wetter 1. Soil round them as reckoned 1 time, drier 4, "
        "wetter 0. Most off: Bed, soil drier than reckoned."
    )


def test_few_feels_or_near_ones_show_nothing() -> None:
    assert most_off(with_feels(felt("bed", -2.0, -2.0, -2.0, -2.0))) is None
    assert most_off(with_feels(felt("bed", *[-0.39] * 9))) is None
    off = most_off(with_feels(felt("bed", *[-0.41] * 9), felt("ball", *[0.5] * 5)))
    assert off is not None
    assert (off.store, off.feels, off.mean_sd) == ("ball", 5, 0.5)
    assert most_off(account()) is None


def test_the_doubt_names_the_last_hose_test_of_the_season() -> None:
    tested = (Flow(14.0, date(2031, 6, 2)), Flow(13.0, date(2031, 8, 2)))
    tap = Tap(uid="tap", key="A", source="mains", method="lance", flows=tested)
    told = said(account(taps=[tap]), "doubt")
    assert told == "Given water is as good as the hose test (last 2 June)."
    old = tap._replace(flows=(Flow(14.0, date(2030, 6, 2)),))
    told = said(account(taps=[old]), "doubt")
    assert told == "Given water is as good as the hose test (last 2 June 2030)."


@pytest.mark.parametrize(
    ("litres", "words"),
    [
        (0.0, "0 L"),
        (999.0, "999 L"),
        (1000.0, "1.0 m³"),
        (26_340.0, "26.3 m³"),
        (1.5e6, "1,500.0 m³"),
    ],
)
def test_volumes_are_told_in_litres_below_a_cubic_metre(litres: float, words: str) -> None:
    assert cubic_metres(litres) == words
