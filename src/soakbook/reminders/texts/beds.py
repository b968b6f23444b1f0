"""Reminders that tell somebody to go to beds: the round, rain that did not come, no word, go and feel."""

from collections.abc import Collection, Mapping, Sequence
from datetime import date, time, timedelta

from soakbook.quantities.dates import short_day, weekday_date
from soakbook.quantities.saying import counted, days, litres, minutes, quoted
from soakbook.reckoning.advice.report import Call, DoseKind
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.dry import dry_words
from soakbook.reminders.texts.fitting import (
    Part,
    Text,
    bed_called,
    called,
    cut,
    listed,
    text_of,
    that_fits,
)

DONE_BY = time(10)
"""Before the heat of the day. common practice, no source."""

ANSWER = "Answer: soakbook remind done | half | could-not | left"
LIST_LETTERS = 120
SHORT_LIST_LETTERS = 80
TYPED_LETTERS = 30
"""A longer key is too long to be typed from a lock screen."""

_KIND_WORDS: Mapping[DoseKind | None, str] = {
    "rescue": " (a rescue)",
    "re_wet": " (the balls only)",
    "water_in": " (to water in)",
}


def round_text(sight: Sight, calls: Sequence[Call], name: str = "") -> Text:
    """The morning's round for one person.

    Parameters
    ----------
    sight : Sight
        Of the round hour.
    calls : sequence of Call
        To be watered, in walk order.
    name : str, optional
        Theirs, by which they answer.
    """
    by = f" by {DONE_BY:%H:%M}" if sight.at.time() < DONE_BY else ""
    title = (
        f"{called(sight.round.garden)}, {weekday_date(sight.day)}: {counted(len(calls), 'bed')}{by}"
    )
    first = [bed_called(call.name) for call in calls if call.feel_first]
    parts = [
        Part(0, f"{_doses(calls)}: about {minutes(sum(one.minutes_on_foot for one in calls))}."),
        Part(2, dry_words(sight, calls)),
        Part(1, _last_safe(calls, sight.day)),
        Part(3, f"Feel one first: {listed(first, 60)}." if first else ""),
        Part(4, calls[0].reason if len(calls) == 1 else ""),
        Part(0, answer_words(name)),
    ]
    return text_of(title, parts)


def promise_text(sight: Sight, calls: Sequence[Call], name: str = "") -> Text:
    """Rain that beds were left for and that did not come, for one person, who answers by this name."""
    said = {one.bed: one.say for one in sight.round.findings if one.kind == "promise_broken"}
    fell = said[calls[0].bed].removeprefix("The rain did not come: ").partition(". ")[0]
    where = f" at {bed_called(calls[0].name)}" if len(calls) > 1 else ""
    doses = _doses(calls, SHORT_LIST_LETTERS)
    parts = [
        Part(0, f"{fell}{where}."),
        Part(0, f"Left for it, and to be soaked this morning: {doses}."),
        Part(1, _last_safe(calls, sight.day)),
        Part(2, "Not left for a forecast again before it has been soaked or rained on."),
        Part(0, answer_words(name)),
    ]
    return text_of(f"{called(sight.round.garden)}: the rain did not come", parts)


