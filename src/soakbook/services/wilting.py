"""Limp leaves entered, with the hour, on which everything depends; and what to look at next."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Unpack

from soakbook.garden.door import admit
from soakbook.garden.entries import When, Wilt
from soakbook.services.desk import Desk, writing
from soakbook.services.pen import Pen, Written
from soakbook.services.subjects import Subject, of_bed, subject
from soakbook.services.told import Report, told
from soakbook.store.entry_rows import add_entries

if TYPE_CHECKING:
    from soakbook.services.outlook import Outlook

DAWN, NOON, DUSK = time(4), time(12), time(18)
FLAGS_A_WEEK = 3
"""So many afternoons limp in a week tell of the wrong place or dose. common practice, no source."""

# What each hour says: common practice, no source.
AFTERNOON = (
    "Limp at {hour} in the sun is a note, not a call. Shade them; look at dusk, and at dawn. At dawn "
    "still limp: feel the ball and a hand's breadth outside, and enter"
)
EVENING = (
    "Limp at {hour}: look again at dawn. Upright then: no water on the strength of this. Still limp: "
    "feel the ball and a hand's breadth outside, and enter"
)
MORNING = (
    "Limp at {hour}, before the sun is on them: feel the ball and a hand's breadth outside before "
    "anything is given. Ball and bed dry: water both. Ball dry, bed moist or wet: re-wet the ball only. "
    "Both wet: nothing until it feels moist. Enter what you find:"
)
NO_HOUR = (
    "Without its hour a wilt says little: three in the afternoon is not dawn. Enter what you feel:"
)
AFTERNOONS = (
    "Limp on {count} afternoons in a week: likely the wrong place or dose, not want of water."
)


def wilt(
    path: Path,
    beds: Sequence[str],
    *,
    planting: str | None = None,
    **written: Unpack[Written],
) -> list[Report]:
    """Enter limp leaves seen in one bed or several.

    Parameters
    ----------
    path : Path
        The book.
    beds : sequence of str
        As typed.
    planting : str, optional
        The planting that was limp; else the bed.
    **written
        now, by, at.

    Returns
    -------
    list of dict
        One answer a bed.

    Raises
    ------
    InputError
        Anything that cannot be right; then nothing of it is in the book.
    """
    from soakbook.services.outlook import outlook

    pen = Pen(path, **written)
    with writing(pen) as desk:
        when = desk.when()
        subjects = [subject(desk, bed, planting, when) for bed in desk.beds(beds)]
        wilts = [_wilt(desk, about, when) for about in subjects]
        add_entries(desk.book, wilts)
        after = replace(desk, pages=desk.reread())
    now = outlook(after.pages, after.now, when)
    return [_answer(after, now, about, one) for about, one in zip(subjects, wilts, strict=True)]


def _wilt(desk: Desk, about: Subject, when: When) -> Wilt:
    about.must_live()
    return admit(Wilt, **desk.fields(when), bed_uid=about.bed.uid, planting_uid=about.planting_uid)


def _answer(desk: Desk, now: "Outlook", about: Subject, entry: Wilt) -> Report:
    from soakbook.services.outlook import as_changed, says, states

    bed, found = about.bed, states(now, about)
    command = f"\n  soakbook feel {bed.key} --ball ? --bed ?        (dust, dry, moist, wet, sour)"
    reckoned = f"{bed.name} is reckoned {found}." if found else ""
    if found and "sodden" in found:
        reckoned += " Give nothing on the strength of a wilt alone."
    say = (
        f"{of_bed(bed, about.planting)}. {_by_the_hour(entry.happened_at)}{command}",
        _afternoons(desk, about),
        f"{reckoned} {says(now, bed)}".strip(),
    )
    changed = {
        "entries": [entry.uid],
        "reckoned": found and found._asdict(),
        "after": as_changed(now, bed),
    }
    return told("wilt", bed.key, say, changed)


def _by_the_hour(when: When) -> str:
    if not isinstance(when, datetime):
        return NO_HOUR
    hour = when.time()
    words = MORNING if DAWN <= hour < NOON else AFTERNOON if NOON <= hour < DUSK else EVENING
    return words.format(hour=f"{hour:%H:%M}")


def _afternoons(desk: Desk, about: Subject) -> str:
    since = desk.now - timedelta(days=7)
    days = {
        one.happened_at.date()
        for one in desk.pages.entries
        if isinstance(one, Wilt)
        and one.bed_uid == about.bed.uid
        and isinstance(one.happened_at, datetime)
        and one.happened_at > since
        and NOON <= one.happened_at.time() < DUSK
    }
    return AFTERNOONS.format(count=len(days)) if len(days) >= FLAGS_A_WEEK else ""
