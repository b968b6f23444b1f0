"""A rule on watering that begins or ends: quoted as it was typed, never interpreted."""

from datetime import date, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Soak
from soakbook.garden.records import Restriction
from soakbook.quantities.dates import month_day, short_day, weekday_date
from soakbook.quantities.saying import litres
from soakbook.reckoning.simulation.watering import local_day
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.fitting import Part, Text, called, cut, listed, text_of, that_fits

Edge = Literal["begins", "ends"]

QUOTED_LETTERS = 140
WEEK = timedelta(days=7)


def rule_text(sight: Sight, rule: Restriction, edge: Edge) -> Text:
    """A rule of the book whose first day is near, or whose last day it is."""
    garden = called(sight.round.garden)
    barred = f"{'watering' if rule.tool == 'all' else rule.tool} barred"
    titles = [f"{garden}: {barred} {when} (your text)" for when in _when(rule, edge, sight.day)]
    source = "" if rule.source == "all" else f", from the {rule.source}"
    parts = [
        Part(0, f"From {month_day(rule.first)} to {month_day(rule.last)}{source}."),
        Part(0, f'As it was typed: "{cut(rule.text, QUOTED_LETTERS)}"'),
        Part(1, _asked_lately(sight, rule)),
        Part(0, "What it allows is in its own text."),
    ]
    return text_of(that_fits(*titles), parts)


def _when(rule: Restriction, edge: Edge, today: date) -> tuple[str, ...]:
    """`from Fri 18 July`, and shorter for where there is no room."""
    if edge == "ends":
        return ("for the last day", "to tonight")
    if rule.first == today:
        return ("from today",)
    word = "from" if rule.first > today else "since"
    return (f"{word} {weekday_date(rule.first)}", f"{word} {short_day(rule.first)}")


def _asked_lately(sight: Sight, rule: Restriction) -> str:
    """What the taps that draw from there have given in a week."""
    taps = [tap.key for tap in sight.pages.taps if rule.source in ("all", tap.source)]
    beds = {bed.uid for bed in sight.pages.beds if bed.tap in taps}
    since, zone = sight.day - WEEK, ZoneInfo(sight.pages.garden.timezone)
    given = sum(
        entry.litres
        for entry in sight.pages.entries
        if isinstance(entry, Soak)
        and entry.bed_uid in beds
        and local_day(entry.happened_at, zone) > since
    )
    if not taps or not given:
        return ""
    at = f"tap {taps[0]}" if len(taps) == 1 else f"taps {listed(sorted(taps), 30, '')}"
    return f"The beds at {at} had {litres(given)} in the last seven days."
