"""Feels that keep coming out to one side of the reckoning: likely something about the bed is set wrong."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import NamedTuple

from soakbook.garden.jars import measured_share, shares_caught
from soakbook.garden.records import Bed, Uid
from soakbook.quantities.saying import names, plural, quoted
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.report import Finding
from soakbook.reckoning.simulation.beliefs import OF_BED, OF_PLANTING
from soakbook.reckoning.simulation.draws import LOG_SD
from soakbook.reckoning.simulation.plots import times_the_doubt
from soakbook.reckoning.simulation.touches import Squared, Store
from soakbook.reckoning.simulation.watering import local_day

SLACK = 0.25
FIRES_ABOVE = 5.0
SAID_FOR = timedelta(days=14)
LATELY = timedelta(days=3)
RAIN_MM = 5.0


class Drift(NamedTuple):
    """Feels of a bed, or of one planting's ball, that kept coming out drier or wetter than reckoned."""

    bed_uid: Uid
    planting_uid: Uid
    store: Store
    drier: bool
    day: date
    """The dawn on which it was enough."""
    feels: tuple[Squared, ...]
    """Those that bore it, oldest first."""


def drifts(squared: Iterable[Squared]) -> Iterator[Drift]:
    """Every time that feels had kept coming out to one side for long enough, oldest first.

    Notes
    -----
    Two sums a bed, and two a planting's ball: max(0, sum + e - 0.25) of the innovations, and of their opposites.
    Above 5 it is a finding, and the sum begins anew. Page (1954), Biometrika 41:100-115, for such sums (from
    memory); the two numbers by trials on made gardens: fires in 0.08 of 150 days where nothing is wrong.
    """
    sums: dict[tuple[Uid, Store, bool], tuple[float, tuple[Squared, ...]]] = {}
    for one in squared:
        whose = one.planting_uid if one.store == "ball" else one.bed_uid
        for drier in (True, False):
            key = (whose, one.store, drier)
            before, feels = sums.get(key, (0.0, ()))
            total = before + (-one.innovation if drier else one.innovation) - SLACK
            feels = (*feels, one) if total > 0 else ()
            if total > FIRES_ABOVE:
                yield Drift(one.bed_uid, one.planting_uid, one.store, drier, one.day, feels)
                total, feels = 0.0, ()
            sums[key] = (max(0.0, total), feels)


def lately(judgement: Judgement, bed: Bed) -> tuple[Drift, ...]:
    """Those of one bed that came up in the last fortnight, the newest of each kind."""
    newest = {
        (one.planting_uid if one.store == "ball" else "", one.store): one
        for one in drifts(one for one in judgement.dawn.squared if one.bed_uid == bed.uid)
        if judgement.dawn.day - one.day < SAID_FOR
    }
    return tuple(newest.values())


def of_drift(judgement: Judgement) -> list[Finding]:
    """What to look at in beds whose feels keep coming out to one side; no setting is changed by itself."""
    found = []
    for bed in judgement.season.beds:
        for one in lately(judgement, bed):
            side = "drier" if one.drier else "wetter"
            what = _felt_in(judgement, one)
            checks = _checks(judgement, bed, one)
            then = f", then at {names(checks[1:])}" if checks[1:] else ""
            say = (
                f"The feels of {what} keep coming out {side} than reckoned. Look first at {checks[0]}{then}. "
                "Meanwhile I follow the feels; no setting is changed but by you."
            )
            found.append(Finding.of("feels_disagree", bed, say))
    return found


def _felt_in(judgement: Judgement, drift: Drift) -> str:
    """What the feels of a drift were in: a bed's soil, or the balls of one of its plantings."""
    if drift.store == "bed":
        return "the soil"
    season = judgement.season
    name = next(one.name for one in season.plantings if one.uid == drift.planting_uid)
    return f"the balls of the {plural(name)}"


def _checks(judgement: Judgement, bed: Bed, drift: Drift) -> list[str]:
    """What to look at, the likeliest first."""
    season = judgement.season
    row = next(n for n, one in enumerate(season.plantings) if one.uid == drift.planting_uid)
    index = int(season.bed_index[row])
    of_bed = dict(zip(OF_BED, season.beliefs.of_bed[index].mean(axis=-1), strict=True))
    of_planting = dict(zip(OF_PLANTING, season.beliefs.of_planting[row].mean(axis=-1), strict=True))
    moved = {
        "aw": of_bed["aw"],
        "share": of_bed["share"],
        "exposure": of_bed["exposure"],
        "ball": of_planting["ball"],
    }
    caught = measured_share(bed, shares_caught(season.pages.entries))
    done = {
        "ball": drift.store != "ball",
        "aw": bed.sand_fraction is not None,
        "share": caught is not None or bed.rain_share is not None,
    }
    names_ = [name for name in moved if not done.get(name)]
    times = times_the_doubt(bed, caught)
    sds = {name: LOG_SD[name] * times.get(name, 1.0) for name in names_}
    order = sorted(names_, key=lambda name: -abs(float(moved[name])) / sds[name])
    words = {
        "aw": f"the soil (soakbook bed {quoted(bed.key)} --jar 6,3,1)",
        "share": "how much rain gets there (a jam jar beside the gauge)",
        "exposure": "sun and wind on it",
        "ball": "the ball (its mix and its litres)",
    }
    pattern = _pattern(judgement, drift)
    if pattern == "rain":
        order.sort(key=lambda name: name != "share")
    checks = [words[name] for name in order]
    if pattern == "soak":
        return ["the flow of the tap and where the water goes", *checks]
    return checks


def _pattern(judgement: Judgement, drift: Drift) -> str | None:
    """Whether all the feels came soon after rain and not after soaks, or the other way about."""
    after_rain = [_rained(judgement, one) for one in drift.feels]
    after_soak = [_soaked(judgement, one) for one in drift.feels]
    if all(after_rain) and not any(after_soak):
        return "rain"
    if all(after_soak) and not any(after_rain):
        return "soak"
    return None


def _rained(judgement: Judgement, one: Squared) -> bool:
    skies = judgement.season.skies
    days = [one.day - timedelta(days=n) for n in range(1, LATELY.days + 1)]
    return sum(skies.on(day).rain_mm for day in days if day >= skies.first) >= RAIN_MM


def _soaked(judgement: Judgement, one: Squared) -> bool:
    diary = judgement.diaries[one.bed_uid]
    return any(
        timedelta(0) < one.day - local_day(soak.happened_at, diary.zone) <= LATELY
        for soak in diary.soaks()
    )
