"""Visits: what is one visit, from where its water came, what it took and what it cost."""

import math
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pandas as pd
import pytest

from soakbook.account.columns import VISITS
from soakbook.account.visit_record import visits_of
from soakbook.account.visits import visits_frame
from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Restriction
from tests.account.books import BUTT, HOSE, beds, garden, on
from tests.reckoning.gardens import feel, left, loss, roses, soak, wilt
from tests.reckoning.gardens import garden as a_garden

YEAR = (date(2031, 1, 1), date(2031, 12, 31))
BARRED = Restriction("r", date(2031, 6, 10), date(2031, 6, 20), "hose", "mains", "No hosepipes.")


def frame(*entries: AnyEntry, **fields: object) -> pd.DataFrame:
    return visits_frame(garden(entries, **fields), *YEAR)


def only(*entries: AnyEntry, **fields: object) -> pd.Series:
    found = frame(*entries, **fields)
    assert len(found) == 1, found
    return found.iloc[0]


def test_the_columns_are_those_that_are_documented() -> None:
    for book in (garden([]), garden([soak(on(3), 24, "wall")])):
        assert list(visits_frame(book, *YEAR)) == list(VISITS)


def test_an_empty_span_has_the_same_kinds_of_columns() -> None:
    empty, full = frame(), frame(soak(on(3), 24, "wall"))
    assert list(empty.dtypes) == list(full.dtypes)
    assert str(full["at"].dtype) == "datetime64[ns, Europe/London]"
    assert isinstance(full.index, pd.RangeIndex)


def test_several_soaks_of_one_bed_day_and_person_are_one_visit() -> None:
    """30 L by a hose of 12 L/min: 2.5 min; 3 min a bed, ten plants at 4 s, 20 m there and back at 1 m/s, once."""
    row = only(
        soak(on(3, 7), 18, "wall", by="Tom", uid="a"), soak(on(3, 8), 12, "wall", by="Tom", uid="b")
    )
    assert (row["soaks"], row["litres"], row["minutes"]) == (2, 30.0, 2.5)
    assert row["minutes_on_foot"] == pytest.approx(2.5 + 3 + 40 / 60 + 40 / 60)
    assert row["at"] == on(3, 7)
    assert row["entry_uids"] == ("a", "b")


def test_two_people_or_two_days_are_two_visits() -> None:
    found = frame(
        soak(on(3), 10, "wall", by="Tom", uid="a"),
        soak(on(3), 10, "wall", by="Ann", uid="b"),
        soak(on(4), 10, "wall", by="Tom", uid="c"),
    )
    assert len(found) == 3


def test_where_some_came_by_can_and_some_by_hose_the_bed_is_set_up_once() -> None:
    """12 L by hose: 1 min, and 3 + 40 s + 40 s; 20 L by two cans: 2 x (27 s + 40 s), and no second 3 min."""
    row = only(soak(on(3), 12, "wall", uid="a"), soak(on(3), 20, "wall", uid="b", method="can"))
    assert row["minutes"] == 1 + 2
    assert row["minutes_on_foot"] == pytest.approx(1 + 3 + 80 / 60 + 2 * 67 / 60)
    assert row["method"] == "lance, can"


def test_cans_while_the_hose_is_barred_and_the_source_of_the_bed_s_tap() -> None:
    found = frame(
        soak(on(9), 24, "wall", uid="a"),
        soak(on(12), 24, "wall", uid="b"),
        soak(on(12), 20, "shade", uid="c"),
        restrictions=(BARRED,),
    )
    assert list(found["source"]) == ["mains", "mains", "butt"]
    assert found["source_guessed"].all()
    by_hose, by_can, butt = found["minutes_on_foot"]
    assert by_hose == pytest.approx(2 + 3 + 80 / 60)
    assert by_can == pytest.approx(3 + 3 * 67 / 60)
    assert butt == pytest.approx(3 + 2 * (27 + 20) / 60)


@pytest.mark.parametrize(
    ("taps", "source", "guessed", "tap", "minutes"),
    [
        ((HOSE,), "mains", False, "A", 2.0),
        ((HOSE, HOSE._replace(uid="tap B", key="B")), "mains", False, "A", 2.0),
        ((HOSE, BUTT), "mains", True, "A", 2.0),
        ((BUTT,), "mains", True, "", math.nan),
        ((), "mains", True, "", math.nan),
    ],
)
def test_the_source_is_a_guess_but_where_there_is_one_only(
    taps: tuple[object, ...], source: str, guessed: bool, tap: str, minutes: float
) -> None:
    row = only(soak(on(3), 24, "wall"), taps=taps)
    assert (row["source"], row["source_guessed"], row["tap"]) == (source, guessed, tap)
    assert row["minutes"] == pytest.approx(minutes, nan_ok=True)


