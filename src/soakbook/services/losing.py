"""Plants lost, with what is thought to have killed them."""

from datetime import date
from pathlib import Path
from typing import Unpack

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import Loss
from soakbook.garden.records import Bed, Planting
from soakbook.garden.tables.causes import CAUSES, cause_key
from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.quantities.saying import plural
from soakbook.services.counts import whole_number
from soakbook.services.desk import Desk, writing
from soakbook.services.pen import Pen, Written
from soakbook.services.subjects import planting_of, standing, subject
from soakbook.services.told import Report, told

MAY_STILL_LIVE = ("drought", "scorch", "unknown")
DRIED_OUT = ("drought", "dry ball")
DROWNED = "drowned"


def loss(
    path: Path, bed: str, planting: str, count: str, cause: str, **written: Unpack[Written]
) -> Report:
    """Enter plants of one planting as lost.

    Parameters
    ----------
    path : Path
        The book.
    bed, planting, count, cause : str
        As typed.
    **written
        now, by, at.

    Raises
    ------
    InputError
        Anything that cannot be right, more lost than stand among it; then nothing is in the book.
    """
    pen = Pen(path, **written)
    lost, key = whole_number(count, "count", "plants lost"), cause_key(cause)
    with writing(pen) as desk:
        when = desk.when()
        place = desk.bed(bed)
        of, about = planting_of(desk, place, planting), subject(desk, place, planting, when)
        about.must_live()
        check_standing(desk, place, of, lost)
        entry = admit(
            Loss,
            **desk.fields(when),
            bed_uid=place.uid,
            planting_uid=of.uid,
            count=lost,
            cause=key,
        )
        after = desk.enter([entry])
    return answer(after, place, of, entry)


def gone_to(desk: Desk, here: Bed, planting: Planting, count: int, day: date, cause: str) -> Loss:
    """The entry that plants are counted in their bed no longer, because they live in another."""
    return admit(
        Loss,
        **desk.fields(day),
        bed_uid=planting.bed_uid,
        planting_uid=planting.uid,
        count=count,
        cause=cause,
        note=f"to {here.name}",
    )


def check_standing(desk: Desk, bed: Bed, planting: Planting, lost: int) -> None:
    """Refuse more lost plants than stand.

    Raises
    ------
    InputError
        More are said to be lost.
    """
    stood = standing(desk.pages, planting)
    if lost > stood:
        right = f"at most {stood}: so many of the {plural(planting.name)} of {bed.name} stand"
        raise InputError("count", str(lost), right)


def answer(after: Desk, bed: Bed, planting: Planting, entry: Loss) -> Report:
    """What the loss leaves, from the pages with it."""
    lost, key, left_l = entry.count, entry.cause, standing(after.pages, planting)
    say = (
        f"{bed.name}: {lost:,} of the {plural(planting.name)} lost, {key} ({CAUSES[key]}). {_left(left_l)}",
        _look_again(planting, key),
    )
    changed = {"entries": [entry.uid], "planting": planting.name, "lost": lost, "standing": left_l}
    return told("loss", bed.key, say, changed)


def _left(count: int) -> str:
    if not count:
        return "None stand; from tomorrow the round leaves them out."
    return f"{count:,} stand{'s' if count == 1 else ''}, and from tomorrow the round counts these."


def _look_again(planting: Planting, cause: str) -> str:
    """What the loss says of the others, or of the lost themselves. common practice, no source."""
    if cause == DROWNED:
        return "Feel ball and bed of the others before they have any more water."
    advice = []
    if cause in DRIED_OUT:
        advice.append("Put a finger in the balls of the others: one dried out seldom comes alone.")
    woody = PLANT_CLASSES[planting.plant_class].woody and planting.leaf == "deciduous"
    if cause in MAY_STILL_LIVE and woody:
        advice.append(
            "A plant that has dropped its leaves this season may still live: scratch the bark, and "
            "leave it until spring if it is green."
        )
    return " ".join(advice)
