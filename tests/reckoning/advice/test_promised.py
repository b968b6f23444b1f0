"""What forecast rain is promised to each bed, and how much of it a dose may count on."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest

from soakbook.garden.pages import Pages
from soakbook.garden.promises import HIGHEST_BAR, Made
from soakbook.garden.records import Planting
from soakbook.garden.tables.places import PLACES
from soakbook.garden.weather import Forecast
from soakbook.reckoning.advice.dose import Need
from soakbook.reckoning.advice.promised import Promised, promised
from soakbook.reckoning.advice.rounds import Morning, morning_on
from soakbook.reckoning.simulation.run import run
from tests.reckoning.forecasts import SERVICE, at_noon, foretold, issued, promising
from tests.reckoning.gardens import (
    PLANTED,
    at,
    bed,
    judged_of,
    mulch,
    pages,
    rain,
    roses,
    season,
    weather,
)

DAY = PLANTED + timedelta(days=9)
BEFORE, NEXT = DAY - timedelta(days=1), DAY + timedelta(days=1)
DUG = roses(origin="dug", plant_class="dug_shrub", ball_volume_l=30.0, ball_diameter_m=0.45)
KNOWN = weather(PLANTED - timedelta(days=5), 60, et0_mm=2.0)
MEMBERS = 21
"""Of ten futures two members go with each; the plain one goes with none."""


def book(*forecasts: Forecast, plantings: Sequence[Planting] = (DUG,), **fields: Any) -> Pages:
    return pages(plantings, forecasts=forecasts, **{"days": KNOWN} | fields)


def told(
    *forecasts: Forecast, visit: date = NEXT, members: int = MEMBERS, **fields: Any
) -> Promised | None:
    """What is promised from DAY to the evening before a visit."""
    of = book(*forecasts, **fields)
    return promised(run(season(of, DAY, members))[-1], visit)


def known(*forecasts: Forecast, **fields: Any) -> Promised:
    found = told(*forecasts, **fields)
    assert found is not None
    return found


def test_nothing_is_promised_where_no_forecast_speaks_of_rain_before_the_visit() -> None:
    assert told() is None
    assert told(promising(DAY, {})) is None
    assert told(promising(DAY, {NEXT: 20.0})) is None
    assert told(issued(BEFORE, foretold(BEFORE, 20.0))) is None
    assert told(issued(DAY, foretold(NEXT, 20.0)), visit=NEXT) is None


def test_the_days_from_the_morning_to_the_evening_before_the_visit_count_together() -> None:
    """Three and two are five; the day of the visit itself is too late."""
    shower = promising(DAY, {DAY: 3.0, NEXT: 2.0, NEXT + timedelta(days=1): 40.0})
    one = known(shower, visit=NEXT, members=1)
    two = known(shower, visit=NEXT + timedelta(days=1), members=1)
    assert (one.until, one.share.tolist(), one.middle_mm.tolist()) == (DAY, [0.0], [3.0])
    assert (two.until, two.share.tolist(), two.middle_mm.tolist()) == (NEXT, [1.0], [5.0])


@pytest.mark.parametrize(("tenths", "good"), [(10, True), (7, True), (6, False), (1, False)])
def test_the_share_is_that_of_the_futures_and_good_from_seven_tenths(
    tenths: int, good: bool
) -> None:
    """Seven futures of ten are seven tenths, whether two members go with each or now and then one more."""
    found = known(promising(DAY, {DAY: 30.0}, tenths=tenths))
    assert found.share.tolist() == [tenths / 10]
    uneven = known(promising(DAY, {DAY: 30.0}, tenths=tenths), members=26)
    assert uneven.share.tolist() == [tenths / 10]
    assert (found.bar, found.good(0)) == (0.70, good)
    assert bool(found.counted_mm[0] > 0) == good


def test_a_forecast_without_members_is_never_good() -> None:
    """Seven of twenty are dry, whatever it says."""
    found = known(issued(DAY, foretold(DAY, 60.0)), members=201)
    assert found.share.tolist() == [0.65]
    assert not found.good(0)


def test_a_bed_is_promised_its_own_share_of_the_rain() -> None:
    """Ten at the gauge are 4.5 at a wall's foot, too little to be useful, and 4 under a tree."""
    places = ("open", "south wall foot", "under a tree canopy")
    beds = [bed(place, place=place) for place in places]
    plantings = tuple(roses(place) for place in places)
    found = known(promising(DAY, {DAY: 10.0}), plantings=plantings, beds=beds, members=1)
    rows = [sorted(one.uid for one in plantings).index(one.uid) for one in plantings]
    shares = [PLACES[place].rain_share for place in places]
    assert shares[1] == 0.45
    assert found.middle_mm[rows].tolist() == pytest.approx([10 * share for share in shares])
    assert found.share[rows].tolist() == [1.0, 0.0, 0.0]
    assert [found.good(row) for row in rows] == [True, False, False]
    assert found.counted_mm[rows].tolist() == pytest.approx([10.0, 0.0, 0.0])


