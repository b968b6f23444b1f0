"""Which dawn a feel squares up, whose soil it was, and what had come since 17:00."""

from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from soakbook.garden.entries import AnyEntry, When
from soakbook.garden.pages import Pages
from soakbook.garden.records import Planting
from soakbook.reckoning.simulation.touches import Touch, squared_dawn, touches_by_dawn
from tests.reckoning.gardens import (
    PLANTED,
    ZONE,
    at,
    bed,
    feel,
    garden,
    loss,
    pages,
    rain,
    roses,
    soak,
)

DAY = PLANTED + timedelta(days=10)
BEFORE, AFTER = DAY - timedelta(days=1), DAY + timedelta(days=1)
ASTERS = roses(name="asters", count=40)


def touches(
    *entries: AnyEntry, plantings: Sequence[Planting] = (roses(),), book: Pages | None = None
) -> dict[date, tuple[Touch, ...]]:
    """Of plantings that are reckoned from the day they were planted."""
    book = book or pages(plantings, entries)
    return dict(touches_by_dawn(book, plantings, [one.planted_on for one in plantings]))


def only(*entries: AnyEntry) -> tuple[date, Touch]:
    """The dawn of the one feel among these entries."""
    (found,) = touches(*entries).items()
    dawn, (touch,) = found
    return dawn, touch


@pytest.mark.parametrize(
    ("felt", "soaked", "dawn"),
    [
        (at(DAY, 7), None, DAY),
        (at(DAY, 7), at(DAY, 8), DAY),
        (at(DAY, 9), at(DAY, 8), AFTER),
        (at(DAY, 8), at(DAY, 8), AFTER),
        (at(DAY, 7), at(BEFORE, 19), DAY),
        (at(DAY, 17), None, DAY),
        (at(DAY, 17, 1), None, AFTER),
        (at(DAY, 18), at(DAY, 17, 30), AFTER),
        (at(DAY, 23, 59), at(DAY, 8), AFTER),
        (at(DAY, 0, 5), at(BEFORE, 23, 55), DAY),
    ],
)
def test_a_feel_before_the_days_first_soak_speaks_of_the_evening_before(
    felt: datetime, soaked: datetime | None, dawn: date
) -> None:
    """After it, or after 17:00, of that day's own evening: the dawn of the next day."""
    entry, soaks = feel(felt, ball="dry"), [soak(soaked, 20.0)] if soaked else []
    assert only(entry, *soaks)[0] == dawn
    assert squared_dawn(entry, pages([roses()], [entry, *soaks])) == dawn


@pytest.mark.parametrize(
    ("felt", "soaked", "dawn"),
    [
        (DAY, DAY, DAY),
        (DAY, None, DAY),
        (at(DAY, 6), DAY, DAY),
        (at(DAY, 7), DAY, DAY),
        (at(DAY, 7, 1), DAY, AFTER),
        (DAY, at(DAY, 6, 30), AFTER),
        (DAY, at(DAY, 7, 30), DAY),
    ],
)
def test_without_a_time_a_feel_is_of_the_round_hour_and_a_soak_comes_right_after(
    felt: When, soaked: When | None, dawn: date
) -> None:
    soaks = [soak(soaked, 20.0)] if soaked else []
    assert only(feel(felt, ball="dry"), *soaks)[0] == dawn


def test_the_round_hour_is_the_gardens() -> None:
    late = garden(round_hour=time(9))
    felt, given = feel(DAY, ball="dry"), soak(at(DAY, 8), 20.0)
    found = touches(book=pages([roses()], [felt, given], garden=late))
    assert list(found) == [AFTER]


def test_a_soak_elsewhere_does_not_put_a_feel_off() -> None:
    """Of another bed, or of a sister that is not the one felt."""
    felt = feel(at(DAY, 9), ball="dry", planting_uid="bed/asters")
    sister = soak(at(DAY, 8), 20.0, planting_uid="bed/roses")
    elsewhere = soak(at(DAY, 8, 1), 20.0, "other")
    both = (roses(), ASTERS)
    assert list(touches(felt, sister, elsewhere, plantings=both)) == [DAY]
    whole = soak(at(DAY, 8, 2), 20.0)
    assert list(touches(felt, sister, whole, plantings=both)) == [AFTER]


