"""Whether the plants of a bed have room: each ball in its ground, and all the ground in the bed."""

from collections.abc import Collection, Iterator

from soakbook.errors import InputError
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed, Uid
from soakbook.quantities import saying
from soakbook.quantities.saying import plural
from soakbook.reckoning.simulation.cells import cells_m2, least_cell_m2
from soakbook.services.subjects import free_places


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
    for planting in pages.plantings:
        least_m2 = least_cell_m2(planting.ball_diameter_m)
        if planting.bed_uid in bed_uids and cells[planting.uid] <= least_m2:
            area = saying.area(beds[planting.bed_uid].area_m2)
            right = (
                f"fewer plants or a larger bed, or by --spacing less ground for others: in {area} one of the "
                f"{plural(planting.name)} would have {cells[planting.uid]:.2g} m² of ground, and a ball "
                f"{100 * planting.ball_diameter_m:.0f} cm across needs {least_m2:.2g}"
                f"{_free(pages, planting.bed_uid)}"
            )
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
        f"The plants of {bed.name} want more ground than its {saying.area(bed.area_m2)}: each is reckoned on "
        f"{parts[bed.uid]:.2f} of its own. Say --spacing, or the --area as it is."
    )
