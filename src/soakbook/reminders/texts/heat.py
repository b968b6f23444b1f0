"""The eve of heat: what to soak and shade before it. The people come last, and are never left out."""

from datetime import date

from soakbook.garden.heat import HeatSpell
from soakbook.quantities.dates import WEEKDAYS
from soakbook.quantities.saying import litres
from soakbook.reckoning.advice.in_heat import LIVING_IN_THEIR_BALLS
from soakbook.reminders.sight import Sight
from soakbook.reminders.texts.fitting import Part, Text, called, listed, text_of

PEOPLE = (
    "Not between 11 and 5; hat, shade, drink, in pairs. Giddy or sick, and not better after half an hour "
    "in the cool: medical help."
)
"""As `garden.heat_words.PEOPLE_IN_HEAT`, for a lock screen."""


def heat_text(sight: Sight) -> Text:
    """Heat that begins tomorrow, or has begun."""
    heat = sight.heat
    assert heat is not None
    soaks = [f"{bed.name} {litres(bed.litres)}" for bed in sight.in_heat if bed.litres > 0]
    shades = [bed.name for bed in sight.in_heat if bed.stage == LIVING_IN_THEIR_BALLS]
    young = [bed.name for bed in sight.in_heat if bed.under_four_weeks]
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
    return text_of(f"{called(sight.round.garden)}: {_spell(heat, sight.day)}", parts)


def _spell(heat: HeatSpell, today: date) -> str:
    """`heat likely Tue to Mon, up to 34 °C`."""
    last = f"{_weekday(heat.last)}{' or later' if heat.open_ended else ''}"
    peak = f"up to {heat.peak_c:.0f} °C"
    if heat.first > today:
        return f"heat likely {_weekday(heat.first)} to {last}, {peak}"
    return f"heat since {_weekday(heat.first)}, likely to {last}, {peak}"


def _weekday(day: date) -> str:
    return WEEKDAYS[day.weekday()][:3]
