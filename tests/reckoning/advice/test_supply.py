"""How a bed can be watered under the rules in the book, and the time it takes."""

from datetime import timedelta
from typing import Any

import pytest

from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Flow, HandMethod, Restriction, Source, Tap
from soakbook.reckoning.advice.supply import flow_on, supply_of, with_cans, work_of
from tests.reckoning.advice.handmade import hose
from tests.reckoning.gardens import PLANTED, bed, pages

DAY = PLANTED + timedelta(days=20)


def tap(
    key: str = "A", source: Source = "mains", method: HandMethod = "lance", **fields: Any
) -> Tap:
    return Tap(f"tap {key}", key, source, method, (Flow(14.0, PLANTED),), **fields)


def rule(tool: Any, source: Any, first: int = 0, last: int = 40) -> Restriction:
    days = (PLANTED + timedelta(days=first), PLANTED + timedelta(days=last))
    return Restriction(f"{tool} {source}", *days, tool, source, "As the company wrote it.")


def book(*taps: Tap, rules: tuple[Restriction, ...] = ()) -> Pages:
    return pages(taps=taps, restrictions=rules)


BED = bed(tap="A")
BUTTS = tap("butts", "butt", "can")


@pytest.mark.parametrize(
    ("of", "means"),
    [
        (tap(), "hose"),
        (tap(method="spray"), "hose"),
        (tap(method="broadcast"), "hose"),
        (tap(method="drip"), "drip"),
        (tap(method="can"), "cans"),
        (tap(source="barrow", tank_l=60.0), "barrow"),
    ],
)
def test_a_tap_that_nothing_bars_is_used_as_it_is(of: Tap, means: str) -> None:
    found = supply_of(book(of), BED, DAY)
    assert (found.means, found.method, found.tap, found.flow_l_per_min) == (
        means,
        of.method,
        "A",
        14.0,
    )
    assert (found.barred, found.tank_l, found.walk_m, found.can_l) == (None, of.tank_l, 20.0, 10.0)


def test_a_barred_hose_is_cans_from_the_same_tap() -> None:
    ban = rule("hose", "mains")
    found = supply_of(book(tap(), BUTTS, rules=(ban,)), BED, DAY)
    assert (found.means, found.method, found.tap, found.barred) == ("cans", "can", "A", ban)


@pytest.mark.parametrize(
    "rules", [(rule("all", "mains"),), (rule("hose", "mains"), rule("can", "mains"))]
)
def test_where_cans_from_the_mains_are_barred_too_they_are_filled_at_the_butts(
    rules: tuple[Restriction, ...],
) -> None:
    found = supply_of(book(tap(), tap("B"), BUTTS, rules=rules), BED, DAY)
    assert (found.means, found.tap, found.barred) == ("cans", "butts", rules[0])


@pytest.mark.parametrize(
    "rules", [(rule("all", "all"),), (rule("hose", "all"), rule("can", "all"))]
)
def test_where_everything_is_barred_there_is_no_way(rules: tuple[Restriction, ...]) -> None:
    found = supply_of(book(tap(), BUTTS, rules=rules), BED, DAY)
    assert (found.means, found.tap, found.barred) == ("none", None, rules[0])


@pytest.mark.parametrize(
    ("of", "of_rule", "means"),
    [
        (tap(), rule("hose", "butt"), "hose"),
        (tap(), rule("can", "mains"), "hose"),
        (tap(), rule("drip", "mains"), "hose"),
        (tap(method="drip"), rule("hose", "mains"), "drip"),
        (tap(method="drip"), rule("drip", "mains"), "cans"),
        (tap(method="spray"), rule("spray", "mains"), "cans"),
        (tap(method="spray"), rule("hose", "mains"), "cans"),
        (tap(), rule("spray", "mains"), "hose"),
        (tap(source="butt"), rule("hose", "mains"), "hose"),
        (tap(source="barrow"), rule("hose", "mains"), "barrow"),
    ],
)
def test_a_rule_bars_its_own_tool_from_its_own_source(
    of: Tap, of_rule: Restriction, means: str
) -> None:
    assert supply_of(book(of, rules=(of_rule,)), BED, DAY).means == means


@pytest.mark.parametrize(("day", "means"), [(9, "hose"), (10, "cans"), (30, "cans"), (31, "hose")])
def test_a_rule_holds_from_its_first_day_to_its_last(day: int, means: str) -> None:
    restricted = book(tap(), rules=(rule("hose", "mains", 10, 30),))
    assert supply_of(restricted, BED, PLANTED + timedelta(days=day)).means == means


