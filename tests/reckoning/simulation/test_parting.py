"""A bed parted in two on some morning: nothing happens to the plants."""

from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

import numpy as np
import pytest

from soakbook.garden.entries import Feel, Loss, MulchLaid, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Planting
from soakbook.reckoning.simulation.cells import cells_m2
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.knowing import known_on
from soakbook.reckoning.simulation.parting import drawn_as, with_past
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.watering import soak_shares
from tests.reckoning.gardens import (
    PLANTED,
    ZONE,
    at,
    bed,
    catch,
    feel,
    loss,
    mulch,
    pages,
    roses,
    row_of,
    season,
    soak,
    weather,
    with_entries,
)

DAY = date(2031, 5, 20)
MEMBERS = 20


class Held(NamedTuple):
    """Stores of one planting, each (member,)."""

    mulch_store_mm: Floats
    bowl_skin_depletion_mm: Floats
    open_skin_depletion_mm: Floats
    ball_store_l: Floats
    reach_store_l: Floats
    beyond_store_l: Floats
    warm_days: Floats


def ferns(**fields: Any) -> Planting:
    """Six ferns beside the roses."""
    return roses(name="ferns", count=6, ball_volume_l=2.0, ball_diameter_m=0.16, **fields)


def parted(
    book: Pages, going: dict[str, int], area_m2: float = 20.0, key: str = "west", day: date = DAY
) -> Pages:
    """The book with so many of each planting, by uid, in a bed of their own from a day on."""
    by_uid = {one.uid: one for one in book.plantings}
    (whole,) = {one.bed_uid for one in by_uid.values() if one.uid in going}
    old = book.bed_by_uid()[whole]
    new = old._replace(uid=key, key=key, area_m2=area_m2, parted_from=whole, parted_on=day)
    beds = [one._replace(area_m2=one.area_m2 - area_m2) if one is old else one for one in book.beds]
    heirs = [
        by_uid[uid]._replace(
            uid=f"{key}/{by_uid[uid].name}", bed_uid=key, count=count, came_from=uid, parted_on=day,
            replaces=None,
        )
        for uid, count in going.items()
    ]  # fmt: skip
    gone = [
        Loss(
            uid=f"gone {uid} {key}", happened_at=day, written_at=datetime(2031, 1, 1, tzinfo=ZONE),
            bed_uid=whole, planting_uid=uid, count=count, cause="parted",
        )
        for uid, count in going.items()
    ]  # fmt: skip
    return book._replace(
        beds=(*beds, new),
        plantings=(*book.plantings, *heirs),
        entries=tuple(sorted((*book.entries, *gone), key=_moment)),
    )


def _moment(entry: object) -> datetime:
    when = getattr(entry, "happened_at")  # noqa: B009
    return when if isinstance(when, datetime) else at(when, 7)


def told() -> Pages:
    """A bed in which much has happened before the day."""
    return pages(
        [roses(), ferns()],
        [
            mulch(PLANTED + timedelta(days=2)),
            soak(at(date(2031, 5, 4), 8), 40),
            soak(at(date(2031, 5, 8), 8), 30, planting_uid="bed/roses"),
            feel(at(date(2031, 5, 10), 7), ball="dry", bed="moist"),
            loss(at(date(2031, 5, 11), 7), 1),
            feel(at(date(2031, 5, 12), 7), planting_uid="bed/ferns", ball="moist", bed="dry"),
            soak(at(date(2031, 5, 14), 19), 25),
            catch(at(date(2031, 5, 15), 7), 3.0, 6.0),
        ],
        beds=[bed(area_m2=50.0)],
        days=weather(rain={date(2031, 5, 14): 6.0}),
    )


def dawn_of(book: Pages, day: date) -> Dawn:
    """A morning of a book, as a round of that day sees it."""
    return run(season(known_on(book, day), day, MEMBERS))[-1]


def stores_of(dawn: Dawn, uid: str) -> Held:
    """What one planting's plant holds on a dawn."""
    row = row_of(dawn.season, uid)
    return Held(*(np.asarray(field)[row] for field in dawn.stores))


ALL = {"bed/roses": 4, "bed/ferns": 6}
PAIRS = {"bed/roses": "west/roses", "bed/ferns": "west/ferns"}


@pytest.mark.parametrize("later", [0, 1, 9])
def test_each_plant_has_to_the_last_bit_what_it_would_have_had(later: int) -> None:
    day, book = DAY + timedelta(days=later), told()
    whole, two = (dawn_of(one, day) for one in (book, parted(book, ALL)))
    for old, new in PAIRS.items():
        for name, had, has in zip(
            Held._fields, stores_of(whole, old), stores_of(two, new), strict=True
        ):
            assert np.array_equal(had, has), (new, name)
    for had, has in zip(stores_of(whole, "bed/roses"), stores_of(two, "bed/roses"), strict=True):
        assert np.array_equal(had, has), "those that stayed"


def test_what_was_given_on_the_evening_before_reaches_both() -> None:
    evening = soak(at(DAY - timedelta(days=1), 19), 25)
    book, day = with_entries(told(), evening), DAY + timedelta(days=1)
    whole, two = (dawn_of(one, day) for one in (book, parted(book, ALL)))
    dry = dawn_of(told(), day)
    for old, new in PAIRS.items():
        had, has = stores_of(whole, old), stores_of(two, new)
        # By the plain run: how much each hand gave is doubted planting by planting.
        plain = [(float(one[0]), float(other[0])) for one, other in zip(had, has, strict=True)]
        assert [one for one, _ in plain] == pytest.approx([other for _, other in plain], rel=1e-12)
        assert had.ball_store_l[0] > stores_of(dry, old).ball_store_l[0]


