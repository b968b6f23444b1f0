"""Rain that a bed was left for yesterday and that did not come."""

from collections.abc import Iterable

from soakbook.quantities.saying import litres, number
from soakbook.reckoning.advice.calling import BedCall
from soakbook.reckoning.advice.report import Finding
from soakbook.reckoning.advice.what_if import Yesterday
from soakbook.reckoning.simulation.season import Season


def of_broken_promises(
    yesterday: Yesterday, calls: Iterable[BedCall], season: Season
) -> list[Finding]:
    """Beds that were left for the rain yesterday and are to be soaked today all the same."""
    promise = yesterday.judgement.promise
    if promise is None:
        return []
    waited = {
        call.bed.uid: max(
            float(promise.middle_mm[one.judged.row])
            for one in call.dosed
            if one.judged.verdict == "rain"
        )
        for call in yesterday.calls
        if call.verdict == "rain"
    }
    fell = season.skies.rain_lately_mm()
    return [
        Finding(
            "promise_broken",
            call.bed.key,
            f"The rain did not come: {number(fell)} mm at the gauge, {number(waited[call.bed.uid])} mm were likely "
            f"here. It was left for that: {litres(call.litres)} now. It is not left for a forecast again before it "
            "has been soaked or rained on.",
        )
        for call in calls
        if call.bed.uid in waited and call.litres > 0
    ]
