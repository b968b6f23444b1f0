"""A mulch laid: its kind, and its depth by the ruler or the sacks it took."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Unpack

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import MulchLaid
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed
from soakbook.garden.tables.mulches import MULCHES, mulch_key
from soakbook.quantities import saying
from soakbook.quantities.conversions import litres_from_depth
from soakbook.quantities.dates import parse_day
from soakbook.quantities.measures import SACK_L, parse_dressing_cm
from soakbook.reckoning.simulation.mulching import Mulch
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.cautions import CAUTIONS, first_entry_of_year
from soakbook.services.desk import Desk, writing
from soakbook.services.mulch_words import THIN, THIN_CM, cm, does, lies_on
from soakbook.services.pen import Pen, Written
from soakbook.services.subjects import check_open
from soakbook.services.told import Report, told
from soakbook.store.texts import garden_zone

THICK_CM = 8.0
"""Above it little rain gets in. common practice, no source."""

YOUNG_DAYS = 42

THICK = "Thick: light rain never gets through it. Rake some of it off the balls."
ON_DRY = "Laid on dry soil it keeps the rain out: soak the bed through, then count on it."
WET_OR_DRY = (
    "Was the soil wet under it? Say --wet or --dry with it. On dry soil a mulch keeps the rain out: soak first if it "
    "was dry."
)
YOUNG = "In the first six weeks keep it thin over the balls, and always off the stems."


def mulch(
    path: Path,
    beds: Sequence[str],
    kind: str,
    amount: str,
    *,
    wet: bool | None = None,
    on: str | None = None,
    **written: Unpack[Written],
) -> list[Report]:
    """Enter a mulch laid on one bed, or alike on several.

    Parameters
    ----------
    path : Path
        The book.
    beds : sequence of str
        As typed.
    kind, amount : str
        As typed; sacks are those that each bed took.
    wet : bool, optional
        Whether the soil was wet under it.
    on : str, optional
        The day it was laid, as typed; else today.
    **written
        now, by, at; the last is the same as `on`.

    Returns
    -------
    list of dict
        One answer a bed.

    Raises
    ------
    InputError
        Anything that cannot be right; then nothing of it is in the book.
    """
    if on and written.get("at"):
        raise InputError("at", written["at"], "the day said once: --on or --at")
    pen = Pen(path, **written)
    key = mulch_key(kind)
    with writing(pen) as desk:
        day = _day(desk, on)
        dressed = desk.beds(beds)
        laid = [_laid(desk, bed, day, (key, amount, wet)) for bed in dressed]
        first = first_entry_of_year(desk.pages, MulchLaid, day)
        after = desk.enter(laid).pages
    pairs = zip(dressed, laid, strict=True)
    return [
        answer(after, bed, one, first and number == len(laid) - 1)
        for number, (bed, one) in enumerate(pairs)
    ]


def _day(desk: Desk, on: str | None) -> date:
    if on is None:
        return local_day(desk.when(), desk.zone) if desk.pen.at else desk.today
    day = parse_day(on, "on", desk.today, ahead_days=0)
    if day > desk.today:
        raise InputError("on", on, "a day that has come")
    return day


def _laid(desk: Desk, bed: Bed, day: date, what: tuple[str, str, bool | None]) -> MulchLaid:
    kind, amount, wet = what
    check_open(desk, bed, day)
    return admit(
        MulchLaid,
        **desk.fields(day),
        bed_uid=bed.uid,
        kind=kind,
        depth_cm=parse_dressing_cm(amount, bed.area_m2),
        typed=amount,
        on_wet_soil=wet,
    )


def answer(pages: Pages, bed: Bed, entry: MulchLaid, caution: bool = False) -> Report:
    """What a dressing does, from the pages with it."""
    day = local_day(entry.happened_at, garden_zone(pages.garden))
    lies = lies_on(pages, bed, day)
    spread_l = litres_from_depth(10 * entry.depth_cm, bed.area_m2)
    say = (
        f"{bed.name}: {MULCHES[entry.kind].name}, {cm(entry.depth_cm)} over {saying.area(bed.area_m2)}: "
        f"{saying.litres(spread_l)}, about {saying.counted(round(spread_l / SACK_L), 'sack')} of "
        f"{SACK_L:g} L. {does(lies)}",
        _adds(pages, bed, entry, day),
        " ".join(_advice(pages, bed, entry, day, lies)),
        CAUTIONS["mulch"] if caution else "",
    )
    changed = {
        "entries": [entry.uid],
        "kind": entry.kind,
        "depth_cm": entry.depth_cm,
        "capacity_mm": lies.capacity_mm,
        "evaporation_fraction": lies.evaporation_factor,
    }
    return told("mulch", bed.key, say, changed)


def _adds(pages: Pages, bed: Bed, entry: MulchLaid, day: date) -> str:
    """That the same was entered for that day already, in case it was typed twice."""
    zone = garden_zone(pages.garden)
    there_cm = sum(
        one.depth_cm
        for one in pages.entries
        if isinstance(one, MulchLaid)
        and one.uid != entry.uid
        and (one.bed_uid, one.kind) == (bed.uid, entry.kind)
        and local_day(one.happened_at, zone) == day
    )
    if not there_cm:
        return ""
    return f"It adds to the {cm(there_cm)} of it already entered for that day."


def _advice(pages: Pages, bed: Bed, entry: MulchLaid, day: date, lies: Mulch) -> list[str]:
    advice = []
    if not MULCHES[entry.kind].sheet and lies.depth_cm < THIN_CM:
        advice.append(THIN)
    if lies.depth_cm > THICK_CM:
        advice.append(THICK)
    if entry.on_wet_soil is not True:
        advice.append(WET_OR_DRY if entry.on_wet_soil is None else ON_DRY)
    planted = [one.planted_on for one in pages.plantings_of(bed) if one.planted_on <= day]
    if planted and (day - max(planted)).days < YOUNG_DAYS:
        advice.append(YOUNG)
    return advice
