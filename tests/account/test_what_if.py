"""What if: the season as it was and as it might have been, as given and by the round."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest

from soakbook.account.season import Span, span_of
from soakbook.account.ways import WHAT_IF_COLUMNS, Way, what_if_frame
from soakbook.account.what_if import NOTHING_TO_RECKON, Size, what_if
from soakbook.account.worlds import without_mulch
from soakbook.errors import InputError
from soakbook.garden.entries import Soak
from soakbook.garden.pages import Pages
from soakbook.reckoning.simulation.run import Dawn, run
from tests.reckoning.gardens import (
    at,
    bed,
    feel,
    garden,
    loss,
    mulch,
    pages,
    roses,
    season,
    soak,
    weather,
    with_entries,
)

SMALL = Size(members=30, round_members=20, drawn=2)
PLANTED = date(2031, 4, 20)
SOAKS = [
    soak(at(PLANTED + timedelta(days=n), 7), 25.0, planting_uid="bed/roses")
    for n in range(0, 90, 5)
]
BOOK = pages(
    [roses(planted_on=PLANTED), roses("wall", name="climbers", count=4, planted_on=PLANTED)],
    [
        *SOAKS,
        mulch(PLANTED + timedelta(days=2)),
        feel(at(PLANTED + timedelta(days=9), 6), ball="moist", bed="wet"),
        loss(PLANTED + timedelta(days=50), 3),
    ],
    beds=[bed("wall", soil="sandy loam", place="south wall foot")],
    days=weather(
        date(2030, 9, 20), 300, rain={PLANTED + timedelta(days=n): 11.0 for n in range(-200, 80, 9)}
    ),
)  # fmt: skip


def span(book: Pages = BOOK, asked: date = date(2031, 7, 15)) -> Span:
    return span_of(book.garden, 2031, asked)


@pytest.fixture(scope="module")
def ways() -> dict[tuple[str, str], Way]:
    return {(one.key, one.bed): one for one in what_if(BOOK, span(), size=SMALL)}


def test_a_row_for_every_way_of_the_garden_and_of_each_bed(
    ways: dict[tuple[str, str], Way],
) -> None:
    keys = ["as_it_was", "no_mulch", "more_mulch", "month_earlier", "autumn", "twice_half",
            "none", "umn", "umn_rain", "uf", "councils", "wardens"]  # fmt: skip
    assert list(ways) == [(key, name) for name in ("", "wall", "bed") for key in keys]
    for one in ways.values():
        assert one.refused == ""
        assert one.given is not None
        assert (one.by_round is None) == (one.key in keys[6:])


def test_as_given_has_the_book_s_own_litres_and_visits(ways: dict[tuple[str, str], Way]) -> None:
    for key in ("as_it_was", "no_mulch", "more_mulch", "month_earlier", "autumn"):
        given = ways[key, ""].given
        assert given is not None
        assert (given.litres, given.visits) == (18 * 25.0, 18)
    half = ways["twice_half", ""].given
    assert half is not None
    assert (half.litres, half.visits) == (18 * 25.0, 9)
    none = ways["none", ""].given
    assert none is not None
    assert (none.litres, none.visits) == (0.0, 0)


def test_the_season_as_it_was_is_what_the_others_are_held_against(
    ways: dict[tuple[str, str], Way],
) -> None:
    for name in ("", "bed", "wall"):
        same = ways["as_it_was", name]
        assert same.given is not None
        assert same.by_round is not None
        assert set(same.given.dry_days_change) == {0.0}
        assert {*same.by_round.litres_change, *same.by_round.visits_change} == {0.0}
        assert same.by_round.dry_days_change == (0.0, 0.0, 0.0)
        bare = ways["no_mulch", name]
        assert bare.by_round is not None
        change = bare.by_round.litres.middle - same.by_round.litres.middle
        assert bare.by_round.litres_change.middle == pytest.approx(change)
        assert bare.by_round.litres_change.low <= change <= bare.by_round.litres_change.high


def test_a_world_that_changes_nothing_is_the_season_as_it_was() -> None:
    """A garden never dressed and planted before the season: without mulch it is the same to the last bit."""
    bare = without_mulch(BOOK)
    found = {one.key: one for one in what_if(bare, span(), size=SMALL) if one.bed == ""}
    same, other = found["as_it_was"], found["no_mulch"]
    assert same._replace(key="", words="") == other._replace(key="", words="")


def test_the_beds_add_up_to_the_garden(ways: dict[tuple[str, str], Way]) -> None:
    for key in ("as_it_was", "more_mulch", "autumn", "councils"):
        parts = [ways[key, name].given for name in ("bed", "wall")]
        whole = ways[key, ""].given
        assert whole is not None
        assert whole.litres == pytest.approx(sum(one.litres for one in parts if one))
        assert whole.visits == sum(one.visits for one in parts if one)


def test_no_water_leaves_the_most_dry_days(ways: dict[tuple[str, str], Way]) -> None:
    none = ways["none", "bed"].given
    assert none is not None
    for (key, name), one in ways.items():
        if name == "bed" and key not in ("autumn", "month_earlier") and one.given is not None:
            assert one.given.dry_days.middle <= none.dry_days.middle, key
    round_kept = ways["as_it_was", "wall"].by_round
    never_watered = ways["as_it_was", "wall"].given
    assert round_kept is not None
    assert never_watered is not None
    assert round_kept.litres.low > 0
    assert round_kept.dry_days.high < never_watered.dry_days.middle


def test_more_water_never_leaves_more_dry_days() -> None:
    found = []
    for times in (0.25, 1.0, 4.0):
        more = tuple(
            replace(one, litres=times * one.litres) if isinstance(one, Soak) else one
            for one in BOOK.entries
        )
        ways = what_if(without_feels(BOOK._replace(entries=more)), span(), "bed", SMALL)
        assert ways[0].given is not None
        found.append(ways[0].given.dry_days)
    for less, more_water in pairwise(found):
        assert all(a >= b for a, b in zip(less, more_water, strict=True))
    assert found[0].middle > found[-1].middle


def without_feels(book: Pages) -> Pages:
    return book._replace(entries=tuple(one for one in book.entries if type(one).__name__ != "Feel"))


def test_without_mulch_no_less_dries_off_the_ground() -> None:
    def dried(book: Pages) -> float:
        litres: list[float] = []

        def watch(dawn: Dawn) -> None:
            if dawn.flows is not None:
                litres.append(float(np.sum(dawn.flows.soil_evaporated_l)))

        run(season(book, span().asked), watch=watch)
        return sum(litres)

    assert dried(without_mulch(BOOK)) > dried(BOOK)


def test_one_bed_alone_has_its_own_numbers(ways: dict[tuple[str, str], Way]) -> None:
    """With hours enough for all it is the bed's row of the whole garden."""
    alone = what_if(BOOK, span(), "bed", SMALL)
    assert list(alone) == [one for (_, name), one in ways.items() if name == "bed"]


