"""Classes of plants, what words mean, and how large the leaves are."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.garden.records import Leaf, Origin
from soakbook.garden.tables.canopies import canopy_from_spans_m2, default_canopy
from soakbook.garden.tables.kind_words import (
    DIES_DOWN_WORDS,
    EVERGREEN_WORDS,
    HEDGING_WORDS,
    KIND_WORDS,
)
from soakbook.garden.tables.kinds import ROWS, classify, default_pot_l, leaf_of, row_of
from soakbook.garden.tables.plants import PLANT_CLASSES

ORIGINS: tuple[Origin, ...] = ("pot", "dug", "bare")


def test_a_dug_shrub_is_near_the_measured_ash() -> None:
    """Caron & Kjelgren 2016: balled ash in its first year used 0.56 of ET0, bare-root ash 0.36."""
    assert PLANT_CLASSES["dug_shrub"].kcb == pytest.approx(0.56, abs=0.1)
    assert 0.36 <= PLANT_CLASSES["whip"].kcb <= 0.56


def test_numbers_are_within_their_published_spans() -> None:
    """FAO-56 tables 17 and 22: p from 0.2 to 0.8, Kcb of full cover at most 1.2."""
    for plant in PLANT_CLASSES.values():
        assert 0.2 <= plant.p <= 0.8
        assert 0.3 <= plant.kcb <= 1.2
        assert 1.2 <= plant.root_mm_per_warm_day <= 5
        assert plant.root_lag_days_by_origin == {"pot": 7, "bare": 14, "dug": 21}


def test_harm_is_the_order_of_a_rationing() -> None:
    """Common practice, no source: woody 4, large soft leaves 3, perennials 2, bare hedging 1."""
    harm = {key: plant.harm_weight for key, plant in PLANT_CLASSES.items()}
    assert (harm.pop("soft"), harm.pop("perennial"), harm.pop("whip")) == (3, 2, 1)
    assert set(harm.values()) == {4}


def test_keys_and_leaves() -> None:
    assert all(key == plant.key for key, plant in PLANT_CLASSES.items())
    assert not PLANT_CLASSES["perennial"].woody
    assert PLANT_CLASSES["perennial"].leaf == "dies_down"
    assert PLANT_CLASSES["conifer"].leaf == PLANT_CLASSES["dry_shrub"].leaf == "evergreen"


@pytest.mark.parametrize(
    ("words", "origin", "key"),
    [
        ("climbing rose", "pot", "shrub"),
        ("climbing roses", "pot", "shrub"),
        ("clematis and wall shrubs", "pot", "shrub"),
        ("shrub rose", "dug", "dug_shrub"),
        ("shrub roses lifted from the old bed", "dug", "dug_shrub"),
        ("rose", "bare", "bare_shrub"),
        ("hornbeam whip", "bare", "whip"),
        ("hornbeam", "bare", "whip"),
        ("privet hedging", "bare", "whip"),
        ("privet hedging", "pot", "shrub"),
        ("yew", "dug", "conifer"),
        ("yew and box", "dug", "conifer"),
        ("yew", "pot", "potted_conifer"),
        ("Taxus baccata 'Fastigiata'", "dug", "conifer"),
        ("hydrangea", "pot", "soft"),
        ("tree fern", "pot", "soft"),
        ("climbing hydrangea", "pot", "soft"),
        ("perennials and grasses", "pot", "perennial"),
        ("140 irises", "pot", "perennial"),
        ("apple tree", "pot", "tree"),
        ("apple tree", "dug", "dug_shrub"),
        ("apple tree", "bare", "bare_shrub"),
        ("lavender", "pot", "dry_shrub"),
    ],
)
def test_what_a_gardener_calls_a_plant(words: str, origin: Origin, key: str) -> None:
    assert classify(words, origin).key == key


@pytest.mark.parametrize(
    ("name", "origin", "key"),
    [
        ("shrub, climber, rose from a pot", "pot", "shrub"),
        ("perennial, grass", "pot", "perennial"),
        ("large soft leaves", "pot", "soft"),
        ("dug shrub or rose", "dug", "dug_shrub"),
        ("conifer, yew, box, dug", "dug", "conifer"),
        ("bare-root whip, rose", "bare", "whip"),
        ("tree from a pot", "pot", "tree"),
    ],
)
def test_the_names_of_the_table_itself(name: str, origin: Origin, key: str) -> None:
    assert classify(name, origin).key == key


@pytest.mark.parametrize("key", PLANT_CLASSES)
def test_a_class_is_reached_by_its_own_key(key: str) -> None:
    assert key in {classify(key, origin).key for origin in ORIGINS}


@pytest.mark.parametrize("row", ROWS)
def test_a_row_is_reached_by_its_own_name(row: str) -> None:
    assert row_of(row) == row


def test_every_word_has_a_class_a_canopy_and_a_leaf() -> None:
    assert set(KIND_WORDS.values()) == set(ROWS)
    for word in KIND_WORDS:
        for origin in ORIGINS:
            plant = classify(word, origin)
            assert PLANT_CLASSES[plant.key] is plant
            canopy = default_canopy(word, origin)
            assert 0 < canopy.start_m2 < canopy.full_m2
            assert canopy.weeks_to_full > 0


def test_words_about_leaves_and_hedges_are_words_for_plants() -> None:
    assert (EVERGREEN_WORDS | DIES_DOWN_WORDS | HEDGING_WORDS) - {"evergreen"} <= set(KIND_WORDS)


def test_words_unknown_list_what_would_do() -> None:
    with pytest.raises(InputError, match="--as: shrub, climber, perennial, soft, conifer, whip"):
        classify("triffid", "pot")
    with pytest.raises(InputError, match=r"did you mean hydrangea\?"):
        classify("six hydrangas", "pot")
    with pytest.raises(InputError):
        classify("", "pot")


@pytest.mark.parametrize(
    ("words", "leaf"),
    [
        ("holly", "evergreen"),
        ("evergreen shrubs", "evergreen"),
        ("rose", "deciduous"),
        ("ferns", "dies_down"),
        ("hydrangea", "deciduous"),
        ("perennials", "dies_down"),
        ("box", "evergreen"),
        ("olive tree", "evergreen"),
    ],
)
def test_leaves(words: str, leaf: Leaf) -> None:
    assert leaf_of(words, classify(words, "pot")) == leaf


@pytest.mark.parametrize(
    ("words", "pot_l"),
    [
        ("perennial", 2),
        ("shrub", 4),
        ("rose", 4),
        ("climber", 3),
        ("clematis", 3),
        ("hydrangea", 5),
        ("tree", 20),
        ("hedge", None),
    ],
)
def test_the_pot_where_none_is_said(words: str, pot_l: float | None) -> None:
    """Common practice, no source."""
    assert default_pot_l(words) == pot_l


@pytest.mark.parametrize(
    ("words", "origin", "litres", "canopy"),
    [
        ("perennial", "pot", 2, (0.03, 0.15, 7)),
        ("perennial", "pot", 0.5, (0.01, 0.10, 8)),
        ("shrub", "pot", 3, (0.07, 0.30, 12)),
        ("shrub", "pot", 4, (0.07, 0.30, 12)),
        ("rose", "pot", 5, (0.10, 0.40, 12)),
        ("climber", "pot", 7.5, (0.10, 0.60, 12)),
        ("hydrangea", "pot", 10, (0.15, 0.50, 14)),
        ("rose", "dug", 30, (0.10, 0.50, 16)),
        ("yew", "dug", 40, (0.35, 0.45, 20)),
        ("hornbeam whip", "bare", None, (0.01, 0.08, 10)),
        ("tree", "pot", 45, (0.6, 1.2, 26)),
    ],
)
def test_usual_leaves(
    words: str, origin: Origin, litres: float | None, canopy: tuple[float, float, float]
) -> None:
    """Common practice, no source: the sizes a gardener is offered to confirm."""
    assert default_canopy(words, origin, litres) == pytest.approx(canopy)


@given(
    st.sampled_from(["shrub", "climber", "perennial", "soft", "tree", "conifer"]),
    st.floats(0.5, 100),
)
def test_a_larger_pot_has_no_smaller_leaves(words: str, litres: float) -> None:
    small, large = (default_canopy(words, "pot", litres * times) for times in (1, 1.5))
    assert large.start_m2 >= small.start_m2
    assert large.full_m2 >= small.full_m2


@pytest.mark.parametrize(
    ("spans", "square_metres"), [(1, 0.03), (1.5, 0.07), (2, 0.13), (3, 0.28), (4, 0.5)]
)
def test_leaves_by_the_span_of_a_hand(spans: float, square_metres: float) -> None:
    """A hand of 20 cm, the circle's area to the digit a gardener is shown."""
    assert canopy_from_spans_m2(spans) == pytest.approx(math.pi * (0.1 * spans) ** 2)
    assert canopy_from_spans_m2(spans) == pytest.approx(square_metres, abs=0.005)


@given(st.text(), st.sampled_from(ORIGINS))
def test_garbage_is_classed_or_refused(words: str, origin: Origin) -> None:
    try:
        plant = classify(words, origin)
    except InputError:
        return
    assert plant.key in PLANT_CLASSES
