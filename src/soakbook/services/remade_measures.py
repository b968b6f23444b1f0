"""What was measured or laid, made anew with something of it said otherwise: checked as when it was entered."""

from datetime import datetime
from typing import cast

from soakbook.garden.door import admit
from soakbook.garden.entries import (
    Catch,
    Look,
    MulchLaid,
    Rain,
    Ruler,
)
from soakbook.garden.tables.mulches import mulch_key
from soakbook.quantities.amounts import parse_depth_mm
from soakbook.quantities.measures import parse_dressing_cm, parse_length_m, parse_spots_cm
from soakbook.quantities.names import check
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.correction import Case
from soakbook.services.looking import hole
from soakbook.services.measuring import check_jar, check_mulched, gauge_said
from soakbook.services.raining import check_apart, check_window, moment_said

OF = " of "
"""Between jar and gauge where both were typed."""


def rain_again(case: Case) -> Rain:
    """A gauge reading.

    Raises
    ------
    InputError
        It cannot be so.
    """
    old, said, desk = cast("Rain", case.old), case.said, case.desk
    read_at, begin = old.happened_at, old.began_at
    if desk.pen.at:
        read_at = moment_said(desk, desk.pen.at, "at", case.day)
        check_apart(desk, read_at)
    if "from" in said:
        begin = moment_said(desk, said["from"], "from", case.day)
    if isinstance(read_at, datetime) and ("from" in said or desk.pen.at):
        typed = ("from", said["from"]) if "from" in said else ("at", desk.pen.at or "")
        check_window(begin, read_at, typed)
    amount = said.get("amount")
    return admit(
        Rain,
        **case.desk.fields(read_at),
        rain_mm=old.rain_mm if amount is None else parse_depth_mm(amount),
        typed=old.typed if amount is None else amount,
        began_at=begin,
        kind=said["kind"].strip().casefold() if "kind" in said else old.kind,
        began_assumed=old.began_assumed and "from" not in said,
    )


def mulch_again(case: Case) -> MulchLaid:
    """A dressing.

    Raises
    ------
    InputError
        It cannot be so.
    """
    old, said = cast("MulchLaid", case.old), case.said
    bed, typed = case.bed, said.get("amount", old.typed)
    anew = "amount" in said or "in_bed" in said
    return admit(
        MulchLaid,
        **case.desk.fields(local_day(case.when, case.desk.zone)),
        bed_uid=bed.uid,
        kind=mulch_key(said["kind"]) if "kind" in said else old.kind,
        depth_cm=parse_dressing_cm(typed, bed.area_m2) if anew else old.depth_cm,
        typed=typed,
        cover_fraction=old.cover_fraction,
        on_wet_soil=old.on_wet_soil,
    )


def catch_again(case: Case) -> Catch:
    """A jam jar.

    Raises
    ------
    InputError
        It cannot be so.
    """
    old, said = cast("Catch", case.old), case.said
    jar, _, gauge = old.typed.partition(OF)
    jar, gauge = said.get("amount", jar), said.get("gauge", gauge)
    jar_mm = parse_depth_mm(jar, "jam jar") if "amount" in said else old.jar_mm
    gauge_mm = gauge_said(gauge) if "gauge" in said else old.gauge_mm
    check_jar(jar_mm, gauge_mm, jar)
    typed = f"{jar}{OF}{gauge}" if gauge else jar
    fields = {"bed_uid": case.bed.uid, "jar_mm": jar_mm, "gauge_mm": gauge_mm, "typed": typed}
    return admit(Catch, **case.fields(), **fields)


def ruler_again(case: Case) -> Ruler:
    """A ruler in the mulch.

    Raises
    ------
    InputError
        It cannot be so.
    """
    old, said, bed = cast("Ruler", case.old), case.said, case.bed
    measured_cm, spots, typed = old.measured_cm, old.spots, said.get("amount", old.typed)
    if "amount" in said:
        measured_cm, spots = parse_spots_cm(typed)
        check("measured_cm", measured_cm, field="ruler", typed=typed)
    check_mulched(case.desk, bed, local_day(case.when, case.desk.zone), typed)
    fields = {"bed_uid": bed.uid, "measured_cm": measured_cm, "spots": spots, "typed": typed}
    return admit(Ruler, **case.fields(), **fields)


def look_again(case: Case) -> Look:
    """A hole looked into.

    Raises
    ------
    InputError
        It cannot be so.
    """
    old, typed = cast("Look", case.old), case.said.get("amount")
    if typed is None:
        return hole(case.desk, case.about, case.when, (old.wet_to_cm, old.typed))
    wet_to_cm = check("wet_to_cm", 100 * parse_length_m(typed, "look"), field="look", typed=typed)
    return hole(case.desk, case.about, case.when, (wet_to_cm, typed))
