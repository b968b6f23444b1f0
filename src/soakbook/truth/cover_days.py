"""The cover of a record's days: its columns, else what its description says, else grass."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from soakbook.errors import InputError
from soakbook.truth.columns import Columns
from soakbook.truth.cover import MOST_KCB, Cover, grass
from soakbook.truth.measured import Measures
from soakbook.truth.record import Record


def cover_of(
    record: Record, columns: Columns, measures: Measures, days: Sequence[date]
) -> tuple[Cover, list[str]]:
    """What grows on each day, and what should be known of it.

    Parameters
    ----------
    record : Record
        Its description goes before its columns.
    columns, measures : Columns, Measures
        Of its CSV.
    days : sequence of date
        All of them.

    Raises
    ------
    InputError
        A column of kcb without one of ground_cover, or the other way round.
    """
    there = [one for one in (columns.kcb, columns.ground_cover) if one is not None]
    if record.cover is not None:
        findings = _ends(record.cover, days)
        if there:
            named = ", ".join(repr(one.header) for one in there)
            findings.append(f"the record says its cover, so its columns are left out: {named}")
        return record.cover, findings
    if not there:
        return grass(record.southern), ["no cover said: taken as grass"]
    if columns.kcb is None or columns.ground_cover is None:
        missing = "kcb" if columns.kcb is None else "ground_cover"
        raise InputError(f"column of {missing}", None, "both kcb and ground_cover")
    kcb = measures.read(columns.kcb, "kcb", 0.0, MOST_KCB)
    ground = measures.read(columns.ground_cover, "ground_cover", 0.0, 100.0)
    findings = [f"cover from columns {columns.kcb.header!r} and {columns.ground_cover.header!r}"]
    if np.nanmax(ground, initial=0.0) > 1:
        findings.append("ground_cover above 1 is taken as per cent")
        ground = ground / 100
    known = np.flatnonzero(~np.isnan(kcb) & ~np.isnan(ground)).tolist()
    if not known:
        raise InputError("columns of kcb and ground_cover", None, "both on some day at least")
    return Cover(
        tuple((float(days[n].toordinal()), float(kcb[n]), float(ground[n])) for n in known),
        yearly=False,
    ), findings


def _ends(cover: Cover, days: Sequence[date]) -> list[str]:
    """Say where dated rows do not reach the ends of the record."""
    if cover.yearly:
        return []
    first, last = (date.fromordinal(int(cover.points[end][0])) for end in (0, -1))
    findings = []
    if first > days[0]:
        findings.append(f"the cover's first row, {first}, is taken for all days before it too")
    if last < days[-1]:
        findings.append(f"the cover's last row ends on {last}; it is taken to {days[-1]} unchanged")
    return findings