def test_a_named_planting_is_the_one_that_was_felt() -> None:
    felt = feel(at(DAY, 7), ball="dry", planting_uid="bed/roses")
    ((touch,),) = touches(felt, plantings=(ASTERS, roses())).values()
    assert touch.row == 1


def test_unnamed_it_is_the_one_with_most_plants_that_day() -> None:
    """Forty asters, of which thirty-five are lost: from the day after on, the ten roses."""
    felt = [feel(at(DAY + timedelta(days=n), 7), ball="dry") for n in range(2)]
    gone = loss(at(DAY, 12), 35, planting_uid="bed/asters")
    found = touches(*felt, gone, plantings=(roses(), ASTERS))
    assert [found[DAY][0].row, found[AFTER][0].row] == [1, 0]


def test_more_plants_still_to_come_are_not_felt() -> None:
    later = roses(name="later", count=99, planted_on=AFTER)
    felt = feel(at(DAY, 7), ball="dry")
    ((touch,),) = touches(felt, plantings=(roses(), later)).values()
    assert touch.row == 0


@pytest.mark.parametrize("since", [DAY, AFTER, AFTER + timedelta(days=3)])
def test_dawns_from_a_day_on_have_the_feels_they_had(since: date) -> None:
    """One of the day before last, two of a soaked day, one of an evening and one after midnight."""
    felt = [
        feel(at(BEFORE, 7), ball="dry"),
        feel(at(DAY, 6), ball="moist"),
        feel(at(DAY, 9), ball="wet"),
        feel(at(DAY, 18), bed="dry"),
        feel(at(AFTER, 0, 5), ball="dry"),
    ]
    book = pages([roses()], [*felt, soak(at(DAY, 8), 20.0), rain(at(DAY, 7), 3.0, at(BEFORE, 7))])
    plantings = book.plantings
    starts = [one.planted_on for one in plantings]
    every = touches_by_dawn(book, plantings, starts)
    found = touches_by_dawn(book, plantings, starts, since)
    assert {dawn: one for dawn, one in found.items() if dawn >= since} == {
        dawn: one for dawn, one in every.items() if dawn >= since
    }
    assert [len(every[dawn]) for dawn in (BEFORE, DAY, AFTER)] == [1, 1, 3]
    assert BEFORE not in found or since == DAY


@pytest.mark.parametrize(
    "felt",
    [
        feel(at(DAY, 7), "elsewhere", ball="dry"),
        feel(at(DAY, 7), ball="dry", planting_uid="bed/gone"),
        feel(at(PLANTED - timedelta(days=1), 7), ball="dry", planting_uid="bed/roses"),
        feel(at(PLANTED - timedelta(days=1), 7), ball="dry"),
    ],
    ids=["empty bed", "not reckoned", "not yet planted", "nothing planted"],
)
def test_a_feel_of_what_is_not_reckoned_squares_up_nothing(felt: AnyEntry) -> None:
    assert touches(felt) == {}


def test_a_feel_on_the_planting_day_squares_up_the_start() -> None:
    assert list(touches(feel(at(PLANTED, 9), bed="wet"))) == [PLANTED]
    evening = feel(at(PLANTED - timedelta(days=1), 18), bed="wet", planting_uid="bed/roses")
    assert list(touches(evening)) == [PLANTED]


def test_two_feels_of_a_dawn_are_numbered_by_planting() -> None:
    """Each hears an error of the hand of its own; a sister's number is its own too."""
    felt = [
        feel(at(DAY, 7, minute), ball="dry", planting_uid=uid)
        for minute, uid in enumerate(["bed/roses", "bed/asters", "bed/roses"])
    ]
    (found,) = touches(*felt, plantings=(roses(), ASTERS)).values()
    assert [(one.row, one.number) for one in found] == [(0, 0), (1, 0), (0, 1)]


def test_the_order_of_typing_decides_nothing() -> None:
    felt = [feel(DAY, uid=uid, ball="dry") for uid in "bca"] + [feel(at(DAY, 6), ball="wet")]
    turned = pages([roses()], felt[::-1])
    assert touches(*felt) == touches(book=turned)
    assert [one.feel.uid for one in touches(*felt)[DAY]] == [felt[3].uid, "a", "b", "c"]


