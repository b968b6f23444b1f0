"""What if on the screen: every figure with its doubt, refusals in words."""

import pytest

from soakbook.account.ways import ByRound, Doubt, Given, Way
from soakbook.cli.paper import Page
from soakbook.cli.ways_page import write_ways
from soakbook.reckoning.advice.report import as_json
from tests.cli.words import amiss

DRY, MORE = Doubt(356, 274, 446), Doubt(36, 19, 51)
NONE = Doubt(0, 0, 0)
ROUND = ByRound(
    Doubt(32526, 27802, 35060), Doubt(410, 380, 501), Doubt(341, 313, 412), NONE, NONE, NONE
)
WAYS = (
    Way("as_it_was", "as it was", "", Given(32233, 418, DRY, NONE), ROUND),
    Way("no_mulch", "without mulch", "", Given(32233, 418, Doubt(389, 306, 480), MORE), ROUND),
    Way("autumn", "planted on 1 October 2030", "", refused="the weather begins on 1 February 2031"),
    Way(
        "umn",
        "Minnesota calendar",
        "",
        Given(33573, 483, Doubt(668, 619, 718), Doubt(315, 238, 381)),
    ),
    Way("no_mulch", "without mulch", "dole", Given(1, 1, DRY, MORE)),
)


@pytest.fixture(params=[60, 80])
def page(request: pytest.FixtureRequest) -> Page:
    found = Page(request.param)
    write_ways(found, [as_json(way) for way in WAYS])
    return found


def words(page: Page) -> str:
    return " ".join(str(page).split())


def test_lines_fit_and_are_in_a_gardener_s_words(page: Page) -> None:
    assert amiss(str(page), page.width) == []


def test_each_way_is_told_with_its_doubt(page: Page) -> None:
    told = words(page)
    assert (
        "As it was as given dry days 356 (274 to 446) by the round 410 (380 to 501) waterings"
        in told
    )
    assert "32.53 (27.80 to 35.06) m³, dry days 341 (313 to 412)" in told
    assert "Without mulch as given dry days 389 (306 to 480), 36 more (19 to 51)" in told
    assert (
        "as printed 483 waterings, 33.57 m³, dry days 668 (619 to 718), 315 more (238 to 381)"
        in told
    )


def test_what_cannot_be_reckoned_says_why(page: Page) -> None:
    assert "not reckoned the weather begins on 1 February 2031" in words(page)


def test_the_beds_have_their_own_pages(page: Page) -> None:
    assert words(page).count("Without mulch") == 1
