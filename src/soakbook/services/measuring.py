"""What is measured in a bed: a jam jar beside the gauge, a ruler in the mulch."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Unpack

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import AnyEntry, Catch, Rain, Ruler, When
from soakbook.garden.jars import tells
from soakbook.garden.records import Bed
from soakbook.quantities.amounts import parse_depth_mm
from soakbook.quantities.measures import parse_spots_cm
from soakbook.quantities.names import check
from soakbook.quantities.saying import number, quoted
from soakbook.reckoning.simulation.touches import moment_of
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.desk import Desk, writing
from soakbook.services.feeling import minute_of
from soakbook.services.mulch_words import lies_on
from soakbook.services.pen import Pen, Written
from soakbook.services.settings import put
from soakbook.services.subjects import check_open
from soakbook.services.told import Report

MOST_OF_THE_GAUGE = 1.3
"""No place has more rain than that; a jar that has was splashed, or stands under a drip. common practice, no source."""

BESIDE = timedelta(days=1)
"""A reading of the gauge so long ago may be that of the shower the jar stood in."""


def jam_jar(
    path: Path, bed: str, caught: str, *, gauge: str | None = None, **written: Unpack[Written]
) -> Report:
    """Enter what a jar in a bed caught beside the gauge; it sets the bed's share of the rain.

    Parameters
    ----------
    path : Path
        The book.
    bed, caught : str
        As typed.
    gauge : str, optional
        What the gauge caught meanwhile, as typed; else its last reading, if that is of the last day.
    **written
        now, by, at.

    Raises
    ------
    InputError
        Anything that cannot be right; then nothing of it is in the book.
    """
    from soakbook.services.measure_answer import jar_answer

    with writing(Pen(path, **written)) as desk:
        place, when = desk.bed(bed), desk.when()
        check_open(desk, place, local_day(when, desk.zone))
        jar_mm = parse_depth_mm(caught, "jam jar")
        gauge_mm = _read(desk, when) if gauge is None else gauge_said(gauge)
        check_jar(jar_mm, gauge_mm, caught)
        typed = caught if gauge is None else f"{caught} of {gauge}"
        fields = {"bed_uid": place.uid, "jar_mm": jar_mm, "gauge_mm": gauge_mm, "typed": typed}
        entry = admit(Catch, **desk.fields(when), **fields)
        _check_new(desk, place, entry, ("jam jar", caught))
        if tells(entry) and place.rain_share is not None:
            put(desk, Bed, place, {"rain_share": None})  # what was said last holds
        after = desk.enter([entry])
    return jar_answer(desk, after, place, entry)


def ruler(path: Path, bed: str, spots: str, **written: Unpack[Written]) -> Report:
    """Enter how deep the mulch of a bed lies by the ruler; all that lies there is scaled to it.

    Parameters
    ----------
    path : Path
        The book.
    bed, spots : str
        As typed.
    **written
        now, by, at.

    Raises
    ------
    InputError
        Anything that cannot be right, a bed without a mulch among it; then nothing is in the book.
    """
    from soakbook.services.measure_answer import ruler_answer

    with writing(Pen(path, **written)) as desk:
        place, when = desk.bed(bed), desk.when()
        check_open(desk, place, local_day(when, desk.zone))
        measured_cm, count = parse_spots_cm(spots)
        check("measured_cm", measured_cm, field="ruler", typed=spots)
        check_mulched(desk, place, local_day(when, desk.zone), spots)
        fields = {"measured_cm": measured_cm, "spots": count, "typed": spots}
        entry = admit(Ruler, **desk.fields(when), bed_uid=place.uid, **fields)
        _check_new(desk, place, entry, ("ruler", spots))
        after = desk.enter([entry])
    return ruler_answer(desk, after, place, entry)


def check_jar(jar_mm: float, gauge_mm: float, caught: str) -> None:
    """Refuse a jar that has much more than the gauge.

    Raises
    ------
    InputError
        It has.
    """
    if jar_mm > MOST_OF_THE_GAUGE * gauge_mm:
        right = (
            f"at most {MOST_OF_THE_GAUGE:g} times the {number(gauge_mm)} mm of the gauge: was the jar "
            "splashed, or under a drip?"
        )
        raise InputError("jam jar", caught, right)


def gauge_said(gauge: str) -> float:
    """What the gauge caught, as typed [mm, more than 0].

    Raises
    ------
    InputError
        No depth, or none at all.
    """
    depth_mm = parse_depth_mm(gauge, "gauge")
    return check("gauge_mm", depth_mm, field="gauge", typed=gauge)


def _read(desk: Desk, when: When) -> float:
    """The gauge's last reading before a jar was read."""
    moment = moment_of(when, desk.pages).astimezone(UTC)
    for one in reversed(desk.pages.entries):
        read_at = one.happened_at
        if not isinstance(one, Rain) or not isinstance(read_at, datetime):
            continue
        if timedelta(0) <= moment - read_at.astimezone(UTC) <= BESIDE and one.rain_mm > 0:
            return one.rain_mm
    right = (
        "what it caught while the jar stood there, as the book has no rain in it of the day before: "
        "--gauge 14mm"
    )
    raise InputError("gauge", None, right)


def check_mulched(desk: Desk, bed: Bed, day: date, spots: str) -> None:
    """Refuse a ruler where there is no mulch to be measured.

    Raises
    ------
    InputError
        There is none.
    """
    lies = lies_on(desk.pages, bed, day)
    if lies.depth_cm:
        return
    if lies.cover_fraction:
        right = f"a mulch that has a depth: what lies on {bed.name} is reckoned to have none"
    else:
        command = f"soakbook mulch {quoted(bed.key)} bark 5cm"
        right = f"a bed with a mulch, entered by its kind and day first: {command} --on 1apr"
    raise InputError("ruler", spots, right)


def _check_new(desk: Desk, bed: Bed, new: Catch | Ruler, said: tuple[str, str]) -> None:
    """Refuse what is in the book already, for that minute: it is likely typed twice."""
    if any(_what(one) == _what(new) for one in desk.pages.entries):
        field, typed = said
        right = f"entered once: the same of {bed.name} at that moment is in the book already"
        raise InputError(field, typed, right)


def _what(entry: AnyEntry) -> tuple[object, ...]:
    """What a measurement says, and of which minute."""
    minute = minute_of(entry.happened_at)
    if isinstance(entry, Catch):
        return (Catch, entry.bed_uid, minute, entry.jar_mm, entry.gauge_mm)
    if isinstance(entry, Ruler):
        return (Ruler, entry.bed_uid, minute, entry.measured_cm, entry.spots)
    return ()
