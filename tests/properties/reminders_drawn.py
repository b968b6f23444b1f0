"""Teams, settings and weeks of rounds drawn at random, for deciding who is told of which bed."""

from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from typing import NamedTuple
from zoneinfo import ZoneInfo

from hypothesis import strategies as st

from soakbook.garden.entries import AnyEntry, Left, Soak
from soakbook.garden.pages import Pages
from soakbook.garden.records import Absence, Bed, Person, Restriction
from soakbook.garden.reminding import Notice, Reminder, ReminderKind, Whom
from soakbook.reckoning.advice.report import Call, Finding
from soakbook.reminders.deciding import decide
from soakbook.reminders.instants import due_instants
from soakbook.reminders.kinds import USUAL, Setting, settings_of
from soakbook.reminders.sight import Sight
from tests.reminders.sights_made import GARDEN, call, dry_for, heat_from, made_round, sight

ZONE = ZoneInfo(GARDEN.timezone)
FIRST = date(2031, 3, 27)
"""A Thursday; the clock is put on the Sunday after."""
DAYS = 7
NAMES = ("Ann", "Tom", "Zoe", "Ravi")
HOURS = tuple(time(hour) for hour in (4, 6, 7, 8, 12, 17, 18, 20, 22, 23))
KINDS = tuple(USUAL)
WHOM: tuple[Whom | None, ...] = (None, None, "keeper", "next", "head", "all", "named")
A_DAY = timedelta(days=1)


class Drawn(NamedTuple):
    """A garden over a week: what is known of it at any moment, and how each kind is sent."""

    pages: Pages
    settings: tuple[Setting, ...]
    calls: dict[date, tuple[Call, ...]]
    broken: dict[date, frozenset[str]]
    heat: tuple[date, ...]

    @property
    def sight_at(self) -> Callable[[datetime], Sight]:
        """What was known at a moment: entries written by then, and the day's round."""
        return cache(self._sight)

    def _sight(self, at: datetime) -> Sight:
        local = at.astimezone(ZONE)
        day = local.date()
        entries = tuple(one for one in self.pages.entries if one.written_at <= at)
        beds = {bed.key: bed for bed in self.pages.beds}
        calls = self.calls.get(day, ())
        findings = [
            Finding.of(
                "promise_broken",
                beds[one.bed],
                "The rain did not come: 0 mm fell, 9 mm were likely here. It was left for that.",
            )
            for one in calls
            if one.bed in self.broken.get(day, ())
        ]
        heat = [first for first in self.heat if first >= day - 4 * A_DAY]
        made = sight(local, self.pages._replace(entries=entries), calls)
        return made._replace(
            round=made_round(day, calls, findings),
            spell=dry_for(day, 6 + (day - FIRST).days),
            heat=heat_from(heat[0], 5, day) if heat else None,
        )

    def decided(
        self, since: datetime, until: datetime, now: datetime, told: tuple[Notice, ...] = ()
    ) -> tuple[Notice, ...]:
        """What is decided of a span at a moment, with what was told before it."""
        instants = due_instants(self.settings, GARDEN, since, until)
        return decide(instants, {one.kind: one for one in self.settings}, told, self.sight_at, now)


FIRST_MOMENT, LAST_MOMENT = datetime(2031, 3, 26, 23, tzinfo=UTC), datetime(2031, 4, 3, tzinfo=UTC)
MOMENTS = st.integers(0, 7 * 24 * 60).map(lambda n: FIRST_MOMENT + timedelta(minutes=n))


@st.composite
def people(draw: st.DrawFn) -> tuple[Person, ...]:
    """None to four who come on some days, now and then away."""
    return tuple(
        Person(
            f"person-{name}",
            name,
            weekdays=draw(st.frozensets(st.integers(0, 6))),
            absences=draw(
                st.sampled_from([(), (Absence(FIRST, FIRST + A_DAY),), (Absence(FIRST, FIRST),)])
            ),
        )
        for name in NAMES[: draw(st.integers(0, 4))]
    )


@st.composite
def settings(draw: st.DrawFn) -> tuple[Setting, ...]:
    """Each kind as usual, or at other hours and to others."""
    said = []
    for kind in KINDS:
        whom = draw(st.sampled_from(WHOM))
        named = frozenset({f"person-{name}" for name in draw(st.sets(st.sampled_from(NAMES)))})
        said.append(
            Reminder(
                kind,
                wanted=draw(st.sampled_from([True, True, True, False])),
                hour=draw(st.sampled_from([None, None, *HOURS])),
                whom=whom,
                named=named if whom == "named" else frozenset(),
            )
        )
    return settings_of(said, GARDEN)


@st.composite
def calls(draw: st.DrawFn, beds: tuple[Bed, ...], day: date) -> tuple[Call, ...]:
    """A day's round of these beds: to be soaked, felt or left."""
    found = []
    for place, bed in enumerate(beds):
        what = draw(st.sampled_from(["soak", "soak", "feel", "leave"]))
        safe = draw(st.sampled_from([None, day - A_DAY, day, day + 2 * A_DAY]))
        found.append(
            call(
                bed,
                order=place + 1 if what != "leave" else None,
                litres=17.0 if what == "soak" else 0.0,
                verdict=what,
                last_safe=safe,
                wanted_on=safe,
            )
        )
    return tuple(found)


@st.composite
def entries(draw: st.DrawFn, beds: tuple[Bed, ...]) -> tuple[AnyEntry, ...]:
    """Now and then a bed soaked, or left because somebody could not."""
    found: list[AnyEntry] = []
    for number in range(draw(st.integers(0, 5))):
        at = draw(MOMENTS)
        bed, by = draw(st.sampled_from(beds)), draw(st.sampled_from(NAMES))
        if draw(st.booleans()):
            found.append(
                Left(
                    uid=f"e{number}",
                    happened_at=at,
                    written_at=at,
                    by=by,
                    bed_uid=bed.uid,
                    reason="could not",
                )
            )
        else:
            found.append(
                Soak(
                    uid=f"e{number}",
                    happened_at=at,
                    written_at=at,
                    by=by,
                    bed_uid=bed.uid,
                    litres=17.0,
                    typed="17l",
                )
            )
    return tuple(found)


@st.composite
def gardens(draw: st.DrawFn) -> Drawn:
    """A garden with its team, a week of rounds, answers, a rule, and heat."""
    beds = tuple(
        Bed(f"bed-{n}", f"b{n}", f"Bed {n}", 5.0, keeper=draw(st.sampled_from([None, *NAMES])))
        for n in range(draw(st.integers(1, 4)))
    )
    begins = FIRST + draw(st.integers(0, 9)) * A_DAY
    days = [FIRST + n * A_DAY for n in range(-1, DAYS + 1)]
    keys = [bed.key for bed in beds]
    return Drawn(
        pages=Pages(
            GARDEN._replace(head=draw(st.sampled_from([None, *NAMES]))),
            beds=beds,
            people=draw(people()),
            restrictions=(Restriction("r1", begins, begins + 3 * A_DAY, "hose", "all", "No."),),
            entries=draw(entries(beds)),
        ),
        settings=draw(settings()),
        calls={day: draw(calls(beds, day)) for day in days},
        broken={day: draw(st.frozensets(st.sampled_from(keys))) for day in days},
        heat=draw(st.sampled_from([(), (FIRST + 3 * A_DAY,)])),
    )


GIVING: frozenset[ReminderKind] = frozenset({"round", "promise", "feel"})
