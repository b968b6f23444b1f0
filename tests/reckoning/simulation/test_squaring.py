"""The update by a feel, on arrays alone."""

import numpy as np
import pytest

from soakbook.garden.records import FeltClass
from soakbook.reckoning.simulation.draws import Floats
from soakbook.reckoning.simulation.squaring import Reading, innovation, reading_of, squared_up

CLASSES: tuple[FeltClass, ...] = ("dust", "dry", "moist", "wet", "sour")
FLOORED = np.array([True, False, False])


def ensemble(members: int = 40, seed: int = 1) -> tuple[Floats, Floats, Floats]:
    """Wetness, a multiplier that goes with it, one that does not; the felt wetness; normals."""
    rng = np.random.default_rng(seed)
    felt = 0.7 + 0.12 * rng.standard_normal(members)
    kin = 0.5 * (felt - 0.7) + 0.05 * rng.standard_normal(members)
    stranger = rng.standard_normal(members)
    stranger -= stranger.mean() + (felt - felt.mean()) * np.cov(stranger, felt)[0, 1] / felt.var(
        ddof=1
    )
    return np.array([felt, kin, stranger]), felt, rng.standard_normal(members)


@pytest.mark.parametrize(
    ("felt", "mid", "width"),
    [
        ("dust", 0.10, 0.20),
        ("dry", 0.35, 0.30),
        ("moist", 0.68, 0.35),
        ("wet", 0.97, 0.25),
        ("sour", 1.15, 0.10),
    ],
)
def test_a_class_as_a_measurement(felt: FeltClass, mid: float, width: float) -> None:
    """(44): class mids and widths; outer classes cut at 0 and 1.20, the hand's 0.20, 0.35 when unsure."""
    sure, unsure = reading_of(felt), reading_of(felt, unsure=True)
    assert (sure.wetness, sure.noise_sd) == (mid, 0.20)
    assert sure.variance == pytest.approx(0.04 + width**2 / 12)
    assert (unsure.wetness, unsure.noise_sd) == (mid, 0.35)
    assert unsure.variance == pytest.approx(0.1225 + width**2 / 12)


def test_the_classes_lie_side_by_side() -> None:
    """Each mid within its class, as the widths cut them."""
    edge = 0.0
    for felt in CLASSES:
        width = {"dust": 0.20, "dry": 0.30, "moist": 0.35, "wet": 0.25, "sour": 0.10}[felt]
        assert edge < float(reading_of(felt).wetness) < edge + width
        edge += width
    assert edge == pytest.approx(1.20)


@pytest.mark.parametrize("felt_class", CLASSES)
def test_a_feel_draws_the_members_towards_itself(felt_class: FeltClass) -> None:
    """A dry one lowers the wetness and what goes with it; what does not stays where it was."""
    quantities, felt, normals = ensemble()
    reading = reading_of(felt_class)
    after = squared_up(quantities, felt, reading, 0.0 * normals, FLOORED)
    up = float(reading.wetness) > felt.mean()
    moved = (after - quantities).mean(axis=1)
    assert (moved[0] > 0) == (moved[1] > 0) == up
    assert abs(after[0].mean() - float(reading.wetness)) < abs(felt.mean() - float(reading.wetness))
    assert moved[2] == pytest.approx(0.0, abs=1e-12)


def test_the_gain_is_the_one_of_45() -> None:
    """Worked out with numpy's own covariance, N - 1; each member hears the hand with its own error, member 0 none."""
    quantities, felt, normals = ensemble()
    reading = reading_of("dry")
    after = squared_up(quantities, felt, reading, normals, FLOORED)
    heard = 0.35 + 0.20 * normals
    heard[0] = 0.35
    for row, before in enumerate(quantities):
        gain = (np.cov(before, felt)[0, 1] + (0.01 if row == 0 else 0.0)) / (
            felt.var(ddof=1) + 0.01 + 0.04 + 0.0075
        )
        assert after[row] == pytest.approx(before + gain * (heard - felt), abs=1e-14)


def test_member_0_hears_the_class_itself() -> None:
    quantities, felt, normals = ensemble()
    louder = normals.copy()
    louder[0] += 50.0
    one, other = (
        squared_up(quantities, felt, reading_of("dry"), each, FLOORED) for each in (normals, louder)
    )
    assert np.array_equal(one, other)
    assert louder[0] == normals[0] + 50.0, "the normals are the caller's"


