"""The season as it might have been: what of the pages is changed, and what not."""

from collections.abc import Sequence
from datetime import date, timedelta

import pytest

from soakbook.account.worlds import (
    World,
    a_month_before,
    autumn_before,
    planted_on,
    unfelt,
    with_half_the_soaks,
    with_more_mulch,
    without_mulch,
    worlds_of,
)
from soakbook.garden.entries import Feel, MulchLaid, Ruler, Soak
from soakbook.garden.pages import Pages
from soakbook.reckoning.simulation.mulching import layings_by_bed, mulch_on
from soakbook.reckoning.simulation.watering import local_day
from tests.reckoning.gardens import (
    PLANTED,
    ZONE,
    at,
    bed,
    feel,
    garden,
    loss,
    mulch,
    pages,
    roses,
    ruler,
    soak,
    weather,
)

FIRST, UNTIL = date(2031, 1, 1), date(2031, 12, 31)


def world(book: Pages, key: str, first: date = FIRST, until: date = UNTIL) -> World:
    return next(one for one in worlds_of(book, first, until) if one.key == key)


def depth_cm(book: Pages, day: date, bed_uid: str = "bed") -> float:
    return mulch_on(day, layings_by_bed(book.entries, ZONE).get(bed_uid, ())).depth_cm


def test_without_mulch_nothing_was_laid_or_measured() -> None:
    book = pages(
        [roses()], [mulch(PLANTED), ruler(PLANTED + timedelta(days=9), 4.0), soak(PLANTED, 9.0)]
    )
    assert [type(one) for one in without_mulch(book).entries] == [Soak]


def test_the_first_dressing_is_5_cm_deeper_the_others_as_they_were() -> None:
    later = PLANTED + timedelta(days=20)
    book = pages([roses()], [mulch(PLANTED, 4.0), mulch(later, 3.0)])
    deeper = with_more_mulch(book)
    laid = [one.depth_cm for one in deeper.entries if isinstance(one, MulchLaid)]
    assert laid == [9.0, 3.0]
    assert depth_cm(deeper, PLANTED) == depth_cm(book, PLANTED) + 5


def test_none_is_deeper_than_30_cm() -> None:
    deeper = with_more_mulch(pages([roses()], [mulch(PLANTED, 27.0)]))
    assert depth_cm(deeper, PLANTED) == 30.0


def test_a_bare_bed_and_one_under_a_sheet_have_5_cm_from_their_first_planting() -> None:
    book = pages(
        [roses(), roses(name="more", planted_on=PLANTED + timedelta(days=9)), roses("other")],
        [mulch(PLANTED, bed_key="other", kind="sheet")],
        beds=[bed("empty")],
    )
    deeper = with_more_mulch(book)
    for uid in ("bed", "other"):
        assert depth_cm(deeper, PLANTED, uid) == 5.0
        assert depth_cm(deeper, PLANTED - timedelta(days=1), uid) == 0.0
    assert len(deeper.entries) == 3


def test_a_ruler_finds_as_much_off_as_it_did() -> None:
    """4 cm laid and 2 found the same day is half; of 9 it is 4.5. A second ruler is changed as the first."""
    days = [PLANTED + timedelta(days=n) for n in (30, 90)]
    book = pages([roses()], [mulch(PLANTED, 4.0), ruler(days[0], 2.0), ruler(days[1], 1.2)])
    deeper = with_more_mulch(book)
    for day in (*days, PLANTED + timedelta(days=120)):
        assert depth_cm(deeper, day) == pytest.approx(depth_cm(book, day) * 9 / 4)
    found = [one.measured_cm for one in deeper.entries if isinstance(one, Ruler)]
    assert found == pytest.approx([4.5, 2.7])


def soaked(book: Pages) -> list[tuple[date, float, str | None]]:
    return [
        (local_day(one.happened_at, ZONE), one.litres, one.planting_uid)
        for one in book.entries
        if isinstance(one, Soak)
    ]


def test_every_second_watering_of_a_planting_is_given_with_the_one_before() -> None:
    """Two soaks of a day are one watering; those of last year stay where they were."""

    def soaks(days: Sequence[int], litres: float, **more: str) -> list[Soak]:
        return [
            soak(at(PLANTED + timedelta(days=n), 7, n % 60), litres, uid=f"{n} {litres}", **more)
            for n in days
        ]

    book = pages(
        [roses(), roses(name="more")],
        [
            *soaks([-400, -398], 1.0, planting_uid="bed/roses"),
            *soaks([0, 2, 3, 9, 10], 10.0, planting_uid="bed/roses"),
            *soaks([3], 5.0, planting_uid="bed/roses"),
            *soaks([2, 5], 7.0, planting_uid="bed/more"),
            *soaks([4], 3.0),
        ],
    )  # fmt: skip
    found = with_half_the_soaks(book, FIRST)
    numbers = sorted(
        ((day - PLANTED).days, litres, uid) for day, litres, uid in soaked(found) if uid
    )
    assert numbers == [
        (-400, 1.0, "bed/roses"), (-398, 1.0, "bed/roses"),
        (0, 10.0, "bed/roses"), (0, 10.0, "bed/roses"),
        (2, 7.0, "bed/more"), (2, 7.0, "bed/more"),
        (3, 5.0, "bed/roses"), (3, 10.0, "bed/roses"), (3, 10.0, "bed/roses"), (10, 10.0, "bed/roses"),
    ]  # fmt: skip
    assert sum(one[1] for one in soaked(found)) == sum(one[1] for one in soaked(book))
    moments = [one.happened_at for one in found.entries]
    assert moments == sorted(moments)


