"""What a measurement in a bed changed: the rain it gets, the mulch on it, and what the round says now."""

from soakbook.garden.entries import Catch, Ruler, When
from soakbook.garden.jars import LEAST_GAUGE_MM, measured_share, shares_caught, tells
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed
from soakbook.quantities import saying
from soakbook.quantities.saying import quoted
from soakbook.reckoning.simulation.parting import with_past
from soakbook.reckoning.simulation.plots import rain_share_of
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.desk import Desk
from soakbook.services.mulch_words import THIN, THIN_CM, cm, does, lies_on
from soakbook.services.outlook import Outlook, as_changed, outlook_of_day, outlook_today, says
from soakbook.services.told import Report, told

TOO_LITTLE = (
    f"Under {LEAST_GAUGE_MM:g} mm in the gauge a jar says little: it is kept, and changes nothing."
)
MUCH_MORE = 1.5
"""A mulch so many times as deep as reckoned was likely dressed again. common practice, no source."""


def jar_answer(before: Desk, after: Desk, bed: Bed, entry: Catch) -> Report:
    """The answer to a jam jar."""
    was, now = rain_share(before.pages, bed), rain_share(after.pages, bed)
    look = outlook_today(after.pages, after.now, entry.happened_at)
    then = _before(before, entry.happened_at)
    say = (
        f"{bed.name}: the jar had {entry.jar_mm:.3g} mm of {entry.gauge_mm:.3g} in the gauge, "
        f"{entry.jar_mm / entry.gauge_mm:.0%}.",
        _share(before.pages, after.pages, bed) if tells(entry) else TOO_LITTLE,
        says(look, bed, then) if tells(entry) else "",
    )
    showers = shares_caught(with_past(after.pages).entries).get(bed.uid)
    changed = {
        "entries": [entry.uid],
        "rain_share": [was, now],
        "showers": showers.showers if showers else 0,
        "after": as_changed(look, bed),
    }
    return told("jam_jar", bed.key, say, changed)


def ruler_answer(before: Desk, after: Desk, bed: Bed, entry: Ruler) -> Report:
    """The answer to a ruler in the mulch."""
    day = local_day(entry.happened_at, after.zone)
    was, lies = lies_on(before.pages, bed, day), lies_on(after.pages, bed, day)
    look = outlook_today(after.pages, after.now, entry.happened_at)
    then = _before(before, entry.happened_at)
    spots = f", the mean of {entry.spots} spots" if entry.spots > 1 else ""
    say = (
        f"{bed.name}: {cm(entry.measured_cm)} of mulch by the ruler{spots}; reckoned was "
        f"{cm(was.depth_cm)}. {does(lies)}",
        _dressed_again(bed) if entry.measured_cm > MUCH_MORE * was.depth_cm else "",
        THIN if lies.depth_cm < THIN_CM else "",
        says(look, bed, then),
    )
    changed = {
        "entries": [entry.uid],
        "depth_cm": [was.depth_cm, lies.depth_cm],
        "capacity_mm": lies.capacity_mm,
        "evaporation_fraction": lies.evaporation_factor,
        "after": as_changed(look, bed),
    }
    return told("ruler", bed.key, say, changed)


def rain_share(pages: Pages, bed: Bed) -> float:
    """The share of the rain by which a bed is reckoned."""
    record = pages.bed_by_uid()[bed.uid]
    caught = measured_share(record, shares_caught(with_past(pages).entries))
    return caught.fraction if caught else rain_share_of(record)


def _before(desk: Desk, when: When) -> Outlook:
    """The round as it was without the measurement: of its own day, or today's for one of days ago."""
    today = local_day(when, desk.zone) == desk.today
    looked = outlook_of_day if today else outlook_today
    return looked(desk.pages, desk.now, when)


def _share(before: Pages, after: Pages, bed: Bed) -> str:
    caught = shares_caught(with_past(after).entries)[bed.uid]
    by = f"By {saying.counted(caught.showers, 'shower')}" if caught.showers > 1 else "So"
    was = before.bed_by_uid()[bed.uid]
    earlier = measured_share(was, shares_caught(with_past(before).entries))
    whence = (
        "by the showers before"
        if earlier
        else "as you had said"
        if was.rain_share is not None
        else f"as a guess from its place, {was.place}"
    )
    return (
        f"{by} it gets {caught.fraction:.0%} of the rain; it was reckoned with "
        f"{rain_share(before, bed):.0%}, {whence}. "
        f"Another shower makes it surer. A share you say yourself stands over jars until the next of them."
    )


def _dressed_again(bed: Bed) -> str:
    return (
        "Much more than reckoned. If it was dressed again, enter that with its day; this ruler still "
        f"holds:\n  soakbook mulch {quoted(bed.key)} bark 5cm --on 1apr"
    )
