"""Rain that a bed was left for on the last visit and that did not come."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from soakbook.garden.fallen_days import Fallen, fallen_of
from soakbook.garden.pages import Pages, asked_at
from soakbook.garden.promises import DOUBTFUL_SHARE, USEFUL_RAIN_MM
from soakbook.quantities.saying import litres, number
from soakbook.reckoning.advice.calling import BedCall
from soakbook.reckoning.advice.report import Finding
from soakbook.reckoning.advice.visits import last_visit
from soakbook.reckoning.advice.what_if import Yesterday, yesterday_of
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.run import Dawn
from soakbook.reckoning.simulation.season import Season


def left_for_rain(pages: Pages, morning: date, earlier: Sequence[Dawn]) -> Yesterday | None:
    """The round of the last visit, as it stood then, if rain was forecast that it may have left a bed for.

    Parameters
    ----------
    pages : Pages
        The book as this morning knows it.
    morning : date
    earlier : sequence of Dawn
        The dawns before yesterday's, oldest first: that of yesterday's visit is reckoned anyway.
    """
    visit = last_visit(pages, morning)
    if visit is None or not _was_promised(pages, visit):
        return None
    for place, dawn in enumerate(earlier):
        if dawn.day == visit:
            return yesterday_of(dawn, pages, earlier[:place])
    return None


def of_broken_promises(
    visited: Yesterday, calls: Iterable[BedCall], season: Season
) -> list[Finding]:
    """Beds that were left for the rain on the last visit and are to be soaked now that its days are over without it.

    Parameters
    ----------
    visited : Yesterday
        The round of that visit.
    calls : iterable of BedCall
        This morning's.
    season : Season
        This morning's.
    """
    promise, then = visited.judgement.promise, visited.judgement.dawn.day
    if promise is None or promise.until >= season.morning:
        return []
    waited = {
        call.bed.uid: max(
            (float(promise.middle_mm[one.judged.row]), one.judged.row)
            for one in call.dosed
            if one.judged.verdict == "rain"
        )
        for call in visited.calls
        if call.verdict == "rain"
    }
    due = [call for call in calls if call.bed.uid in waited and call.litres > 0]
    if not due:
        return []
    fallen = fallen_of(season.pages, asked_at(season.pages, season.morning))
    fell_mm = _fell_since(season.pages, then, fallen)
    known = all(fallen.on(then + timedelta(days=n)) is not None for n in range(_days(then, fallen)))
    as_known = "" if known else ", as far as is known"
    found = []
    for call in due:
        likely_mm, row = waited[call.bed.uid]
        if fell_mm * plain(season.plain.plot.rain_share, row) >= USEFUL_RAIN_MM:
            continue
        say = (
            f"The rain did not come: {number(fell_mm)} mm fell{as_known}, {number(likely_mm)} mm were likely here. "
            f"It was left for that: {litres(call.litres)} now. It is not left for a forecast again before it has been "
            "soaked or rained on."
        )
        found.append(Finding.of("promise_broken", call.bed, say))
    return found


def _was_promised(pages: Pages, visit: date) -> bool:
    """Whether any issue spoke of useful rain, be it doubtful, for days from a visit on."""
    return any(
        one.share >= DOUBTFUL_SHARE
        and one.issued_on <= visit <= one.issued_on + timedelta(days=one.lead_days)
        for one in pages.promises
    )


def _fell_since(pages: Pages, day: date, fallen: Fallen) -> float:
    """What fell from a day's round hour on."""
    zone = ZoneInfo(pages.garden.timezone)
    return fallen.between(datetime.combine(day, pages.garden.round_hour, zone), fallen.at)


def _days(since: date, fallen: Fallen) -> int:
    return (fallen.today - since).days
