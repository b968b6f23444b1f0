"""The round followed every morning of some months: every soak given as it is called, nothing else, and nobody feels.

Each morning sees what it could have known of weather, mulch and losses, but no forecast; the garden is stepped on with
the weather that came. Of soil, plants, rain shares and rules they believe what the season does.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

import numpy as np

from soakbook.garden.entries import AnyEntry, Loss, MulchLaid, Rain, Ruler, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Uid
from soakbook.reckoning.advice.calling import BedCall, bed_calls
from soakbook.reckoning.advice.dry_days import DryDays
from soakbook.reckoning.advice.due import PATIENCE, RISK, below
from soakbook.reckoning.advice.judging import judge
from soakbook.reckoning.advice.visits import hours_on, next_visit, people_on
from soakbook.reckoning.advice.walk import fitted
from soakbook.reckoning.advice.what_if import DAYS_TO_COUNT_A_ROUND, as_if_done
from soakbook.reckoning.physics.records import Ground
from soakbook.reckoning.simulation.ahead import evenings, standing
from soakbook.reckoning.simulation.bands import mean_of
from soakbook.reckoning.simulation.gardens import Gardens
from soakbook.reckoning.simulation.knowing import by_round_hour, known_on
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.leaf import LeafDays, leaf_days
from soakbook.reckoning.simulation.mulching import Laying, layings_by_bed
from soakbook.reckoning.simulation.run import Dawn, next_dawn, run
from soakbook.reckoning.simulation.season import HORIZON_DAYS, Season
from soakbook.reckoning.simulation.skies import Skies, skies_of
from soakbook.reckoning.simulation.watering import Given, given_by_step, local_day

A_DAY = timedelta(days=1)
DIARY_DAYS = 2
"""So far back a round looks for soaks: a dose asks whether one was given within a day."""


class Seen(NamedTuple):
    """What a morning knows of the weather, no forecast among it, and of leaves."""

    skies: Skies
    leaf_days: LeafDays


class Habit(NamedTuple):
    """How the round is followed: so many times each dose, at so many times its interval; watering in stays as it is."""

    dose_times: int = 1
    interval_times: int = 1


AS_CALLED = Habit()


class Followed(NamedTuple):
    """What following the round came to: what was given, oldest first, and how dry the beds stood."""

    soaks: tuple[Soak, ...]
    dry: DryDays


def seen_on_mornings(pages: Pages, first: date, end: date) -> Mapping[date, Seen]:
    """What each morning from `first` to the day before `end` knows of the weather; none where there is none yet."""
    southern, found = pages.garden.latitude_deg < 0, {}
    gauge = tuple(one for one in pages.entries if isinstance(one, Rain))
    alone = pages._replace(beds=(), plantings=(), entries=gauge, forecasts=())
    for number in range((end - first).days):
        day = first + timedelta(days=number)
        skies = skies_of(known_on(alone, day), day)
        if skies is not None:
            found[day] = Seen(skies, leaf_days(skies, southern))
    return found


def left_to_the_round(pages: Pages, first: date, since: Mapping[Uid, date]) -> Pages:
    """The pages without the soaks of the days on which the round is followed: from `first`, or a bed's own day."""
    zone = ZoneInfo(pages.garden.timezone)

    def stays(entry: AnyEntry) -> bool:
        return not isinstance(entry, Soak) or (
            local_day(entry.happened_at, zone) < since.get(entry.bed_uid, first)
        )

    entries = tuple(one for one in pages.entries if stays(one))
    return pages._replace(entries=entries, forecasts=())