def test_an_unsure_feel_moves_less() -> None:
    quantities, felt, normals = ensemble()
    sure, unsure = (
        squared_up(quantities, felt, reading_of("dust", unsure), 0.0 * normals, FLOORED)
        - quantities
        for unsure in (False, True)
    )
    assert np.all(np.abs(unsure[:2].mean(axis=1)) < 0.7 * np.abs(sure[:2].mean(axis=1)))
    assert unsure[0].mean() < 0


def test_the_floor_lets_the_hand_win_over_members_that_agree() -> None:
    """All alike at 0.9: without a floor a dust-dry hand is not heard at all; with it by 0.01 of 0.01 + R."""
    felt = np.full(30, 0.9)
    reading, still = reading_of("dust"), np.zeros(30)
    deaf = squared_up(felt[None], felt, reading, still, FLOORED[:1], floor_sd=0.0)
    heard = squared_up(felt[None], felt, reading, still, FLOORED[:1])
    assert deaf == pytest.approx(0.9, abs=1e-15)
    assert heard == pytest.approx(0.9 - 0.8 * 0.01 / (0.01 + float(reading.variance)))


def test_one_member_is_nudged_by_the_floor_alone() -> None:
    after = squared_up(
        np.array([[0.9], [0.3]]), np.array([0.9]), reading_of("dry"), np.array([2.0]), FLOORED[:2]
    )
    assert after[:, 0] == pytest.approx([0.9 - 0.55 * 0.01 / 0.0575, 0.3])


def test_the_same_number_of_quantities_or_more_give_the_same_digits() -> None:
    """What stands beside a quantity changes nothing in it, to the last bit."""
    quantities, felt, normals = ensemble(200)
    many = np.concatenate([quantities] + [quantities * n for n in range(2, 9)])
    floored = np.concatenate([FLOORED] + [np.zeros(3, np.bool_)] * 7)
    after = squared_up(many, felt, reading_of("dry"), normals, floored)
    for count in range(1, len(many)):
        part = squared_up(many[:count], felt, reading_of("dry"), normals, floored[:count])
        assert np.array_equal(part, after[:count])


def test_leading_axes_equal_a_loop() -> None:
    """Six feels at once, each with its own class, members and floor."""
    made = [ensemble(25, seed) for seed in range(6)]
    quantities, felt, normals = (np.array([one[part] for one in made]) for part in range(3))
    readings = [reading_of(CLASSES[n % 5], unsure=n > 3) for n in range(6)]
    at_once = Reading(*(np.array(field) for field in zip(*readings, strict=True)))
    floored = np.array([np.roll(FLOORED, n) for n in range(6)])
    together = squared_up(quantities, felt, at_once, normals, floored)
    for n in range(6):
        alone = squared_up(quantities[n], felt[n], readings[n], normals[n], floored[n])
        assert together[n] == pytest.approx(alone, abs=1e-14)
    shaped = squared_up(
        quantities.reshape(2, 3, 3, 25), felt.reshape(2, 3, 25),
        Reading(*(np.reshape(field, (2, 3)) for field in at_once)), normals.reshape(2, 3, 25), FLOORED,
    )  # fmt: skip
    assert shaped.shape == (2, 3, 3, 25)


def test_what_it_is_given_stays_as_it_was() -> None:
    quantities, felt, normals = ensemble()
    kept = quantities.copy(), felt.copy(), normals.copy()
    squared_up(quantities, felt, reading_of("dry"), normals, FLOORED)
    assert all(np.array_equal(a, b) for a, b in zip(kept, (quantities, felt, normals), strict=True))


def test_the_innovation_is_in_standard_deviations_and_above_0_when_wetter() -> None:
    """6.5: e = (class mid - mean x) / sqrt(var x + 0.10² + R)."""
    _, felt, _ = ensemble()
    reading = reading_of("wet")
    spread = (felt.var(ddof=1) + 0.01 + 0.04 + 0.25**2 / 12) ** 0.5
    assert innovation(felt, reading) == pytest.approx((0.97 - felt.mean()) / spread)
    assert innovation(felt, reading) > 0 > innovation(felt, reading_of("dry"))
    assert innovation(np.array([0.97]), reading) == pytest.approx(0.0, abs=1e-12)
