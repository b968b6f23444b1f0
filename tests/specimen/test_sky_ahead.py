"""The invented forecasts are what their dice make, and as honest as they say."""

import csv
import math
from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta
from functools import cache
from itertools import pairwise
from pathlib import Path
from random import Random
from statistics import fmean, stdev
from typing import NamedTuple

import pytest

from soakbook import specimen
from soakbook.garden.promises import USEFUL_RAIN_MM, chance_of, judge_promises, made_by
from soakbook.garden.weather import Forecast
from soakbook.specimen import text
from soakbook.specimen.sky_ahead import (
    COLUMNS,
    DAYS_AHEAD,
    MEMBERS,
    Belief,
    rows,
)

FILE = Path(specimen.__path__[0]) / "source" / "forecasts.csv"
FIRST, LAST = date(2031, 2, 1), date(2031, 10, 31)
SEASON = (date(2031, 4, 1), date(2031, 9, 30))
LEADS = range(DAYS_AHEAD)
CHI_SQUARE_999 = {4: 18.47, 6: 22.46}
"""Degrees of freedom -> what one honest table in a thousand goes beyond; printed in any statistical table."""

BINS = 7
"""The 21 places among 20 members, three to a bin: some 39 mornings in each."""

SHARES = (0.0, 0.1, 0.3, 0.7)
"""Lower ends of the classes of chance: rain not, hardly, perhaps, surely to come."""


class Seen(NamedTuple):
    """One day ahead of one morning: what the members had, and what came."""

    members: tuple[float, ...]
    came: float


@cache
def forecasts() -> tuple[Forecast, ...]:
    return text.forecasts()


@cache
def weather() -> dict[date, tuple[float, float]]:
    """Rain and ET0 that came."""
    return {
        date.fromisoformat(row["date"]): (float(row["rain_mm"]), float(row["eto_mm"]))
        for row in text.rows("weather")
    }


def seen(variable: str, lead: int, span: tuple[date, date] = (FIRST, LAST)) -> list[Seen]:
    """All mornings of which it is known what came so many days later."""
    found = []
    for issue in forecasts():
        day = issue.days[lead]
        if day.day in weather() and span[0] <= day.day <= span[1]:
            rain_mm, et0_mm = weather()[day.day]
            if variable == "rain":
                found.append(Seen(day.rain_members_mm, rain_mm))
            else:
                found.append(Seen(day.et0_members_mm, round(et0_mm, 1)))
    return found


def places(mornings: list[Seen]) -> Iterator[int]:
    """How many members lay below what came, 0-20; those equal to it are put below or above by chance."""
    dice = Random(1)
    for one in mornings:
        below = sum(member < one.came for member in one.members)
        equal = sum(member == one.came for member in one.members)
        yield below + dice.randint(0, equal)


