"""A bed's verdict out of its plantings', and its doses as a hand gives them."""

from datetime import timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Bed, Flow, Planting, Tap
from soakbook.reckoning.advice.calling import REWET_WAIT_MIN, BedCall, dosed_as
from soakbook.reckoning.advice.rounds import Morning, morning_on
from tests.reckoning.advice.handmade import MORNING, call, dosed, judged
from tests.reckoning.gardens import PLANTED, at, bed, feel, pages, roses, soak, weather

DUE = judged()
RESTING = judged(due=False, verdict="leave", dose_kind=None)
HELD_DUE = judged(held=True, verdict="held_back", dose_kind=None, sodden_share=1.0)
HELD_RESTING = judged(due=False, held=True, verdict="held_back", dose_kind=None, sodden_share=1.0)
REWET = judged(due=False, held=True, verdict="held_back", dose_kind="re_wet")
LAID_BY = judged(due=False, verdict="laid_by", dose_kind=None)
ALONG = judged(due=False, while_there=True)


@pytest.mark.parametrize(
    ("plantings", "verdict"),
    [
        ([DUE], "soak"),
        ([RESTING], "leave"),
        ([HELD_DUE, DUE], "soak"),
        ([HELD_DUE, RESTING], "held_back"),
        ([HELD_RESTING], "held_back"),
        ([REWET, RESTING], "held_back"),
        ([LAID_BY, LAID_BY], "laid_by"),
        ([LAID_BY, RESTING], "leave"),
        ([RESTING, ALONG, DUE], "soak"),
    ],
)
def test_the_first_verdict_that_holds(plantings: list[Any], verdict: str) -> None:
    """Soak; held back; leave; laid by."""
    assert call(*(dosed(one) for one in plantings)).verdict == verdict


@pytest.mark.parametrize(("cell_m2", "verdict"), [(4.0, "leave"), (6.0, "held_back")])
def test_held_back_when_more_than_half_the_ground_is_sodden(cell_m2: float, verdict: str) -> None:
    """Two sodden shrubs of 4 or 6 m2 beside ten roses of 1 m2: by ground, not by heads."""
    shrubs = judged(
        roses(name="shrubs", count=2), due=False, held=True, verdict="held_back", dose_kind=None,
        sodden_share=1.0, cell_m2=cell_m2,
    )  # fmt: skip
    assert call(dosed(shrubs), dosed(RESTING)).verdict == verdict


def test_litres_are_the_sum_over_what_goes() -> None:
    one = call(dosed(DUE, 2.0), dosed(RESTING), dosed(judged(roses(name="b", count=3)), 1.5))
    assert one.litres == 24.5
    assert len(one.going) == 2
    assert one.without("bed/roses").litres == 4.5
    assert one.without("bed/b").litres == 20.0


TAP = Tap("tap", "A", flows=(Flow(12.0, PLANTED),))
ASTERS = roses(
    name="asters", plant_class="perennial", leaf="dies_down", count=40, ball_volume_l=2.0, ball_diameter_m=0.15,
    canopy_start_m2=0.04, canopy_full_m2=0.15, cell_m2=0.24,
)  # fmt: skip


def dry_morning(
    *plantings: Planting,
    entries: tuple[AnyEntry, ...] = (),
    days: int = 20,
    of_bed: Bed | None = None,
) -> tuple[Morning, BedCall]:
    """A bed at a tap, some dry days after planting."""
    beds = [of_bed or bed(tap="A")]
    book = pages(
        plantings, entries, beds=beds, days=weather(PLANTED - timedelta(days=5), 90), taps=(TAP,)
    )
    morning = morning_on(book, PLANTED + timedelta(days=days), members=20)
    return morning, morning.calls[0]


def test_a_dose_is_the_middle_member_rounded_up_for_the_hand() -> None:
    _, found = dry_morning(roses())
    one = found.dosed[0]
    assert found.verdict == "soak"
    assert one.needed_l.p10 <= one.needed_l.p50 <= one.needed_l.p90
    assert one.litres_each in (1.0, 1.5, 2.0, 3.0, 4.0, 5.0)
    assert 0 <= one.litres_each - one.needed_l.p50 < 1.0
    assert one.floor_l == 1.25


def test_a_usual_dose_is_given_when_the_bed_wants_too() -> None:
    """After twenty dry days the soil round the ball is below 0.7: the gardener's own five litres."""
    _, found = dry_morning(roses(usual_dose_l=5.0))
    one = found.dosed[0]
    assert one.judged.soil.p50 < 0.7
    assert (one.usual, one.litres_each) == (True, 5.0)


def test_a_usual_dose_is_not_given_while_the_bed_holds() -> None:
    """On the fourth day the ball runs short in a bed that is nearly full: (42), not the usual."""
    _, found = dry_morning(roses(usual_dose_l=5.0, canopy_start_m2=0.4), days=4)
    one = found.dosed[0]
    assert (found.verdict, one.judged.soil.p50 >= 0.7) == ("soak", True)
    assert one.usual is False
    assert one.litres_each < 5.0


