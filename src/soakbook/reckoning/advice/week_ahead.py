"""The foot of the round: the week as the newest forecasts have it, and what to do before heat and in it."""

from datetime import date, timedelta
from zoneinfo import ZoneInfo

from soakbook.garden.heat import HeatSpell, extremes_of, heat_ahead
from soakbook.garden.pages import Pages, asked_at
from soakbook.garden.promises import GOOD_SHARE
from soakbook.garden.service_records import bar_at
from soakbook.garden.told_days import still_to_come, stitched
from soakbook.garden.weather import Forecast
from soakbook.reckoning.advice.calling import BedCall
from soakbook.reckoning.advice.in_heat import BedInHeat, said_in_heat
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.outlook_week import Week, week_of, week_words
from soakbook.reckoning.advice.report import Finding, WeekAhead
from soakbook.reckoning.advice.stages import STAGES
from soakbook.reckoning.advice.walk import walk
from soakbook.reckoning.simulation.season import Season

YOUNG = timedelta(days=28)


def week_ahead(season: Season) -> WeekAhead | None:
    """What is likely of rain, warmth and the air's thirst in the coming week; None without a forecast."""
    week = week_told(season.pages, season.morning, season.skies.assumed.et0_mm or None)
    if week is None:
        return None
    return WeekAhead(
        last=week.last,
        useful_rain_chance=week.useful_rain_chance,
        useful_rain_by=week.useful_rain_by,
        tmax_c=week.tmax_c,
        warm_from=week.warm.first if week.warm else None,
        hot_from=week.hot.first if week.hot else None,
        et0_factor=week.et0_factor,
        say=week_words(week),
    )


def week_told(pages: Pages, morning: date, usual_et0_mm: float | None) -> Week | None:
    """The week as the newest forecasts have it, each day by the newest; None where none tells of the morning's own.

    Parameters
    ----------
    pages : Pages
    morning : date
    usual_et0_mm : float or None
        Mean of the last ten days [mm a day].
    """
    told, at = stitched(pages.forecasts), asked_at(pages, morning)
    if told is None or not _tells_of(told, morning):
        return None
    ahead = still_to_come(told, at, ZoneInfo(pages.garden.timezone))
    week = week_of(ahead, morning, usual_et0_mm=usual_et0_mm)
    if week is None or (week.useful_rain_chance or 0.0) < GOOD_SHARE:
        return week  # doubtful for any service
    return week_of(ahead, morning, usual_et0_mm=usual_et0_mm, bar=bar_at(pages, at))


def of_heat(judgement: Judgement, likely: tuple[BedCall, ...]) -> list[Finding]:
    """What to do in heat; on its eve what to soak and shade before it, by tomorrow's likely round."""
    season = judgement.season
    heat = heat_known(season.pages, season.morning)
    said = said_in_heat(heat, season.morning, beds_in_heat(judgement, likely))
    return [Finding("heat", None, " ".join(said))] if said else []


def heat_known(pages: Pages, morning: date) -> HeatSpell | None:
    """The heat that is there or ahead, by what was measured before the morning and forecast from it on."""
    told = stitched(pages.forecasts)
    days = {**extremes_of(told.days if told else ()), **extremes_of(pages.weather)}
    return heat_ahead(days, morning, pages.garden.heat_c)


def beds_in_heat(judgement: Judgement, likely: tuple[BedCall, ...]) -> tuple[BedInHeat, ...]:
    """Every bed as it will likely stand tomorrow, those first that will want water."""
    season = judgement.season
    pages = season.pages
    wanted = {call.bed.uid: call.litres for call in walk(likely)}
    in_order = dict.fromkeys([*wanted, *(bed.uid for bed in season.beds)])
    by_uid = pages.bed_by_uid()
    return tuple(
        BedInHeat(
            bed.name,
            wanted.get(bed.uid, 0.0),
            any(season.morning - one.planting.planted_on < YOUNG for one in mine),
            min((one.stage for one in mine), key=STAGES.index),
        )
        for bed in map(by_uid.__getitem__, in_order)
        if (mine := judgement.of_bed(bed))
    )


def _tells_of(told: Forecast, morning: date) -> bool:
    """Whether both rain and the air's thirst are said of a day."""
    return any(
        one.rain_mm is not None and one.et0_mm is not None
        for one in told.days
        if one.day == morning
    )
