"""What a finger met: the evening's stores, and what came between 17:00 and the feel."""

from datetime import timedelta

import numpy as np
import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.pages import Pages
from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.simulation.ahead import standing
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.run import Dawn, run
from soakbook.reckoning.simulation.under_finger import moist_with, water_before
from tests.reckoning.gardens import PLANTED, at, feel, mulch, pages, rain, roses, season, soak

DAY = PLANTED + timedelta(days=12)
BEFORE = DAY - timedelta(days=1)
ASTERS = roses(name="asters", count=4, ball_volume_l=2.0, ball_diameter_m=0.15, cell_m2=0.3)
ROSES = 1  # plantings of a day stand in the order of their uids
FELT = feel(at(DAY, 7), ball="dry", planting_uid="bed/roses")


def garden(*entries: AnyEntry) -> Pages:
    return pages([roses(), ASTERS], [FELT, mulch(PLANTED, 4.0), *entries])


def under_the_finger(*entries: AnyEntry) -> tuple[Dawn, Stores | None]:
    """The dawn before anybody felt anything, and the soil then under the finger; None where that is the evening's."""
    whole = season(garden(*entries), DAY, 8)
    (touch,) = whole.touches[DAY]
    dawn = run(whole._replace(touches={}))[-1]
    water = water_before(whole, whole.bed_cut(0, 2), DAY, touch)
    return dawn, moist_with(water, *whole.parameters(slice(0, 2)), dawn.stores) if water else None


def in_it(stores: Stores) -> Floats:
    """Litres in ball and soil of one rose."""
    held = stores.ball_store_l + stores.reach_store_l + stores.beyond_store_l
    litres: Floats = np.asarray(held)[ROSES]
    return litres


def test_on_a_dry_night_a_finger_meets_the_evenings_stores() -> None:
    _, moist = under_the_finger(soak(at(BEFORE, 8), 20.0), rain(at(BEFORE, 16), 5.0, at(BEFORE, 8)))
    assert moist is None


def test_without_water_the_stores_are_the_same_ones() -> None:
    whole = season(garden(), DAY, 2)
    stores = run(whole)[-1].stores
    assert moist_with(None, whole.plot, whole.fixed, stores) is stores


@pytest.mark.parametrize("method", ["lance", "can", "drip", "spray", "broadcast"])
def test_where_all_of_it_came_before_the_feel_the_finger_meets_the_mornings_stores(
    method: str,
) -> None:
    """As the round shows them: the same rain, soak, doubts and drainage, of every planting of the bed."""
    evening = (
        soak(at(BEFORE, 18), 30.0, method=method),
        soak(at(BEFORE, 19), 4.0, uid="more", planting_uid="bed/roses"),
    )
    dawn, moist = under_the_finger(*evening, rain(at(DAY, 6), 9.0, at(BEFORE, 18), kind="gentle"))
    assert moist is not None
    shown = standing(dawn).stores
    for name in ("ball_store_l", "reach_store_l", "beyond_store_l", "mulch_store_mm"):
        assert np.allclose(getattr(moist, name), getattr(shown, name), rtol=1e-13), name
    assert np.all(in_it(moist) > in_it(dawn.stores) + 0.5)


def test_of_a_rain_that_fell_on_only_its_first_hours_are_under_the_finger() -> None:
    """From 17:00 to noon, felt at 7:00: less than the whole night's, more than nothing."""
    dawn, part = under_the_finger(rain(at(DAY, 12), 9.5, at(BEFORE, 17), kind="gentle"))
    _, whole = under_the_finger(rain(at(DAY, 7), 9.5, at(BEFORE, 17), kind="gentle"))
    assert part is not None
    assert whole is not None
    gained, all_of_it = (in_it(one) - in_it(dawn.stores) for one in (part, whole))
    assert np.all(gained < all_of_it)
    assert gained[0] > 0


def test_a_sisters_own_soak_is_not() -> None:
    _, moist = under_the_finger(soak(at(BEFORE, 18), 9.0, planting_uid="bed/asters"))
    assert moist is None


def test_each_member_has_the_doubt_of_the_step_itself() -> None:
    """About what was given: the litres the step books are the litres the finger meets."""
    given = soak(at(BEFORE, 18), 6.0, planting_uid="bed/roses")
    dawn, moist = under_the_finger(given)
    assert moist is not None
    booked = dawn.season.hand(DAY, slice(0, 2))
    reached = np.asarray(booked.soak_l * booked.soak_efficiency)[ROSES]
    assert np.allclose(in_it(moist) - in_it(dawn.stores), reached)
    assert reached.std() > 0.02


def test_a_feel_of_tomorrow_meets_this_evenings_soak() -> None:
    """Asked at 20:00 for what the round of the next morning may say: the soak is in tomorrow's step."""
    evening = (
        soak(at(DAY, 18), 6.0),
        feel(at(DAY, 19), ball="wet", planting_uid="bed/roses", uid="later"),
    )
    whole = season(garden(*evening), DAY, 8)
    (touch,) = whole.touches[DAY + timedelta(days=1)]
    dawn = run(whole)[-1]
    water = water_before(whole, whole.bed_cut(0, 2), DAY + timedelta(days=1), touch)
    moist = moist_with(water, *whole.parameters(slice(0, 2)), dawn.stores)
    assert np.all(in_it(moist) > in_it(dawn.stores))
