"""Promises in words, for the page on which a service's record is read. What they are is in `promises`."""

from datetime import date
from math import ceil

from soakbook.garden.promises import (
    GOOD_SHARE,
    USEFUL_RAIN_MM,
    JudgedPromise,
    Reliability,
    bar_of,
)
from soakbook.quantities import saying

COUNTED_AS = (
    "One rain is promised on several mornings and for one, two and three days ahead: each of these counts as a "
    "promise."
)

NONE_JUDGED = "none judged yet"


def tenths_of(share: float, bar: float) -> int:
    """A share of futures in whole tenths, 1 to 10; one below the bar is never said to be as many as make it good.

    Parameters
    ----------
    share
        Of the futures that bring useful rain [0-1].
    bar
        From which share on they are believed [0-1].
    """
    tenths = min(10, max(1, round(10 * share)))
    return min(tenths, ceil(round(10 * bar, 6)) - 1) if share < bar else tenths


def promise_words(judged: JudgedPromise, today: date) -> str:
    """One promise in a line: what was promised, how surely, and what came of it."""
    promise = judged.promise
    said = (
        f"{saying.day(judged.issued_on, today)}, {judged.source}: {'good' if promise.good else 'doubtful'} promise of "
        f"{USEFUL_RAIN_MM:g} mm or more by {saying.day(promise.last, today)}, in {promise.share:.0%} of its futures, "
        f"in the middle {_mm(promise.middle_mm)}"
    )
    fell = "" if judged.fell_mm is None else f", {_mm(judged.fell_mm)} fell"
    if judged.outcome == "not yet known" and fell:
        fell += " so far as is known"
    return saying.sentence(f"{said}: {judged.outcome}{fell}")


def reliability_words(reliability: Reliability) -> str:
    """How a service kept its good promises, in a sentence."""
    lead = reliability.lead_days
    ahead = "all in all" if lead is None else f"{saying.counted(lead, 'day')} ahead"
    mornings = saying.counted(reliability.mornings, "morning")
    if not reliability.made:
        return f"{reliability.source}, {ahead}: no good promise on {mornings}, {NONE_JUDGED}."
    said = f"{reliability.source}, {ahead}: {saying.counted(reliability.made, 'good promise')}"
    return f"{said} on {mornings}, {reliability.kept} kept, {reliability.broken} broken."


def bar_words(reliability: Reliability) -> str:
    """From where on a service is believed, and why if it is not from where all are."""
    bar = bar_of(reliability)
    said = f"{reliability.source}: a promise is good from {bar:.0%} of its futures on"
    if bar > GOOD_SHARE:
        return f"{said}, not {GOOD_SHARE:.0%}: it broke {reliability.broken} of {reliability.made}."
    return f"{said}."


def _mm(rain_mm: float) -> str:
    """Rain to the tenth, as a gauge is read: `15.6 mm`, `9 mm`."""
    return f"{round(rain_mm, 1):g} mm"
