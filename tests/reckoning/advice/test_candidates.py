"""What could be asked about a bed, and what each answer is worth."""

from dataclasses import replace
from datetime import timedelta
from math import sqrt
from typing import Any

import numpy as np
import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Planting
from soakbook.reckoning.advice.candidates import HAND_VARIANCE, Candidate, of_bed
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.rounds import morning_on
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    catch,
    feel,
    mulch,
    pages,
    rain,
    roses,
    ruler,
    soak,
    weather,
)

DAY = PLANTED + timedelta(days=20)
SHADE: dict[str, Any] = {"place": "half shade"}


def judgement(
    *entries: AnyEntry,
    members: int = 60,
    plantings: tuple[Planting, ...] = (),
    day: Any = DAY,
    **of: Any,
) -> Judgement:
    days = weather(PLANTED - timedelta(days=5), 80)
    book = pages(plantings or [roses()], entries, beds=[bed(**of)], days=days)
    found = morning_on(book, day, members).judgement
    assert found is not None
    return found


def asked(of: Judgement) -> dict[str, Candidate]:
    return {one.question.about: one for one in of_bed(of, of.season.beds[0])}


def taught(of: Judgement) -> set[str]:
    """What is asked, a feel apart."""
    return set(asked(of)) - {"feel", "look"}


def test_what_is_known_is_not_asked_for() -> None:
    assert taught(judgement(soil="clay", **SHADE)) == {"hole", "rain_share", "soil"}
    assert taught(judgement(soil="clay", hole="gone", **SHADE)) == {"rain_share", "soil"}
    assert taught(judgement(soil="clay", hole_mm_h=9.0, rain_share=0.8, **SHADE)) == {"soil"}
    assert taught(judgement()) == {"soil"}


def test_a_jar_that_told_is_not_asked_for_again() -> None:
    assert taught(judgement(catch(at(DAY, 6), 6.0, 14.0), **SHADE)) == {"soil"}
    assert taught(judgement(catch(at(DAY, 6), 0.5, 1.0), **SHADE)) == {"rain_share", "soil"}
    jar = asked(judgement(**SHADE))["rain_share"].question
    assert jar.answer == "soakbook bed bed --jam-jar 6mm --gauge 14mm"


def test_a_key_of_two_words_is_written_as_a_shell_takes_it() -> None:
    of = judgement(key="kitchen wall", uid="bed", soil="clay", **SHADE)
    assert all('"kitchen wall"' in one.question.answer for one in asked(of).values())


def test_a_soil_nobody_has_named_is_worth_more_than_a_jar_of_a_named_one() -> None:
    named, unnamed = asked(judgement())["soil"], asked(judgement(soil="unknown"))["soil"]
    assert unnamed.worth > named.worth
    assert "squeeze" in unnamed.question.ask
    assert "short ribbon" in unnamed.question.answer
    assert "--jar" in named.question.answer


def test_the_share_of_the_rain_is_worth_asking_when_it_has_rained() -> None:
    """In a dry spell no rain reached anything; after a wet night the share decides."""
    wet = rain(at(DAY, 6, 30), 9.0, at(DAY - timedelta(days=1), 18))
    dry_one, wet_one = (
        asked(judgement(*entries, **SHADE))["rain_share"] for entries in ((), (wet,))
    )
    assert dry_one.worth < 0.05 < wet_one.worth


def test_worth_is_how_much_of_the_spread_goes_with_the_unknown() -> None:
    """|correlation of the log with the leading store| x its sd; a squeeze leaves half of the doubled sd of AW."""
    of = judgement(soil="unknown")
    lead = of.morning.wetness.lead[0]
    aw = np.log(np.asarray(of.season.plot.available_fraction)[0])
    expected = sqrt(1 - 0.5**2) * abs(np.corrcoef(aw, lead)[0, 1]) * lead.std()
    assert asked(of)["soil"].worth == pytest.approx(expected)


