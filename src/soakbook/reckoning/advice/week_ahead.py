"""The foot of the round: the week as the newest forecast has it, and what to do before heat."""

from datetime import timedelta

from soakbook.garden.heat import extremes_of, heat_ahead
from soakbook.reckoning.advice.calling import BedCall
from soakbook.reckoning.advice.eve_of_heat import BedBeforeHeat, eve_of_heat
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.outlook_week import week_of, week_words
from soakbook.reckoning.advice.report import Finding, WeekAhead
from soakbook.reckoning.advice.stages import STAGES
from soakbook.reckoning.simulation.season import Season

YOUNG = timedelta(days=28)


def week_ahead(season: Season) -> WeekAhead | None:
    """What is likely of rain, warmth and the air's thirst in the coming week; None without a forecast."""
    forecasts, skies = season.pages.forecasts, season.skies
    if not forecasts or season.morning not in skies.coming:
        return None
    week = week_of(
        forecasts[0],
        season.morning,
        fallen_today_mm=0.0,
        usual_et0_mm=skies.assumed.et0_mm or None,
    )
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


def of_heat(judgement: Judgement, likely: tuple[BedCall, ...]) -> list[Finding]:
    """Heat that lies ahead; on its eve what to soak and shade before it, by tomorrow's likely round."""
    season = judgement.season
    pages = season.pages
    if not pages.forecasts:
        return []
    days = {**extremes_of(pages.weather), **extremes_of(pages.forecasts[0].days)}
    heat = heat_ahead(days, season.morning, pages.garden.heat_c)
    wanted = {call.bed.uid: call.litres for call in likely}
    beds = [
        BedBeforeHeat(
            bed.name,
            wanted.get(bed.uid, 0.0),
            any(season.morning - one.planting.planted_on < YOUNG for one in mine),
            min((one.stage for one in mine), key=STAGES.index),
        )
        for bed in season.beds
        if (mine := judgement.of_bed(bed))
    ]
    said = eve_of_heat(heat, beds)
    return [Finding("heat", None, " ".join(said))] if said else []
