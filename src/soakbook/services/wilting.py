"""Limp leaves entered, with the hour, on which everything depends; or that they stand again."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, Unpack

from soakbook.errors import InputError
from soakbook.garden.door import admit
from soakbook.garden.entries import AnyEntry, Feel, When, Wilt
from soakbook.garden.records import FeltClass
from soakbook.services.cautions import CAUTIONS
from soakbook.services.desk import Desk, writing
from soakbook.services.feeling import found_by_hand, minute_of
from soakbook.services.pen import Pen, Written
from soakbook.services.subjects import Subject, of_bed, subject
from soakbook.services.told import Report, told

if TYPE_CHECKING:
    from soakbook.services.outlook import Outlook

LONG_AGO = "Entered. Of so long ago nothing is asked."


class Entered(NamedTuple):
    """What one sitting enters about a bed: a look, and what a finger found there if one was put in."""

    about: Subject
    wilt: Wilt
    feel: Feel | None

    @property
    def entries(self) -> tuple[AnyEntry, ...]:
        """All of it."""
        return (self.wilt, self.feel) if self.feel else (self.wilt,)


def wilt(
    path: Path,
    beds: Sequence[str],
    *,
    planting: str | None = None,
    upright: bool = False,
    ball: FeltClass | None = None,
    bed: FeltClass | None = None,
    **written: Unpack[Written],
) -> list[Report]:
    """Enter limp leaves seen in one bed or several, or that they stand again.

    Parameters
    ----------
    path : Path
        The book.
    beds : sequence of str
        As typed.
    planting : str, optional
        The planting that was looked at; else the one with most plants is meant.
    upright : bool
        Looked at again, and they stand.
    ball, bed : str, optional
        What a finger found there in the same sitting: dust, dry, moist, wet or sour.
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
        subjects = [subject(desk, one, planting, when) for one in desk.beds(beds)]
        entered = [_entered(desk, about, when, upright, (ball, bed)) for about in subjects]
        after = desk.enter([entry for one in entered for entry in one.entries])
    now = outlook(after.pages, after.now, when)
    hot = _first_in_the_heat(desk, entered[0].wilt)
    return [answer(after, now, one, hot and one is entered[-1]) for one in entered]


def _entered(
    desk: Desk,
    about: Subject,
    when: When,
    upright: bool,
    felt: tuple[FeltClass | None, FeltClass | None],
) -> Entered:
    about.must_live()
    entry = admit(
        Wilt,
        **desk.fields(when),
        bed_uid=about.bed.uid,
        planting_uid=about.planting_uid,
        upright=upright,
    )
    if any(_same(entry, one) for one in desk.pages.entries if isinstance(one, Wilt)):
        right = (
            f"entered once: the same of {about.bed.name} at that moment is in the book already; what a "
            "finger found is entered with soakbook feel"
        )
        raise InputError("wilt", "upright" if upright else "limp", right)
    feel = found_by_hand(desk, about, when, (*felt, False)) if any(felt) else None
    return Entered(about, entry, feel)


def _same(new: Wilt, old: Wilt) -> bool:
    """Whether two looks say the same of the same minute."""
    fields = ("bed_uid", "planting_uid", "upright")
    alike = all(getattr(new, name) == getattr(old, name) for name in fields)
    return alike and minute_of(new.happened_at) == minute_of(old.happened_at)


def answer(desk: Desk, now: "Outlook", entered: Entered, hot: bool = False) -> Report:
    """What comes after a look at leaves, from the pages with it; `hot` is whether people flag too."""
    from soakbook.services.asking_after import asked_after, beside
    from soakbook.services.outlook import as_changed, states

    about, feel = entered.about, entered.feel
    found, asked = states(now, about), asked_after(desk, now, about)
    say = (
        f"{of_bed(about.bed, about.planting)}. {asked.say if asked else LONG_AGO}",
        "Entered as unsure." if feel and feel.unsure else "",
        beside(asked, now, about, found),
        CAUTIONS["wilt"] if hot else "",
    )
    changed = {
        "entries": [one.uid for one in entered.entries],
        "upright": entered.wilt.upright,
        "felt": feel and {"ball": feel.ball, "bed": feel.bed},
        "reckoned": found and found._asdict(),
        "triage": asked and asked.changed,
        "after": as_changed(now, about.bed),
    }
    return told("wilt", about.bed.key, say, changed)


def _first_in_the_heat(before: Desk, entry: Wilt) -> bool:
    """Whether it is the year's first look at leaves limp in the afternoon, when people flag too."""
    from soakbook.reckoning.advice.sightings import limp_at_noon

    earlier = (one for one in before.pages.entries if isinstance(one, Wilt))
    year = entry.happened_at.year
    return limp_at_noon(entry, before.zone) and not any(
        limp_at_noon(one, before.zone) for one in earlier if one.happened_at.year == year
    )
