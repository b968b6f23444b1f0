"""A rule on watering that begins or ends: quoted as it was typed, never interpreted."""

from datetime import timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from soakbook.garden.entries import Soak
from soakbook.garden.records import Restriction
from soakbook.quantities.dates import month_day, short_day
from soakbook.quantities.saying import litres
from soakbook.reckoning.simulation.watering import local_day
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.fitting import Part, Text, called, cut, listed, text_of

Edge = Literal["begins", "ends"]

QUOTED_LETTERS = 140
WEEK = timedelta(days=7)


def rule_text(sight: Sight, rule: Restriction, edge: Edge) -> Text:
    """A rule of the book whose first day is near, or whose last day it is."""
    garden = called(sight.round.garden)
    tool = "all watering" if rule.tool == "all" else rule.tool
    first = f"{short_day(rule.first)} {month_day(rule.first).split()[1]}"
    if edge == "begins":
        title = f"{garden}: {tool} barred from {first} (your text)"
        if rule.first == sight.day:
            title = f"{garden}: {tool} barred from today (your text)"
        elif rule.first < sight.day:
            title = f"{garden}: {tool} barred since {first} (your text)"
    else:
        title = f"{garden}: {tool} barred, last day (your text)"
    source = "" if rule.source == "all" else f", from the {rule.source}"
    parts = [
        Part(0, f"From {month_day(rule.first)} to {month_day(rule.last)}{source}."),
        Part(0, f'As it was typed: "{cut(rule.text, QUOTED_LETTERS)}"'),
        Part(1, _asked_lately(sight, rule)),
        Part(0, "What it allows is in its own text."),
    ]
    return text_of(title, parts)


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
