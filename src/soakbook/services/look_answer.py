"""What a hole says: how deep the water got against the depth roots are to have, and what the round says now."""

from collections.abc import Sequence
from datetime import timedelta

from soakbook.garden.entries import Look, Soak
from soakbook.garden.records import Planting
from soakbook.quantities.saying import plural
from soakbook.reckoning.advice.squared_words import said
from soakbook.reckoning.simulation.lanes import plain
from soakbook.reckoning.simulation.plots import ball_of
from soakbook.reckoning.simulation.touches import squared_dawn
from soakbook.reckoning.simulation.watering import local_day
from soakbook.services.desk import Desk
from soakbook.services.ground_words import made_soil_cm
from soakbook.services.looks import TONIGHT, Looks, looks_of
from soakbook.services.outlook import Outlook, as_changed, says, states
from soakbook.services.subjects import Subject, of_bed
from soakbook.services.told import Report, told

FAR_DEEPER = 1.5
"""Water so many times as deep as the roots is not for them. common practice, no source."""


def answers(before: Desk, after: Desk, found: Sequence[tuple[Subject, Look]]) -> list[Report]:
    """One answer a bed, from the pages before and after."""
    dawns = [squared_dawn(one, after.pages) for _, one in found]
    looks = {dawn: looks_of(before, after, dawn, found[0][1].happened_at) for dawn in set(dawns)}
    return [
        _answer(looks[dawn], about, one, soaked=_soaked(after, one))
        for dawn, (about, one) in zip(dawns, found, strict=True)
    ]


def roots_cm(look: Outlook, about: Subject) -> float:
    """How deep the soil is that the roots are to have, z of (12); without a reckoning that of the ball."""
    meant = about.meant
    if meant is None:
        return made_soil_cm(about)
    judgement = look.reckoned.judgement
    uids = [one.uid for one in judgement.season.plantings] if judgement else []
    row = uids.index(meant.uid) if meant.uid in uids else None
    if judgement is None or row is None or row >= judgement.dawn.size:
        return min(made_soil_cm(about), _ball_cm(meant))
    return 100 * plain(judgement.morning.roots.reach_depth_m, row)


def _ball_cm(planting: Planting) -> float:
    _, _, depth_m = ball_of(planting)
    return 100 * depth_m


def _moved(then: Outlook, entry: Look) -> str:
    """What the look moved, in words."""
    judgement = then.reckoned.judgement
    squared = judgement.dawn.squared if judgement else ()
    return said([one for one in squared if one.feel_uid == entry.uid])


def _answer(looks: Looks, about: Subject, entry: Look, *, soaked: bool) -> Report:
    bed, reckoned, now = about.bed, states(looks.was, about), looks.now
    depth_cm, moved = roots_cm(looks.was, about), _moved(looks.then, entry)
    beside = f" Reckoned was: bed {reckoned.bed}." if reckoned else ""
    beside = f" {moved}" if moved else beside
    beside += TONIGHT if looks.from_tonight and reckoned else ""
    say = (
        f"{of_bed(bed, about.planting)}: {_how_deep(entry, about, depth_cm, soaked)}{beside}",
        says(now, bed, looks.before),
    )
    changed = {
        "entries": [entry.uid],
        "wet_to_cm": entry.wet_to_cm,
        "depth_cm": depth_cm,
        "reckoned": reckoned and reckoned._asdict(),
        "after": as_changed(now, bed),
    }
    return told("look", bed.key, say, changed)


def _how_deep(entry: Look, about: Subject, depth_cm: float, soaked: bool) -> str:
    whose = f"the {plural(about.meant.name)}" if about.meant else "roots"
    depth = f"the {depth_cm:.0f} cm that {whose} are to have"
    if entry.wet_to_cm < round(depth_cm):
        more = "more water, given slower" if soaked else "water, given slowly"
        if not entry.wet_to_cm:
            return f"dry from the top: it wants {more}, for {depth}."
        return f"wet to {entry.wet_to_cm:.3g} cm of {depth}: it wants {more}."
    if soaked and entry.wet_to_cm > FAR_DEEPER * depth_cm:
        return f"wet to {entry.wet_to_cm:.3g} cm, well past {depth}: a little less would do."
    return f"wet to {entry.wet_to_cm:.3g} cm, through {depth}: deep enough."


def _soaked(desk: Desk, entry: Look) -> bool:
    """Whether the bed was soaked that day or the day before: then the hole tells of the dose."""
    day = local_day(entry.happened_at, desk.zone)
    return any(
        isinstance(one, Soak)
        and one.bed_uid == entry.bed_uid
        and timedelta(0) <= day - local_day(one.happened_at, desk.zone) <= timedelta(days=1)
        for one in desk.pages.entries
    )
