"""Moments of a weather file whose rows are shorter than a day: times as written, and the clock they are written by.

Which day a row counts for is in `day_parts`; dates without a time are in `days`.
"""

from datetime import datetime, timedelta, tzinfo
from functools import cache


@cache
def standard_offset(year: int, zone: tzinfo) -> timedelta:
    """How far a zone's standard time is ahead of UTC: the smaller offset of midwinter and midsummer of that year.

    Not by `dst()`: in Ireland's zone the law, and so the data, call summer standard.
    """
    offsets = [datetime(year, month, 1, tzinfo=zone).utcoffset() for month in (1, 7)]
    return min(offset for offset in offsets if offset is not None)
