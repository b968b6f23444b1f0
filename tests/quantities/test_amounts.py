"""Amounts as gardeners say them."""

from collections.abc import Callable

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.quantities.amounts import (
    Amount,
    AmountUnit,
    Measures,
    litres,
    parse_amount,
    rain_mm,
)

Refusal = Callable[[Callable[[], object]], InputError | None]

GARDEN = Measures(can_l=10.0, gallon="uk", flow_l_per_min=14.0, area_m2=46.0)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("208l", 208, "l"),
        ("208 L", 208, "l"),
        (" 208 litres ", 208, "l"),
        ("7cans", 7, "can"),
        ("1can", 1, "can"),
        ("½ can", 0.5, "can"),
        ("12min", 12, "min"),
        ("7½ min", 7.5, "min"),
        ("90s", 90, "s"),
        ("2h", 2, "h"),
        ("15.6mm", 15.6, "mm"),
        (".6in", 0.6, "in"),
        ('0.6"', 0.6, "in"),
        ("5gal", 5, "gal"),
        ("5ukgal", 5, "ukgal"),
        ("5 US gallons", 5, "usgal"),
        ("1m3", 1, "m3"),
        ("1 m³", 1, "m3"),
        ("trace", 0, "mm"),
        ("0mm", 0, "mm"),
    ],
)
def test_amounts_are_read(text: str, value: float, unit: AmountUnit) -> None:
    assert parse_amount(text) == Amount(value, unit, text)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("15,6mm", "write 15.6mm"),
        ("1,000l", "write 1000l or 1.000l"),
        ("12", "say of what"),
        ("-5l", "nothing below 0"),
        ("−5l", "nothing below 0"),
        ("5m", "208l, 7cans, 12min"),
        ("5", "208l"),
        ("", "208l"),
        ("l", "208l"),
        ("nan l", "208l"),
        ("infl", "208l"),
        ("1e3l", "208l"),
        ("1 0l", "208l"),
        ("5 l l", "208l"),
        ("12.l", "208l"),
        ("٣l", "208l"),
        ("9" * 400 + "l", "a size a garden knows"),
    ],
)
def test_what_can_be_read_two_ways_is_refused(text: str, says: str) -> None:
    with pytest.raises(InputError) as told:
        parse_amount(text)
    assert told.value.field == "amount"
    assert told.value.value == text
    assert says in told.value.right


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("208l", 208.0),
        ("1m3", 1000.0),
        ("7cans", 70.0),
        ("12min", 168.0),
        ("90s", 21.0),
        ("2h", 1680.0),
        ("15.6mm", 717.6),
        ("5gal", 22.73045),
        ("5usgal", 18.92705892),
    ],
)
def test_litres_of_an_amount(text: str, expected: float) -> None:
    """A 10 L can, 14 L/min, 46 m2: by hand; gallons by the UK act and NIST SP 811."""
    assert litres(parse_amount(text), GARDEN) == pytest.approx(expected, rel=1e-12)


def test_inches_over_a_bed_are_pints() -> None:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    volume = registry.Quantity(0.6, "inch") * registry.Quantity(46.0, "meter**2")
    assert litres(parse_amount("0.6in"), GARDEN) == pytest.approx(volume.to("liter").magnitude)


def test_a_plain_gallon_is_the_gardens() -> None:
    american = Measures(gallon="us")
    assert litres(parse_amount("5gal"), american) == litres(parse_amount("5usgal"), american)
    assert litres(parse_amount("5ukgal"), american) > litres(parse_amount("5gal"), american)


def test_minutes_need_a_flow() -> None:
    with pytest.raises(InputError, match=r"amount: '12min' .* a tap with a flow; give litres or"):
        litres(parse_amount("12min"), Measures(area_m2=46.0))


def test_a_depth_needs_an_area() -> None:
    with pytest.raises(InputError, match=r"given: '3mm' .* needs the area"):
        litres(parse_amount("3mm"), Measures(flow_l_per_min=14.0), "given")


@pytest.mark.parametrize("text", ["0l", "0cans", "trace", "200000l", "101m3", "9999999h", "501mm"])
def test_nothing_and_too_much_are_no_soak(text: str) -> None:
    with pytest.raises(InputError) as told:
        litres(parse_amount(text), GARDEN)
    assert told.value.value == text


def test_rain_is_a_depth() -> None:
    assert rain_mm(parse_amount("15.6mm")) == 15.6
    assert rain_mm(parse_amount("0.6in")) == pytest.approx(15.24)
    assert rain_mm(parse_amount("trace")) == 0.0
    for text in ("5l", "7cans", "12min"):
        with pytest.raises(InputError, match="rain is a depth"):
            rain_mm(parse_amount(text))
    with pytest.raises(InputError, match=r"rain: '20in' cannot be right; from 0 to 500 mm"):
        rain_mm(parse_amount("20in"))


@given(st.floats(0.01, 9000), st.sampled_from(["l", " L", " litres"]))
def test_what_is_written_is_what_is_read(value: float, unit: str) -> None:
    amount = parse_amount(f"{value:.3f}{unit}")
    assert amount.unit == "l"
    assert amount.value == pytest.approx(value, abs=0.000501)  # half the last digit


@given(st.text() | st.from_regex(r"[0-9.,½]{0,8} ?[a-z³\"]{0,6}"))
def test_garbage_is_read_or_refused_and_never_raises_otherwise(refusal: Refusal, text: str) -> None:
    told = refusal(lambda: parse_amount(text))
    if told is not None:
        assert told.value == text
        return
    amount = parse_amount(text)
    assert 0 <= amount.value <= 1e9
    for told in (refusal(lambda: litres(amount, GARDEN)), refusal(lambda: rain_mm(amount))):
        assert told is None or told.value == text


def test_tanks_need_a_tank() -> None:
    assert litres(parse_amount("2tanks"), Measures(tank_l=60.0)) == 120.0
    with pytest.raises(InputError, match=r"amount: '1tank' .* a tap with a --tank"):
        litres(parse_amount("1tank"), Measures())