def unevenness(mornings: list[Seen]) -> float:
    """Pearson's chi-square of the places, in bins of three, against equal numbers."""
    counts = [0] * BINS
    for place in places(mornings):
        counts[place * BINS // (MEMBERS + 1)] += 1
    expected = len(mornings) / BINS
    return sum((count - expected) ** 2 / expected for count in counts)


def windows(days: int) -> list[tuple[float, bool]]:
    """Chance of useful rain from each morning on for so many days, and whether it came."""
    found = []
    for issue in forecasts():
        span = [issue.days[0].day + timedelta(days=n) for n in range(days)]
        if span[-1] in weather():
            came = sum(weather()[day][0] for day in span) >= USEFUL_RAIN_MM - 1e-9
            found.append((chance_of(issue, span[0], span[-1]), came))
    return found


def faithlessness(given: Sequence[tuple[float, bool]]) -> float:
    """Chi-square of how often it came against the chances given, over the classes of chance."""
    total = 0.0
    for low, high in pairwise((*SHARES, 1.01)):
        chances = [(chance, came) for chance, came in given if low <= chance < high]
        # A chance of 20 members is known to a twentieth: never surer than half a member of either.
        held = [min(max(chance, 0.5 / MEMBERS), 1 - 0.5 / MEMBERS) for chance, _ in chances]
        variance = sum(chance * (1 - chance) for chance in held)
        if variance:
            total += (sum(came for _, came in chances) - sum(held)) ** 2 / variance
    return total


def test_the_file_is_what_the_dice_make() -> None:
    made = "".join(",".join(line) + "\n" for line in (COLUMNS, *rows()))
    assert FILE.read_bytes() == made.encode()
    assert len(made) < 1.6e6


def test_every_morning_has_eight_days_of_twenty_members() -> None:
    mornings = [FIRST + timedelta(days=n) for n in range((LAST - FIRST).days + 1)]
    assert [one.issued_at for one in forecasts()] == [
        datetime(day.year, day.month, day.day, 5, tzinfo=text.ZONE) for day in mornings
    ]
    for issue, morning in zip(forecasts(), mornings, strict=True):
        assert issue.source == "specimen forecast"
        assert [one.day for one in issue.days] == [morning + timedelta(days=n) for n in LEADS]
        for day in issue.days:
            assert (len(day.rain_members_mm), len(day.et0_members_mm)) == (MEMBERS, MEMBERS)
            assert day.rain_mm == pytest.approx(fmean(day.rain_members_mm))
            assert day.et0_mm == pytest.approx(fmean(day.et0_members_mm))
            assert min(day.rain_members_mm) >= 0
            assert min(day.et0_members_mm) > 0


def test_the_reader_reads_line_by_line() -> None:
    """The last line of the file is the last member of the last day."""
    with FILE.open(encoding="utf-8", newline="") as file:
        *_, last = csv.DictReader(file)
    day = forecasts()[-1].days[-1]
    assert (last["issued_on"], last["for_day"], last["member"]) == (
        "2031-10-31",
        "2031-11-07",
        "19",
    )
    assert day.rain_members_mm[-1] == float(last["rain_mm"])
    assert day.et0_members_mm[-1] == float(last["et0_mm"])


@pytest.mark.parametrize("lead", LEADS)
@pytest.mark.parametrize("variable", ["rain", "et0"])
def test_what_came_stands_anywhere_among_the_members(variable: str, lead: int) -> None:
    """A flat rank histogram. Lead by lead, because one morning's leads are told much the same."""
    assert unevenness(seen(variable, lead)) < CHI_SQUARE_999[BINS - 1]


@pytest.mark.parametrize("times", [0.5, 2.0])
def test_a_wrong_spread_would_be_found(times: float) -> None:
    """ET0 three days ahead with its members drawn together, or apart, round their mean."""
    wrong = [
        Seen(
            tuple(fmean(one.members) + times * (mm - fmean(one.members)) for mm in one.members),
            one.came,
        )
        for one in seen("et0", 3)
    ]
    assert unevenness(wrong) > CHI_SQUARE_999[BINS - 1]


@pytest.mark.parametrize("lead", LEADS)
def test_the_chance_of_a_wet_day_is_kept(lead: int) -> None:
    """Wet from 1 mm. The four classes of chance together."""
    given = [
        (sum(mm >= 1 for mm in one.members) / MEMBERS, one.came >= 1) for one in seen("rain", lead)
    ]
    assert faithlessness(given) < CHI_SQUARE_999[len(SHARES)]


@pytest.mark.parametrize("days", [2, 3, 4])
def test_the_chance_of_useful_rain_is_kept(days: int) -> None:
    """5 mm or more from the morning to one, two and three days later: what promises are made from."""
    assert faithlessness(windows(days)) < CHI_SQUARE_999[len(SHARES)]


def test_boasting_would_be_found() -> None:
    """Chances of a third more than the members have."""
    boasting = [(min(1.0, chance * 4 / 3 + 0.1), came) for chance, came in windows(2)]
    assert faithlessness(boasting) > CHI_SQUARE_999[len(SHARES)]


def test_spread_grows_with_the_days_ahead() -> None:
    """ET0 by about 0.4 mm to the third day and up to 0.6 beyond, rain from sure to little better than the season."""
    spread = [fmean(stdev(one.members) for one in seen("et0", lead, SEASON)) for lead in LEADS]
    assert all(near < far for near, far in pairwise(spread))
    assert fmean(spread[1:4]) == pytest.approx(0.4, abs=0.05)
    assert 0.45 < fmean(spread[4:]) < 0.6
    doubt = [
        fmean(p * (1 - p) for p in (sum(mm >= 1 for mm in one.members) / MEMBERS for one in given))
        for given in (seen("rain", lead) for lead in LEADS)
    ]
    assert all(near < far for near, far in pairwise(doubt))


def test_wet_members_have_less_et0() -> None:
    for lead in LEADS:
        less = [
            fmean(wet) < fmean(dry)
            for issue in forecasts()
            if SEASON[0] <= issue.days[lead].day <= SEASON[1]
            for wet, dry in [split(issue, lead)]
            if len(wet) >= 5 and len(dry) >= 5
        ]
        assert sum(less) > 0.9 * len(less) > 0


def split(issue: Forecast, lead: int) -> tuple[list[float], list[float]]:
    """ET0 of a day's wet members, and of its dry ones."""
    day = issue.days[lead]
    both = list(zip(day.rain_members_mm, day.et0_members_mm, strict=True))
    return [et0 for rain, et0 in both if rain >= 1], [et0 for rain, et0 in both if rain == 0]


def test_a_far_rain_comes_a_day_early_or_late() -> None:
    """Where days 4 and 5 are both in doubt, members wet on one are seldomer wet on the other than by chance."""
    both, by_chance = 0.0, 0.0
    for issue in forecasts():
        wet = [[mm >= 1 for mm in issue.days[lead].rain_members_mm] for lead in (4, 5)]
        both += fmean(a and b for a, b in zip(*wet, strict=True))
        by_chance += fmean(wet[0]) * fmean(wet[1])
    assert both < 0.85 * by_chance


def midnight(issued_at: datetime) -> datetime:
    """The one before."""
    return issued_at.replace(hour=0)


def test_three_good_promises_are_broken_in_the_season() -> None:
    """From the midnight before the issue through the next day; the seed is chosen so."""
    rain = {day: mm for day, (mm, _) in weather().items()}
    whole = [one._replace(issued_at=midnight(one.issued_at)) for one in forecasts()]
    record = judge_promises(made_by(whole, text.ZONE), rain, LAST + timedelta(days=1))
    good = [
        one
        for one in record.promises
        if one.promise.good and one.lead_days == 1 and SEASON[0] <= one.issued_on <= SEASON[1]
    ]
    assert [one.outcome for one in good].count("broken") == 3
    assert [one.outcome for one in good].count("kept") == len(good) - 3 > 3


def test_no_good_promise_round_the_morning_of_the_story() -> None:
    rain = {day: mm for day, (mm, _) in weather().items()}
    record = judge_promises(made_by(forecasts(), text.ZONE), rain, LAST)
    story = (date(2031, 5, 12), date(2031, 5, 18))
    found = [one for one in record.promises if story[0] <= one.issued_on <= story[1]]
    assert found
    assert not any(one.promise.good for one in found)


def test_hearing_of_two_days_together() -> None:
    """By hand: two unknown days, their sum over sqrt 2 heard as 1 with an error of variance 1."""
    weights = (math.sqrt(0.5), math.sqrt(0.5))
    after = Belief((0.0, 0.0), ((1.0, 0.0), (0.0, 1.0))).told(weights, 1.0, 1.0)
    assert after.mean == pytest.approx((math.sqrt(0.125), math.sqrt(0.125)))
    assert [list(row) for row in after.covariance] == [
        pytest.approx([0.75, -0.25]),
        pytest.approx([-0.25, 0.75]),
    ]


def test_a_day_later() -> None:
    """By hand: today drops out; of 1.0 with variance 0.5 the day after gets 0.3, and its variance is 0.955."""
    later = Belief((2.0, 1.0), ((0.5, 0.2), (0.2, 0.5))).next_morning(0.3)
    assert later.mean == pytest.approx((1.0, 0.3))
    assert [list(row) for row in later.covariance] == [
        pytest.approx([0.5, 0.15]),
        pytest.approx([0.15, 0.3**2 * 0.5 + 1 - 0.3**2]),
    ]


def test_draws_have_the_mean_and_the_covariance_believed() -> None:
    """Within five standard errors of 4000 draws."""
    belief = Belief((1.0, -2.0), ((0.75, -0.25), (-0.25, 0.5)))
    drawn = list(belief.draws(Random(3), 4000))
    first, second = [one[0] for one in drawn], [one[1] for one in drawn]
    assert fmean(first) == pytest.approx(1, abs=5 * math.sqrt(0.75 / 4000))
    assert fmean(second) == pytest.approx(-2, abs=5 * math.sqrt(0.5 / 4000))
    together = fmean((a - 1) * (b + 2) for a, b in drawn)
    assert together == pytest.approx(-0.25, abs=5 * math.sqrt((0.75 * 0.5 + 0.0625) / 4000))
