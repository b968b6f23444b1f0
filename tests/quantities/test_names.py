"""The registry of quantities: what a value may be, and what is said when it cannot."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.quantities.names import QUANTITIES, Quantity, check


@pytest.mark.parametrize("name", QUANTITIES)
def test_both_ends_of_a_span_are_as_the_words_say(name: str) -> None:
    quantity = QUANTITIES[name]
    assert quantity.lowest < quantity.highest
    assert quantity.holds(quantity.lowest) is not quantity.above_lowest
    assert quantity.holds(quantity.highest) is not quantity.below_highest
    assert not quantity.holds(math.nextafter(quantity.lowest, -math.inf))
    assert not quantity.holds(math.nextafter(quantity.highest, math.inf))


@pytest.mark.parametrize("name", QUANTITIES)
def test_what_is_no_number_is_refused(name: str) -> None:
    values: list[Any] = [math.nan, math.inf, -math.inf, True, "5", None, 10**400]
    for value in values:
        with pytest.raises(InputError):
            check(name, value)


def test_numbers_of_numpy_are_numbers() -> None:
    values: list[Any] = [np.float32(2.5), np.float64(2.5), np.int64(2)]
    for value in values:
        checked = check("rain_mm", value)
        assert type(checked) is float
        assert checked == value


def test_a_fault_names_field_value_and_what_would_be_right() -> None:
    with pytest.raises(InputError) as told:
        check("tmin_c", -61.5)
    assert told.value.field == "lowest temperature"
    assert told.value.value == -61.5
    assert told.value.right == "from -60 to 60 °C"


def test_a_fault_is_told_in_the_gardeners_words_when_they_are_given() -> None:
    with pytest.raises(InputError, match=r"flow: '300l/min' cannot be right; more than 0 and at"):
        check("flow_l_per_min", 300.0, field="flow", typed="300l/min")


@pytest.mark.parametrize(
    ("quantity", "words"),
    [
        (Quantity("x", "mm", 0, 500), "from 0 to 500 mm"),
        (Quantity("x", "m²", 0, 50, above_lowest=True), "more than 0 and at most 50 m²"),
        (Quantity("x", "", 0, 0.9, below_highest=True), "from 0 to below 0.9"),
        (Quantity("x", "L", 0, 9, True, True), "more than 0 and below 9 L"),
        (Quantity("x", "", 1, math.inf), "1 or more"),
        (Quantity("x", "h", 0, math.inf, above_lowest=True), "more than 0 h"),
    ],
)
def test_spans_in_words(quantity: Quantity, words: str) -> None:
    assert quantity.right == words


@given(st.sampled_from(sorted(QUANTITIES)), st.floats())
def test_check_gives_back_what_holds_and_refuses_the_rest(name: str, value: float) -> None:
    if QUANTITIES[name].holds(value):
        assert check(name, value) == value
    else:
        with pytest.raises(InputError):
            check(name, value)