def unheard_text(
    sight: Sight,
    morning: Sight,
    calls: Sequence[Call],
    could_not: Collection[str],
    name: str = "",
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
    name : str, optional
        Of who is asked, by which they answer.
    """
    garden = called(sight.round.garden)
    one, until = calls[0], _until(calls, sight.day)
    how_it_is = f"{'still wanting' if could_not else 'not heard of'}{until}"
    title = counted_title = f"{garden}: {counted(len(calls), 'bed')} {how_it_is}"
    if len(calls) == 1:
        title = that_fits(f"{garden}: {one.name} {how_it_is}", counted_title)
    tap = cut(one.tap or "", 10)
    with_tap = f", {minutes(one.minutes)} at tap {tap}" if tap and one.minutes else ""
    on_balls = ", on the balls" if all(call.aim == "ball" for call in calls) else ""
    doses = f"{litres(one.litres)}{with_tap}" if len(calls) == 1 else _doses(calls)
    asked = "Were they done?" if len(calls) > 1 else "Was it done?"
    if could_not:
        asked = f"{listed(sorted(could_not), 50, '')} could not get there."
    lead = "Wanted" if could_not else "If not"
    called_it = f"{bed_called(one.name)}: " if one.name not in title and len(calls) == 1 else ""
    parts = [
        Part(0, asked),
        Part(0, f"{lead}: {called_it}{doses}{on_balls}."),
        Part(1, dry_words(morning, calls)),
        Part(0, answer_words(name)),
    ]
    return text_of(title, parts)


def feel_text(sight: Sight, calls: Sequence[Call]) -> Text:
    """Beds to go and feel, for one person."""
    garden = called(sight.round.garden)
    title = beds_title = f"{garden}: go and feel {counted(len(calls), 'bed')}"
    if len(calls) == 1:
        title = that_fits(f"{garden}: go and feel {calls[0].name}", beds_title)
    beds = listed([_unfelt(call) for call in calls], LIST_LETTERS)
    key = quoted(calls[0].bed)
    key = key if len(key) <= TYPED_LETTERS else "BED"
    parts = [
        Part(0, f"{beds}: by the reckoning nothing is due, and nobody has looked."),
        Part(1, "A finger in a ball, and one a hand's breadth outside it; gloves on."),
        Part(0, f"Then: soakbook feel {key} --ball ? --bed ? (dust, dry, moist, wet, sour)."),
    ]
    return text_of(title, parts)


def answer_words(name: str) -> str:
    """The command that answers; by whom, where the name is no longer than can be said."""
    typed = quoted(name)
    return f"{ANSWER} --by {typed}." if name and len(typed) <= TYPED_LETTERS else f"{ANSWER}."


def _unfelt(call: Call) -> str:
    unfelt = call.days_since_felt
    name = bed_called(call.name)
    return f"{name} (never felt)" if unfelt is None else f"{name} ({days(unfelt)} unfelt)"


def _doses(calls: Sequence[Call], room: int = LIST_LETTERS) -> str:
    return listed(
        [
            f"{bed_called(one.name)} {litres(one.litres)}{_KIND_WORDS.get(one.dose_kind, '')}"
            for one in calls
        ],
        room,
    )


def _last_safe(calls: Sequence[Call], today: date) -> str:
    """`Last safe morning Sat 10: Chapel Wall.`, of the beds that can wait least; before them those that cannot."""
    at_once = [one for one in calls if _cannot_wait(one)]
    safe = min((one.last_safe for one in calls if one.last_safe), default=None)
    said = [f"Not to be put off{_which(at_once, calls)}."] if at_once else []
    if safe is not None:
        until = [one for one in calls if one.last_safe == safe]
        said.append(f"Last safe morning {_near(safe, today)}{_which(until, calls)}.")
    return " ".join(said)


def _which(some: Sequence[Call], calls: Sequence[Call]) -> str:
    if len(some) == len(calls):
        return ""
    return f": {listed([bed_called(one.name) for one in some], 50)}"


def _until(calls: Sequence[Call], today: date) -> str:
    """How long the first of them can wait, for the end of a title."""
    if any(_cannot_wait(one) for one in calls):
        return ", not to be put off"
    safe = min((one.last_safe for one in calls if one.last_safe), default=None)
    return f". Last safe: {_near(safe, today)}" if safe else ""


def _cannot_wait(call: Call) -> bool:
    """As the round has it: a soak without a last safe morning is not to be put off."""
    return call.last_safe is None and call.verdict == "soak"


def _near(day: date, today: date) -> str:
    if day == today:
        return "today"
    return "tomorrow" if day == today + timedelta(days=1) else short_day(day)
