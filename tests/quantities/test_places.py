"""Where a garden is; how each is read by a command is in the tests of `book new`."""

import pytest

from soakbook.errors import InputError
from soakbook.quantities.places import (
    parse_latitude,
    parse_longitude,
    parse_place,
    said_place,
    to_a_kilometre,
)


@pytest.mark.parametrize("text", ["52.3 N 0.4 W", "52.3N, 0.4W", "52.3,-0.4", "52.3; -0.4"])
def test_a_place_is_read(text: str) -> None:
    assert parse_place(text) == (52.3, -0.4)


@pytest.mark.parametrize("text", ["52,3", "here", "52.3 W 0.4 N", "-52.3 S 0.4 W", "152.3 N 0.4 W"])
def test_what_is_no_place_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        parse_place(text)


def test_a_place_is_said_with_its_sides() -> None:
    assert said_place(52.3, 0.4) == "52.3° north, 0.4° east"
    assert said_place(parse_latitude("33.9 S"), parse_longitude("70W")) == "33.9° south, 70° west"


@pytest.mark.parametrize(
    ("degrees", "rounded"), [(52.31264, "52.31"), (-0.4, "-0.4"), (-0.001, "0.0")]
)
def test_what_leaves_the_house_is_a_kilometre_wide(degrees: float, rounded: str) -> None:
    assert repr(to_a_kilometre(degrees)) == rounded
