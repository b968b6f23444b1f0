"""Feels at work on a dawn: who is moved by them, and by how much."""

from datetime import timedelta

import numpy as np
import pytest

from soakbook.reckoning.simulation.beliefs import (
    OF_BED,
    OF_PLANTING,
    UNCERTAIN,
    believed,
    bounds,
    by_name,
)
from soakbook.reckoning.simulation.draws import LOG_SD, Floats, felt_normals
from soakbook.reckoning.simulation.run import Dawn, felt, run
from tests.reckoning.gardens import PLANTED, at, feel, pages, roses, row_of, season
from tests.reckoning.simulation.felt_garden import (
    ASTER,
    CLASSES,
    DAY,
    MEMBERS,
    PLANTINGS,
    ROSE,
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


def test_without_feels_a_dawn_is_the_same_object(unfelt: Dawn) -> None:
    assert felt(unfelt) is unfelt
    later = dawn_of(feel(at(DAY + timedelta(days=1), 7), ball="dust"))
    assert all(same(later, unfelt, one.uid) for one in PLANTINGS)


@pytest.mark.parametrize("store", ["ball", "bed"])
def test_a_dry_feel_lowers_a_wet_one_raises(store: str, unfelt: Dawn) -> None:
    """In class order, in what was felt; the middle member and the plain run alike."""
    name = "ball" if store == "ball" else "reach"
    feels = [finger(ball=one) if store == "ball" else finger(bed=one) for one in CLASSES]
    found = [wet(dawn_of(one))[name] for one in feels]
    for each in ([float(np.median(one)) for one in found], [float(one[0]) for one in found]):
        assert each == sorted(each)
        assert each[0] < each[1] < each[2]
    assert np.median(found[0]) < np.median(wet(unfelt)[name]) < np.median(found[-1]) + 1e-9


def test_the_update_of_a_bed_of_two_as_worked_out_by_hand(unfelt: Dawn) -> None:
    """(44), (45) and section 6.3 for a bed feel, name by name with numpy's own covariance."""
    after = dawn_of(finger(bed="dry"))
    season, roots = unfelt.season, roots_of(unfelt)
    rose, asters = row_of(season, ROSE), row_of(season, ASTER)
    before, sister = wet(unfelt), wet(unfelt, ASTER)
    out = np.asarray(roots.root_reach_m + season.plot.draw_m)[rose] / 0.15
    share = np.minimum(out, 1.0)
    assert 0.2 < share.mean() < 0.9
    x = share * before["reach"] + (1 - share) * before["beyond"]
    y = 0.35 + 0.20 * felt_normals(ROSE, DAY, 0, MEMBERS)[1]
    y[0] = 0.35
    total = x.var(ddof=1) + 0.10**2 + 0.20**2 + 0.30**2 / 12

    def moved(values: Floats, floor: float = 0.0) -> Floats:
        new: Floats = values + (np.cov(values, x)[0, 1] + floor) / total * (y - x)
        return new

    lowest, highest = bounds(season.plain)
    held = {
        name: np.clip(moved(one), lowest[rose, n], highest[rose, n])
        for n, (name, one) in enumerate(logs(season, ROSE).items())
    }
    for uid, names in ((ROSE, OF_BED + OF_PLANTING), (ASTER, OF_BED)):
        for name in names:
            assert logs(after.season, uid)[name] == pytest.approx(held[name], abs=1e-12), name
    for row, soil, floor in ((rose, before, 0.01), (asters, sister, 0.0)):
        grown = roots_of(after)
        for name in ("reach", "beyond"):
            capacity, full = (
                np.asarray(getattr(grown, f"{name}_{what}_l"))[row]
                for what in ("capacity", "saturation")
            )
            wetness = np.clip(moved(soil[name], floor), 0.0, full / capacity)
            assert np.asarray(getattr(after.stores, f"{name}_store_l"))[row] == pytest.approx(
                wetness * capacity
            )
    ball = np.clip(moved(before["ball"]), 0.0, 1.0)
    assert wet(after)["ball"] == pytest.approx(ball, abs=1e-12)
    error = np.log(season.errors.et0_factor[(DAY - season.first).days - 1][0])
    left = after.season.beliefs.et0_moved(DAY - timedelta(days=1))
    assert left is not None
    assert left[int(season.bed_index[rose])] == pytest.approx(moved(error) - error, abs=1e-12)


def test_a_ball_is_heard_before_its_bed_and_the_bed_expected_anew() -> None:
    both, alone = dawn_of(finger(ball="dry", bed="moist")), dawn_of(finger(ball="dry"))
    assert [one.store for one in both.squared] == ["ball", "bed"]
    assert both.squared[0]._replace(change=alone.squared[0].change) == alone.squared[0]
    assert both.squared[0].change() == alone.squared[0].change()
    moved = wet(alone)
    share = (
        np.minimum(
            np.asarray(roots_of(alone).root_reach_m)[row_of(alone.season, ROSE)] + 0.04, 0.15
        )
        / 0.15
    )
    anew = share * moved["reach"] + (1 - share) * moved["beyond"]
    assert both.squared[1].change().expected == pytest.approx(float(np.median(anew)))


def test_sisters_share_what_the_bed_teaches_and_keep_their_balls(unfelt: Dawn) -> None:
    """Exactly: bed multipliers alike, own multipliers and balls as they were; their soil moves."""
    after = dawn_of(finger(ball="dry", bed="dry"))
    rose, aster = logs(after.season, ROSE), logs(after.season, ASTER)
    was = logs(unfelt.season, ASTER)
    assert all(np.array_equal(rose[name], aster[name]) for name in OF_BED)
    assert all(np.any(was[name] != aster[name]) for name in OF_BED)
    assert all(np.array_equal(was[name], aster[name]) for name in OF_PLANTING)
    assert all(np.any(logs(unfelt.season, ROSE)[name] != rose[name]) for name in OF_PLANTING)
    row = row_of(after.season, ASTER)
    ball, reach, beyond = (
        np.array_equal(getattr(after.stores, name)[row], getattr(unfelt.stores, name)[row])
        for name in STORES
    )
    assert (ball, reach, beyond) == (True, False, False)


def test_parameters_are_what_the_beliefs_make_of_the_plain_ones() -> None:
    """After feels in both beds, of every planting, bit for bit."""
    after = dawn_of(finger(ball="dry", bed="wet"), feel(at(DAY, 8), "other", bed="dust")).season
    for row, planting in enumerate(after.plantings):
        beliefs = after.beliefs
        own = by_name(beliefs.of_bed[after.bed_index[row]], beliefs.of_planting[[row]])
        plain = after.bed_cut(int(after.bed_index[row]), len(after.plantings)).plain
        plot = believed(plain, own)
        which = [one.uid for one in after.plantings if one.bed_uid == planting.bed_uid].index(
            planting.uid
        )
        for name in UNCERTAIN:
            made = np.asarray(getattr(plot, name))
            assert np.array_equal(
                np.asarray(getattr(after.plot, name))[row], made[which if len(made) > 1 else 0]
            )


def test_an_unsure_feel_moves_less(unfelt: Dawn) -> None:
    was, sure, unsure = (
        float(np.median(wet(one)["reach"]))
        for one in (unfelt, dawn_of(finger(bed="dust")), dawn_of(finger(bed="dust", unsure=True)))
    )
    assert was - 0.7 * (was - sure) < unsure < was - 0.1 * (was - sure)


def test_one_member_is_nudged_to_the_class_itself() -> None:
    """Nothing goes with anything: the floor alone, 0.01 of 0.01 + R, (45)."""
    was, after = dawn_of(members=1), dawn_of(finger(ball="dust", bed="dust"), members=1)
    gain = 0.01 / (0.01 + 0.04 + 0.04 / 12)
    ball, reach, beyond = (float(one[0]) for one in wet(was).values())
    share = float(np.asarray(roots_of(was).root_reach_m)[row_of(was.season, ROSE), 0] + 0.04) / 0.15
    felt_bed = share * reach + (1 - share) * beyond
    nudged = {
        "ball": ball + gain * (0.10 - ball),
        "reach": reach + gain * (0.10 - felt_bed),
        "beyond": beyond + gain * (0.10 - felt_bed),
    }
    assert {name: float(one[0]) for name, one in wet(after).items()} == pytest.approx(nudged)
    assert same(was, after, ASTER)


def test_a_finger_in_a_bare_rooted_bed_meets_its_soil_alone() -> None:
    """Roots 0.12 m out already: the reach; a ball it has not moves nothing."""
    whips = roses(
        name="whips", plant_class="whip", origin="bare", ball_volume_l=0.0, ball_diameter_m=0.0
    )
    day = PLANTED + timedelta(days=4)
    dawns = [
        run(season(pages([whips], [feel(at(day, 7), **found)] if found else []), day, MEMBERS))[-1]
        for found in ({}, {"bed": "wet"}, {"ball": "wet"})
    ]
    unfelt, in_bed, in_ball = dawns
    before, after = (float(np.median(wet(one, "bed/whips")["reach"])) for one in (unfelt, in_bed))
    assert in_bed.squared[0].change().expected == pytest.approx(before)
    assert after > before + 0.05
    assert np.all(np.asarray(in_ball.stores.ball_store_l) == 0)
    for a, b in zip(in_ball.stores, unfelt.stores, strict=True):
        assert np.allclose(a, b, rtol=1e-12)


def test_the_record_of_a_feel(unfelt: Dawn) -> None:
    """By the middle member: expected and now in wetness, litres into the store, how far each multiplier went."""
    after = dawn_of(finger(ball="dry"))
    (one,) = after.squared
    assert (one.day, one.bed_uid, one.planting_uid, one.store, one.felt) == (
        DAY,
        "bed",
        ROSE,
        "ball",
        "dry",
    )
    before, now = wet(unfelt)["ball"], wet(after)["ball"]
    assert one.change().expected == pytest.approx(float(np.median(before)))
    assert one.change().now == pytest.approx(float(np.median(now)))
    assert one.innovation == pytest.approx(
        (0.35 - before.mean()) / np.sqrt(before.var(ddof=1) + 0.01 + 0.0475)
    )
    was, then = logs(unfelt.season, ROSE), logs(after.season, ROSE)
    assert one.change().learned == pytest.approx(
        {name: float((then[name] - was[name]).mean()) / LOG_SD[name] for name in was}
    )
    assert 0.4 < one.limit < 0.6  # 1 - p of a rose asked some 3 mm, (33)
