"""When a finger is worth more than the reckoning."""

from datetime import timedelta

from soakbook.reckoning.advice.calling import BedCall
from soakbook.reckoning.advice.diary import FELT_HOLDS_DAYS, Diary
from soakbook.reckoning.advice.drift import lately
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.report import Band
from soakbook.reckoning.simulation.plots import drains_slowly
from soakbook.reckoning.simulation.watering import local_day

HALF_WIDTH = 0.25
NO_FEEL_DAYS = 21
DRY_SPELL_DAYS = 10
DRY_DAY_MM = 1.0
SOAKS_BEFORE_A_THIRD = 2


def feel_first(judgement: Judgement, call: BedCall) -> bool:
    """Whether a bed is to be felt before anything is done there."""
    return bool(why_feel(judgement, call))


def why_feel(judgement: Judgement, call: BedCall) -> str:
    """Why a finger is wanted in a bed, in a sentence; empty when it is not.

    Notes
    -----
    The 80 % band of a leading store is wider than half the scale; or 21 reckoned days without a feel in a dry
    spell; or a third soak in seven days on slow soil without a feel; or feels that keep coming out to one side, until
    the next. Not when it was felt today or yesterday, nor
    when it was soaked today. common practice, no source.
    """
    diary = judgement.diaries[call.bed.uid]
    since = days_since_felt(diary)
    if diary.given_on(diary.morning) or (since is not None and since < FELT_HOLDS_DAYS):
        return ""
    if since is not None and any(
        one.day >= diary.morning - timedelta(days=since) for one in lately(judgement, call.bed)
    ):
        return "Its feels keep coming out to one side of the reckoning: feel it again."
    if any(half_width(one.judged.lead) > HALF_WIDTH for one in call.dosed):
        return "The sums lie far apart here: a finger would tell."
    if in_dry_spell(judgement) and _unfelt_days(judgement, diary, call) >= NO_FEEL_DAYS:
        return "Three weeks of a dry spell and no finger in it."
    third = call.verdict == "soak" and diary.soaks_in_week() >= SOAKS_BEFORE_A_THIRD
    if third and drains_slowly(call.bed) and not diary.felt_in_week():
        return "A third soak in a week on slow soil, and no finger in it."
    return ""


def half_width(lead: Band) -> float:
    """Half the 80 % band of a leading store; how far above capacity it stands decides nothing."""
    return (min(lead.p90, 1.0) - min(lead.p10, 1.0)) / 2


def in_dry_spell(judgement: Judgement) -> bool:
    """Ten days, each under 1 mm at the gauge, and no more since."""
    skies = judgement.season.skies
    last = skies.steps[-DRY_SPELL_DAYS:]
    dry = all(step.rain_mm < DRY_DAY_MM for step in (*last, skies.ahead))
    return len(last) == DRY_SPELL_DAYS and dry


def days_since_felt(diary: Diary) -> int | None:
    """Days since a finger was in the bed."""
    feels = diary.feels()
    return (diary.morning - local_day(feels[-1].happened_at, diary.zone)).days if feels else None


def _unfelt_days(judgement: Judgement, diary: Diary, call: BedCall) -> int:
    since = days_since_felt(diary)
    if since is not None:
        return since
    starts = judgement.season.starts
    return max((diary.morning - starts[one.judged.row]).days for one in call.dosed)
