"""Every planting judged on one morning: due or not, held back or not, how much, and what waiting would do."""

from collections.abc import Mapping, Sequence, Set
from datetime import date, timedelta
from typing import NamedTuple

from soakbook.garden.records import Bed, Planting, Uid
from soakbook.garden.tables.places import PLACES
from soakbook.reckoning.advice.diary import DRY_CLASSES, Diary, diaries_of
from soakbook.reckoning.advice.dose import Need
from soakbook.reckoning.advice.due import PATIENCE, RISK, Prospect, prospects
from soakbook.reckoning.advice.needs import needs
from soakbook.reckoning.advice.promised import Promised, promised, put_off
from soakbook.reckoning.advice.read_off import Stood, read_off
from soakbook.reckoning.advice.report import Band, DoseKind, Stage, State, Verdict
from soakbook.reckoning.advice.stages import DRYING_MARGIN, state_of
from soakbook.reckoning.advice.supply import Supply, supply_of
from soakbook.reckoning.advice.visits import visits_after
from soakbook.reckoning.simulation.ahead import Evening, Standing, evenings, standing
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.leaf import in_leaf, last_leaf_fall
from soakbook.reckoning.simulation.run import Dawn
from soakbook.reckoning.simulation.season import HORIZON_DAYS, Season

ALONG_WITHIN_DAYS = 2
LAID_BY_ABOVE = 0.8
FULL_ABOVE = 0.95
"""What was soaked today and stands so is not called again today: more would go past. common practice, no source."""


class Judged(NamedTuple):
    """One planting on one morning, before its dose."""

    row: int
    planting: Planting
    bed: Bed
    count: int  # type: ignore[assignment]  # a tuple's own count is not asked here
    stage: Stage
    ball: Band | None
    soil: Band
    lead: Band
    ball_leads: bool
    ball_state: State | None
    bed_state: State
    bed_margin: float
    """Soil wetness less its own threshold: a bed is shown by the planting with the lowest."""
    sodden_share: float
    cell_m2: float
    due: bool
    held: bool
    left: bool
    """Looked at and left today."""
    filled: bool
    """Soaked today, and full."""
    verdict: Verdict
    dose_kind: DoseKind | None
    prospect: Prospect
    while_there: bool = False


class Judgement(NamedTuple):
    """All plantings of a morning, with the arrays they were judged from."""

    season: Season
    dawn: Dawn
    morning: Standing
    ahead: Sequence[Evening]
    need: Need
    supplies: Mapping[Uid, Supply]
    """By bed uid."""
    diaries: Mapping[Uid, Diary]
    judged: tuple[Judged, ...]
    promise: Promised | None
    """Rain that is forecast up to the next visit."""

    def of_bed(self, bed: Bed) -> tuple[Judged, ...]:
        """The living plantings of one bed, in the order of the book."""
        by_uid = {one.planting.uid: one for one in self.judged}
        mine = self.season.pages.plantings_of(bed)
        return tuple(by_uid[one.uid] for one in mine if one.uid in by_uid)


def judge(dawn: Dawn, days: int = HORIZON_DAYS, earlier: Sequence[Dawn] = ()) -> Judgement:
    """Every living planting judged at a dawn.

    Parameters
    ----------
    dawn : Dawn
        Of a season whose pages are cut to what may be known on that morning.
    days : int
        For how many mornings to ask when they would be wanted.
    earlier : sequence of Dawn
        The dawns before it, oldest first: what was due then is not put off again.
    """
    season = dawn.season
    visits = _visits_in_sight(season, dawn.day, days)
    morning = standing(dawn)
    ahead = evenings(dawn, (visits[-1] - dawn.day).days)
    outlook = prospects(ahead, visits, dawn.day, PATIENCE[season.pages.garden.readiness])
    diaries = diaries_of(season.pages, season.beds, dawn.day)
    supplies = {bed.uid: supply_of(season.pages, bed, dawn.day) for bed in season.beds}
    stood = read_off(dawn, morning)
    promise = promised(dawn, visits[0])
    of_row = [diaries[season.bed_of(row).uid] for row in range(dawn.size)]
    left_for_rain = put_off(dawn, promise, outlook, of_row, earlier)
    judged = [
        _judged(season, stood[row], row, of_row[row], outlook[row], left_for_rain[row])
        for row in range(dawn.size)
        if any(one.uid == season.plantings[row].uid for one, _ in of_row[row].living)
    ]
    need = needs(season, morning, stood, supplies, diaries, promise)
    called = {one.bed.uid for one in judged if one.verdict == "soak"}
    along = tuple(_taken_along(one, called, dawn.day) for one in judged)
    return Judgement(season, dawn, morning, ahead, need, supplies, diaries, along, promise)


class Moved(NamedTuple):
    """The plain run's flows of yesterday's step for one plant; names as in `Flows`."""

    rain_l: float
    soak_l: float
    transpired_l: float
    soil_evaporated_l: float
    mulch_evaporated_l: float
    drained_l: float
    run_off_l: float
    asked_l: float
    intake_mm: float
    ball_from_soak_l: float
    ball_from_rain_l: float
    ball_drunk_l: float
    exchange_to_ball_l: float
    mulch_taken_mm: float


