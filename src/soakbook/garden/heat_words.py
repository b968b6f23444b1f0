"""Heat in a gardener's words, and what heat asks of people. What counts as heat is in `heat`."""

from datetime import date
from typing import TYPE_CHECKING

from soakbook.quantities.dates import short_day

if TYPE_CHECKING:
    from soakbook.garden.heat import HeatSpell

PEOPLE_IN_HEAT = (
    "In heat: go out early or late; hat, shade, drink, in pairs. Giddy, sick or confused, and not "
    "better after half an hour's rest in the cool: call for medical help."
)
"""That heat exhaustion should ease within half an hour: British public health advice, as councils pass it on."""


def heat_words(heat: "HeatSpell", today: date) -> str:
    """`Heat likely from Tue 8 to Mon 14, up to 34 °C.`; of heat that has begun, since when."""
    peak = f"up to {heat.peak_c:.0f} °C"
    until = f"{short_day(heat.last)}{' at least' if heat.open_ended else ''}"
    if heat.first > today:
        return f"Heat likely from {short_day(heat.first)} to {until}, {peak}."
    if heat.last < today:
        return f"Heat since {short_day(heat.first)}, {peak} yesterday; of today nothing is known."
    begun = "from today" if heat.first == today else f"since {short_day(heat.first)}"
    if heat.last > today:
        return f"Heat {begun}, likely to {until}, {peak}."
    tomorrow = "" if heat.open_ended else "; tomorrow likely cooler"
    return f"Heat {begun}, likely {peak} today{tomorrow}."