NO_TAP = bed(tap=None)


@pytest.mark.parametrize("of_bed", [NO_TAP, bed(tap="gone")])
def test_a_bed_without_a_tap_is_watered_by_can(of_bed: Bed) -> None:
    found = supply_of(book(tap(), rules=(rule("hose", "all"),)), of_bed, DAY)
    assert (found.means, found.tap, found.flow_l_per_min, found.barred) == (
        "cans",
        None,
        None,
        None,
    )


def test_and_rules_on_cans_hold_there_too() -> None:
    """Carried from the butts when the mains are barred; not at all when every source is."""
    mains, every = rule("can", "mains"), rule("all", "all")
    assert supply_of(book(tap(), BUTTS, rules=(mains,)), NO_TAP, DAY).means == "cans"
    barred = supply_of(book(tap(), rules=(mains,)), NO_TAP, DAY)
    assert (barred.means, barred.barred) == ("none", mains)
    assert supply_of(book(rules=(every,)), NO_TAP, DAY).means == "none"
    assert supply_of(book(rules=(mains,)), NO_TAP, DAY).means == "cans"


def test_a_flow_is_that_of_the_last_test_by_the_day() -> None:
    tested = [Flow(9.0, DAY + timedelta(days=9)), Flow(14.0, PLANTED), Flow(11.0, DAY)]
    of = Tap("tap", "A", flows=tuple(tested))
    days = (
        PLANTED - timedelta(days=9),
        PLANTED,
        DAY - timedelta(days=1),
        DAY,
        DAY + timedelta(days=30),
    )
    assert [flow_on(of, day) for day in days] == [14.0, 14.0, 14.0, 11.0, 9.0]
    assert flow_on(Tap("tap", "A"), DAY) is None


def test_by_hose_the_tap_is_open_in_half_minutes_and_stops_and_walk_come_on_top() -> None:
    """40 L at 12 L/min is 3 1/3: 3 1/2 min; 10 plants x 4 s, 3 min a bed, 2 x 20 m at 1 m/s."""
    work = work_of(hose(), 40.0, 10)
    assert (work.minutes, work.cans, work.tanks) == (3.5, None, None)
    assert work.minutes_on_foot == pytest.approx(3.5 + 40 / 60 + 3.0 + 40 / 60)


def test_by_drip_nobody_stops_at_a_plant() -> None:
    by_hand, drip = work_of(hose(), 40.0, 10), work_of(hose(means="drip"), 40.0, 10)
    assert drip.minutes == by_hand.minutes
    assert by_hand.minutes_on_foot - drip.minutes_on_foot == pytest.approx(40 / 60)


def test_exact_half_minutes_are_not_rounded_on() -> None:
    assert work_of(hose(), 42.0, 10).minutes == 3.5
    assert work_of(hose(flow_l_per_min=0.1), 0.3, 1).minutes == 3.0


def test_a_can_takes_27_seconds_and_its_walk() -> None:
    """41 L are five cans; each is carried 2 x 20 m."""
    work = work_of(with_cans(hose()), 41.0, 10)
    assert (work.minutes, work.cans) == (3.5, 5)
    assert work.minutes_on_foot == pytest.approx(3.0 + 5 * (27 + 40) / 60)


def test_a_barrow_takes_its_filling_and_its_walk_for_every_tank() -> None:
    """420 L out of 60 L tanks, 140 m: 7 of them; 120 whips; about 2 h 15 by the trade: common practice, no source."""
    barrow = hose(means="barrow", tank_l=60.0, flow_l_per_min=6.0, walk_m=140.0)
    work = work_of(barrow, 420.0, 120)
    assert (work.minutes, work.tanks, work.cans) == (70.0, 7, None)
    assert work.minutes_on_foot == pytest.approx(70 + 3 + 120 * 4 / 60 + 7 * (4 + 280 / 60))
    assert work.minutes_on_foot == pytest.approx(135, abs=15)


def test_nothing_to_give_takes_no_time_and_an_untested_tap_no_minutes() -> None:
    assert work_of(hose(), 0.0, 0) == (None, 0.0, None, None)
    untested = work_of(hose(flow_l_per_min=None), 40.0, 10)
    assert untested.minutes is None
    assert untested.minutes_on_foot > 4
