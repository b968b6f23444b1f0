"""What a call says of rain that is forecast: waited for, once; or likely, and not waited for."""

from datetime import date, timedelta

from soakbook.garden.promise_words import tenths_of
from soakbook.garden.promises import DOUBTFUL_SHARE
from soakbook.quantities.dates import short_day
from soakbook.reckoning.advice.calling import BedCall
from soakbook.reckoning.advice.judging import Judgement
from soakbook.reckoning.advice.promised import Promised


def rain_waited_for(judgement: Judgement, call: BedCall) -> str:
    """Why a bed is left for the rain, and what if it does not come."""
    promise = judgement.promise
    waiting = [one.judged.row for one in call.dosed if one.judged.verdict == "rain"]
    if promise is None or not waiting:
        return ""
    row = min(waiting, key=lambda row: float(promise.share[row]))
    return (
        f"Rain is likely {_by(promise, judgement.dawn.day)}, {_brings(promise, row)}. "
        f"Should it not come, soak {_then(promise, judgement.dawn.day)}: it is not waited for twice."
    )


def rain_not_waited_for(judgement: Judgement, call: BedCall) -> str:
    """That rain may come and changes nothing, for a bed that is to be soaked all the same; empty without such rain."""
    promise = judgement.promise
    rows = [one.judged.row for one in call.going]
    if promise is None or not rows:
        return ""
    row = max(rows, key=lambda row: float(promise.share[row]))
    if promise.share[row] < DOUBTFUL_SHARE:
        return ""
    may = "is likely" if promise.good(row) else "may come"
    return (
        f"Rain {may} {_by(promise, judgement.dawn.day)}, {_brings(promise, row)}: not waited for."
    )


def _by(promise: Promised, today: date) -> str:
    return "by tonight" if promise.until == today else f"by {short_day(promise.until)} evening"


def _then(promise: Promised, today: date) -> str:
    visit = promise.until + timedelta(days=1)
    return "tomorrow" if visit == today + timedelta(days=1) else f"on {short_day(visit)}"


def _brings(promise: Promised, row: int) -> str:
    tenths = tenths_of(float(promise.share[row]), promise.bar)
    return f"5 mm or more for this bed in {tenths} of 10 forecasts"
