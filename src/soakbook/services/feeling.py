"""A finger test entered: what was felt in the ball, in the bed a hand's breadth outside it, or in both."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Unpack

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import CONTRADICTING, Feel, When
from soakbook.garden.records import FeltClass
from soakbook.quantities.saying import plural
from soakbook.services.desk import Desk, writing
from soakbook.services.pen import Pen, Written
from soakbook.services.subjects import Subject, subject
from soakbook.services.told import Report


def feel(
    path: Path,
    beds: Sequence[str],
    *,
    ball: FeltClass | None = None,
    bed: FeltClass | None = None,
    planting: str | None = None,
    unsure: bool = False,
    **written: Unpack[Written],
) -> list[Report]:
    """Enter what a finger found in one bed, or alike in several.

    Parameters
    ----------
    path : Path
        The book.
    beds : sequence of str
        As typed.
    ball, bed : str, optional
        dust, dry, moist, wet or sour; at least one of the two.
    planting : str, optional
        The planting that was felt; else the one with most plants is meant.
    unsure : bool
        Whether it could be the next word too; what contradicts itself is entered so.
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
    from soakbook.services.feel_answer import answers

    pen = Pen(path, **written)
    if ball is None and bed is None:
        raise InputError("feel", None, "what was felt: --ball dry, --bed moist, or both")
    with writing(pen) as desk:
        when = desk.when()
        subjects = [subject(desk, one, planting, when) for one in desk.beds(beds)]
        found = [found_by_hand(desk, about, when, (ball, bed, unsure)) for about in subjects]
        after = desk.enter(found)
    pairs = list(zip(subjects, found, strict=True))
    return answers(desk, after, pairs, contradiction(ball, bed))


def contradiction(ball: FeltClass | None, bed: FeltClass | None) -> str:
    """Why a ball and the bed round it hardly go together, in a sentence; empty where they may."""
    why = CONTRADICTING.get((ball, bed))
    return f"Ball {ball}, bed {bed}: {why}." if why else ""


def found_by_hand(
    desk: Desk, about: Subject, when: When, felt: tuple[FeltClass | None, FeltClass | None, bool]
) -> Feel:
    """The entry of what was felt in ball and bed, and whether unsurely, before it is in the book.

    Raises
    ------
    InputError
        Nothing lives there, bare roots have no ball, or it is in the book already.
    """
    ball, bed, unsure = felt
    about.must_live()
    meant = about.meant
    if ball is not None and meant is not None and meant.origin == "bare":
        right = f"only --bed: the {plural(meant.name)} of {about.bed.name} came bare-rooted, without a ball"
        raise InputError("ball", ball, right)
    entry = admit(
        Feel,
        **desk.fields(when),
        bed_uid=about.bed.uid,
        planting_uid=about.planting_uid,
        ball=ball,
        bed=bed,
        unsure=unsure or bool(contradiction(ball, bed)),
    )
    if any(_same(entry, one) for one in desk.pages.entries if isinstance(one, Feel)):
        words = ", ".join(
            f"{what} {found}" for what, found in (("ball", ball), ("bed", bed)) if found
        )
        right = f"entered once: the same of {about.bed.name} at that moment is in the book already"
        raise InputError("feel", words, right)
    return entry


def _same(new: Feel, old: Feel) -> bool:
    """Whether two feels say the same of the same minute."""
    fields = ("bed_uid", "planting_uid", "ball", "bed")
    alike = all(getattr(new, name) == getattr(old, name) for name in fields)
    return alike and minute_of(new.happened_at) == minute_of(old.happened_at)


def minute_of(when: When) -> When:
    """A moment to the minute: what is entered twice within one is a slip."""
    return when.replace(second=0, microsecond=0) if isinstance(when, datetime) else when