def test_a_finger_is_worth_what_it_takes_off_the_leading_store() -> None:
    """A Kalman step without floor: cov(x, w) / sqrt(var x + R); half of it, because it fades in a week."""
    of = judgement()
    ball, lead = of.morning.wetness.ball[0], of.morning.wetness.lead[0]
    gained = abs(np.cov(ball, lead, ddof=0)[0, 1]) / sqrt(ball.var() + HAND_VARIANCE)
    found = asked(of)["feel"]
    assert found.worth == pytest.approx(0.5 * gained)
    assert found.question.answer == "soakbook feel bed --ball dust | dry | moist | wet | sour"


def test_where_the_soil_leads_a_hole_is_looked_into() -> None:
    watered = tuple(soak(at(PLANTED + timedelta(days=n), 7), 30.0) for n in range(20, 60, 4))
    of = judgement(*watered, day=PLANTED + timedelta(days=60))
    assert not of.judged[0].ball_leads
    assert "feel" not in asked(of)
    assert asked(of)["look"].question.answer == "soakbook feel bed --look 20cm"


def test_what_was_felt_this_week_is_not_to_be_felt() -> None:
    lately, long_ago = (
        judgement(feel(at(DAY - timedelta(days=days), 7), ball="moist")) for days in (6, 7)
    )
    assert "feel" not in asked(lately)
    assert "feel" in asked(long_ago)


def test_one_planting_of_several_is_named() -> None:
    two = (roses(), roses(name="wall shrubs", count=4))
    assert '--planting "' in asked(judgement(plantings=two))["feel"].question.answer


def test_a_ruler_is_asked_for_a_month_after_the_mulch_was_laid_or_measured() -> None:
    laid = mulch(DAY - timedelta(days=31), 5.0)
    assert "ruler" in asked(judgement(laid))
    assert "ruler" not in asked(judgement(mulch(DAY - timedelta(days=30), 5.0)))
    assert "ruler" not in asked(judgement(laid, ruler(DAY - timedelta(days=9), 4.0)))
    assert "ruler" not in asked(judgement())
    assert "ruler" not in asked(judgement(replace(laid, kind="sheet")))


def test_a_ruler_is_worth_what_a_third_less_mulch_would_have_dried() -> None:
    """(9): 5 cm of chip, 31 days old, thinned by a third; three days of yesterday's drying of ball and reach."""
    of = judgement(mulch(DAY - timedelta(days=31), 5.0))
    deep = 5 * (1 - 0.2 * 31 / 180)
    faster = 2 ** (-deep * 2 / 3 / 3.5) / 2 ** (-deep / 3.5) - 1
    flows, roots = of.dawn.flows, of.morning.roots
    assert flows is not None

    def first(field: Any) -> float:
        return float(np.ravel(field)[0])

    dried = 3 * faster * first(flows.soil_evaporated_l) * first(roots.reach_m2) / 1.0
    holds = first(roots.ball_capacity_l) + first(roots.reach_capacity_l)
    assert asked(of)["ruler"].worth == pytest.approx(dried / holds)


def test_a_pot_is_asked_after_until_something_is_known_of_its_water() -> None:
    """Full or dry, half and half: (1 - 0.35) / 2 where the ball gives all that is drunk."""
    found = asked(judgement(day=PLANTED))["heft"]
    assert found.worth == pytest.approx((1 - 0.35) / 2)
    assert found.question.answer == "soakbook plant bed roses 10 --heft light | heavy"
    assert "heft" not in asked(judgement(day=PLANTED + timedelta(days=2)))
    assert "heft" not in asked(judgement(soak(PLANTED, 20.0), day=PLANTED + timedelta(days=1)))
    for said in ({"ball_felt": "dry"}, {"said": frozenset({"watered_in"})}, {"origin": "dug"}):
        known = (roses(**said),)
        assert "heft" not in asked(judgement(plantings=known, day=PLANTED))