def follow(
    gardens: Gardens,
    first: date,
    since: Mapping[Uid, date],
    seen: Mapping[date, Seen],
    habit: Habit = AS_CALLED,
) -> Followed:
    """The round followed from a day on to the season's morning, in every garden by itself.

    Parameters
    ----------
    gardens : Gardens
        Of pages that `left_to_the_round` has made, their season up to the first morning that is not followed.
    first : date
        The first morning that is.
    since : mapping of str to date
        Beds, by the uid of the book, that are followed from an earlier day on.
    seen : mapping of date to Seen
        What each morning knows of the weather.
    habit : Habit

    Notes
    -----
    A morning on which nobody comes passes without a soak, and water that no rule allows to be drawn is not given.
    Soaks are given at the round hour. What does not fit the hours of those who come is dropped as the round drops it.
    """
    since = {there: day for uid, day in since.items() for there in gardens.bed_uids.get(uid, ())}
    season = gardens.season
    begin, end = min([first, *since.values()]), season.morning
    dry = DryDays(season.pages, first, season.members, since)
    garden = _Garden(gardens, habit)
    dawn = run(season._replace(morning=min(begin, end)))[-1]
    while dawn.day < end:
        dry.told(dawn)
        soaks: tuple[Soak, ...] = ()
        if dawn.day in seen:
            calls = garden.calls(dawn, seen[dawn.day])
            soaks = garden.given(
                [c for c in calls if since.get(c.bed.uid, first) <= dawn.day], dawn
            )
        dawn = next_dawn(dawn._replace(season=garden.soaked(dawn, soaks)))
    dry.told(dawn)
    return Followed(tuple(garden.soaks), dry)


def calls_on(dawn: Dawn, gardens: Gardens) -> list[BedCall]:
    """What a dawn whose season is cut to its morning asks to give, fitted in each garden to the hours there are."""
    pages = dawn.season.pages
    if _nothing_to_give(dawn):
        return []
    near = _by_garden(dawn, gardens, DAYS_TO_COUNT_A_ROUND)
    hours = hours_on(pages, dawn.day)
    if any(sum(one.work.minutes_on_foot for one in calls) > hours * 60 for calls in near.values()):
        near = _by_garden(dawn, gardens, HORIZON_DAYS)  # what is dropped first looks further ahead
    return [call for calls in near.values() for call in fitted(calls, hours)]


def _nothing_to_give(dawn: Dawn) -> bool:
    """Whether a morning on which nobody felt anything asks for no water: seen sooner than judging everybody shows it.

    Nothing is short by (40) before the next visit, nothing was planted today, and no ground is sodden, whose balls
    might be dry all the same.
    """
    pages, day = dawn.season.pages, dawn.day
    if any(one.planted_on == day for one in dawn.season.plantings[: dawn.size]):
        return False
    ahead = evenings(dawn, (next_visit(pages, day) - day).days)
    patience = PATIENCE[pages.garden.readiness]
    short = np.logical_or.reduce([below(evening.wetness, patience) for evening in ahead])
    return not np.any(mean_of(short) > RISK) and not np.any(mean_of(standing(dawn).sodden) > 0.5)


def _by_garden(dawn: Dawn, gardens: Gardens, days: int) -> dict[int, list[BedCall]]:
    judgement = judge(dawn, days)
    # A dose is worked out where there is one to give: most beds have none on most mornings.
    given = {one.bed.uid for one in judgement.judged if one.dose_kind is not None}
    beds = tuple(bed for bed in judgement.season.beds if bed.uid in given)
    found: dict[int, list[BedCall]] = defaultdict(list)
    for call in bed_calls(judgement._replace(season=judgement.season._replace(beds=beds))):
        found[gardens.number_of[call.bed.uid]].append(call)
    return found


