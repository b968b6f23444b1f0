"""The frame of feels: what fingers found beside what was reckoned."""

from collections.abc import Mapping
from zoneinfo import ZoneInfo

import pandas as pd

from soakbook.account.season import Span
from soakbook.garden.pages import Pages
from soakbook.reckoning.advice.course import Course
from soakbook.reckoning.simulation.squaring import class_of
from soakbook.reckoning.simulation.start import CLASS_MIDS
from soakbook.reckoning.simulation.watering import local_day

FEEL_COLUMNS: Mapping[str, str] = {
    "day": "the morning that the feel squared up: the next one's after a soak or 17:00",
    "bed": "key of the bed",
    "bed_uid": "permanent name of the bed",
    "planting": "name of the planting",
    "planting_uid": "permanent name of the planting",
    "store": "ball, or bed: the soil round it",
    "felt": "what was felt: dust, dry, moist, wet or sour",
    "reckoned": "what the finger should have found by the reckoning",
    "came_out": "as reckoned, drier or wetter",
    "off": "how far off, in standard deviations of finger and reckoning together; below 0 drier [-]",
    "by": "who felt, where that was said",
}
"""Columns of the frame. One row per store felt: a feel of ball and bed has two."""

AS_RECKONED, DRIER, WETTER = "as reckoned", "drier", "wetter"
CAME_OUT = (AS_RECKONED, DRIER, WETTER)


def feels_frame(course: Course | None, pages: Pages, span: Span) -> pd.DataFrame:
    """One row per feel of a store that was reckoned, oldest first: of those felt on the days of the span.

    Parameters
    ----------
    course : Course or None
        None where nothing is reckoned: then there are no rows.
    pages : Pages
    span : Span
    """
    beds = {bed.uid: bed.key for bed in pages.beds}
    names = {one.uid: one.name for one in pages.plantings}
    entries = {one.uid: one for one in pages.entries}
    zone = ZoneInfo(pages.garden.timezone)
    order = list(CLASS_MIDS)
    rows = []
    for one in course.squared if course else ():
        entry = entries.get(one.feel_uid)
        if entry is None or not span.first <= local_day(entry.happened_at, zone) <= span.until:
            continue
        reckoned = class_of(one.change().expected)
        further = order.index(one.felt) - order.index(reckoned)
        rows.append(
            {
                "day": pd.Timestamp(one.day),
                "bed": beds[one.bed_uid],
                "bed_uid": one.bed_uid,
                "planting": names[one.planting_uid],
                "planting_uid": one.planting_uid,
                "store": one.store,
                "felt": one.felt,
                "reckoned": reckoned,
                "came_out": AS_RECKONED if further == 0 else DRIER if further < 0 else WETTER,
                "off": one.innovation,
                "by": entry.by,
            }
        )
    return pd.DataFrame(rows, columns=list(FEEL_COLUMNS)).astype(
        {"day": "datetime64[ns]", "off": "float64"}
    )
