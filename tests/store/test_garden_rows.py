"""Beds, plantings, taps, people, rules, prices: in and out unchanged, every change with a trace."""

from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import UTC, date, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.garden.records import (
    Absence,
    Bed,
    Flow,
    Garden,
    Person,
    Planting,
    Rate,
    Restriction,
    Tap,
)
from soakbook.garden.reminding import Reminder
from soakbook.store.book_file import BookFile
from soakbook.store.changes import changes
from soakbook.store.garden_rows import (
    add_absence,
    add_flow,
    add_record,
    keep_mapping,
    read_garden,
    read_mapping,
    read_records,
    update_record,
)
from soakbook.store.sheets import Setting

Undone = Callable[[BookFile], AbstractContextManager[None]]

# Whatever the annotations of the records allow, within what the fixtures hold.
FLOWS = st.lists(st.builds(Flow)).map(
    lambda flows: tuple(sorted(flows, key=lambda flow: flow.tested_on))
)
ABSENCES = st.lists(st.builds(Absence)).map(
    lambda absences: tuple(sorted(absences, key=lambda absence: absence.first))
)
UIDS = st.text(min_size=1).map(lambda text: f"new {text}")
SAID = st.frozensets(st.sampled_from(["soil", "area_m2", "canopy_full_m2"]))
ALONE: dict[str, Any] = {"parted_from": st.none(), "parted_on": st.none()}
NAMED = st.frozensets(st.text("abc1", min_size=1), min_size=1)
LOUD = {"quiet_from": st.none(), "quiet_until": st.none()}
QUIET = {"quiet_from": st.times(), "quiet_until": st.times()}
KINDS: list[st.SearchStrategy[Setting]] = [
    st.builds(
        Bed,
        uid=UIDS,
        key=UIDS,
        tap=st.sampled_from([None, "A"]),
        said=SAID,
        parted_from=st.just("bed-1"),
        parted_on=st.dates(),
    ),
    st.builds(Bed, uid=UIDS, key=UIDS, said=SAID, tap=st.none(), **ALONE),
    st.builds(
        Planting,
        uid=UIDS,
        bed_uid=st.just("bed-1"),
        replaces=st.sampled_from([None, "planting-1"]),
        came_from=st.just("planting-1"),
        said=SAID,
    ),
    st.builds(Tap, uid=UIDS, key=UIDS, flows=FLOWS),
    st.builds(Person, uid=UIDS, name=UIDS, absences=ABSENCES),
    st.builds(Restriction, uid=UIDS),
    st.builds(Rate, uid=UIDS),
    st.builds(Reminder, whom=st.just("named"), named=NAMED, **LOUD),
    st.builds(
        Reminder, whom=st.sampled_from([None, "keeper", "all"]), named=st.just(frozenset()), **QUIET
    ),
]


def _stored(book: BookFile, record: Setting) -> Setting:
    kind: Any = type(record)
    stored: list[Setting] = [each for each in read_records(book, kind) if each.uid == record.uid]
    return stored[0]


@given(record=st.one_of(KINDS))
def test_what_the_records_allow_comes_back(
    shared_book: BookFile, undone: Undone, morning: datetime, record: Setting
) -> None:
    with undone(shared_book):
        add_record(shared_book, record, at=morning)
        assert _stored(shared_book, record) == record


@given(garden=st.builds(Garden, uid=st.just("garden-1")))
def test_the_garden_comes_back(
    shared_book: BookFile, undone: Undone, morning: datetime, garden: Garden
) -> None:
    with undone(shared_book):
        update_record(shared_book, garden, at=morning)
        assert read_garden(shared_book) == garden


@given(data=st.data())
def test_any_record_may_be_changed_to_any_other(
    shared_book: BookFile, undone: Undone, morning: datetime, data: st.DataObject
) -> None:
    records = data.draw(st.sampled_from(KINDS))
    before, after = data.draw(records), data.draw(records)
    after = after._replace(uid=before.uid)  # type: ignore[arg-type]
    with undone(shared_book):
        add_record(shared_book, before, at=morning)
        update_record(shared_book, after, at=morning)
        assert _stored(shared_book, after) == after


def test_order(book: BookFile, bed: Bed, planting: Planting, morning: datetime) -> None:
    """Beds as written; plantings by their day, then as written."""
    for uid, key in (("x", "warden"), ("a", "dole")):
        add_record(book, bed._replace(uid=uid, key=key), at=morning)
    for uid, day in (
        ("late", date(2031, 5, 6)),
        ("early", date(2031, 1, 22)),
        ("same", date(2031, 3, 20)),
    ):
        add_record(book, planting._replace(uid=uid, planted_on=day), at=morning)
    assert [each.key for each in read_records(book, Bed)] == ["chapel", "warden", "dole"]
    assert [each.uid for each in read_records(book, Planting)] == [
        "early",
        "planting-1",
        "same",
        "late",
    ]


def test_a_change_leaves_a_trace(book: BookFile, bed: Bed, morning: datetime) -> None:
    later = datetime(2031, 7, 1, 9, tzinfo=UTC)
    update_record(book, bed._replace(area_m2=24.0), at=later, by="Tom")
    first, *_, last = changes(book)
    assert (first.what, first.uid, first.by, first.before) == ("garden", "garden-1", "Ann", None)
    assert (last.what, last.uid, last.by, last.at) == ("bed", "bed-1", "Tom", later)
    assert last.before is not None
    assert (last.before["area_m2"], last.after["area_m2"]) == (18.0, 24.0)
    assert {key for key, value in last.after.items() if last.before[key] != value} == {"area_m2"}


