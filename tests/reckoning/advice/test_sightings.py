"""What of a bed's entries counts when limp leaves are asked after."""

from datetime import date, datetime, timedelta

import pytest

from soakbook.garden.entries import AnyEntry
from soakbook.garden.records import Origin, Planting
from soakbook.reckoning.advice.diary import diary_of
from soakbook.reckoning.advice.sightings import limp_at_noon, seen_of
from soakbook.reckoning.advice.triage import Seen
from tests.reckoning.gardens import PLANTED, ZONE, at, feel, pages, roses, soak, wilt

DAY = PLANTED + timedelta(days=30)
BEFORE = DAY - timedelta(days=1)
NOW = at(DAY, 20)


def seen(*entries: AnyEntry, planting: Planting | None = None, now: datetime = NOW) -> Seen | None:
    """What is seen of the ten roses of a bed, or of another planting."""
    mine = planting or roses()
    few = roses(name="few")._replace(count=3)
    book = pages([mine, few], entries)
    return seen_of(diary_of(book, book.beds[0], now.date()), mine, now)


def limp(*entries: AnyEntry) -> Seen:
    found = seen(*entries)
    assert found is not None
    return found


def test_where_nobody_looked_in_two_days_nothing_is_asked() -> None:
    assert seen() is None
    assert seen(wilt(at(DAY - timedelta(days=2), 19))) is None
    assert seen(wilt(at(DAY - timedelta(days=2), 21))) is not None
    assert seen(feel(at(DAY, 6), ball="dry", bed="wet")) is None


@pytest.mark.parametrize(
    ("hour", "minute", "phase"),
    [
        (3, 59, "dusk"),
        (4, 0, "dawn"),
        (11, 59, "dawn"),
        (12, 0, "noon"),
        (17, 59, "noon"),
        (18, 0, "dusk"),
    ],
)
def test_the_parts_of_a_leafs_day(hour: int, minute: int, phase: str) -> None:
    found = limp(wilt(at(DAY, hour, minute)))
    assert (found.phase, found.hour) == (phase, f"{hour:02}:{minute:02}")


def test_a_day_without_its_hour_has_no_phase() -> None:
    found = limp(wilt(DAY))
    assert (found.phase, found.hour) == (None, "")


def test_the_last_look_counts() -> None:
    found = limp(wilt(at(BEFORE, 15)), wilt(at(DAY, 6), upright=True))
    assert (found.phase, found.upright) == ("dawn", True)
    found = limp(wilt(at(DAY, 6), upright=True), wilt(at(DAY, 15)))
    assert (found.phase, found.upright) == ("noon", False)


def test_limp_in_the_morning_stands_all_day_until_seen_upright() -> None:
    found = limp(wilt(at(DAY, 6)), wilt(at(DAY, 15)))
    assert (found.phase, found.hour) == ("dawn", "15:00")
    assert limp(wilt(at(BEFORE, 6)), wilt(at(DAY, 15))).phase == "noon"
    stood = wilt(at(DAY, 9), upright=True)
    assert limp(wilt(at(DAY, 6)), stood, wilt(at(DAY, 15))).phase == "noon"
    assert limp(wilt(at(DAY, 6)), soak(at(DAY, 7), 20.0), wilt(at(DAY, 15))).phase == "noon"


def test_a_limp_afternoon_is_looked_at_again_at_dusk_while_there_is_one() -> None:
    assert not limp(wilt(at(DAY, 15))).dusk_gone
    assert limp(wilt(at(BEFORE, 15))).dusk_gone


def test_a_finger_counts_from_the_noon_before_and_until_the_next_soak() -> None:
    """A night drinks little. Common practice, no source."""
    look = wilt(at(DAY, 6))
    noon, forenoon = at(BEFORE, 12), at(BEFORE, 11, 59)
    assert limp(feel(noon, ball="dry", bed="wet"), look).ball == "dry"
    assert limp(feel(forenoon, ball="dry", bed="wet"), look).ball is None
    watered = soak(at(BEFORE, 18), 20.0)
    found = limp(feel(noon, ball="dry", bed="wet"), watered, look)
    assert (found.ball, found.bed, found.soaked_since) == (None, None, False)


def test_ball_and_bed_may_be_felt_one_after_the_other() -> None:
    found = limp(
        wilt(at(DAY, 6)),
        feel(at(DAY, 6, 5), ball="wet"),
        feel(at(DAY, 6, 6), ball="dry"),
        feel(at(DAY, 6, 7), bed="wet"),
    )
    assert (found.ball, found.bed) == ("dry", "wet")


def test_water_since_closes_the_asking() -> None:
    assert limp(wilt(at(DAY, 6)), soak(at(DAY, 7), 20.0)).soaked_since
    assert not limp(soak(at(DAY, 5), 20.0), wilt(at(DAY, 6))).soaked_since
    elsewhere = soak(at(DAY, 7), 20.0, planting_uid="bed/few")
    assert not limp(wilt(at(DAY, 6)), elsewhere).soaked_since


def test_another_plantings_leaves_and_fingers_are_its_own() -> None:
    few = {"planting_uid": "bed/few"}
    assert seen(wilt(at(DAY, 6), **few)) is None
    found = limp(wilt(at(DAY, 6)), feel(at(DAY, 6, 5), ball="dry", bed="dry", **few))
    assert found.ball is None


@pytest.mark.parametrize(
    ("origin", "days", "lately"),
    [
        ("dug", 41, True),
        ("dug", 42, False),
        ("bare", 41, True),
        ("bare", 42, False),
        ("pot", 13, True),
        ("pot", 14, False),
    ],
)
def test_how_long_a_move_is_lately(origin: Origin, days: int, lately: bool) -> None:
    """Dug under six weeks, the two first weeks of a pot: the settling stage. Common practice, no source."""
    planting = roses(origin=origin, planted_on=DAY - timedelta(days=days))
    found = seen(wilt(at(DAY, 6)), planting=planting)
    assert found is not None
    assert found.moved_lately is lately
    assert found.has_ball is (origin != "bare")


def test_big_soft_leaves_are_known_by_their_class() -> None:
    found = seen(wilt(at(DAY, 6)), planting=roses(plant_class="soft"))
    assert found is not None
    assert found.soft_leaves
    assert not limp(wilt(at(DAY, 6))).soft_leaves


def test_afternoons_of_a_week_are_counted_by_day() -> None:
    def flags(*days: int) -> int:
        looks = [wilt(at(DAY - timedelta(days=n), 15)) for n in days]
        return limp(*looks, wilt(at(DAY, 16))).afternoons

    assert flags() == 1
    assert flags(0) == 1
    assert flags(1, 6) == 3
    assert flags(7) == 1
    upright = wilt(at(BEFORE, 15), upright=True)
    assert limp(upright, wilt(at(BEFORE, 6)), wilt(BEFORE), wilt(at(DAY, 16))).afternoons == 1


def test_an_afternoon_is_one_by_the_gardens_clock() -> None:
    utc = datetime.fromisoformat(f"{date.isoformat(DAY)}T11:30+00:00")
    assert limp_at_noon(wilt(utc), ZONE)
    assert not limp_at_noon(wilt(at(DAY, 11, 30)), ZONE)