def test_mulch_keeps_some_of_what_is_counted_on_and_none_of_what_comes() -> None:
    """Fresh chip, dry: it takes what its cover lets it, until it is full; the rest goes into the soil."""
    dressed: dict[str, Any] = {"entries": [mulch(at(DAY, 6), 5.0)]}
    of = season(book(**dressed), DAY, 1)
    ground = of.ground(DAY, slice(0, 1))
    cover, room = (
        float(np.ravel(one)[0]) for one in (ground.mulch_cover_fraction, ground.mulch_capacity_mm)
    )
    assert 0 < cover <= 1
    assert 0 < room < 15
    for fall_mm in (6.0, 40.0):
        bare = known(promising(DAY, {DAY: fall_mm}), members=1)
        under = known(promising(DAY, {DAY: fall_mm}), members=1, **dressed)
        assert under.middle_mm.tolist() == bare.middle_mm.tolist() == [fall_mm]
        assert bare.counted_mm.tolist() == [fall_mm]
        kept_mm = min(cover * fall_mm, room)
        assert under.counted_mm.tolist() == pytest.approx([fall_mm - kept_mm])


def test_mulch_that_is_full_keeps_nothing_more() -> None:
    wet = weather(PLANTED - timedelta(days=5), 60, et0_mm=0.0, rain={BEFORE: 60.0})
    found = known(promising(DAY, {DAY: 20.0}), members=1, days=wet, entries=[mulch(PLANTED, 5.0)])
    assert found.counted_mm.tolist() == pytest.approx([20.0], abs=0.2)


def test_counted_on_is_what_seven_of_ten_bring() -> None:
    """Ten futures of 1, 2 ... 10 cm and the plain run of ten: of 21 members the seventh has 40 mm or so."""
    told_of = issued(
        DAY,
        foretold(
            DAY,
            100.0,
            rain_members_mm=tuple(10.0 * n for n in range(1, 11)),
            et0_members_mm=(2.0,) * 10,
            mean_by_hour_mm=at_noon(55.0),
        ),
    )
    measured = bed(rain_share=1.0)
    found = known(told_of, beds=[measured])
    plot = season(book(told_of, beds=[measured]), DAY, MEMBERS)
    bed_mm = np.sort(np.ravel(plot.plot.rain_share) * _fall(plot.numbers))
    assert found.counted_mm[0] == pytest.approx(bed_mm[6])
    assert found.middle_mm[0] == pytest.approx(bed_mm[10])
    assert 25 < found.counted_mm[0] < 45 < found.middle_mm[0]


def _fall(numbers: Any) -> Any:
    return np.where(numbers == 0, 100.0, 10.0 * (1 + (numbers - 1) % 10))


def test_only_what_is_still_to_come_is_promised() -> None:
    """Of 12 mm half at three: the gauge's, the morning's own, or supposed to have fallen."""
    hours = [0.0] * 24
    hours[3] = hours[15] = 6.0
    said = foretold(DAY, 12.0, rain_by_hour_mm=tuple(hours))
    assert known(issued(DAY, said), members=1).middle_mm.tolist() == [6.0]
    assert known(issued(DAY, said, hour=6), members=1).middle_mm.tolist() == [6.0]
    read = rain(at(DAY, 6), 9.0, at(BEFORE, 17))
    assert known(issued(DAY, said, hour=6), members=1, entries=[read]).middle_mm.tolist() == [6.0]


def broken(mornings: int, share: float = 0.9, source: str = SERVICE, lead: int = 1) -> list[Made]:
    """Promises of so many mornings up to two days before DAY, each a day ahead."""
    first = DAY - timedelta(days=1 + lead + mornings)
    return [Made(source, first + timedelta(days=n), lead, share, 8.0) for n in range(mornings)]


SEVEN = promising(DAY, {DAY: 30.0}, tenths=7)
"""15 of 21 members: 0.714."""