def test_a_bed_parted_from_another_begins_with_its_own_waterings() -> None:
    """What is told of it from before stays: it had no plants then, and a soak moved there would be lost."""
    day = PLANTED + timedelta(days=6)
    nook = bed("nook", parted_from="bed", parted_on=day)
    book = pages(
        [roses(), roses("nook")],
        [soak(at(PLANTED + timedelta(days=n), 7), 1.0 + n, "nook") for n in (0, 2, 4, 7, 9)],
        beds=[nook],
    )
    days = [(one[0] - PLANTED).days for one in soaked(with_half_the_soaks(book, FIRST))]
    assert days == [0, 2, 4, 7, 7]


@pytest.mark.parametrize(
    ("day", "before"),
    [
        (date(2031, 5, 20), date(2031, 4, 20)),
        (date(2031, 3, 31), date(2031, 2, 28)),
        (date(2032, 3, 30), date(2032, 2, 29)),
        (date(2031, 1, 22), date(2030, 12, 22)),
    ],
)
def test_a_month_before(day: date, before: date) -> None:
    assert a_month_before(day) == before


def test_autumn_is_the_last_before_the_season_south_of_the_equator_in_april() -> None:
    south = pages(garden=garden(latitude_deg=-36.8))
    assert autumn_before(pages(), date(2031, 1, 1)) == date(2030, 10, 1)
    assert autumn_before(south, date(2031, 7, 1)) == date(2031, 4, 1)


def test_planted_a_month_earlier_and_nothing_else() -> None:
    lost = loss(PLANTED + timedelta(days=3), 2)
    old = roses(name="old", planted_on=date(2030, 5, 1))
    new = roses(name="new", planted_on=PLANTED + timedelta(days=30), replaces="bed/roses")
    book = pages([old, roses(), new], [lost], days=weather(date(2030, 4, 20), 500))
    moved = world(book, "month_earlier")
    assert [one.planted_on for one in moved.pages.plantings] == [
        old.planted_on,
        date(2031, 4, 1),
        new.planted_on,
    ]
    assert moved.pages._replace(plantings=()) == book._replace(plantings=())
    assert moved.since == {}
    assert moved.refused is None


def test_what_is_planted_before_the_season_is_counted_from_its_planting() -> None:
    book = pages(
        [roses(), roses("old", planted_on=date(2030, 5, 1))], days=weather(date(2030, 5, 1), 500)
    )
    moved = world(book, "autumn")
    assert moved.words == "planted on 1 October 2030"
    assert moved.since == {"bed": date(2030, 10, 1)}
    assert [one.planted_on for one in moved.pages.plantings] == [
        date(2030, 10, 1),
        date(2030, 5, 1),
    ]


def test_without_weather_of_that_day_it_is_refused_by_its_first_day() -> None:
    book = pages([roses()], days=weather(date(2031, 2, 1), 200))
    assert world(book, "autumn").refused == (
        "the book's weather begins on 1 February 2031: `soakbook weather` brings it from 1 October 2030 on"
    )
    assert world(book, "month_earlier").refused is None
    none = world(book._replace(weather=()), "autumn")
    assert none.refused is not None
    assert none.refused.startswith("the book's weather has none")


def test_a_season_in_which_nothing_was_planted_has_no_other_planting_day() -> None:
    book = pages([roses(planted_on=date(2030, 5, 1))], days=weather(date(2030, 5, 1), 500))
    for key in ("month_earlier", "autumn"):
        assert world(book, key).refused == "nothing was planted in the season"


def test_planted_on_leaves_those_that_are_not_named() -> None:
    book = pages([roses(), roses("other")])
    moved = planted_on(book, {"other/roses": date(2031, 3, 1)})
    assert [one.planted_on for one in moved.plantings] == [PLANTED, date(2031, 3, 1)]


def test_fingers_are_taken_out_and_nothing_else() -> None:
    book = pages([roses()], [feel(PLANTED, ball="dry"), soak(PLANTED, 5.0), mulch(PLANTED)])
    assert not any(isinstance(one, Feel) for one in unfelt(book).entries)
    assert len(unfelt(book).entries) == 2
