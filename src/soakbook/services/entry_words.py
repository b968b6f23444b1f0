"""An entry in a gardener's words: what, of which bed, when and by whom. What it changed is said elsewhere."""

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any

from soakbook.garden.entries import (
    BedEntry,
    Catch,
    Feel,
    Kept,
    Left,
    Look,
    Loss,
    MulchLaid,
    Rain,
    Ruler,
    Soak,
    Void,
    When,
    Wilt,
)
from soakbook.garden.pages import Pages
from soakbook.garden.tables.causes import ELSEWHERE
from soakbook.garden.tables.mulches import MULCHES
from soakbook.quantities import saying
from soakbook.quantities.dates import WEEKDAYS, month_day
from soakbook.store.texts import garden_zone

SOAKS = {"soak": "", "rescue": " to rescue", "re_wet": " to re-wet", "water_in": " to water in"}


def entry_words(entry: Kept, pages: Pages) -> str:
    """`Chapel Wall, roses: soaked with 20 L by can`."""
    what = _WHAT[type(entry)](entry)
    place = place_of(entry, pages)
    return f"{place}: {what}" if place else what


def at_a_time(entry: Kept, pages: Pages) -> str:
    """The same with when and by whom: `..., Thu 15 May 2031 07:40, by Tom`."""
    by = f", by {entry.by}" if entry.by else ""
    return f"{entry_words(entry, pages)}, {time_words(entry.happened_at, pages)}{by}"


def time_words(when: When, pages: Pages) -> str:
    """`Thu 15 May 2031 07:40`, on the garden's clock; a bare day without an hour."""
    if not isinstance(when, datetime):
        return _day(when)
    local = when.astimezone(garden_zone(pages.garden))
    return f"{_day(local.date())} {local:%H:%M}"


def place_of(entry: Kept, pages: Pages) -> str:
    """The bed that an entry is about, and the planting where one was named; empty for the garden."""
    if not isinstance(entry, BedEntry):
        return ""
    bed = next((one.name for one in pages.beds if one.uid == entry.bed_uid), entry.bed_uid)
    named = [one.name for one in pages.plantings if one.uid == entry.planting_uid]
    return ", ".join([bed, *named])


def typed_of(entry: Kept) -> str | None:
    """An amount as it was typed; None where an entry has none."""
    typed: str | None = getattr(entry, "typed", None)
    return typed


def _day(day: date) -> str:
    return f"{WEEKDAYS[day.weekday()][:3]} {saying.date_of(day, date.min)}"


def _soak(one: Soak) -> str:
    return f"soaked{SOAKS[one.kind]} with {saying.litres(one.litres)} by {one.method}"


def _rain(one: Rain) -> str:
    kind = f", {one.kind}" if one.kind else ""
    return f"{one.rain_mm:g} mm of rain{kind}, since {month_day(one.began_at)} {one.began_at:%H:%M}"


def _feel(one: Feel) -> str:
    felt = [f"{what} {found}" for what, found in (("ball", one.ball), ("bed", one.bed)) if found]
    return f"felt {', '.join(felt)}{', unsure' if one.unsure else ''}"


def _loss(one: Loss) -> str:
    plants = saying.counted(one.count, "plant")
    if one.cause in ELSEWHERE:
        return f"{plants}, {ELSEWHERE[one.cause]}"
    return f"{plants} lost, {one.cause}"


def _mulch(one: MulchLaid) -> str:
    wet = {True: " on wet soil", False: " on dry soil", None: ""}[one.on_wet_soil]
    return f"mulched with {one.depth_cm:.3g} cm of {MULCHES[one.kind].name}{wet}"


def _ruler(one: Ruler) -> str:
    return f"mulch {one.measured_cm:.3g} cm by the ruler"


_WHAT: Mapping[type[Kept], Callable[[Any], str]] = {
    Soak: _soak,
    Rain: _rain,
    Feel: _feel,
    Wilt: lambda one: "leaves upright" if one.upright else "leaves limp",
    Left: lambda one: f"left, {one.reason}",
    Loss: _loss,
    MulchLaid: _mulch,
    Catch: lambda one: f"a jar had {one.jar_mm:.3g} mm of {one.gauge_mm:.3g} in the gauge",
    Ruler: _ruler,
    Look: lambda one: f"a hole wet to {one.wet_to_cm:.3g} cm",
    Void: lambda _: "taken back",
}