class _Garden:
    """Goes through the mornings and remembers who was given what."""

    def __init__(self, gardens: Gardens, habit: Habit) -> None:
        season = gardens.season
        pages = season.pages
        zone = ZoneInfo(pages.garden.timezone)
        self._gardens, self._habit = gardens, habit
        self.soaks: list[Soak] = []
        self._entered = season.given
        self._bowls = {
            one.uid: plain(season.fixed.bowl_m2, n) for n, one in enumerate(season.plantings)
        }
        self._zone = zone
        told = [
            (
                local_day(one.happened_at, zone)
                + (not by_round_hour(one.happened_at, pages, zone)) * A_DAY,
                one,
            )
            for one in pages.entries
            if isinstance(one, Loss | MulchLaid | Ruler)
        ]
        self._losses = [(day, one) for day, one in told if isinstance(one, Loss)]
        self._dressings = [(day, one) for day, one in told if not isinstance(one, Loss)]
        self._soaks: dict[date, tuple[Soak, ...]] = defaultdict(tuple)
        for one in pages.entries:
            if isinstance(one, Soak):
                self._soaks[local_day(one.happened_at, zone)] += (one,)
        self._mulched: tuple[LeafDays, tuple[AnyEntry, ...]] | None = None
        self._layings: Mapping[Uid, tuple[Laying, ...]] = {}
        self._grounds = dict[tuple[date, int, int], Ground]()
        self._last: dict[Uid, date] = {}
        self._rests_until: dict[Uid, date] = {}

    def calls(self, dawn: Dawn, seen: Seen) -> list[BedCall]:
        """What a morning's rounds ask for; nothing where nobody comes."""
        season, day = dawn.season, dawn.day
        if season.pages.people and not people_on(season.pages, day):
            return []
        self._see_ground(day, seen.leaf_days)
        asked = season._replace(
            pages=season.pages._replace(entries=self._known(day)),
            morning=day,
            skies=seen.skies,
            leaf_days=seen.leaf_days,
            layings=self._layings,
            grounds=self._grounds,
            given=self._entered,
        )
        return calls_on(dawn._replace(season=asked), self._gardens)

    def given(self, calls: Sequence[BedCall], dawn: Dawn) -> tuple[Soak, ...]:
        """What is given of a morning's calls, and written down."""
        soaks: list[Soak] = []
        for call in calls:
            if not call.going or call.supply.means == "none":
                continue
            done = as_if_done(dawn.season.pages._replace(entries=()), [call], dawn.day).entries
            mine = [self._dosed(one) for one in done if isinstance(one, Soak)]
            new = [one for one in mine if one.kind == "water_in"]  # which does not wait
            self._last.setdefault(call.bed.uid, dawn.day)
            if len(new) == len(mine) or self._rests(call, dawn.day):
                soaks += new
            else:
                self._last[call.bed.uid] = dawn.day
                soaks += mine
        self._soaks[dawn.day] += tuple(soaks)
        self.soaks += soaks
        return tuple(soaks)

    def soaked(self, dawn: Dawn, soaks: tuple[Soak, ...]) -> Season:
        """The season for the day's step: with what was entered for it, and what is given now."""
        season, day = dawn.season, dawn.day
        if not soaks:
            return season._replace(given=self._entered)
        known = season.pages._replace(entries=(*(one for _, one in self._losses), *soaks))
        now = given_by_step(known, season.plantings, self._bowls, day)[day]
        both = dict(self._entered.get(day, {}))
        for uid, given in now.items():
            before = both.get(uid, Given())
            both[uid] = Given(*(a + b for a, b in zip(before, given, strict=True)))
        return season._replace(given={day: both})

    def _known(self, day: date) -> tuple[AnyEntry, ...]:
        losses = [one for known_from, one in self._losses if known_from <= day]
        days = (day - timedelta(days=behind) for behind in range(DIARY_DAYS, 0, -1))
        return (*losses, *(soak for one in days for soak in self._soaks.get(one, ())))

    def _dosed(self, soak: Soak) -> Soak:
        if soak.kind == "water_in":
            return soak
        return replace(soak, litres=self._habit.dose_times * soak.litres)

    def _see_ground(self, day: date, leaf_days: LeafDays) -> None:
        """Mulch as known by the morning, leaf as it thinks of it; kept for mornings that know the same of both."""
        mulched = leaf_days, tuple(one for known_from, one in self._dressings if known_from <= day)
        if mulched != self._mulched:
            self._mulched, self._grounds = mulched, {}
            self._layings = layings_by_bed(mulched[1], self._zone)

    def _rests(self, call: BedCall, day: date) -> bool:
        """Whether a bed waits: until so many times the days have gone after which it was called again."""
        uid, times = call.bed.uid, self._habit.interval_times
        if uid in self._rests_until:
            if day < self._rests_until[uid]:
                return True
            del self._rests_until[uid]
            return False
        last = self._last[uid]
        if last == day or times == 1:
            return False
        self._rests_until[uid] = last + times * (day - last)
        return True
