"""Advice of the reader of weather files, as it can be written into a RECORD.toml."""

import pytest

from soakbook.errors import InputError
from soakbook.truth.columns import columns_of
from soakbook.truth.toml_words import in_toml_words, named
from soakbook.weather.columns import QUANTITIES, UNITS, Column


def test_a_unit() -> None:
    fault = InputError("x", 9, "at most 3 kPa; it looks like hPa: say vapour=My vapour:hPa")
    right = 'at most 3 kPa; it looks like hPa: write ea_hpa = "My vapour" under [columns]'
    assert in_toml_words(fault).right == right


@pytest.mark.parametrize(
    ("quantity", "unit"),
    [(word, unit) for word, one in QUANTITIES.items() for unit in UNITS[one.measure]],
)
def test_every_name_we_advise_is_one_that_we_read(quantity: str, unit: str) -> None:
    (found,) = columns_of(["theirs"], {named(quantity, unit): "theirs"}, None).weather.columns
    assert isinstance(found, Column)
    assert (found.quantity, found.unit) == (quantity, unit)
