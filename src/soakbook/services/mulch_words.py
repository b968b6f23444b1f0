"""The mulch that lies on a bed, and what it does, in words."""

from datetime import date

from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed
from soakbook.reckoning.simulation.mulching import Mulch, layings_by_bed, mulch_on
from soakbook.reckoning.simulation.parting import with_past
from soakbook.store.texts import garden_zone

THIN_CM = 3.0
"""Below it weeds come through and crust forms. common practice, no source."""

THIN = "Thin: it keeps back little, and weeds come through. 5 cm is usual."


def lies_on(pages: Pages, bed: Bed, day: date) -> Mulch:
    """All the mulch that lies on a bed on a day."""
    entries = with_past(pages).entries
    return mulch_on(day, layings_by_bed(entries, garden_zone(pages.garden)).get(bed.uid, ()))


def cm(depth_cm: float) -> str:
    """Whole centimetres, as a ruler is read in a mulch; a thin one to the tenth."""
    return f"{depth_cm:.0f} cm" if depth_cm >= THIN_CM else f"{depth_cm:.1f} cm".replace(".0", "")


def does(lies: Mulch) -> str:
    """What it keeps back of sun and of rain."""
    drinks = (
        f" Dry, it drinks the first {lies.capacity_mm:.1f} mm of a shower."
        if lies.capacity_mm
        else ""
    )
    return f"Bare soil under it dries at about {lies.evaporation_factor:.1f} of its pace.{drinks}"
