"""How reminders are sent, changed and shown: the switch, hour, people, channel and quiet hours of each kind."""

from collections.abc import Mapping
from datetime import datetime, time
from pathlib import Path
from typing import Any, Literal, NamedTuple, get_args

from soakbook.errors import InputError
from soakbook.garden.nearest import find, plain
from soakbook.garden.records import Person
from soakbook.garden.reminding import Channel, Reminder, ReminderKind, Whom
from soakbook.quantities.saying import names
from soakbook.reckoning.advice.report import as_json
from soakbook.reminders.addresses import read_addresses
from soakbook.reminders.asked import TO_BEDS
from soakbook.reminders.kinds import USUAL, Setting, check_hour, settings_of
from soakbook.reminders.ways import Addresses, Reached
from soakbook.reminders.whose import head_of
from soakbook.services.desk import Desk, writing
from soakbook.services.pen import Pen
from soakbook.services.reminder_words import WHOM
from soakbook.services.settings import put
from soakbook.services.told import Report, told
from soakbook.store.book import open_book
from soakbook.store.garden_rows import read_records
from soakbook.store.pages import read_pages

SETTINGS_SCHEMA = "soakbook.reminders/1"
NO_QUIET = time(0)


class KindSet(NamedTuple):
    """How one kind is sent."""

    kind: ReminderKind
    label: str
    explained: str
    wanted: bool
    hour: str
    whom: Whom
    people: tuple[str, ...]
    """Names, where `whom` is named."""
    channel: Literal["mail", "push", "any"]
    quiet_from: str
    quiet_until: str
    said: bool
    """Whether somebody has set it; else it is as usual."""


class PersonReached(NamedTuple):
    """By which channels somebody is reached; never where."""

    name: str
    head: bool
    channels: tuple[Channel, ...]


class SettingsReport(NamedTuple):
    """How reminders are sent, and who is reached."""

    schema: str
    garden: str
    mail_server: bool
    """Whether one is known."""
    kinds: tuple[KindSet, ...]
    people: tuple[PersonReached, ...]


def settings_report(path: Path, kind: str | None = None) -> Report:
    """How reminders are sent, as `--json` gives it; no address is in it.

    Parameters
    ----------
    path : Path
        The book.
    kind : str, optional
        The one kind that is asked for, as typed.

    Raises
    ------
    BookError
        The book cannot be opened.
    InputError
        The file of addresses cannot be right, or there is no such kind.
    """
    addresses = read_addresses()
    wanted = list(USUAL) if kind is None else [find(kind, USUAL, "kind")]
    with open_book(path, read_only=True) as book:
        pages = read_pages(book)
        said = {one.uid for one in read_records(book, Reminder) if one != Reminder(one.uid)}
        settings = settings_of(read_records(book, Reminder), pages.garden)
    head = head_of(pages)
    report: Report = as_json(
        SettingsReport(
            schema=SETTINGS_SCHEMA,
            garden=pages.garden.name,
            mail_server=addresses.server is not None,
            kinds=tuple(
                _kind_set(one, pages.people, one.kind in said)
                for one in settings
                if one.kind in wanted
            ),
            people=tuple(
                PersonReached(one.name, one.uid == head, channels_of(addresses, one.name))
                for one in pages.people
            ),
        )
    )
    return report


def channels_of(addresses: Addresses, name: str) -> tuple[Channel, ...]:
    """By which channels somebody is reached, the first of them used where nothing else is said."""
    reached = addresses.people.get(name, Reached())
    found: list[Channel] = []
    if reached.mail:
        found.append("mail")
    if reached.push:
        found.append("push")
    return tuple(found)


def set_kind(
    path: Path, kind: str, *, now: datetime, by: str | None = None, **typed: str
) -> Report:
    """Change how one kind of reminder is sent.

    Parameters
    ----------
    path : Path
        The book.
    kind : str
        As typed.
    now : datetime
        Zone-aware.
    by : str, optional
        Who says so.
    **typed
        As typed: wanted (yes, no), hour, whom (keeper, next, head, all, or names with commas), channel (mail, push,
        any), quiet (22:00-06:00, or none); usual: all as it was at first.

    Raises
    ------
    InputError
        Anything that cannot be right; then the book is as it was.
    """
    known = find(kind, USUAL, "kind")
    with writing(Pen(path, now, by)) as desk:
        before = read_records(desk.book, Reminder)
        old = next((one for one in before if one.uid == known), None)
        fields = _usual() if "usual" in typed else _fields(desk, typed)
        record, changes = put(desk, Reminder, old, {"uid": known, **fields})
        people = desk.pages.people
        settings = settings_of([*before, record], desk.garden)
    setting = next(one for one in settings if one.kind == known)
    words = setting_words(_kind_set(setting, people, said=True))
    say = (words, _held_up(setting), _shared_out(setting))
    return told("reminder", None, say, {"kind": known, "fields": changes})


