"""The door: what is let in, what is refused, and that all faults are said at once."""

from dataclasses import fields, replace
from datetime import UTC, date, datetime, time, timedelta, timezone
from typing import Any, get_args

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.garden.door import admit, admit_all
from soakbook.garden.entries import (
    ENTRY_TYPES,
    AnyEntry,
    Feel,
    Kept,
    Loss,
    MulchLaid,
    Rain,
    Soak,
    Void,
)
from soakbook.garden.records import Absence, Bed, Flow, Garden, Person, Planting, Tap
from soakbook.garden.sense import faults

WRITTEN = "2031-05-15T07:00:00+01:00"
SOAK: dict[str, Any] = {
    "uid": "s1",
    "happened_at": "2031-05-15",
    "written_at": WRITTEN,
    "bed_uid": "b1",
    "litres": 200,
    "typed": "200l",
}
GARDEN: dict[str, Any] = {
    "uid": "g1",
    "name": "The Corrody",
    "latitude_deg": 52.3,
    "longitude_deg": -0.4,
    "elevation_m": 62,
    "timezone": "Europe/London",
}


def refusal(record_type: type, **values: object) -> InputError:
    """What the door says."""
    with pytest.raises(InputError) as told:
        admit(record_type, **values)
    return told.value


def test_a_record_is_let_in() -> None:
    garden = admit(Garden, **GARDEN, round_hour="06:30")
    assert garden == Garden("g1", "The Corrody", 52.3, -0.4, 62.0, "Europe/London", time(6, 30))


def test_all_faults_are_said_at_once() -> None:
    told = refusal(Garden, **GARDEN | {"latitude_deg": 95, "can_l": 0, "readiness": "eager"})
    assert (told.field, told.value) == ("latitude", 95)
    said = str(told)
    assert "latitude: 95 cannot be right; from -90 to 90 °" in said
    assert "readiness: 'eager' cannot be right; one of keen, fair, lean" in said
    assert "can: 0 cannot be right; from 1 to 30 L" in said


def test_a_field_that_is_needed_is_named() -> None:
    values = {name: value for name, value in SOAK.items() if name != "litres"}
    told = refusal(Soak, **values)
    assert told.field == "water given"
    assert told.right == "more than 0 and at most 100000 L"
    assert str(told) == "water given is missing: more than 0 and at most 100000 L"


def test_a_field_that_does_not_exist_is_named() -> None:
    told = refusal(Soak, **SOAK, gallons=3)
    assert (told.field, told.value) == ("gallons", 3)
    assert "no such field; there are: uid, happened_at" in told.right


@pytest.mark.parametrize("value", [True, False])
def test_booleans_are_no_numbers(value: bool) -> None:
    """In bounds or not: pydantic alone would take True for 1."""
    assert refusal(Soak, **SOAK | {"litres": value}).field == "water given"
    assert refusal(Bed, uid="b", key="k", name="n", area_m2=True).field == "area"
    assert refusal(Person, uid="p", name="Tom", weekdays=[0, value]).field == "weekdays 2"
    flows = [{"flow_l_per_min": value, "tested_on": "2031-05-01"}]
    assert refusal(Tap, uid="t", key="A", flows=flows).field == "flows 1 flow"
    assert refusal(Planting, uid="p", planted_on=value).field != ""


def test_a_boolean_where_one_is_asked_for() -> None:
    feel = {name: SOAK[name] for name in ("uid", "happened_at", "written_at", "bed_uid")}
    assert admit(Feel, **feel, ball="dry", unsure=True).unsure is True


@pytest.mark.parametrize("value", [5, 20310401, 1.5e9, "20310401", "5", "1apr", "x", "", True])
def test_days_and_moments_are_not_seconds_since_1970(value: object) -> None:
    assert refusal(Soak, **SOAK | {"happened_at": value}).field == "happened at"
    assert refusal(Flow, flow_l_per_min=14, tested_on=value).field == "tested on"
    assert refusal(Garden, **GARDEN, round_hour=value).field == "round hour"


def test_a_bare_day_stays_a_day() -> None:
    assert admit(Soak, **SOAK).happened_at == date(2031, 5, 15)
    assert type(admit(Soak, **SOAK | {"happened_at": date(2031, 5, 15)}).happened_at) is date
    moment = admit(Soak, **SOAK | {"happened_at": "2031-05-15T06:40Z"}).happened_at
    assert moment == datetime(2031, 5, 15, 6, 40, tzinfo=UTC)
    assert refusal(Soak, **SOAK | {"happened_at": "2031-02-30"}).field == "happened at"


def test_a_moment_needs_its_zone() -> None:
    told = refusal(Soak, **SOAK | {"happened_at": "2031-05-15T07:10", "written_at": "2031-05-15"})
    assert told.field == "happened at"
    assert "with its zone" in told.right
    assert "written at" in told.right


