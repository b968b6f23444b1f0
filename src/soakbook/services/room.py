"""Whether the plants of a bed have room: each ball in its ground, and all the ground in the bed."""

from collections import defaultdict
from collections.abc import Collection, Iterator

from soakbook.errors import InputError
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Uid
from soakbook.quantities import saying
from soakbook.quantities.saying import plural
from soakbook.reckoning.simulation.cells import cells_m2, least_cell_m2
from soakbook.services.subjects import free_places, parted_off


def check_room(pages: Pages, bed: Bed, field: str, value: object) -> None:
    """Refuse a bed in which a plant would have less ground than its ball needs.

    Parameters
    ----------
    pages : Pages
        With the bed and its plantings as they are to be.
    bed : Bed
    field, value : str, object
        What was said that leaves too little room.

    Raises
    ------
    InputError
        Names the planting, the ground of one plant and what its ball needs.
    """
    for _, fault in check_rooms(pages, {bed.uid}):
        raise InputError(field, value, fault.right)


def check_rooms(pages: Pages, bed_uids: Collection[Uid]) -> Iterator[tuple[Uid, InputError]]:
    """Plantings of these beds that would have less ground than their balls need, by uid, each with its fault."""
    cells, _ = cells_m2(pages)
    beds = pages.bed_by_uid()
    taken_m2: dict[Uid, float] = defaultdict(float)
    for planting in pages.plantings:
        if planting.bed_uid not in bed_uids:
            continue
        bed = beds[planting.bed_uid]
        least_m2, cell_m2 = least_cell_m2(planting.ball_diameter_m), cells[planting.uid]
        if planting.replaces is None:
            here = planting.count - parted_off(pages, planting)
            taken_m2[bed.uid] += here * least_m2
        if cell_m2 <= least_m2:
            why = f"one of the {plural(planting.name)} would have {cell_m2:.2g} m² of ground, and a ball"
            needs = f"{100 * planting.ball_diameter_m:.0f} cm across needs {least_m2:.2g}"
        elif taken_m2[bed.uid] > bed.area_m2:
            why = f"with the {plural(planting.name)} the balls of all"
            needs = f"need {taken_m2[bed.uid]:.2g} m²"
        else:
            continue
        right = f"fewer plants or a larger bed: in {saying.area(bed.area_m2)} {why} {needs}{_free(pages, bed.uid)}"
        yield planting.uid, InputError("count", planting.count, right)


def _free(pages: Pages, bed_uid: Uid) -> str:
    """How to plant in the ground of those that are gone, where there are such; empty where there are none."""
    left = (one for one in pages.plantings if one.bed_uid == bed_uid and free_places(pages, one))
    gone = next(left, None)
    if gone is None:
        return ""
    return f"; --replaces {saying.quoted(gone.name)} plants in the ground of those that are gone"


def crowded(pages: Pages, bed: Bed) -> str:
    """What is said of a bed whose plants want more ground than it has; empty for others."""
    _, parts = cells_m2(pages)
    if bed.uid not in parts:
        return ""
    return (
        f"The plants of {bed.name} want more ground than its {saying.area(bed.area_m2)}: the last to come are "
        "reckoned on less than they want. Say --spacing, or the --area as it is."
    )