def test_only_mains_water_costs_and_nothing_has_a_price_before_the_first() -> None:
    found = frame(
        soak(on(9, month=5), 1000, "wall", uid="a"),
        soak(on(10, month=5), 1000, "wall", uid="b"),
        soak(on(15), 1000, "wall", uid="c"),
        soak(on(15), 1000, "shade", uid="d"),
    )
    assert list(found["water_cost"].fillna(-1)) == [-1, 4.0, 5.0, 0.0]
    assert list(found["water_price_per_m3"].fillna(-1)) == [-1, 4.0, 5.0, -1]
    assert list(found["currency"]) == ["", "GBP", "GBP", ""]
    assert list(found["work_cost"]) == pytest.approx(list(found["minutes_on_foot"] / 60 * 12))


def test_plants_are_those_that_lived_and_were_meant() -> None:
    more = roses("wall", name="ferns", count=5)
    book = garden(
        [
            loss(on(1), 4, "wall", "wall/roses"),
            soak(on(3), 10, "wall", uid="a"),
            soak(on(4), 10, "wall", uid="b", planting_uid="wall/ferns"),
            soak(on(20, month=4), 10, "wall", uid="c"),
        ],
        plantings=(roses("wall"), more, roses("shade")),
    )
    found = visits_frame(book, *YEAR)
    assert list(found["plants"]) == [0, 11, 5]
    assert list(found["planting"]) == ["", "", "ferns"]
    assert list(found["litres"]) == [10.0, 10.0, 10.0]


def test_what_the_same_person_found_goes_with_the_visit_and_stands_alone_without() -> None:
    found = frame(
        feel(on(3, 6), "wall", ball="dry", bed="moist", by="Tom", uid="a"),
        soak(on(3, 7), 10, "wall", by="Tom", uid="b"),
        feel(on(3, 6), "wall", ball="wet", by="Ann", uid="c"),
        wilt(on(3, 15), "wall", by="Ann", uid="d"),
    )
    looked, watered = found.to_dict("records")
    assert (looked["by"], looked["what"], looked["ball_felt"], looked["leaves"]) == (
        "Ann", "looked", "wet", "limp",
    )  # fmt: skip
    assert (watered["what"], watered["ball_felt"], watered["bed_felt"], watered["leaves"]) == (
        "watered", "dry", "moist", "",
    )  # fmt: skip
    assert (watered["at"], looked["at"]) == (on(3, 7), on(3, 6))
    assert math.isnan(looked["minutes_on_foot"])


def test_every_left_entry_is_a_row_and_what_was_found_is_told_once() -> None:
    found = frame(
        left(on(3, 7), "wall", "too wet"),
        left(on(3, 18), "wall", "no time"),
        feel(on(3, 7), "wall", ball="wet"),
    )
    assert list(found["reason"]) == ["too wet", "no time"]
    assert list(found["ball_felt"]) == ["wet", ""]
    assert list(found["litres"]) == [0.0, 0.0]


def test_a_day_without_an_hour_has_no_time_and_both_ends_of_a_span_count() -> None:
    entries = [
        soak(date(2031, 6, 3), 10, "wall", uid="a"),
        soak(on(4, 0), 10, "wall", uid="b"),
        soak(on(5, 23), 10, "wall", uid="c"),
        soak(on(6, 0), 10, "wall", uid="d"),
    ]
    found = visits_frame(garden(entries), date(2031, 6, 3), date(2031, 6, 5))
    assert [uids[0] for uids in found["entry_uids"]] == ["a", "b", "c"]
    assert list(found["at"].isna()) == [True, False, False]


def test_days_are_those_of_the_garden_s_own_clock() -> None:
    """At 23:30 UTC on 2 January it is 3 January in Hobart."""
    south = a_garden(timezone="Australia/Hobart", latitude_deg=-42.9, longitude_deg=147.3)
    late = datetime(2031, 1, 2, 23, 30, tzinfo=ZoneInfo("UTC"))
    book = garden([soak(late, 10, "wall")], garden=south)
    (visit,) = visits_of(book, date(2031, 1, 3), date(2031, 1, 3))
    assert visit.day == date(2031, 1, 3)


def test_a_soak_of_a_bed_that_was_parted_counts_once_and_a_renamed_bed_has_its_new_name() -> None:
    wall, shade = beds()
    part = wall._replace(
        uid="part", key="part", name="The Part", parted_from="wall", parted_on=date(2031, 6, 10)
    )
    renamed = wall._replace(key="south", name="South Wall")
    moved = roses("part", name="moved", count=4, came_from="wall/roses", parted_on=part.parted_on)
    book = garden(
        [soak(on(3), 30, "wall", uid="a"), soak(on(12), 8, "part", uid="b")],
        beds=(renamed, shade, part),
        plantings=(roses("wall"), moved),
    )
    found = visits_frame(book, *YEAR)
    assert list(found["litres"]) == [30.0, 8.0]
    assert list(found["bed"]) == ["south", "part"]
    assert list(found["plants"]) == [10, 4]