def test_records_inside_records() -> None:
    flow = {"flow_l_per_min": 14, "tested_on": "2031-05-01"}
    tap = admit(Tap, uid="t", key="A", flows=[flow, Flow(11.0, date(2031, 6, 2))])
    assert tap.flows == (Flow(14.0, date(2031, 5, 1)), Flow(11.0, date(2031, 6, 2)))
    told = refusal(Tap, uid="t", key="A", flows=[flow, {**flow, "flow_l_per_min": -3}], tank_l=0)
    assert (told.field, told.value) == ("flows 2 flow", -3)
    assert "tank: 0 cannot be right" in told.right
    assert refusal(Tap, uid="t", key="A", flows=[{**flow, "hose": 1}]).field == "flows 1 hose"
    assert refusal(Tap, uid="t", key="A", flows=[{"flow_l_per_min": 3}]).field == (
        "flows 1 tested on"
    )
    assert refusal(Tap, uid="t", key="A", flows=3).right == "a list"
    absence = Absence(date(2031, 7, 9), date(2031, 7, 17))
    tom = admit(Person, uid="p", name="Tom", weekdays={0, 2}, hours=2, absences=(absence,))
    assert tom.absences == (absence,)


def test_numbers_that_are_none() -> None:
    values: list[object] = [float("nan"), float("inf"), "five", None, [], {}]
    for value in values:
        assert refusal(Soak, **SOAK | {"litres": value}).field == "water given"
    assert refusal(Loss, **SOAK | {"count": 1.5}).right


def test_rules_between_fields_are_told_in_the_same_words() -> None:
    told = refusal(Bed, uid="b", key="k", name="n", area_m2=18, soil="mud", place="moon")
    assert told.field == "soil"
    assert told.right.startswith("one of sand, loamy sand")
    assert "place: 'moon' cannot be right; one of open" in told.right
    rain = {"rain_mm": 3, "typed": "3mm", "began_at": "2031-05-16T07:00Z"}
    base = {"uid": "r", "happened_at": "2031-05-15T06:30Z", "written_at": WRITTEN}
    assert refusal(Rain, **base, **rain).field == "began at"


def test_a_mulch_is_one_of_the_table() -> None:
    base = {name: SOAK[name] for name in ("uid", "happened_at", "written_at", "bed_uid", "typed")}
    assert admit(MulchLaid, **base, kind="chip", depth_cm=5).cover_fraction == 1.0
    assert refusal(MulchLaid, **base, kind="rubber", depth_cm=5).field == "kind"
    assert refusal(MulchLaid, **base, kind="chip", depth_cm=50).field == "depth of the mulch"


def zoned(entry: Kept) -> Kept:
    """The entry with its moments in a zone, as every moment of a book is."""
    moments: dict[str, Any] = {
        field.name: value.replace(tzinfo=timezone(timedelta(hours=1)))
        for field in fields(entry)
        if isinstance(value := getattr(entry, field.name), datetime)
    }
    return replace(entry, **moments)


@pytest.mark.parametrize("kind", sorted(set(ENTRY_TYPES) - {"mulch"}))
@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(data=st.data())
def test_every_entry_that_may_be_is_let_in_unchanged(kind: str, data: st.DataObject) -> None:
    """Hypothesis builds entries from the annotations; the door must not alter one it admits."""
    entry_type = ENTRY_TYPES[kind]
    assert entry_type in (*get_args(AnyEntry), Void)
    entry = zoned(data.draw(st.from_type(entry_type)))
    assume(not faults(entry))
    values = {field.name: getattr(entry, field.name) for field in fields(entry)}
    assert admit(entry_type, **values) == entry


@settings(max_examples=60)
@given(
    st.dictionaries(
        st.sampled_from([*SOAK, "note", "kind", "method", "odd"]),
        st.none() | st.booleans() | st.integers() | st.floats() | st.text() | st.lists(st.text()),
    )
)
def test_garbage_is_refused_and_never_raises_otherwise(values: dict[str, Any]) -> None:
    for record_type in (Soak, Tap, Garden, Planting):
        with pytest.raises(InputError):
            admit(record_type, **values)


def test_many_are_let_in_as_each_would_be_alone() -> None:
    days = {"happened_at": date(2031, 5, 15), "written_at": datetime(2031, 5, 15, 6, tzinfo=UTC)}
    rows = [SOAK | days | {"uid": f"s{number}", "litres": number} for number in range(1, 9)]
    assert admit_all(Soak, rows, str) == [admit(Soak, **row) for row in rows]
    assert admit_all(Soak, [], str) == []


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"litres": -1}, "row 2, water given"),
        ({"by": "a\nb"}, "row 2, by"),
        ({"moon": 1}, "row 2, moon"),
    ],
)
def test_of_many_the_first_that_cannot_be_right_is_named(
    change: dict[str, object], field: str
) -> None:
    days = {"happened_at": date(2031, 5, 15), "written_at": datetime(2031, 5, 15, 6, tzinfo=UTC)}
    rows = [SOAK | days, SOAK | days, SOAK | days | change, SOAK | days | change]
    with pytest.raises(InputError) as told:
        admit_all(Soak, rows, lambda number: f"row {number}")
    assert told.value.field == field
