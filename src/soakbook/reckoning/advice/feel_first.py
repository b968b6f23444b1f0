"""When a finger is worth more than the reckoning."""

from datetime import timedelta

from soakbook.garden.entries import Wilt
from soakbook.reckoning.advice.calling import BedCall
from soakbook.reckoning.advice.diary import FELT_HOLDS_DAYS, Diary
from soakbook.reckoning.advice.drift import lately
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.report import Band
from soakbook.reckoning.simulation.plots import drains_slowly

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
    Something was limp at dawn and has not been felt. Else, when it was neither felt today or yesterday nor soaked
    today: the 80 % band of a leading store is wider than half the scale; or 21 reckoned days without a feel in a dry
    spell; or a third soak in seven days on slow soil without a feel; or feels that keep coming out to one side, until
    the next. common practice, no source.
    """
    diary = judgement.diaries[call.bed.uid]
    if limp_unfelt(diary):
        return "Limp in the morning: feel before anything is given."
    since = days_since_felt(diary)
    if diary.given_on(diary.morning) or (since is not None and since < FELT_HOLDS_DAYS):
        return ""
    if _drifting(judgement, call, since):
        return "Its feels keep coming out to one side of the reckoning: feel it again."
    if any(half_width(one.judged.lead) > HALF_WIDTH for one in call.dosed):
        return "The sums lie far apart here: a finger would tell."
    return _too_long_unfelt(judgement, call, diary)


def _drifting(judgement: Judgement, call: BedCall, since: int | None) -> bool:
    """Whether feels had kept coming out to one side with the last of them."""
    if since is None:
        return False
    last = judgement.dawn.day - timedelta(days=since)
    return any(one.day >= last for one in lately(judgement, call.bed))


def _too_long_unfelt(judgement: Judgement, call: BedCall, diary: Diary) -> str:
    if in_dry_spell(judgement) and _unfelt_days(judgement, diary, call) >= NO_FEEL_DAYS:
        return "Three weeks of a dry spell and no finger in it."
    third = call.verdict == "soak" and diary.soaks_in_week() >= SOAKS_BEFORE_A_THIRD
    if third and drains_slowly(call.bed) and not diary.felt_in_week():
        return "A third soak in a week on slow soil, and no finger in it."
    return ""


LONG_SEEN_DAYS = 2
"""What was seen longer ago does not count any more, whatever it was."""


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
    """Days since a finger was in the bed, or a hole was looked into."""
    touches = diary.touches()
    return diary.days_since(touches[-1]) if touches else None


def limp_unfelt(diary: Diary) -> bool:
    """Whether something was seen limp this morning and no finger has told yet what it is."""
    wilts = [one for one in diary.entries if isinstance(one, Wilt)]
    if not wilts or diary.days_since(wilts[-1]) > LONG_SEEN_DAYS:
        return False
    from soakbook.reckoning.advice.sightings import seen_of
    from soakbook.reckoning.advice.triage import triage_of

    at_round = diary.moment(diary.morning)
    seen = (seen_of(diary, planting, at_round) for planting, _ in diary.living)
    return any(triage_of(one).to_feel for one in seen if one)


def _unfelt_days(judgement: Judgement, diary: Diary, call: BedCall) -> int:
    since = days_since_felt(diary)
    if since is not None:
        return since
    starts = judgement.season.starts
    return max((diary.morning - starts[one.judged.row]).days for one in call.dosed)