def test_a_bed_that_is_not_there_is_named() -> None:
    with pytest.raises(InputError, match="bed: 'pond' cannot be right; one of the garden's beds: "):
        what_if(BOOK, span(), "pond", SMALL)


def test_weather_that_does_not_reach_back_is_asked_for_and_the_rest_is_reckoned() -> None:
    short = BOOK._replace(weather=tuple(one for one in BOOK.weather if one.day >= date(2031, 2, 1)))
    found = {one.key: one for one in what_if(short, span(), "wall", SMALL)}
    assert "begins on 1 February 2031" in found["autumn"].refused
    assert found["autumn"].given is None
    assert found["autumn"].by_round is None
    assert found["month_earlier"].given is not None


@pytest.mark.parametrize(
    "book",
    [
        BOOK._replace(weather=()),
        BOOK._replace(plantings=()),
        BOOK._replace(weather=tuple(one for one in BOOK.weather if one.day.year < 2031)),
    ],
)
def test_nothing_to_reckon_with_is_said_in_every_row(book: Pages) -> None:
    found = what_if(book, span(), size=SMALL)
    assert len(found) == 6
    assert {one.refused for one in found} == {NOTHING_TO_RECKON}


def test_a_season_south_of_the_equator() -> None:
    """Planted on 1 October 2031, in spring; in autumn is 1 April, before the season's first day."""
    planted = date(2031, 10, 1)
    book = pages(
        [roses(planted_on=planted)],
        [soak(at(planted + timedelta(days=n), 7), 30.0) for n in range(0, 60, 6)],
        days=weather(date(2031, 3, 20), 290),
        garden=garden(latitude_deg=-36.8, timezone="Pacific/Auckland"),
    )
    asked = span_of(book.garden, 2031, date(2031, 12, 15))
    assert asked.first == date(2031, 7, 1)
    found = {one.key: one for one in what_if(book, asked, "bed", SMALL)}
    assert found["autumn"].words == "planted on 1 April 2031"
    assert {one.refused for one in found.values()} == {""}
    assert found["autumn"].given != found["as_it_was"].given
    assert found["councils"].given is not None
    assert found["councils"].given.visits == 10  # weeks from 1 October to 14 December


def test_the_frame_has_a_row_for_every_way_and_its_columns_as_documented(
    ways: dict[tuple[str, str], Way],
) -> None:
    frame = what_if_frame([*ways.values(), Way("autumn", "in autumn", refused="no weather")])
    assert list(frame.columns) == list(WHAT_IF_COLUMNS)
    assert len(frame) == len(ways) + 1
    by_way = frame[frame["bed"] == ""].set_index("way")
    was = ways["as_it_was", ""]
    assert was.given is not None
    assert was.by_round is not None
    assert by_way.loc["as_it_was", "given_dry_days_high"] == was.given.dry_days.high
    assert by_way.loc["as_it_was", "round_litres"] == was.by_round.litres.middle
    assert by_way["round_litres"].isna()["umn"]
    assert frame["given_litres"].isna().tolist() == [False] * len(ways) + [True]
    assert frame.iloc[-1]["refused"] == "no weather"


PARTED = PLANTED + timedelta(days=33)


def parted() -> Pages:
    """Four of the roses are a bed of their own from a day on, between two soaks."""
    nook = bed("nook", area_m2=10.0, parted_from="bed", parted_on=PARTED)
    own = BOOK.plantings[0]._replace(
        uid="nook/roses", bed_uid="nook", count=4, came_from="bed/roses", parted_on=PARTED
    )
    went = replace(loss(PARTED, 4), cause="parted")
    later = soak(at(PARTED + timedelta(days=1), 7), 8.0, "nook")
    return with_entries(
        BOOK._replace(beds=(*BOOK.beds, nook), plantings=(*BOOK.plantings, own)), went, later
    )


def test_a_bed_parted_in_the_season_is_given_what_was_entered_and_no_more() -> None:
    """What its plants had before stands under the bed that they stood in then."""
    book = parted()
    found = {(one.key, one.bed): one.given for one in what_if(book, span(book), size=SMALL)}
    for key in ("as_it_was", "no_mulch", "month_earlier", "twice_half"):
        whole, nook, rest = (found[key, name] for name in ("", "nook", "bed"))
        assert whole is not None
        assert nook is not None
        assert rest is not None
        assert whole.litres == 18 * 25.0 + 8.0
        assert (nook.litres, nook.visits) == (8.0, 1)
        assert (rest.litres, rest.visits) == (18 * 25.0, 9 if key == "twice_half" else 18)
