"""One garden several times over in one season: each as one member has it, under the same sky."""

from datetime import timedelta

import numpy as np

from soakbook.reckoning.simulation.gardens import Gardens, Taught, gardens_of, taught_by
from soakbook.reckoning.simulation.run import run
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    feel,
    loss,
    mulch,
    pages,
    rain,
    roses,
    row_of,
    season,
    soak,
    weather,
)

MORNING = PLANTED + timedelta(days=30)
DAY = PLANTED + timedelta(days=10)
BOOK = pages(
    [roses(), roses("wall", name="climbers", count=4)],
    [
        mulch(PLANTED),
        soak(at(DAY, 7), 30.0),
        loss(DAY, 2),
        rain(at(DAY, 9), 8.0, at(DAY, 4)),
    ],
    beds=[bed("wall", soil="sandy loam", place="south wall foot")],
    days=weather(rain={PLANTED + timedelta(days=4): 12.0}),
)
MEMBERS = 12


def gardens(drawn: int = 0, taught: Taught | None = None) -> Gardens:
    found = gardens_of(BOOK, MORNING, MEMBERS, drawn, taught)
    assert found is not None
    return found


def test_alone_it_is_the_season_itself() -> None:
    mine, plain = run(gardens().season)[-1], run(season(BOOK, MORNING, MEMBERS))[-1]
    np.testing.assert_array_equal(np.array(mine.stores), np.array(plain.stores))


def test_the_first_of_several_is_the_garden_alone_under_the_same_sky() -> None:
    several = gardens(2)
    alone, among = run(gardens().season)[-1], run(several.season)[-1]
    for uid in ("bed/roses", "wall/climbers"):
        np.testing.assert_array_equal(
            np.array(alone.stores)[:, row_of(alone.season, uid)],
            np.array(among.stores)[:, row_of(among.season, uid)],
        )
    assert several.bed_uids["bed"][0] == "bed"
    assert [several.number_of[uid] for uid in several.bed_uids["wall"]] == [0, 1, 2]


def test_the_plain_run_of_a_drawn_garden_has_what_its_member_has() -> None:
    several = gardens(2).season
    plot = several.plot
    for number, uid in ((1, "bed/roses"), (2, "wall/climbers")):
        first = row_of(several, uid)
        drawn = row_of(several, f"{uid} as member {number} has it")
        for name in ("available_fraction", "kcb", "root_mm_per_warm_day", "exposure_factor"):
            values = np.asarray(getattr(plot, name))
            np.testing.assert_allclose(values[drawn, 0], values[first, number], rtol=1e-12)
            spread = np.std(np.log(values[first])), np.std(np.log(values[drawn]))
            np.testing.assert_allclose(*spread, rtol=1e-9)
    errors = several.errors.et0_factor[3]
    np.testing.assert_array_equal(errors[0], errors[len(BOOK.beds)])


def test_what_fingers_taught_is_believed_from_the_start() -> None:
    """Soil that was felt dust where nobody would have thought it holds less, or is drunk sooner."""
    dry = [
        feel(PLANTED + timedelta(days=n), ball="dust", bed="dust", uid=f"feel {n}")
        for n in range(6, 27, 4)
    ]
    felt = season(BOOK._replace(entries=(*BOOK.entries, *dry)), MORNING, 60)
    taught = taught_by(felt)
    before, after = gardens().season, gardens(taught=taught).season
    row = row_of(before, "bed/roses")
    drinks = [
        np.log(np.asarray(one.plot.kcb * one.plot.exposure_factor)[row]).mean()
        for one in (before, after)
    ]
    assert drinks[1] > drinks[0] + 0.05
    wall = row_of(before, "wall/climbers")
    np.testing.assert_array_equal(taught.of_planting["wall/climbers"][:, 0], np.zeros(5))
    assert np.asarray(after.plot.kcb)[wall, 0] == np.asarray(before.plot.kcb)[wall, 0]
    assert after.touches == {}


def test_a_garden_without_weather_has_none() -> None:
    assert gardens_of(BOOK._replace(weather=()), MORNING, MEMBERS, 2) is None
