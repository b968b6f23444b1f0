"""A visit without water entered: looked at, and left for a reason."""

from collections.abc import Sequence
from pathlib import Path
from typing import Unpack

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import Left, When
from soakbook.garden.records import Bed
from soakbook.services.desk import Desk, writing
from soakbook.services.pen import Pen, Written
from soakbook.services.subjects import Subject, of_bed, subject
from soakbook.services.told import Report, told


def left(
    path: Path,
    beds: Sequence[str],
    reason: str,
    *,
    planting: str | None = None,
    **written: Unpack[Written],
) -> list[Report]:
    """Enter one bed or several as looked at and left.

    Parameters
    ----------
    path : Path
        The book.
    beds : sequence of str
        As typed.
    reason : str
        In the gardener's words.
    planting : str, optional
        The planting that was left; else the bed.
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
    pen = Pen(path, **written)
    if not reason.strip():
        raise InputError("reason", reason, 'why it was left: "no time", "moist to the knuckle"')
    with writing(pen) as desk:
        when = desk.when()
        subjects = [subject(desk, bed, planting, when) for bed in _beds(desk, beds)]
        entries = [_left(desk, about, when, reason.strip()) for about in subjects]
        after = desk.enter(entries)
    return answers(after, list(zip(subjects, entries, strict=True)))


def answers(after: Desk, found: Sequence[tuple[Subject, Left]]) -> list[Report]:
    """One answer a bed, from the pages with what was entered."""
    from soakbook.services.outlook import as_changed, outlook, says

    now = outlook(after.pages, after.now, found[0][1].happened_at)
    return [
        told(
            "left",
            about.bed.key,
            (f"{of_bed(about.bed, about.planting)}: left, {entry.reason}.", says(now, about.bed)),
            {
                "entries": [entry.uid],
                "reason": entry.reason,
                "after": as_changed(now, about.bed),
            },
        )
        for about, entry in found
    ]


def _beds(desk: Desk, words: Sequence[str]) -> tuple[Bed, ...]:
    """The beds; where there are several words, one that is no bed may be of the reason."""
    try:
        return desk.beds(words)
    except InputError as fault:
        if len(words) == 1:
            raise
        right = f'{fault.right}; put a reason of several words in quotes: "no time"'
        raise InputError(fault.field, fault.value, right) from fault


def _left(desk: Desk, about: Subject, when: When, reason: str) -> Left:
    return admit(
        Left,
        **desk.fields(when),
        bed_uid=about.bed.uid,
        planting_uid=about.planting_uid,
        reason=reason,
    )
