"""Feels in a season: the days after, the neighbours, those still to come."""

from datetime import timedelta

import numpy as np
import pytest

from soakbook.reckoning.physics.records import Stores
from soakbook.reckoning.simulation.beliefs import (
    OF_BED,
    bounds,
)
from soakbook.reckoning.simulation.run import Dawn, run
from tests.reckoning.gardens import PLANTED, at, feel, pages, roses, row_of, season, soak
from tests.reckoning.simulation.felt_garden import (
    ASTER,
    CLASSES,
    DAY,
    ELSEWHERE,
    MEMBERS,
    PLANTINGS,
    ROSE,
    SOAKS,
    STORES,
    dawn_of,
    finger,
    logs,
    roots_of,
    same,
    wet,
)


@pytest.fixture(scope="module")
def unfelt() -> Dawn:
    return dawn_of()


def test_nobody_elsewhere_is_touched_then_or_later() -> None:
    """Nor does a feel elsewhere change how a bed's own feels fade."""
    own = feel(at(DAY, 7), "other", bed="moist")
    later = DAY + timedelta(days=20)
    more = (
        finger(ball="dust", bed="dust"),
        feel(at(DAY + timedelta(days=3), 7), bed="wet", planting_uid=ASTER),
    )
    assert same(dawn_of(own, day=later), dawn_of(own, *more, day=later), ELSEWHERE)
    assert not same(dawn_of(day=later), dawn_of(own, day=later), ELSEWHERE)


def test_a_sister_added_changes_nothing_in_what_is_felt() -> None:
    """Asters planted into the bed a week later: the roses' numbers stay, to the last bit."""
    felt_twice = [
        finger(ball="dry", bed="moist"),
        feel(at(DAY + timedelta(days=2), 7), bed="wet", planting_uid=ROSE),
    ]
    more = roses(name="late", count=2, planted_on=PLANTED + timedelta(days=7))
    dawns = [
        run(season(pages(plantings, felt_twice), DAY + timedelta(days=5), MEMBERS))[-1]
        for plantings in ([roses()], [roses(), more], [roses(), more, *PLANTINGS[1:2]])
    ]
    assert same(dawns[0], dawns[1], ROSE)
    assert same(dawns[0], dawns[2], ROSE)


def test_what_is_still_to_come_into_a_bed_believes_the_same_of_it() -> None:
    late = roses(name="late", count=2, planted_on=DAY + timedelta(days=3))
    book = pages([roses(), late], [finger(bed="dust")])
    after = run(season(book, late.planted_on, MEMBERS))[-1]
    one, other = logs(after.season, ROSE), logs(after.season, "bed/late")
    assert all(np.array_equal(one[name], other[name]) for name in OF_BED)
    assert np.any(one["aw"] != logs(season(book, DAY, MEMBERS), ROSE)["aw"])
    row = row_of(after.season, "bed/late")
    for name, field in (("aw", "available_fraction"), ("kcb", "kcb"), ("share", "rain_share")):
        plain, plot = (
            np.asarray(getattr(one, field)) for one in (after.season.plain.plot, after.season.plot)
        )
        assert plot[row] == pytest.approx(plain[row] * np.exp(other[name])), name
    full = np.asarray(roots_of(after).reach_capacity_l)[row]
    spilled = 5.0 * 0.30 * 0.45  # what the bark mix of a 5 l pot does not keep
    assert np.asarray(after.stores.reach_store_l)[row] == pytest.approx(
        np.minimum(0.85 * full + spilled, np.asarray(roots_of(after).reach_saturation_l)[row])
    )


def test_a_replacement_takes_over_soil_as_it_was_felt() -> None:
    new = roses(
        name="new",
        replaces=ROSE,
        count=3,
        planted_on=DAY + timedelta(days=1),
        cell_m2=None,
        origin="dug",
    )
    plots = []
    for entries in ([], [finger(bed="dust")]):
        after = run(season(pages([roses(), new], entries), new.planted_on, MEMBERS))[-1]
        plots.append((wet(after), wet(after, "bed/new")))
    (old, taken), (old_felt, taken_felt) = plots
    assert np.median(old_felt["reach"]) < np.median(old["reach"]) - 0.03
    assert np.median(taken_felt["beyond"]) < np.median(taken["beyond"]) - 0.03


