"""A dry spell: that it has set in while roots are in the ball, and the sentence that other reminders borrow."""

from collections.abc import Sequence
from datetime import date

from soakbook.quantities.dates import short_day
from soakbook.quantities.saying import date_of, days
from soakbook.reckoning.advice.report import Call
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.fitting import Part, Text, bed_called, called, listed, text_of

DRY_FROM_DAYS = 10
"""Whole days without useful rain that are worth a word, and then every so many more. common practice, no source."""


def dry_since(sight: Sight) -> date | None:
    """The day of the last useful rain, or the first whose rain is known, of a spell that is worth a word."""
    spell = sight.spell
    if spell is None or spell.no_useful_rain_days < DRY_FROM_DAYS:
        return None
    return spell.useful_rain_on or spell.known_from


def dry_words(sight: Sight, calls: Sequence[Call]) -> str:
    """`No useful rain since 5 March, none likely to Wed 21; roots are still in the ball.`; empty where it is not so."""
    since = dry_since(sight)
    rooted = sight.rooted_in_balls()
    if since is None or not any(call in rooted for call in calls):
        return ""
    return f"No useful rain since {date_of(since, sight.day)}{_ahead(sight)}; roots are still in the ball."


def dry_text(sight: Sight, calls: Sequence[Call]) -> Text:
    """A dry spell, for one person: `calls` are those of their beds in which roots are in the ball."""
    since, spell = dry_since(sight), sight.spell
    assert since is not None
    assert spell is not None
    at_least = "" if spell.useful_rain_on else "at least "
    likely = [
        f"{bed_called(call.name)} {_near(day, sight.day)}"
        for call in sorted(calls, key=lambda call: call.wanted_on or date.max)
        if (day := call.wanted_on)
    ]
    in_balls = listed([bed_called(call.name) for call in calls], 90)
    parts = [
        Part(0, f"{at_least.capitalize()}{days(spell.no_useful_rain_days)}{_ahead(sight)}."),
        Part(0, f"Roots are still in the ball: {in_balls}."),
        Part(1, f"Likely wanted: {listed(likely, 90)}." if likely else ""),
    ]
    title = f"{called(sight.round.garden)}: no useful rain since {date_of(since, sight.day)}"
    return text_of(title, parts)


def _near(day: date, today: date) -> str:
    return "today" if day <= today else short_day(day)


def _ahead(sight: Sight) -> str:
    """`, none likely to Wed 21`, where a forecast says so."""
    week = sight.round.week
    if week is None or week.useful_rain_chance is None:
        return ""
    if week.useful_rain_by is not None:
        return f", some likely by {short_day(week.useful_rain_by)}"
    return f", none likely to {short_day(week.last)}"