def moved_yesterday(judgement: Judgement, row: int) -> Moved | None:
    """What moved for one plant of a planting yesterday; None when it was not there yet."""
    flows, there = judgement.dawn.flows, judgement.dawn.row_before(row)
    if there is None:
        return None
    return Moved(*(plain(getattr(flows, name), there) for name in Moved._fields))


def _judged(
    season: Season, stood: Stood, row: int, diary: Diary, prospect: Prospect, for_rain: bool
) -> Judged:
    planting = season.plantings[row]
    ball, soil, lead, ball_leads = stood.ball, stood.bed, stood.lead, stood.ball_leads
    sodden = stood.sodden_share > 0.5
    held = sodden or (diary.bed_felt_wet() and soil.p50 > stood.bed_limit)
    for_rain = for_rain and not held  # too wet for water now, whatever is forecast
    water_in = _to_water_in(planting, diary)
    felt_dry = diary.felt_dry_mid(planting, ball_leads) is not None
    short, felt_wet = prospect.share_due > RISK, diary.felt_wet_today(planting, ball_leads)
    left = diary.left_today(planting) is not None
    filled = lead.p50 >= FULL_ABOVE and _soaked_today(planting, diary)
    wanting = short and not (felt_wet or for_rain or filled)
    due = not left and (water_in or felt_dry or wanting)
    if left or felt_wet or ((for_rain or filled) and not due):
        prospect = _from_tomorrow(prospect, diary.morning)
    dry_ball = ball is not None and _dry_ball(
        planting, diary, ball.p50 < stood.ball_limit + DRYING_MARGIN
    )
    verdict: Verdict = "leave"
    dose_kind: DoseKind | None = None
    if held and not left and (due or short or sodden or dry_ball):
        verdict, dose_kind = "held_back", "re_wet" if dry_ball else None
    elif due:
        parched = lead.p50 < 0.5 * stood.lead_limit
        verdict, dose_kind = "soak", "water_in" if water_in else "rescue" if parched else "soak"
    elif for_rain and not left and not felt_wet:
        verdict = "rain"
    elif _laid_by(season, planting, diary, lead.p50):
        verdict = "laid_by"
    return Judged(
        row=row,
        planting=planting,
        bed=diary.bed,
        count={one.uid: count for one, count in diary.living}[planting.uid],
        stage=stood.stage,
        ball=ball,
        soil=soil,
        lead=lead,
        ball_leads=ball_leads,
        ball_state=None if ball is None else state_of(ball.p50, stood.ball_limit, sodden),
        bed_state=state_of(soil.p50, stood.bed_limit, sodden),
        bed_margin=soil.p50 - stood.bed_limit,
        sodden_share=stood.sodden_share,
        cell_m2=plain(season.plot.cell_m2, row),
        due=due,
        held=held,
        left=left,
        filled=filled,
        verdict=verdict,
        dose_kind=dose_kind,
        prospect=prospect,
    )


def _visits_in_sight(season: Season, morning: date, days: int) -> Sequence[date]:
    """The next visit after each morning, as far as it can be seen whether a planting would last to it."""
    visits = visits_after(season.pages, morning, days)
    return [visit for visit in visits if visit <= season.sight]


def _taken_along(one: Judged, called: Set[Uid], morning: date) -> Judged:
    """A planting wanted within two days is watered while somebody is at its bed."""
    wanted = one.prospect.wanted_on
    if (
        one.bed.uid not in called
        or one.held
        or one.left
        or one.filled
        or one.verdict != "leave"
        or wanted is None
    ):
        return one
    if wanted > morning + timedelta(days=ALONG_WITHIN_DAYS):
        return one
    return one._replace(verdict="soak", dose_kind="soak", while_there=True)


def _dry_ball(planting: Planting, diary: Diary, reckoned_dry: bool) -> bool:
    """Whether a ball in wet soil is to be re-wet: felt dry in two days and not soaked since, else as reckoned.

    What was felt moist today is not.
    """
    if diary.felt_since_soak(planting, ball=True) in DRY_CLASSES:
        return True
    return reckoned_dry and not diary.ball_felt_today(planting)


def _from_tomorrow(prospect: Prospect, morning: date) -> Prospect:
    """The prospect of what was left today: it is not wanted again before tomorrow."""
    if prospect.wanted_on is None:
        return prospect
    return prospect._replace(wanted_on=max(prospect.wanted_on, morning + timedelta(days=1)))


def _to_water_in(planting: Planting, diary: Diary) -> bool:
    """On the planting day the call is to water in, until that has been entered."""
    return planting.planted_on == diary.morning and not _soaked_today(planting, diary)


def _soaked_today(planting: Planting, diary: Diary) -> bool:
    return any(soak.planting_uid in (None, planting.uid) for soak in diary.given_on(diary.morning))


def _laid_by(season: Season, planting: Planting, diary: Diary, lead_wetness: float) -> bool:
    """A plant that has dropped its leaves or died down in autumn, in soil wet enough for the winter."""
    if (
        planting.leaf == "evergreen"
        or PLACES[diary.bed.place].wall_foot
        or lead_wetness <= LAID_BY_ABOVE
    ):
        return False
    fallen = last_leaf_fall(planting, diary.morning, season.leaf_days)
    bare = not in_leaf(planting, diary.morning, season.leaf_days)
    return bare and fallen is not None and planting.planted_on < fallen
