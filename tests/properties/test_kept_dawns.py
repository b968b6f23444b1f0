"""What holds of any change to a book: while a kept dawn's mark is the same, going on from it gives the same season."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any, get_args

from hypothesis import event, given, settings
from hypothesis import strategies as st

from soakbook.garden.entries import AnyEntry, BedEntry
from soakbook.garden.pages import Pages
from soakbook.garden.records import FeltClass
from soakbook.reckoning.simulation.gone import gone_before, leaving
from soakbook.reckoning.simulation.kept import dawn_of
from soakbook.reckoning.simulation.kept_bytes import as_bytes, from_bytes
from soakbook.reckoning.simulation.run import run
from tests.reckoning.gardens import PLANTED, catch, feel, loss, mulch, rain, roses, soak
from tests.reckoning.gardens import with_entries as holding
from tests.reckoning.simulation.kept_garden import (
    assert_same,
    garden,
    kept,
    look,
    mark,
    on,
    season,
)

Change = Callable[[Pages], Pages]

BEDS = ("bed", "other", "part", "late")
DAYS = 41
"""Kept dawns lie so far from the first at most: later ones are in the month before the morning."""

classes = st.sampled_from([None, *get_args(FeltClass)])
when = st.integers(1, 71)
which = st.sampled_from(BEDS)
named = st.sampled_from([None, "bed/first", "bed/staying", "bed/second"])


@st.composite
def entered(draw: st.DrawFn) -> Change:
    """One entry more."""
    n, hour, bed = draw(when), draw(st.sampled_from([6, 7, 9, 18])), draw(which)
    ball, soil = draw(classes), draw(classes)
    kinds: list[AnyEntry] = [
        soak(on(n, hour), 25.0, bed, planting_uid=draw(named) if bed == "bed" else None),
        feel(on(n, hour), bed, ball=ball, bed=soil or "moist", unsure=draw(st.booleans())),
        look(n, bed_key=bed),
        rain(on(n, hour), 8.0, on(n - 1, hour)),
        loss(on(n, hour), 2, planting_uid="bed/staying"),
        mulch(on(n, hour), 4.0, bed),
        catch(on(n, hour), 4.0, 9.0, bed),
    ]
    more = draw(st.sampled_from(kinds))
    return lambda book: holding(book, replace(more, uid="more"))


@st.composite
def undone(draw: st.DrawFn) -> Change:
    """One entry less."""
    number = draw(st.integers(0, len(garden().entries) - 1))
    return lambda book: book._replace(entries=(*book.entries[:number], *book.entries[number + 1 :]))


@st.composite
def moved(draw: st.DrawFn) -> Change:
    """An entry of another bed."""
    of_beds = [one.uid for one in garden().entries if isinstance(one, BedEntry)]
    uid, bed = draw(st.sampled_from(of_beds)), draw(which)

    def changed(book: Pages) -> Pages:
        entries = (
            replace(one, bed_uid=bed) if isinstance(one, BedEntry) and one.uid == uid else one
            for one in book.entries
        )
        return book._replace(entries=tuple(entries))

    return changed


@st.composite
def told(draw: st.DrawFn) -> Change:
    """Another weather on a day."""
    day = PLANTED + timedelta(days=draw(when))
    fields: dict[str, Any] = draw(
        st.sampled_from(
            [
                {"rain_mm": 12.0},
                {"rain_mm": None},
                {"et0_mm": None},
                {"et0_mm": 6.0},
                {"tmean_c": 2.0},
            ]
        )
    )

    def changed(book: Pages) -> Pages:
        found = (one._replace(**fields) if one.day == day else one for one in book.weather)
        return book._replace(weather=tuple(found))

    return changed


@st.composite
def said(draw: st.DrawFn) -> Change:
    """Something else of a bed or a planting."""
    bed, n = draw(which), draw(when)
    day = PLANTED + timedelta(days=n)
    of_bed: dict[str, Any] = draw(
        st.sampled_from(
            [{}, {"soil": "clay"}, {"area_m2": 4.0}, {"rain_share": 0.5}, {"hole": "standing"}]
        )
    )
    of_planting: dict[str, Any] = draw(
        st.sampled_from(
            [{"count": 3}, {"leaf_out_on": day}, {"leaf_fall_on": day}, {"usual_dose_l": 3.0},
             {"watered_in": False}, {"ball_felt": "dust"}, {"bowl_m2": 0.3}]
        )
    )  # fmt: skip

    def changed(book: Pages) -> Pages:
        if of_bed:
            beds = (one._replace(**of_bed) if one.key == bed else one for one in book.beds)
            return book._replace(beds=tuple(beds))
        found = (
            one._replace(**of_planting) if one.bed_uid == bed else one for one in book.plantings
        )
        return book._replace(plantings=tuple(found))

    return changed


@st.composite
def planted(draw: st.DrawFn) -> Change:
    """One planting more, perhaps in the place of another."""
    day, bed = PLANTED + timedelta(days=draw(st.integers(0, 70))), draw(which)
    dead = draw(st.sampled_from([None, "bed/first", "bed/second"])) if bed == "bed" else None
    more = roses(
        bed, name=draw(st.sampled_from(["a more", "z more"])), planted_on=day, replaces=dead
    )
    return lambda book: book._replace(plantings=(*book.plantings, more))


@settings(max_examples=60)
@given(
    change=entered() | undone() | moved() | told() | said() | planted(),
    days=st.integers(1, DAYS),
)
def test_while_the_mark_is_the_same_so_is_the_season(change: Change, days: int) -> None:
    day = PLANTED + timedelta(days=days)
    found = from_bytes(as_bytes(kept(season(garden()), day)))
    changed = season(change(garden()))
    assert found is not None
    holds = mark(changed, day) == found.mark
    event(f"holds: {holds}")
    if holds:
        dawn = dawn_of(found, changed, gone_before(changed, leaving(changed, 2), day))
        assert dawn is not None
        assert_same(run(changed, 2, begun=dawn), run(changed, 2))


@settings(max_examples=40)
@given(
    changes=st.lists(entered() | undone() | moved() | told() | said() | planted(), max_size=4),
    days=st.integers(1, DAYS),
)
def test_any_book_goes_on_from_its_own_dawns(changes: list[Change], days: int) -> None:
    book, day = garden(), PLANTED + timedelta(days=days)
    for change in changes:
        book = change(book)
    of = season(book)
    dawn = dawn_of(kept(of, day), of, gone_before(of, leaving(of, 2), day))
    assert dawn is not None
    assert_same(run(of, 2, begun=dawn), run(of, 2))
