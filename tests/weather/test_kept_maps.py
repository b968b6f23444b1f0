"""How the book remembers the way a station's files are read."""

import json

import pytest

from soakbook.errors import InputError
from soakbook.weather.column_map import ColumnMap, columns_said
from soakbook.weather.kept_maps import as_json, from_json

NOTHING = ColumnMap()


def test_the_book_remembers_a_map_as_json() -> None:
    whole = ColumnMap(
        columns=columns_said(["rain=Precip:in", "wind=Wind:km/h@10m"]).columns,
        left_out=("sun",),
        date_header="Day",
        date_order="mdy",
        decimal_comma=True,
        rain_day="09:00 before",
        clock="standard",
        wind_height_m=10.0,
        missing=("*",),
        source="Shed roof",
    )
    kept = json.dumps(as_json(whole))
    assert json.loads(kept)["columns"] == ["rain=Precip:in", "wind=Wind:km/h@10m"]
    assert from_json(json.loads(kept)) == whole
    assert from_json(json.loads(json.dumps(as_json(NOTHING)))) == NOTHING


def test_a_map_that_an_older_book_remembers_has_no_clock_and_no_comma() -> None:
    newer = ("clock", "decimal_comma")
    older = {key: value for key, value in as_json(NOTHING).items() if key not in newer}
    assert from_json(older) == NOTHING


def test_a_remembered_clock_must_be_one() -> None:
    with pytest.raises(InputError, match="clock: 'summer'"):
        from_json(as_json(NOTHING) | {"clock": "summer"})


def test_a_remembered_order_of_dates_must_be_one() -> None:
    with pytest.raises(InputError, match="dates: 'ydm'"):
        from_json(as_json(NOTHING) | {"dates": "ydm"})


def test_remembered_commas_are_there_or_not() -> None:
    with pytest.raises(InputError, match="decimal comma: 'perhaps'"):
        from_json(as_json(NOTHING) | {"decimal_comma": "perhaps"})