def setting_words(one: Any) -> str:
    """`Round: 07:00, for whose bed it is that day, by mail; quiet 22:00 to 06:00.`, of a `KindSet` or its dict."""
    kind = one if isinstance(one, KindSet) else KindSet(**one)
    if not kind.wanted:
        return f"{kind.kind.capitalize()}: not sent."
    whom = names(kind.people) if kind.whom == "named" else WHOM[kind.whom]
    day = "Sunday " if USUAL[kind.kind].weekday is not None else ""
    quiet = (
        ""
        if kind.quiet_from == kind.quiet_until
        else f"; quiet {kind.quiet_from} to {kind.quiet_until}"
    )
    by = "" if kind.channel == "any" else f", by {kind.channel}"
    return f"{kind.kind.capitalize()}: {day}{kind.hour}, for {whom}{by}{quiet}."


def _held_up(setting: Setting) -> str:
    """What is to be said of an hour at which it is quiet."""
    first, last = setting.quiet_from, setting.quiet_until
    quiet = first <= setting.hour < last if first <= last else not last <= setting.hour < first
    if not setting.wanted or not quiet:
        return ""
    return f"It is quiet at {setting.hour:%H:%M}: it is sent at {last:%H:%M}."


def _shared_out(setting: Setting) -> str:
    """What is to be said where several are told of beds: no two are sent to the same."""
    several = setting.whom == "all" or len(setting.named) > 1
    if not (setting.wanted and several and setting.kind in TO_BEDS):
        return ""
    return (
        "Each bed goes to one of them: its keeper, if they come that day, else the first who does."
    )


def _kind_set(setting: Setting, people: tuple[Person, ...], said: bool) -> KindSet:
    usual = USUAL[setting.kind]
    return KindSet(
        kind=setting.kind,
        label=usual.label,
        explained=usual.explained,
        wanted=setting.wanted,
        hour=f"{setting.hour:%H:%M}",
        whom=setting.whom,
        people=tuple(one.name for one in people if one.uid in setting.named),
        channel=setting.channel or "any",
        quiet_from=f"{setting.quiet_from:%H:%M}",
        quiet_until=f"{setting.quiet_until:%H:%M}",
        said=said,
    )


def _usual() -> dict[str, Any]:
    """All fields as nobody has said anything."""
    return {name: value for name, value in Reminder("round")._asdict().items() if name != "uid"}


def _fields(desk: Desk, typed: Mapping[str, str]) -> dict[str, Any]:
    fields: dict[str, Any] = {}
    if "wanted" in typed:
        fields["wanted"] = typed["wanted"] == "yes"
    if "hour" in typed:
        fields["hour"] = _hour("hour", typed["hour"])
        check_hour(fields["hour"], desk.zone, desk.today)
    if "whom" in typed:
        fields |= _whom(desk, typed["whom"])
    if "channel" in typed:
        fields["channel"] = _channel(typed["channel"])
    if "quiet" in typed:
        fields |= _quiet(typed["quiet"])
    return fields


def _whom(desk: Desk, text: str) -> dict[str, Any]:
    people = {one.name: one.uid for one in desk.pages.people}
    words = [word for word in get_args(Whom) if word != "named"]
    if plain(text) in map(plain, people) or "," not in text:
        known = find(text, [*words, *people], "for")
        if known in words:
            return {"whom": known, "named": frozenset()}
        return {"whom": "named", "named": frozenset({people[known]})}
    found = [find(word.strip(), people, "for") for word in text.split(",")]
    return {"whom": "named", "named": frozenset(people[name] for name in found)}


def _channel(text: str) -> Channel | None:
    word = text.strip().casefold()
    if word == "any":
        return None
    if word not in get_args(Channel):
        raise InputError("channel", text, f"one of {', '.join(get_args(Channel))}, any")
    return "mail" if word == "mail" else "push"


def _quiet(text: str) -> dict[str, Any]:
    if text.strip().casefold() == "none":
        return {"quiet_from": NO_QUIET, "quiet_until": NO_QUIET}
    first, dash, last = text.partition("-")
    if not dash:
        raise InputError("quiet", text, "from when until when: 22:00-06:00, or none")
    return {"quiet_from": _hour("quiet", first, text), "quiet_until": _hour("quiet", last, text)}


def _hour(field: str, text: str, whole: str | None = None) -> time:
    hour, colon, minute = text.strip().partition(":")
    digits = colon and hour.isdecimal() and minute.isdecimal() and len(minute) == 2
    if digits and int(hour) < 24 and int(minute) < 60:
        return time(int(hour), int(minute))
    right = "an hour such as 07:00" if whole is None else "two hours such as 22:00-06:00"
    raise InputError(field, whole or text, right)