def test_many_feels_keep_every_store_and_multiplier_in_bounds() -> None:
    """Against sense: dust and sour by turns for a month."""
    days = [PLANTED + timedelta(days=n) for n in range(3, 33)]
    felt_often = [
        feel(at(day, 7), ball=CLASSES[n % 2 * 4], bed=CLASSES[n // 2 % 2 * 4])
        for n, day in enumerate(days)
    ]
    after = dawn_of(*felt_often, day=days[-1])
    roots, stores = roots_of(after), Stores(*(np.asarray(one) for one in after.stores))
    assert len(after.squared) == 2 * len(days)
    for store, most in (
        (stores.ball_store_l, roots.ball_capacity_l),
        (stores.reach_store_l, roots.reach_saturation_l),
        (stores.beyond_store_l, roots.beyond_saturation_l),
    ):
        assert np.all(store >= -1e-12)
        assert np.all(store <= np.asarray(most) * (1 + 1e-12))
    lowest, highest = bounds(after.season.plain)
    for uid in (ROSE, ASTER):
        row = row_of(after.season, uid)
        for n, one in enumerate(logs(after.season, uid).values()):
            assert np.all(one >= lowest[row, n] - 1e-12)
            assert np.all(one <= highest[row, n] + 1e-12)
            assert np.all(np.isfinite(one))


def test_the_litres_moved_are_the_ledgers(unfelt: Dawn) -> None:
    after = dawn_of(finger(ball="dry", bed="dust"))
    assert after.corrected_l is not None
    moved = sum(
        np.asarray(getattr(after.stores, name) - getattr(unfelt.stores, name)) for name in STORES
    )
    assert after.corrected_l == pytest.approx(moved, abs=1e-12)
    row = row_of(after.season, ELSEWHERE)
    assert np.all(after.corrected_l[row] == 0)
    assert np.all(after.corrected_l[row_of(after.season, ROSE)] < 0)


def test_an_evening_soak_felt_as_expected_next_morning_moves_almost_nothing() -> None:
    """Without the soak under the finger it would count twice: once in the ball, once more in the step."""
    evening = soak(at(DAY - timedelta(days=1), 18), 2.0, uid="evening", planting_uid=ROSE)
    was, after, dry_night = (
        dawn_of(evening),
        dawn_of(evening, finger("moist")),
        dawn_of(finger("moist")),
    )
    assert after.squared[0].change().expected == pytest.approx(0.68, abs=0.02), (
        "chosen so, for moist is 0.68"
    )
    assert dry_night.squared[0].change().expected < 0.55
    before, kept, raised = (float(np.median(wet(one)["ball"])) for one in (was, after, dry_night))
    assert abs(kept - before) < 0.02
    assert raised > before + 0.05


def test_before_and_after_the_days_first_soak() -> None:
    """The same words at 7:00 and at 9:00 with a soak at 8:00: one of the evening before, the other of that evening."""
    given = soak(at(DAY, 8), 20.0, uid="today")
    late = feel(at(DAY, 9), ball="moist", planting_uid=ROSE, uid="late")
    early, after = dawn_of(given, finger(ball="moist")), dawn_of(given, late)
    assert [one.day for one in early.squared] == [DAY]
    assert after.squared == ()
    morrow = DAY + timedelta(days=1)
    (one,) = dawn_of(given, late, day=morrow).squared
    assert one.day == morrow
    assert one.change().expected == pytest.approx(
        float(np.median(wet(dawn_of(given, day=morrow))["ball"]))
    )


def test_two_feels_of_a_morning_come_one_after_the_other() -> None:
    """The second expects what the first left, and hears a hand of its own."""
    again = feel(at(DAY, 7, 5), ball="dry", planting_uid=ROSE, uid="again")
    one, two = dawn_of(finger(ball="dry"), again).squared
    assert two.change().expected == pytest.approx(one.change().now)
    assert one.change().expected > one.change().now > two.change().now
    assert one.feel_uid != two.feel_uid


def test_the_order_of_typing_changes_nothing() -> None:
    felt_then = [
        feel(DAY, uid=uid, bed=found, planting_uid=ROSE)
        for uid, found in (("b", "dry"), ("a", "wet"))
    ]
    book = pages(PLANTINGS, [*SOAKS, *felt_then])
    turned = pages(PLANTINGS, [*felt_then[::-1], *SOAKS[::-1]])
    one, other = (run(season(each, DAY, MEMBERS))[-1] for each in (book, turned))
    assert [each.change() for each in one.squared] == [each.change() for each in other.squared]
    assert all(same(one, other, planting.uid) for planting in PLANTINGS)


def test_an_error_of_the_weather_that_was_learned_goes_on_fading() -> None:
    """A sky of the step after the feel: the error of ET0 moved by nine tenths of what the feel did to it."""
    after, morrow = dawn_of(finger(ball="dust")), DAY + timedelta(days=1)
    moved = after.season.beliefs.et0_moved(DAY - timedelta(days=1))
    assert moved is not None
    row = row_of(after.season, ROSE)
    bed_row = int(after.season.bed_index[row])
    assert moved[bed_row].std() > 0.01
    for day, left in ((DAY, 0.9), (morrow, 0.81)):
        skies = [
            np.asarray(one.sky(day, slice(0, 3)).et0_mm)[row]
            for one in (after.season, dawn_of().season)
        ]
        assert np.log(skies[0] / skies[1]) == pytest.approx(left * moved[bed_row], abs=1e-12)
