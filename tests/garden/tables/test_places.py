"""Places, ways of watering, the work of a round, and causes of loss."""

from typing import get_args

import pytest

from soakbook.errors import InputError
from soakbook.garden.records import HandMethod
from soakbook.garden.tables import work
from soakbook.garden.tables.causes import CAUSE_WORDS, CAUSES, cause_key
from soakbook.garden.tables.methods import METHODS
from soakbook.garden.tables.places import PLACE_WORDS, PLACES, place_key


@pytest.mark.parametrize(
    ("name", "exposure", "share"),
    [
        ("open", 1.0, 1.0),
        ("south wall foot", 1.2, 0.45),
        ("north wall foot", 0.7, 0.6),
        ("windy bank", 1.15, 0.8),
        ("half shade", 0.8, 0.9),
        ("under a tree canopy", 0.55, 0.4),
        ("sheltered court", 0.8, 0.7),
        ("under eaves", 0.9, 0.1),
    ],
)
def test_places(name: str, exposure: float, share: float) -> None:
    """Common practice, no source: held here so that a slip of the pen shows."""
    place = PLACES[name]
    assert place.name == name
    assert (place.exposure_factor, place.rain_share) == (exposure, share)


def test_no_place_gets_more_than_the_gauge() -> None:
    assert all(place.rain_share <= 1 for place in PLACES.values())


def test_tree_roots_widen_the_doubt() -> None:
    trees = {name for name, place in PLACES.items() if place.exposure_sd_factor > 1}
    assert trees == {name for name, place in PLACES.items() if place.tree}


def test_wall_feet_stay_on_watch() -> None:
    feet = {name for name, place in PLACES.items() if place.wall_foot}
    assert feet == {"south wall foot", "north wall foot", "under eaves"}


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("South wall", "south wall foot"),
        ("tree", "under a tree canopy"),
        ("bank", "windy bank"),
        ("eaves", "under eaves"),
        ("half", "half shade"),
        ("?", "open"),
    ],
)
def test_words_for_a_place(word: str, key: str) -> None:
    assert place_key(word) == key


def test_a_wall_could_be_either() -> None:
    with pytest.raises(InputError, match="south wall foot or north wall foot"):
        place_key("wall")


def test_every_word_leads_to_its_key() -> None:
    for word, key in PLACE_WORDS.items():
        assert place_key(word) == key
    for word, key in CAUSE_WORDS.items():
        assert cause_key(word) == key


def test_every_way_of_watering_is_known() -> None:
    assert set(METHODS) == set(get_args(HandMethod))
    for method in METHODS.values():
        assert 0 < method.delivery_efficiency <= 1
        assert method.aim_fraction is None or 0.3 <= method.aim_fraction <= 0.9


def test_only_what_is_not_aimed_has_no_aim() -> None:
    unaimed = {name for name, method in METHODS.items() if method.aim_fraction is None}
    assert unaimed == {"spray", "broadcast"}


def test_a_can_takes_about_as_long_as_a_helper_was_reckoned_to_take() -> None:
    """Two 10 L cans from a tap 30 m away: about 370 L an hour.

    Common practice: filled at 14 L/min, walked at 1 m/s, poured in 25 s each. Our 27 s a can
    supposes dipping from a butt and comes out faster, but not by half again.
    """
    seconds = 2 * work.SECONDS_A_CAN + 2 * 30 / work.WALK_M_PER_S
    assert 370 < 20 / seconds * 3600 < 1.75 * 370


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("drowned", "drowned"),
        ("dry ball", "dry ball"),
        ("Vine weevil", "eaten"),
        ("dry", "drought"),
    ],
)
def test_words_for_a_cause(word: str, key: str) -> None:
    assert cause_key(word) == key


def test_causes_are_said_in_words() -> None:
    assert {"drought", "drowned", "dry ball"} <= set(CAUSES)
    with pytest.raises(InputError, match="known: drought, dry ball, drowned"):
        cause_key("bewitched")
