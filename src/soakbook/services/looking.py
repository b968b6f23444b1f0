"""A hole looked into: how far down a soak or the rain has wetted the soil."""

from collections.abc import Sequence
from pathlib import Path
from typing import Unpack

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import Look, When
from soakbook.quantities.measures import parse_length_m
from soakbook.quantities.names import check
from soakbook.quantities.saying import quoted
from soakbook.services.desk import Desk, writing
from soakbook.services.feeling import minute_of
from soakbook.services.ground_words import made_soil_cm
from soakbook.services.pen import Pen, Written
from soakbook.services.subjects import Subject, subject
from soakbook.services.told import Report

BY_A_HAND_CM = 0.5
"""How much deeper than the made soil a hole may be read."""


def look(
    path: Path,
    beds: Sequence[str],
    wet_to: str,
    *,
    planting: str | None = None,
    **written: Unpack[Written],
) -> list[Report]:
    """Enter how far down the soil of a bed is wet, or of several alike.

    Parameters
    ----------
    path : Path
        The book.
    beds : sequence of str
        As typed.
    wet_to : str
        The depth, as typed.
    planting : str, optional
        The planting beside which the hole was dug; else the one with most plants is meant.
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
    from soakbook.services.look_answer import answers

    wet_to_cm = 100 * parse_length_m(wet_to, "look")
    check("wet_to_cm", wet_to_cm, field="look", typed=wet_to)
    with writing(Pen(path, **written)) as desk:
        when = desk.when()
        subjects = [subject(desk, one, planting, when) for one in desk.beds(beds)]
        found = [hole(desk, about, when, (wet_to_cm, wet_to)) for about in subjects]
        after = desk.enter(found)
    return answers(desk, after, list(zip(subjects, found, strict=True)))


def hole(desk: Desk, about: Subject, when: When, seen: tuple[float, str]) -> Look:
    """The entry of a hole wet so far down [cm], as typed, before it is in the book.

    Raises
    ------
    InputError
        Nothing lives there, it is deeper than the soil is, or it is in the book already.
    """
    about.must_live()
    wet_to_cm, typed = seen
    soil_cm = made_soil_cm(about)
    if wet_to_cm > soil_cm + BY_A_HAND_CM:
        right = (
            f"at most {soil_cm:.0f} cm, the soil of {about.bed.name} that roots can use; deeper soil is said "
            f"by soakbook bed {quoted(about.bed.key)} --depth"
        )
        raise InputError("look", typed, right)
    entry = admit(
        Look,
        **desk.fields(when),
        bed_uid=about.bed.uid,
        planting_uid=about.planting_uid,
        wet_to_cm=wet_to_cm,
        typed=typed,
    )
    there = [one for one in desk.pages.entries if isinstance(one, Look)]
    if any(_same(entry, one) for one in there):
        right = f"entered once: the same of {about.bed.name} at that moment is in the book already"
        raise InputError("look", typed, right)
    return entry


def _same(new: Look, old: Look) -> bool:
    """Whether two looks say the same of the same minute."""
    fields = ("bed_uid", "planting_uid", "wet_to_cm")
    alike = all(getattr(new, name) == getattr(old, name) for name in fields)
    return alike and minute_of(new.happened_at) == minute_of(old.happened_at)