def test_a_usual_dose_is_for_a_due_morning_not_while_one_is_there() -> None:
    """The dug roses are wanted within two days and taken along with the thirsty ones: what they need, no usual."""
    dug = roses(name="dug", origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45,
                usual_dose_l=15.0, bed_felt="dry")  # fmt: skip
    mornings = (dry_morning(roses(canopy_start_m2=0.4), dug, days=days)[1] for days in range(1, 4))
    along = next(one for found in mornings for one in found.dosed if one.judged.while_there)
    assert (along.judged.planting.name, along.judged.due, along.judged.soil.p50 < 0.7) == (
        "dug",
        False,
        True,
    )
    assert 0 < along.litres_each < 15.0
    assert not along.usual


def test_on_the_planting_day_the_call_is_to_water_in_usual_or_not() -> None:
    _, found = dry_morning(roses(usual_dose_l=8.0, origin="dug", bed_felt="dust"), days=0)
    one = found.dosed[0]
    assert (one.judged.dose_kind, one.litres_each, one.usual, one.aim) == (
        "water_in",
        3.0,
        False,
        "ball",
    )


def test_many_small_plants_close_together_have_cans_with_the_rose_on() -> None:
    _, found = dry_morning(ASTERS, days=2)
    one = found.dosed[0]
    assert (found.verdict, one.needed_l.p50 <= 0.5) == ("soak", True)
    assert (found.rose_on, found.supply.means, one.litres_each) == (True, "cans", 0.5)


@pytest.mark.parametrize("fields", [{"count": 19}, {"cell_m2": 0.31}])
def test_few_or_far_between_are_hosed(fields: dict[str, Any]) -> None:
    _, found = dry_morning(ASTERS._replace(**fields), days=2)
    assert (found.verdict, found.rose_on, found.supply.means) == ("soak", False, "hose")
    assert found.dosed[0].litres_each == 1.0


def test_the_balls_quarter_is_not_asked_for_again_within_a_day() -> None:
    """Soaked with a little yesterday afternoon and due again: what it lacks, no floor."""
    given = soak(at(PLANTED + timedelta(days=19), 15), 5.0)
    _, found = dry_morning(roses(), entries=(given,))
    assert found.dosed[0].floor_l == 0.0
    _, found = dry_morning(roses(), entries=(soak(at(PLANTED + timedelta(days=19), 6), 5.0),))
    assert found.dosed[0].floor_l == 1.25


CLAY = bed(soil="clay", tap="A")
SODDEN = soak(at(PLANTED + timedelta(days=19), 19), 2000.0)
DUG = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)


def test_a_dry_ball_in_a_wet_bed_is_rewetted_in_four_pours() -> None:
    """30 L, felt dry after the soak: four pours of at least a twentieth of the ball, none on the bed."""
    felt = feel(at(MORNING, 6, 30), ball="dry", bed="wet")
    _, found = dry_morning(DUG, entries=(SODDEN, felt), of_bed=CLAY)
    one = found.dosed[0]
    assert (found.verdict, one.judged.dose_kind) == ("held_back", "re_wet")
    assert (one.pours, one.wait_min, one.aim) == (4, 25.0, "ball")
    assert one.litres_each >= 4 * 1.5
    assert one.litres_each % 2 == 0  # four pours of whole half litres
    assert found.going == (one,)


def test_a_dose_of_another_kind_is_the_one_that_kind_has() -> None:
    """A round that waters, asked for the pours of a re-wet, and for its own dose again."""
    morning, of_bed = dry_morning(DUG)
    assert morning.judgement is not None
    (own,) = of_bed.dosed
    assert own.judged.dose_kind == "rescue"
    again = dosed_as(morning.judgement, of_bed, own.judged, "rescue")
    assert again == own
    wetted = dosed_as(morning.judgement, of_bed, own.judged, "re_wet")
    assert (wetted.judged.dose_kind, wetted.aim) == ("re_wet", "ball")
    assert wetted.wait_min == REWET_WAIT_MIN
    assert wetted.litres_each < own.litres_each


def test_a_sodden_bed_with_a_full_ball_gets_nothing() -> None:
    _, found = dry_morning(DUG, entries=(SODDEN,), of_bed=CLAY)
    assert (found.verdict, found.litres, found.dosed[0].judged.dose_kind) == (
        "held_back",
        0.0,
        None,
    )


def test_aim_follows_what_leads() -> None:
    """Settling in a bed that holds: the ball; in one that does not: ball and ring; rooted out: the bed."""
    _, young = dry_morning(roses(canopy_start_m2=0.4), days=4)
    _, dry = dry_morning(roses(), days=20)
    whips = roses(origin="bare", plant_class="whip", ball_volume_l=0.0, ball_diameter_m=0.0)
    _, bare = dry_morning(whips, days=60)
    assert [found.dosed[0].aim for found in (young, dry, bare)] == ["ball", "ball_and_ring", "bed"]