@pytest.mark.parametrize(
    ("made", "bar"),
    [
        ([], 0.70),
        (broken(1), 0.70 * 0.8 / (8 / (10 + 1 / 3))),
        (broken(3), 0.70 * 0.8 / (8 / 11)),
        (broken(11), HIGHEST_BAR),
        (broken(9, share=0.69), 0.70),
        (broken(9, source="another"), 0.70),
    ],
    ids=["none made", "one", "three", "eleven", "doubtful ones", "another's"],
)
def test_a_service_that_broke_its_promises_must_be_surer(made: list[Made], bar: float) -> None:
    found = known(SEVEN, promises=tuple(made))
    assert found.bar == pytest.approx(bar)
    good = found.share[0] >= bar
    assert (found.good(0), bool(found.counted_mm[0] > 0)) == (good, good)
    assert good == (bar == 0.70)


def test_kept_promises_and_those_not_yet_known_leave_the_bar() -> None:
    made = broken(3)
    days = {one.issued_on + timedelta(days=n): 9.0 for one in made for n in (0, 1)}
    kept = weather(PLANTED - timedelta(days=5), 60, et0_mm=2.0, rain=days)
    assert known(SEVEN, promises=tuple(made), days=kept).bar == 0.70
    yet_to_come = [Made(SERVICE, BEFORE, lead, 0.9, 8.0) for lead in (1, 2, 3)]
    assert known(SEVEN, promises=tuple(yet_to_come)).bar == 0.70


def test_days_that_were_only_supposed_judge_no_promise() -> None:
    """Nothing measured since: neither a dry forecast behind the morning nor like days break a word."""
    made = tuple(Made(SERVICE, DAY - timedelta(days=n), 1, 0.9, 8.0) for n in (2, 3, 4))
    unseen = [one for one in KNOWN if one.day < DAY - timedelta(days=4)]
    assert known(SEVEN, promises=made).bar > 0.70
    assert known(SEVEN, promises=made, days=unseen).bar == 0.70


def needed(of: Morning) -> Need:
    assert of.judgement is not None
    return of.judgement.need


def a_morning(*forecasts: Forecast, day: date = DAY, **fields: Any) -> Morning:
    return morning_on(book(*forecasts, **fields), day, MEMBERS)


@pytest.mark.parametrize("fall_mm", [6.0, 15.0, 100.0])
def test_a_dose_is_less_by_the_counted_rain_on_reach_and_ring_and_never_in_the_ball(
    fall_mm: float,
) -> None:
    """(43), due since yesterday and soaked: what seven of ten bring over the reach's ground and the ring's."""
    dry = a_morning(promising(DAY, {}))
    wet = a_morning(promising(DAY, {DAY: fall_mm}))
    assert [judged_of(one).verdict for one in (dry, wet)] == ["soak", "soak"]
    less, full, of = needed(wet), needed(dry), wet.judgement
    assert of is not None
    assert of.promise is not None
    counted = of.promise.counted_mm[0]
    assert 0.5 * fall_mm < counted <= fall_mm
    assert np.array_equal(less.ball_l, full.ball_l)
    ground = of.morning.roots.reach_m2 - of.morning.roots.ball_m2
    assert np.allclose(less.reach_l, np.maximum(full.reach_l - counted * ground, 0))
    assert np.all(less.ring_l <= full.ring_l)
    assert np.all(less.nozzle_l <= full.nozzle_l + 1e-12)
    assert np.all(less.nozzle_l >= less.ball_l)
    assert np.all(less.reach_l >= 0)
    assert np.all(less.ring_l >= 0)
    if fall_mm == 100.0:
        assert less.reach_l.max() == 0.0
        assert less.ring_l.max() == 0.0
    assert less.nozzle_l[0, 0] < full.nozzle_l[0, 0]


def litres(of: Morning) -> float:
    return of.calls[0].litres


@pytest.mark.parametrize(("tenths", "smaller"), [(10, True), (7, True), (6, False), (3, False)])
def test_only_a_good_promise_makes_a_dose_smaller(tenths: int, smaller: bool) -> None:
    dry = a_morning(promising(DAY, {}))
    wet = a_morning(promising(DAY, {DAY: 15.0}, tenths=tenths))
    assert judged_of(wet).verdict == "soak"
    assert (litres(wet) < litres(dry)) == smaller
    assert litres(wet) >= 10 * min(needed(wet).ball_l[0])


def test_a_wall_foots_dose_is_not_made_smaller_by_what_does_not_reach_it() -> None:
    """10 mm at the gauge are 4.5 there: no promise, no less water; at 20 mm there is."""
    wall: Mapping[str, Any] = {"beds": [bed(place="south wall foot")]}
    dry, some, more = (
        a_morning(promising(DAY, {DAY: mm} if mm else {}), **wall) for mm in (0.0, 8.0, 20.0)
    )
    assert np.array_equal(needed(some).nozzle_l, needed(dry).nozzle_l)
    assert np.mean(needed(more).reach_l) < np.mean(needed(dry).reach_l)