def test_a_change_to_the_same_is_none(book: BookFile, bed: Bed, morning: datetime) -> None:
    before = (changes(book), book.change_mark())
    update_record(book, bed, at=morning)
    assert (changes(book), book.change_mark()) == before


def test_a_hose_test_is_added(book: BookFile, morning: datetime) -> None:
    june, may = Flow(13.0, date(2031, 6, 2)), Flow(14.0, date(2031, 5, 1))
    add_flow(book, "tap-1", june, at=morning, by="Ann")
    add_flow(book, "tap-1", may, at=morning, by="Ann")
    assert read_records(book, Tap)[0].flows == (may, june)
    assert [len(each.after["flows"]) for each in changes(book)[-2:]] == [1, 2]


def test_an_absence_is_added(book: BookFile, morning: datetime) -> None:
    tom = Person("person-1", "Tom", weekdays=frozenset({0, 2, 5}))
    away = Absence(date(2031, 7, 9), date(2031, 7, 17))
    add_record(book, tom, at=morning)
    add_absence(book, tom.uid, away, at=morning)
    assert read_records(book, Person) == (tom._replace(absences=(away,)),)


def test_a_tap_given_a_new_letter_keeps_its_beds(book: BookFile, morning: datetime) -> None:
    update_record(book, Tap("tap-1", "court tap"), at=morning)
    assert read_records(book, Bed)[0].tap == "court tap"


@pytest.mark.parametrize(
    ("record", "field", "value"),
    [
        (Bed("bed-2", "chapel", "Another Chapel Wall", 5), "key", "chapel"),
        (Bed("bed-1", "dole", "Dole Bed", 5), "uid", "bed-1"),
        (Bed("bed-2", "dole", "Dole Bed", 5, tap="Z"), "tap", "Z"),
        (Bed("bed-2", "dole", "Dole Bed", float("nan")), "area_m2", None),
        (Bed("bed-2", "dole", "Dole Bed", -5), "area_m2", -5),
        (Tap("tap-2", "B", flows=(Flow(-14.0, date(2031, 5, 1)),)), "flow_l_per_min", -14.0),
        (
            Planting("p", "bed-9", "roses", "shrub", 6, "pot", date(2031, 3, 20), 7.5, 0.25),
            "bed_uid",
            "bed-9",
        ),
    ],
)
def test_what_is_refused_is_named(
    book: BookFile, morning: datetime, record: Setting, field: str, value: object
) -> None:
    before = (changes(book), book.change_mark())
    with pytest.raises(InputError) as refused:
        add_record(book, record, at=morning)
    assert refused.value.field == field
    assert value is None or refused.value.value == value
    assert (changes(book), book.change_mark()) == before


def test_what_sqlite_cannot_hold(
    book: BookFile, bed: Bed, planting: Planting, morning: datetime
) -> None:
    with pytest.raises(InputError, match=r"name: .*text without halves of characters"):
        update_record(book, bed._replace(name="half a \ud800 letter"), at=morning)
    with pytest.raises(InputError, match=r"count: .*a number of ordinary size"):
        update_record(book, planting._replace(count=2**63), at=morning)
    assert read_records(book, Bed) == (bed,)
    assert read_records(book, Planting) == (planting,)


def test_a_record_that_is_not_there_cannot_be_changed(
    book: BookFile, bed: Bed, morning: datetime
) -> None:
    with pytest.raises(InputError, match="the uid of a bed in the book"):
        update_record(book, bed._replace(uid="bed-9"), at=morning)
    with pytest.raises(InputError, match="the uid of a tap in the book"):
        add_flow(book, "tap-9", Flow(14.0, date(2031, 5, 1)), at=morning)


def test_a_change_that_fails_half_way_changes_nothing(book: BookFile, morning: datetime) -> None:
    """The tap's own row is written before its flows, the last of which is impossible."""
    flows = (Flow(14.0, date(2031, 5, 1)), Flow(-1.0, date(2031, 5, 2)))
    before = (read_records(book, Tap), book.change_mark())
    with pytest.raises(InputError, match="flow_l_per_min > 0"):
        update_record(book, Tap("tap-1", "A", source="butt", flows=flows), at=morning)
    assert (read_records(book, Tap), book.change_mark()) == before


def test_a_moment_without_a_zone_is_refused(book: BookFile, bed: Bed) -> None:
    naive = datetime.fromisoformat("2031-05-14T07:40:00")
    with pytest.raises(InputError, match=r"at: '2031-05-14T07:40:00'.*with its time zone"):
        update_record(book, bed._replace(area_m2=24.0), at=naive)
    assert read_records(book, Bed) == (bed,)


def test_the_columns_of_a_file_are_remembered(book: BookFile, morning: datetime) -> None:
    columns = {"day": "Datum", "units": {"Regen": "mm"}, "factor": 0.1}
    assert read_mapping(book, "station") is None
    keep_mapping(book, "station", columns, at=morning)
    assert read_mapping(book, "station") == columns
    mark = book.change_mark()
    keep_mapping(book, "station", columns, at=morning)
    assert book.change_mark() == mark
    keep_mapping(book, "station", {"day": "date"}, at=morning, by="Ann")
    assert read_mapping(book, "station") == {"day": "date"}
    last = changes(book)[-1]
    assert (last.what, last.uid, last.before, last.after) == (
        "weather_mapping",
        "station",
        columns,
        {"day": "date"},
    )
