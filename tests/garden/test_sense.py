"""Rules between fields, each broken alone on a record that was right."""

from dataclasses import replace
from datetime import UTC, date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import Feel, MulchLaid, Rain
from soakbook.garden.records import Absence, Bed, Garden, Person, Planting, Restriction
from soakbook.garden.sense import faults

NOON = datetime(2031, 5, 15, 12, tzinfo=UTC)
MORNING = datetime(2031, 5, 15, 6, 30, tzinfo=UTC)

GARDEN = Garden("g", "The Corrody", 52.3, -0.4, 62, "Europe/London")
BED = Bed("b", "chapel", "Chapel Wall", 18, "sandy loam", "south wall foot")
POTTED = Planting("p", "b", "roses", "shrub", 6, "pot", date(2031, 3, 20), 7.5, 0.25)
WHIPS = POTTED._replace(plant_class="whip", origin="bare", ball_volume_l=0, ball_diameter_m=0)
RAIN = Rain(uid="r", happened_at=NOON, written_at=NOON, rain_mm=3, typed="3mm", began_at=MORNING)
FEEL = Feel(uid="f", happened_at=NOON, written_at=NOON, bed_uid="b", ball="dry")
CHIP = MulchLaid(
    uid="m", happened_at=NOON, written_at=NOON, bed_uid="b", kind="chip", depth_cm=5, typed="5cm"
)
AWAY = Absence(date(2031, 7, 9), date(2031, 7, 17))
BARRED = Restriction("x", date(2031, 7, 18), date(2031, 9, 5), "hose", "mains", "text")
TOM = Person("t", "Tom")


@pytest.mark.parametrize(
    "record", [GARDEN, BED, POTTED, WHIPS, RAIN, FEEL, CHIP, AWAY, BARRED, TOM, object()]
)
def test_what_is_right_has_no_fault(record: object) -> None:
    assert faults(record) == []


@pytest.mark.parametrize(
    ("record", "change", "field"),
    [
        (GARDEN, {"timezone": "Europe/Londn"}, "timezone"),
        (GARDEN, {"timezone": "../etc"}, "timezone"),
        (GARDEN, {"round_hour": time(7, tzinfo=UTC)}, "round_hour"),
        (BED, {"soil": "mud"}, "soil"),
        (BED, {"place": "wall"}, "place"),
        (BED, {"sand_fraction": 0.5}, "sand_fraction"),
        (BED, {"sand_fraction": 0.5, "clay_fraction": 0.6}, "sand_fraction"),
        (POTTED, {"plant_class": "rose"}, "plant_class"),
        (POTTED, {"mix": "mud"}, "mix"),
        (POTTED, {"dug_from_soil": "unknown"}, "dug_from_soil"),
        (POTTED, {"ball_volume_l": 0}, "ball_volume_l"),
        (POTTED, {"ball_diameter_m": 0}, "ball_diameter_m"),
        (POTTED, {"canopy_start_m2": 0.5}, "canopy_full_m2"),
        (POTTED, {"parted_on": date(2031, 5, 1)}, "came_from"),
        (POTTED, {"parted_on": date(2031, 3, 1), "came_from": "q"}, "parted_on"),
        (BED, {"parted_from": "c"}, "parted_from"),
        (BED, {"parted_on": date(2031, 5, 1)}, "parted_from"),
        (AWAY, {"last": date(2031, 7, 8)}, "last"),
        (BARRED, {"last": date(2031, 7, 17)}, "last"),
        (TOM, {"first": date(2031, 7, 9), "last": date(2031, 7, 8)}, "last"),
        (RAIN, {"began_at": NOON}, "began_at"),
        (FEEL, {"ball": None}, "ball"),
        (CHIP, {"kind": "bark"}, "kind"),
    ],
)
def test_one_fault_is_named(record: Any, change: dict[str, object], field: str) -> None:
    changed = (
        record._replace(**change) if hasattr(record, "_replace") else replace(record, **change)
    )
    told = faults(changed)
    assert [fault.field for fault in told] == [field]
    assert told[0].right


def test_all_faults_of_a_record_are_named() -> None:
    told = faults(BED._replace(soil="mud", place="moon", sand_fraction=0.9, clay_fraction=0.9))
    assert {fault.field for fault in told} == {"soil", "place", "sand_fraction"}


def test_a_reading_of_a_bare_day_has_no_hour_to_be_out_of_order_with() -> None:
    assert faults(replace(RAIN, happened_at=date(2031, 5, 15))) == []


def test_a_soil_that_is_known_by_its_jar() -> None:
    assert faults(BED._replace(sand_fraction=0.6, clay_fraction=0.4)) == []


@pytest.mark.parametrize(
    ("name", "right"),
    [
        ("A" * 61, "at most 60 letters, not 61"),
        ("Chapel\nWall", "on one line"),
        ("Chapel\x1b[2J", "without control characters"),
        ("Chapel\u202e", "without control characters"),
    ],
)
def test_a_name_stands_on_one_line_of_a_page(name: str, right: str) -> None:
    with pytest.raises(InputError) as fault:
        admit(Bed, uid="1", key="chapel", name=name, area_m2=18.0)
    assert fault.value.field == "name"
    assert right in fault.value.right
    assert admit(Bed, uid="1", key="chapel", name="Chapelle d'été ½", area_m2=18.0).key == "chapel"


def test_in_the_hour_that_comes_twice_rain_begins_before_its_reading() -> None:
    zone = ZoneInfo("Europe/London")
    early, late = (datetime(2031, 10, 26, 1, minute, tzinfo=zone) for minute in (12, 46))
    twice = replace(RAIN, happened_at=early.replace(fold=1), began_at=late)
    assert faults(twice) == []
    twice = replace(RAIN, happened_at=late, began_at=early.replace(fold=1))
    assert [fault.field for fault in faults(twice)] == ["began_at"]
