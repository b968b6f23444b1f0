"""Reminders that tell somebody to go to beds: the round, rain that did not come, no word, go and feel."""

from collections.abc import Collection, Mapping, Sequence
from datetime import date, time, timedelta

from soakbook.quantities.dates import month_day, short_day
from soakbook.quantities.saying import counted, litres, minutes, names
from soakbook.reckoning.advice.report import Call, DoseKind
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.dry import dry_words
from soakbook.reminders.texts.fitting import TITLE_LETTERS, Part, Text, called, cut, listed, text_of

DONE_BY = time(10)
"""Before the heat of the day. common practice, no source."""

ANSWER = "Answer: soakbook remind done | half | could-not | left."
LIST_LETTERS = 120

_KIND_WORDS: Mapping[DoseKind | None, str] = {
    "rescue": ", a rescue",
    "re_wet": ", the balls only",
    "water_in": ", to water in",
}


def round_text(sight: Sight, calls: Sequence[Call], to_feel: Sequence[Call]) -> Text:
    """The morning's round for one person.

    Parameters
    ----------
    sight : Sight
        Of the round hour.
    calls : sequence of Call
        To be watered, in walk order.
    to_feel : sequence of Call
        Only to be felt.
    """
    by = f" by {DONE_BY:%H:%M}" if sight.at.time() < DONE_BY else ""
    title = f"{called(sight.round.garden)}, {_day(sight.day)}: {counted(len(calls), 'bed')}{by}"
    first = [call.name for call in calls if call.feel_first]
    parts = [
        Part(0, f"{_doses(calls)}: about {minutes(sum(one.minutes_on_foot for one in calls))}."),
        Part(2, dry_words(sight, calls)),
        Part(1, _last_safe(calls, sight.day)),
        Part(3, f"Feel one first: {listed(first, 60)}." if first else ""),
        Part(4, f"Feel too: {listed([one.name for one in to_feel], 60)}." if to_feel else ""),
        Part(5, calls[0].reason if len(calls) == 1 else ""),
        Part(0, ANSWER),
    ]
    return text_of(title, parts)


def promise_text(sight: Sight, calls: Sequence[Call]) -> Text:
    """Rain that beds were left for and that did not come, for one person."""
    said = {one.bed: one.say for one in sight.round.findings if one.kind == "promise_broken"}
    fell = said[calls[0].bed].removeprefix("The rain did not come: ").partition(". ")[0]
    where = f" at {calls[0].name}" if len(calls) > 1 else ""
    parts = [
        Part(0, f"{fell}{where}."),
        Part(0, f"Left for it, and to be soaked this morning: {_doses(calls)}."),
        Part(2, _last_safe(calls, sight.day)),
        Part(1, "Not left for a forecast again before it has been soaked or rained on."),
        Part(0, ANSWER),
    ]
    return text_of(f"{called(sight.round.garden)}: the rain did not come", parts)


def unheard_text(
    sight: Sight, morning: Sight, calls: Sequence[Call], could_not: Collection[str]
) -> Text:
    """Beds of the morning of which nobody has said anything, for who is asked next.

    Parameters
    ----------
    sight : Sight
        Of now: what has been heard.
    morning : Sight
        Of the round hour: what was called for.
    calls : sequence of Call
        Of the morning, unanswered.
    could_not : collection of str
        Names of those who said that they could not.
    """
    garden = called(sight.round.garden)
    safe = min((one.last_safe for one in calls if one.last_safe), default=None)
    until = f". Last safe: {_near(safe, sight.day)}" if safe else ""
    what = calls[0].name if len(calls) == 1 else counted(len(calls), "bed")
    how_it_is = "still wanting" if could_not else "not heard of"
    title = f"{garden}: {what} {how_it_is}{until}"
    if len(title) > TITLE_LETTERS:
        title = f"{garden}: {counted(len(calls), 'bed')} {how_it_is}{until}"
    one = calls[0]
    with_tap = f", {minutes(one.minutes)} at tap {one.tap}" if one.tap and one.minutes else ""
    on_balls = ", on the balls" if all(call.aim == "ball" for call in calls) else ""
    doses = f"{litres(one.litres)}{with_tap}" if len(calls) == 1 else _doses(calls)
    asked = "Were they done?" if len(calls) > 1 else "Was it done?"
    if could_not:
        asked = f"{names(sorted(could_not))} could not get there."
    lead = "Wanted" if could_not else "If not"
    called_it = f"{one.name}: " if one.name not in title and len(calls) == 1 else ""
    parts = [
        Part(0, asked),
        Part(0, f"{lead}: {called_it}{doses}{on_balls}."),
        Part(1, dry_words(morning, calls)),
        Part(0, ANSWER),
    ]
    return text_of(title, parts)


def feel_text(sight: Sight, calls: Sequence[Call]) -> Text:
    """Beds to go and feel, for one person."""
    garden = called(sight.round.garden)
    title = f"{garden}: go and feel {calls[0].name}"
    if len(calls) > 1 or len(title) > TITLE_LETTERS:
        title = f"{garden}: go and feel {counted(len(calls), 'bed')}"
    beds = listed([_unfelt(call) for call in calls], LIST_LETTERS)
    key = calls[0].bed
    parts = [
        Part(0, f"{beds}: by the reckoning nothing is due, and nobody has looked."),
        Part(1, "A finger in a ball, and one a hand's breadth outside it; gloves on."),
        Part(
            0,
            cut(f"Then: soakbook feel {key} --ball ? --bed ? (dust, dry, moist, wet, sour).", 110),
        ),
    ]
    return text_of(title, parts)


def _unfelt(call: Call) -> str:
    days = call.days_since_felt
    return f"{call.name} (never felt)" if days is None else f"{call.name} ({days} days unfelt)"


def _doses(calls: Sequence[Call]) -> str:
    return listed(
        [f"{one.name} {litres(one.litres)}{_KIND_WORDS.get(one.dose_kind, '')}" for one in calls],
        LIST_LETTERS,
    )


def _last_safe(calls: Sequence[Call], today: date) -> str:
    """`Last safe morning Sat 10: Chapel Wall.`, of the beds that can wait least."""
    safe = min((one.last_safe for one in calls if one.last_safe), default=None)
    if safe is None:
        return ""
    beds = [one.name for one in calls if one.last_safe == safe]
    which = "" if len(beds) == len(calls) else f": {listed(beds, 50)}"
    return f"Last safe morning {_near(safe, today)}{which}."


def _near(day: date, today: date) -> str:
    if day == today:
        return "today"
    return "tomorrow" if day == today + timedelta(days=1) else short_day(day)


def _day(day: date) -> str:
    """`Fri 9 May`."""
    return f"{short_day(day)} {month_day(day).split()[1][:3]}"
