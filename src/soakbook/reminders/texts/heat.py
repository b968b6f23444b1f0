"""The eve of heat: what to soak and shade before it. The people come last, and are never left out."""

from datetime import date

from soakbook.garden.heat import HeatSpell
from soakbook.quantities.dates import WEEKDAYS
from soakbook.quantities.saying import litres
from soakbook.reckoning.advice.in_heat import LIVING_IN_THEIR_BALLS
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.fitting import (
    Part,
    Text,
    bed_called,
    called,
    listed,
    text_of,
    that_fits,
)

PEOPLE = (
    "Not between 11 and 5; hat, shade, drink, in pairs. Giddy or sick, and not better after half an hour "
    "in the cool: medical help."
)
"""As `garden.heat_words.PEOPLE_IN_HEAT`, for a lock screen."""


def heat_text(sight: Sight) -> Text:
    """Heat that begins tomorrow, or has begun."""
    heat = sight.heat
    assert heat is not None
    wanted_l = {bed.name: max(bed.litres, _open_l(sight, bed.name)) for bed in sight.in_heat}
    soaks = [f"{bed_called(name)} {litres(some)}" for name, some in wanted_l.items() if some > 0]
    shades = [bed_called(bed.name) for bed in sight.in_heat if bed.stage == LIVING_IN_THEIR_BALLS]
    young = [bed_called(bed.name) for bed in sight.in_heat if bed.under_four_weeks]
    when = "this evening or by 8 tomorrow"
    wanted = (
        f"Soak {when}: {listed(soaks, 90)}."
        if soaks
        else "By the reckoning no bed wants water before it."
    )
    parts = [
        Part(0, wanted),
        Part(2, f"Shade: {listed(shades, 40)}." if shades else ""),
        Part(1, f"Look twice at: {listed(young, 40)}." if young else ""),
        Part(0, PEOPLE),
    ]
    garden = called(sight.round.garden)
    spells = (_spell(heat, sight.day, or_later=said) for said in (heat.open_ended, False))
    return text_of(that_fits(*(f"{garden}: {spell}" for spell in spells)), parts)


def _open_l(sight: Sight, name: str) -> float:
    """What today's round has for a bed yet: tomorrow's is reckoned as if that had been given."""
    calls = (one for one in sight.round.calls if one.order is not None)
    return next((one.litres for one in calls if one.name == name), 0.0)


def _spell(heat: HeatSpell, today: date, *, or_later: bool) -> str:
    """`heat likely Tue to Mon, up to 34 °C`."""
    last = f"{_weekday(heat.last)}{' or later' if or_later else ''}"
    peak = f"up to {heat.peak_c:.0f} °C"
    begins = _weekday(heat.first)
    if heat.first > today:
        return f"heat likely {begins} to {last}, {peak}"
    since = "today" if heat.first == today else f"since {begins}"
    return f"heat {since}, likely to {last}, {peak}"


def _weekday(day: date) -> str:
    return WEEKDAYS[day.weekday()][:3]
