"""What fits into the hours, and the order of the walk."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.reckoning.advice.calling import BedCall, Dosed
from soakbook.reckoning.advice.walk import (
    dropping_order,
    fitted,
    harm_per_minute,
    second_slots,
    walk,
)
from tests.reckoning.advice.handmade import call, dosed, hose, judged, prospect
from tests.reckoning.gardens import roses


def planted(
    key: str, *, name: str = "roses", harm: float = 0.2, count: int = 10, half: int = 2, **more: Any
) -> Any:
    """One dosed planting of a bed."""
    one = roses(key, name=name, count=count, plant_class=more.pop("plant_class", "shrub"))
    likely = prospect(harm_share=harm, half_passed_in=half)
    return dosed(judged(one, prospect=likely), more.pop("litres", 2.0), **more)


def on_foot(calls: tuple[BedCall, ...]) -> float:
    return sum(one.work.minutes_on_foot for one in calls)


def kept(calls: tuple[BedCall, ...]) -> set[str]:
    return {one.judged.planting.uid for of in calls for one in of.going}


def test_harm_is_count_weight_and_share_over_the_minutes_it_takes() -> None:
    """Ten shrubs of weight 4, a fifth of the members below half: 8; 20 L at 12 L/min, ten stops, bed and walk."""
    one = planted("a")
    minutes = 2.0 + 40 / 60 + 3.0 + 40 / 60
    assert harm_per_minute(call(one), one) == pytest.approx(10 * 4 * 0.2 / minutes)


@pytest.mark.parametrize(
    ("plant_class", "weight"),
    [("shrub", 4), ("conifer", 4), ("soft", 3), ("perennial", 2), ("whip", 1)],
)
def test_class_weights_are_the_designs(plant_class: str, weight: float) -> None:
    """Woody 4, large soft leaves 3, perennials and grasses 2, bare-root hedging 1: common practice, no source."""
    assert PLANT_CLASSES[plant_class].harm_weight == weight


def test_the_least_harm_is_dropped_first_and_whole() -> None:
    calls = tuple(
        call(planted(key, harm=harm)) for key, harm in (("a", 0.3), ("b", 0.1), ("c", 0.2))
    )
    each = on_foot(calls) / 3
    two = fitted(calls, 2.01 * each / 60)
    assert kept(two) == {"a/roses", "c/roses"}
    assert [one.litres for one in two] == [20.0, 0.0, 20.0]
    assert kept(fitted(calls, 1.01 * each / 60)) == {"a/roses"}
    assert kept(fitted(calls, 0.0)) == set()


def test_a_round_that_fits_is_left_alone() -> None:
    calls = (call(planted("a")), call(planted("b")))
    assert fitted(calls, on_foot(calls) / 60) == calls


def test_a_planting_is_dropped_and_its_bed_stays() -> None:
    """The perennials beside the roses go first; the bed keeps its call for the roses."""
    both = call(planted("a"), planted("a", name="asters", plant_class="perennial", harm=0.2))
    found = fitted((both,), (both.work.minutes_on_foot - 0.1) / 60)
    assert kept(found) == {"a/roses"}
    assert [one.dropped for one in found[0].dosed] == [False, True]


CALLS = st.lists(
    st.tuples(
        st.sampled_from(["shrub", "soft", "perennial", "whip"]),
        st.integers(1, 200),
        st.floats(0, 1),
        st.floats(0.5, 8),
        st.floats(1, 200),
    ),
    min_size=1,
    max_size=6,
)


def round_of(drawn: list[tuple[str, int, float, float, float]]) -> tuple[BedCall, ...]:
    """Beds in turn, two plantings to each."""
    calls = []
    for n in range(0, len(drawn), 2):
        plantings = [
            planted(
                f"bed{n}", name=f"p{n + k}", plant_class=kind, count=count, harm=harm, litres=litres
            )
            for k, (kind, count, harm, litres, _) in enumerate(drawn[n : n + 2])
        ]
        calls.append(call(*plantings, supply=hose(walk_m=drawn[n][4])))
    return tuple(calls)


@given(drawn=CALLS, hours=st.floats(0, 6), more=st.floats(0, 6))
def test_more_hours_never_drop_a_planting_that_was_in(
    drawn: list[tuple[str, int, float, float, float]], hours: float, more: float
) -> None:
    calls = round_of(drawn)
    short, long = fitted(calls, hours), fitted(calls, hours + more)
    assert on_foot(short) <= hours * 60 + 1e-9
    assert kept(short) <= kept(long)


@given(drawn=CALLS, hours=st.floats(0, 6), data=st.data())
def test_permuting_beds_changes_nothing(
    drawn: list[tuple[str, int, float, float, float]], hours: float, data: st.DataObject
) -> None:
    calls = round_of(drawn)
    mixed = tuple(data.draw(st.permutations(calls)))
    assert kept(fitted(mixed, hours)) == kept(fitted(calls, hours))
    assert [one.bed.key for one in walk(mixed)] == [one.bed.key for one in walk(calls)]


def keys(*calls: BedCall) -> list[str]:
    return [one.bed.key for one in walk(calls)]


def test_the_walk_goes_by_need_then_tap_then_distance() -> None:
    far, near = hose(walk_m=60.0), hose(walk_m=10.0)
    assert keys(
        call(planted("late", half=5), supply=near),
        call(planted("b", half=3), supply=hose(tap="B", walk_m=1.0)),
        call(planted("far", half=3), supply=far),
        call(planted("near", half=3), supply=near),
        call(planted("first", half=0), supply=far),
        call(planted("none", half=3), supply=hose(tap=None)),
    ) == ["first", "near", "far", "b", "none", "late"]


def test_a_bed_goes_by_its_hastiest_planting_of_those_that_are_watered() -> None:
    """What rests does not hurry a bed."""
    resting = dosed(
        judged(roses("a", name="resting"), prospect=prospect(half_passed_in=0), dose_kind=None)
    )
    assert keys(call(resting, planted("a", half=4)), call(planted("b", half=3))) == ["b", "a"]


def test_beds_with_nothing_to_give_are_not_walked() -> None:
    assert keys(call(planted("a", litres=0.0)), call(planted("b", dropped=True))) == []


def test_a_second_pour_goes_to_the_first_slot_after_its_wait() -> None:
    """Each bed takes 6 1/3 min; a wait of 12 is over after the second bed that follows."""
    poured = call(planted("a", half=0, pours=2, wait_min=12.0))
    following = [call(planted(key, half=n)) for n, key in enumerate("bcd", 1)]
    assert following[0].work.minutes_on_foot == pytest.approx(6 + 1 / 3)
    assert second_slots([poured, *following]) == {"a": "c"}


def test_where_no_bed_follows_one_waits_beside_it() -> None:
    poured = call(planted("a", pours=3, wait_min=25.0))
    assert second_slots([poured, call(planted("b"))]) == {"a": None}
    assert second_slots([call(planted("a", pours=1, wait_min=25.0)), call(planted("b"))]) == {}


def test_nobody_goes_to_a_bed_only_for_what_is_taken_along() -> None:
    """The due roses do not fit; the asters beside them, wanted tomorrow, are not worth the way."""
    due = dosed(judged(roses(name="due"), prospect=prospect(harm_share=0.0)), 50.0)
    along = dosed(
        judged(roses(name="along"), while_there=True, prospect=prospect(harm_share=0.3)), 1.0
    )
    (kept,) = fitted([call(due, along)], 0.2)
    assert kept.going == ()


def test_of_equal_harm_what_is_taken_along_and_what_lasts_longest_is_dropped_first() -> None:
    def one(name: str, days: int, along: bool = False) -> Dosed:
        lasting = prospect(harm_share=0.0, half_passed_in=days)
        return dosed(judged(roses(name=name), while_there=along, prospect=lasting), 1.0)

    given = [call(one("soon", 1)), call(one("late", 9)), call(one("along", 1, along=True))]
    order = [given_up.judged.planting.name for _, given_up in dropping_order(given)]
    assert order == ["along", "late", "soon"]