def test_both_beds_believe_what_the_one_had_learned() -> None:
    whole = dawn_of(told(), DAY).season
    two = dawn_of(parted(told(), {"bed/ferns": 6}), DAY).season
    assert np.ptp(np.asarray(whole.plot.available_fraction)[row_of(whole, "bed/ferns")]) > 0
    for name in ("available_fraction", "rain_share", "kcb", "ball_available_fraction"):
        had = getattr(whole.plot, name)[row_of(whole, "bed/ferns")]
        assert np.array_equal(getattr(two.plot, name)[row_of(two, "west/ferns")], had), name


def test_other_soil_in_the_part_is_as_wet_as_it_was() -> None:
    book = parted(told(), {"bed/roses": 9})
    sand = [one._replace(soil="sand") if one.key == "west" else one for one in book.beds]
    loam, two = dawn_of(book, DAY), dawn_of(book._replace(beds=tuple(sand)), DAY)
    held, holds = (stores_of(one, "west/roses").reach_store_l[0] for one in (loam, two))
    assert holds < 0.8 * held
    assert holds > 0


def test_before_the_day_a_round_sees_one_bed() -> None:
    book = parted(told(), {"bed/roses": 4})
    known = known_on(book, DAY - timedelta(days=1))
    assert [one.uid for one in known.plantings] == ["bed/roses", "bed/ferns"]
    assert not [one for one in known.entries if isinstance(one, Loss) and one.cause == "parted"]


def test_what_was_told_of_the_whole_is_told_of_the_part() -> None:
    book = parted(told(), {"bed/ferns": 6})
    own = [one for one in with_past(book).entries if getattr(one, "bed_uid", "") == "west"]
    assert [one.happened_at for one in own if isinstance(one, MulchLaid)] == [date(2031, 5, 3)]
    feels = [one for one in own if isinstance(one, Feel)]
    # The one that named nothing was of the roses, which stayed: only its soil is told.
    assert [(one.planting_uid, one.ball, one.bed) for one in feels] == [
        (None, None, "moist"),
        ("west/ferns", "moist", "dry"),
    ]
    assert not [one for one in own if isinstance(one, Loss)]
    soaks = [one for one in own if isinstance(one, Soak)]
    assert len(soaks) == 2, "the one of the roses alone gave the ferns nothing"
    losses = [one for one in book.entries if isinstance(one, Loss)]
    for copy in soaks:
        (original,) = (one for one in book.entries if one.uid == copy.uid)
        assert isinstance(original, Soak)
        each = {one.uid: litres for one, litres in soak_shares(original, book, losses, ZONE)}
        ((_, litres),) = soak_shares(copy, with_past(book), losses, ZONE)
        assert litres == pytest.approx(each["bed/ferns"])


def test_a_past_taken_over_twice_is_taken_over_once() -> None:
    once = with_past(parted(told(), {"bed/ferns": 6}))
    assert with_past(once) == once


def test_a_part_of_a_part_has_the_past_of_both() -> None:
    later = DAY + timedelta(days=3)
    book = parted(told(), {"bed/roses": 6})
    book = parted(book, {"west/roses": 2}, 5.0, "nook", later)
    own = [one for one in with_past(book).entries if getattr(one, "bed_uid", "") == "nook"]
    assert len([one for one in own if isinstance(one, MulchLaid)]) == 1
    assert drawn_as(book.beds) == {"west": "bed", "nook": "bed"}
    dawn = dawn_of(book, later)
    assert np.array_equal(
        stores_of(dawn, "nook/roses").reach_store_l, stores_of(dawn, "west/roses").reach_store_l
    )


def test_each_keeps_its_cell_and_the_ground_adds_up() -> None:
    crowd = pages(
        [roses(count=30, cell_m2=2.0), ferns(cell_m2=1.0, planted_on=date(2031, 5, 5))],
        beds=[bed(area_m2=64.0)],
    )
    book = parted(crowd, {"bed/roses": 10}, 20.0)
    cells, crowded = cells_m2(book)
    assert cells["bed/roses"] == cells["west/roses"] == 2.0
    assert cells["bed/ferns"] == pytest.approx(4.0 / 6), "as before: 64 less 60 for six of them"
    assert crowded == {"bed": pytest.approx(4.0 / 6)}
    late = roses(uid="late", name="late", count=1, cell_m2=9.0, planted_on=date(2031, 6, 1))
    # The bed has 44 m2 left, 40 of them under roses and 4 under ferns; the part has 20, all of them taken.
    assert cells_m2(book._replace(plantings=(*book.plantings, late)))[0]["late"] == 0.2, (
        "half its leaves"
    )
    freed = parted(crowd, {"bed/roses": 10}, 10.0)
    assert cells_m2(freed._replace(plantings=(*freed.plantings, late)))[0]["late"] == 9.0


def test_a_bed_that_leads_back_to_itself_is_no_hang() -> None:
    one, two = (
        bed("one", parted_from="two", parted_on=DAY),
        bed("two", parted_from="one", parted_on=DAY),
    )
    turned: list[Bed] = [one, two]
    assert set(drawn_as(turned)) <= {"one", "two"}
