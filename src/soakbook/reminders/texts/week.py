"""Sunday's look at the week: what was given and fell, and what lies ahead. In a week with neither there is none."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Soak
from soakbook.garden.fallen_days import fallen_of
from soakbook.quantities.dates import short_day
from soakbook.quantities.saying import counted, litres, number
from soakbook.reckoning.simulation.watering import local_day
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.fitting import Part, Text, bed_called, called, listed, text_of

WEEK_DAYS = 7
LONG_UNFELT_DAYS = 14
"""common practice, no source."""


def week_text(sight: Sight) -> Text | None:
    """The week gone by and the one to come; None where nothing was given and nothing is wanted."""
    soaks, given_l = _given(sight)
    ahead = sight.day + timedelta(days=WEEK_DAYS)
    wanted = [
        call
        for call in sight.round.calls
        if call.order is not None or (call.wanted_on and call.wanted_on <= ahead)
    ]
    if not soaks and not wanted:
        return None
    tomorrow = sight.round.tomorrow
    unfelt = [
        bed_called(call.name)
        for call in sight.round.calls
        if call.days_since_felt is None or call.days_since_felt >= LONG_UNFELT_DAYS
    ]
    given = (
        f"Given: {counted(soaks, 'soak')}, {litres(given_l)}." if soaks else "Nothing was given."
    )
    likely = ""
    if tomorrow is not None:
        likely = (
            f"Tomorrow likely {counted(tomorrow.calls, 'bed')}, {litres(tomorrow.litres)}."
            if tomorrow.calls
            else "Tomorrow likely nothing."
        )
    parts = [
        Part(0, given),
        Part(1, _fell(sight)),
        Part(0, likely),
        Part(2, sight.round.week.say if sight.round.week else ""),
        Part(3, f"Not felt for two weeks: {listed(unfelt, 80)}." if unfelt else ""),
    ]
    title = f"{called(sight.round.garden)}: the week to {short_day(sight.day)}"
    return text_of(title, parts)


def _given(sight: Sight) -> tuple[int, float]:
    """Soaks of beds in the last seven days, this one among them, and their litres."""
    zone = ZoneInfo(sight.pages.garden.timezone)
    since = sight.day - timedelta(days=WEEK_DAYS)
    soaks = [
        entry
        for entry in sight.pages.entries
        if isinstance(entry, Soak) and since < local_day(entry.happened_at, zone) <= sight.day
    ]
    at_once = {(entry.bed_uid, entry.happened_at) for entry in soaks}  # one entry a planting
    return len(at_once), sum(entry.litres for entry in soaks)


def _fell(sight: Sight) -> str:
    fallen = fallen_of(sight.pages, sight.at)
    days = [fallen.on(sight.day - timedelta(days=n)) for n in range(1, WEEK_DAYS + 1)]
    if any(day is None for day in days):
        return ""
    return f"Rain: {number(sum(day for day in days if day is not None))} mm in seven days."
