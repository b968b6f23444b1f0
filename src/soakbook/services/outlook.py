"""What the round says of a bed once an entry is in the book, for reading it back.

One reckoning an answer, or one before and one after. Where nothing can be reckoned yet, why.
"""

from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

from soakbook.garden.entries import When
from soakbook.garden.pages import Pages
from soakbook.garden.records import Bed
from soakbook.quantities import saying
from soakbook.quantities.dates import WEEKDAYS
from soakbook.reckoning.advice.report import Call, Round, State
from soakbook.reckoning.advice.rounds import Morning, morning_now, morning_on, round_of
from soakbook.reckoning.advice.unreckoned import UNRECKONED
from soakbook.reckoning.simulation.watering import local_day, soak_step
from soakbook.services.mornings import LONGEST_AHEAD_DAYS
from soakbook.services.subjects import Subject
from soakbook.store.dawns import DawnCache
from soakbook.store.texts import garden_zone

A_DAY = timedelta(days=1)

NO_WEATHER = (
    "The book has no weather yet, so nothing can be reckoned: soakbook weather asks for it, or "
    "soakbook weather FILE brings it in."
)


class Outlook(NamedTuple):
    """A round, the garden's day on which it is looked at, and what the round was judged from."""

    round: Round
    today: date
    reckoned: Morning
    """What the round was written from."""

    def call(self, bed: Bed) -> Call | None:
        """What it says of a bed."""
        return next((call for call in self.round.calls if call.bed == bed.key), None)

    @property
    def morning(self) -> str:
        """The round's day as it is spoken of."""
        if self.past:
            return dated(self.round.morning, self.today)
        return "today" if self.round.morning == self.today else "tomorrow"

    @property
    def past(self) -> bool:
        """Whether it is a round of a day gone by."""
        return self.round.morning < self.today


def outlook(pages: Pages, now: datetime, when: When) -> Outlook:
    """The round that a thing of that moment still bears on.

    It is this morning's as it stands now; tomorrow's for what happened after 17:00, which counts in
    the step of the next day. Of what lies farther back, and in a book whose weather ended long ago,
    it is that of the day after.

    Parameters
    ----------
    pages : Pages
    now : datetime
        On the garden's clock.
    when : datetime or date
        When it happened, not after now.
    """
    zone, today = garden_zone(pages.garden), now.date()
    day, step = local_day(when, zone), soak_step(when, zone)
    ended = _ended(pages, today)
    day_after = (day if ended else step) + A_DAY
    if ended or day_after < today:
        return _looked(_on(pages, day_after, today), today)
    if step > today:
        return _looked(_on(pages, step, today), today)
    shelf = DawnCache(pages.garden.uid, today)
    return _looked(morning_now(pages, now, shelf=shelf), today)


def outlook_today(pages: Pages, now: datetime, when: When) -> Outlook:
    """As `outlook`, but for what lies farther back too it is this morning's round that is looked at."""
    yesterday = now.date() - A_DAY
    past = local_day(when, garden_zone(pages.garden)) < yesterday
    return outlook(pages, now, yesterday if past and not _ended(pages, now.date()) else when)


def outlook_of_day(pages: Pages, now: datetime, when: When) -> Outlook:
    """The round of the day on which something happened."""
    day = local_day(when, garden_zone(pages.garden))
    if day == now.date():
        return outlook(pages, now, day)
    return _looked(_on(pages, day, now.date()), now.date())


def says(look: Outlook, bed: Bed, before: Outlook | None = None) -> str:
    """What the round says of a bed, in a sentence or two; `before` tells still from now."""
    call = look.call(bed)
    if call is None:
        return unreckoned(look, bed)
    if look.past:
        return f"On {look.morning}: {_then(look, call)}"
    if call.verdict == "soak":
        return _wanted(look, call, before.call(bed) if before else None)
    if call.verdict == "held_back":
        return f"Held back. {call.reason}"
    if call.verdict == "laid_by":
        return f"Laid by. {call.reason}"
    return _again(look, call)


def _on(pages: Pages, day: date, today: date) -> Morning:
    """The morning of another day than today; of a later one no dawns are kept."""
    return morning_on(pages, day, shelf=DawnCache(pages.garden.uid, today, may_keep=day <= today))


def _ended(pages: Pages, today: date) -> bool:
    """Whether the book's weather ended so long ago that this morning's round would be guesswork."""
    return bool(pages.weather) and (today - pages.weather[-1].day).days > LONGEST_AHEAD_DAYS


def _looked(reckoned: Morning, today: date) -> Outlook:
    return Outlook(round_of(reckoned), today, reckoned)


def _then(look: Outlook, call: Call) -> str:
    """What a round of a day gone by says of a bed, after the day itself."""
    if call.verdict == "soak":
        return f"wanted, {saying.litres(call.litres)}." if call.litres else "wanted."
    if call.verdict in ("held_back", "laid_by"):
        return f"{call.verdict.replace('_', ' ')}. {call.reason}"
    if call.wanted_on is None:
        return "by the reckoning not wanted for three weeks or more."
    if call.wanted_on <= look.round.morning:
        return "by the reckoning near wanting."
    return f"wanted again about {saying.day(call.wanted_on, look.today)}."


def dated(day: date, today: date) -> str:
    """`Fri 22 June`, and its year where it is not this one."""
    return f"{WEEKDAYS[day.weekday()][:3]} {saying.date_of(day, today)}"


def _wanted(look: Outlook, call: Call, was: Call | None) -> str:
    if call.dropped and not call.litres:
        return f"It wants water {look.morning}, but the round has no time for it."
    still = "Still" if was is None or was.verdict == "soak" else "Now"
    return f"{still} wanted {look.morning}: {saying.litres(call.litres)}."


def _again(look: Outlook, call: Call) -> str:
    if call.wanted_on is None:
        return "By the reckoning not wanted again for three weeks or more."
    if call.wanted_on <= look.round.morning:
        return f"By the reckoning it is near wanting; feel it {look.morning}."
    return f"Wanted again about {saying.day(call.wanted_on, look.today)}."


def unreckoned(look: Outlook, bed: Bed) -> str:
    """Why nothing is reckoned of a bed; empty when nothing lives there."""
    for finding in look.round.findings:
        if finding.kind in UNRECKONED and finding.bed in (bed.key, None):
            return NO_WEATHER if finding.kind == "no_weather" else finding.say
    return ""


def as_changed(look: Outlook, bed: Bed) -> dict[str, Any] | None:
    """What the round says of a bed, for machines."""
    call = look.call(bed)
    if call is None:
        return None
    return {"verdict": call.verdict, "wanted_on": call.wanted_on, "litres": call.litres}


class States(NamedTuple):
    """How the stores of one planting are reckoned to stand."""

    ball: State | None
    bed: State

    def __str__(self) -> str:
        """In words: `ball wanting, bed holding`."""
        return f"ball {self.ball}, bed {self.bed}" if self.ball else f"bed {self.bed}"


def states(look: Outlook, about: Subject) -> States | None:
    """The states of the planting that an entry is about; None where nothing is reckoned."""
    call = look.call(about.bed)
    if call is None or about.meant is None:
        return None
    found = next((one for one in call.plantings if one.planting == about.meant.name), None)
    return States(found.ball_state, found.bed_state) if found else None
