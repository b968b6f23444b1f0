"""How a garden's services kept their word, by what is known to have fallen in it.

The rules are in `promises`, the rain in `fallen_days`; here both are read off a book's pages.
"""

from datetime import datetime, time

from soakbook.garden.fallen_days import fallen_of
from soakbook.garden.pages import Pages
from soakbook.garden.promises import (
    GOOD_SHARE,
    PromiseRecord,
    bar_of,
    judge_promises,
    of_service,
)
from soakbook.garden.windows import local_moment


def record_at(pages: Pages, at: datetime) -> PromiseRecord:
    """Every promise made by a moment and what came of it.

    Parameters
    ----------
    pages
    at
        Zone-aware.
    """
    if not pages.promises:
        return PromiseRecord((), ())
    fallen = fallen_of(pages, at)
    rain_mm = fallen.by_day(min(one.issued_on for one in pages.promises))
    issues = {one.issued_at: one.issued_on for one in pages.promises if one.issued_at}
    gone_before_mm = {
        issued_at: fallen.between(local_moment(day, time(0), fallen.zone), issued_at)
        for issued_at, day in issues.items()
        if rain_mm.get(day)
    }
    return judge_promises(pages.promises, rain_mm, fallen.today, gone_before_mm)


def bar_at(pages: Pages, at: datetime) -> float:
    """From which share of futures on the newest forecast's word is good [0-1]; 0.70 where there is none.

    Parameters
    ----------
    pages
    at
        Zone-aware.
    """
    if not pages.forecasts:
        return GOOD_SHARE
    record = record_at(pages, at)
    return bar_of(of_service(record.reliabilities, pages.forecasts[0].source))
