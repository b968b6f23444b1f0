"""When a finger is worth more than the reckoning."""

from datetime import date, timedelta
from typing import Any

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Bed, Planting
from soakbook.reckoning.advice.feel_first import days_since_felt, feel_first, in_dry_spell
from soakbook.reckoning.advice.report import Band
from soakbook.reckoning.advice.rounds import Morning, morning_on, round_of
from tests.reckoning.gardens import PLANTED, at, bed, call_of, feel, pages, roses, soak, weather

DAY = PLANTED + timedelta(days=30)


def morning(
    *entries: AnyEntry,
    of_bed: Bed | None = None,
    planting: Planting | None = None,
    rain: dict[date, float] | None = None,
    members: int = 1,
) -> Morning:
    """One member by default: no spread, so that only the other reasons can hold."""
    days = weather(PLANTED - timedelta(days=5), 90, rain=rain, et0_mm=2.0)
    book = pages([planting or roses()], entries, beds=[of_bed or bed()], days=days)
    return morning_on(book, DAY, members)


def flagged(of: Morning) -> bool:
    assert of.judgement is not None
    return feel_first(of.judgement, of.calls[0])


def with_lead(of: Morning, band: Band) -> Morning:
    """The same morning with the leading store of its planting in this band."""
    one = of.calls[0].dosed[0]
    judged = one.judged._replace(lead=band)
    call = of.calls[0]._replace(dosed=(one._replace(judged=judged),))
    return of._replace(calls=(call,))


FELT = feel(at(DAY - timedelta(days=2), 9), bed="moist")


@pytest.mark.parametrize(
    ("band", "is_flagged"),
    [
        (Band(0.30, 0.5, 0.80), False),
        (Band(0.29, 0.5, 0.81), True),
        (Band(0.80, 1.1, 1.60), False),
        (Band(0.40, 1.1, 1.60), True),
    ],
)
def test_a_band_wider_than_half_the_scale(band: Band, is_flagged: bool) -> None:
    """Half-width over 0.25; how far above capacity a store stands decides nothing."""
    assert flagged(with_lead(morning(FELT), band)) is is_flagged


@pytest.mark.parametrize(("days", "is_flagged"), [(20, False), (21, True)])
def test_twenty_one_days_without_a_feel_in_a_dry_spell(days: int, is_flagged: bool) -> None:
    assert flagged(morning(feel(at(DAY - timedelta(days=days), 9), bed="moist"))) is is_flagged


def test_a_planting_never_felt_counts_from_its_first_day() -> None:
    assert flagged(morning())
    assert not flagged(morning(planting=roses(planted_on=DAY - timedelta(days=20))))


def test_not_where_it_rained_within_ten_days() -> None:
    wet = morning(rain={DAY - timedelta(days=10): 1.0})
    assert wet.judgement is not None
    assert not in_dry_spell(wet.judgement)
    assert not flagged(wet)
    damp = morning(rain={DAY - timedelta(days=10): 0.9, DAY - timedelta(days=11): 30.0})
    assert damp.judgement is not None
    assert in_dry_spell(damp.judgement)


def soaks(*days_ago: int) -> list[AnyEntry]:
    return [soak(at(DAY - timedelta(days=n), 8), 5.0) for n in days_ago]


CLAY = bed(soil="clay")
RAINED = {DAY - timedelta(days=3): 1.5}
"""Enough to end the dry spell, not enough for the plants."""


@pytest.mark.parametrize(
    ("entries", "of_bed", "is_flagged"),
    [
        (soaks(2, 5), CLAY, True),
        (soaks(2, 7), CLAY, False),
        (soaks(2), CLAY, False),
        (soaks(2, 5), bed(soil="loam"), False),
        (soaks(2, 5), bed(soil="unknown"), True),
        (soaks(2, 5), bed(soil="loam", hole="standing"), True),
        ([*soaks(2, 5), feel(at(DAY - timedelta(days=6), 9), bed="moist")], CLAY, False),
    ],
    ids=["third", "over a week", "second", "loam", "unknown", "standing hole", "felt"],
)
def test_a_third_soak_in_seven_days_on_slow_soil_without_a_feel(
    entries: list[AnyEntry], of_bed: Bed, is_flagged: bool
) -> None:
    found = morning(*entries, of_bed=of_bed, rain=RAINED)
    assert found.calls[0].verdict == "soak"
    assert flagged(found) is is_flagged


def test_go_and_feel_is_a_flag_and_the_verdict_only_where_nothing_is_due() -> None:
    """Twenty-one unfelt days in a dry spell: the dry bed is soaked and flagged, the soaked one only felt."""
    given = soak(at(DAY - timedelta(days=1), 8), 600.0)
    dry, wet = (call_of(round_of(morning(*entries))) for entries in ((), (given,)))
    assert (dry.verdict, dry.feel_first, dry.order) == ("soak", True, 1)
    assert (wet.verdict, wet.feel_first, wet.order) == ("feel", True, 1)


def test_days_since_a_finger_was_in_the_bed() -> None:
    def since(*entries: Any) -> int | None:
        judgement = morning(*entries).judgement
        assert judgement is not None
        return days_since_felt(judgement.diaries["bed"])

    assert since() is None
    assert since(FELT) == 2