def test_the_water_since_17_oclock_is_under_the_finger() -> None:
    """Of 12 mm from noon to noon, 14 of 24 hours lie between 17:00 and 7:00; the soak of 16:00 is in the stores."""
    early, late = soak(at(BEFORE, 16), 10.0), soak(at(BEFORE, 19), 20.0)
    gauge = rain(at(DAY, 12), 12.0, at(BEFORE, 12))
    _, touch = only(early, late, gauge, feel(at(DAY, 7), ball="wet"))
    assert touch.soaks == (late,)
    ((piece),) = touch.fallen
    assert (piece.step_day, piece.hours_known) == (DAY, 14.0)
    assert piece.rain_mm == pytest.approx(7.0)


def test_after_the_days_soak_the_evenings_stores_have_all_of_it() -> None:
    gauge = rain(at(DAY, 9), 12.0, at(BEFORE, 9))
    dawn, touch = only(gauge, soak(at(DAY, 8), 20.0), feel(at(DAY, 10), ball="wet"))
    assert (dawn, touch.fallen, touch.soaks) == (AFTER, (), ())


def test_after_17_oclock_only_what_came_since_is_under_the_finger() -> None:
    gauge = rain(at(DAY, 21), 8.0, at(DAY, 13))
    soaks = soak(at(DAY, 16), 10.0), soak(at(DAY, 18), 10.0)
    dawn, touch = only(gauge, *soaks, feel(at(DAY, 19), ball="wet"))
    assert (dawn, touch.soaks) == (AFTER, (soaks[1],))
    assert [piece.rain_mm for piece in touch.fallen] == [pytest.approx(2.0)]


def test_days_are_those_of_the_gardens_clock() -> None:
    """2031-05-11 00:30 in London is still the tenth in UTC; entries come in any zone."""
    midnight = datetime(2031, 5, 10, 23, 30, tzinfo=UTC)
    assert only(feel(midnight, ball="dry"))[0] == date(2031, 5, 11)
    assert only(feel(midnight, ball="dry"), soak(at(date(2031, 5, 10), 8), 9.0))[0] == date(
        2031, 5, 11
    )
    auckland = garden(timezone="Pacific/Auckland")
    felt = feel(datetime(2031, 5, 10, 19, 0, tzinfo=UTC), ball="dry")  # 7:00 on the eleventh
    assert list(touches(book=pages([roses()], [felt], garden=auckland))) == [date(2031, 5, 11)]


def test_an_hour_that_comes_twice_keeps_its_order() -> None:
    """Clocks go back on 26 October 2031: a soak at the first 1:30, a finger at the second 1:15."""
    back = date(2031, 10, 26)
    first = datetime.combine(back, time(1, 30), ZONE)
    second = datetime.combine(back, time(1, 15, fold=1), ZONE)
    felt, given = feel(second, ball="wet"), soak(first, 20.0)
    assert list(touches(felt, given)) == [back + timedelta(days=1)]
    assert list(touches(feel(first, ball="wet"), soak(second, 20.0))) == [back]


def test_an_evening_soak_is_under_the_finger_the_afternoon_after_the_clocks_went_back() -> None:
    """From 17:30 to 16:45 it is more than a day that night."""
    given = soak(at(date(2031, 10, 25), 17, 30).astimezone(UTC), 20.0)
    felt = feel(at(date(2031, 10, 26), 16, 45).astimezone(UTC), ball="wet")
    assert only(given, felt)[1].soaks == (given,)


def test_a_bed_in_another_zone_has_its_own_evening() -> None:
    """A feel at 18:00 in Auckland is of that evening, though it is morning in London."""
    zone = ZoneInfo("Pacific/Auckland")
    felt = feel(datetime(2031, 5, 11, 18, tzinfo=zone), ball="dry")
    book = pages([roses()], [felt], beds=[bed()], garden=garden(timezone=zone.key))
    assert list(touches(book=book)) == [date(2031, 5, 12)]
