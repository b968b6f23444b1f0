"""Gardens drawn from the records' own bounds, put into books by the store's own functions."""

from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any, Literal, get_args, get_origin
from zoneinfo import ZoneInfo

from hypothesis import strategies as st

from soakbook.garden.annotations import hints, kinds
from soakbook.garden.bounds import Bounds
from soakbook.garden.entries import ENTRY_TYPES, BedEntry, Kept, Rain, Void
from soakbook.garden.promises import LEADS_DAYS
from soakbook.garden.records import (
    Absence,
    Bed,
    Flow,
    Garden,
    Person,
    Planting,
    Rate,
    Restriction,
    Tap,
)
from soakbook.garden.reminding import Reminder, ReminderKind
from soakbook.garden.sense import NO_LETTERS, faults
from soakbook.garden.tables.balls import MIXES
from soakbook.garden.tables.mulches import MULCHES
from soakbook.garden.tables.places import PLACES
from soakbook.garden.tables.plants import PLANT_CLASSES
from soakbook.garden.tables.soils import SOILS
from soakbook.garden.weather import Forecast, ForecastDay, WeatherSeries, WeatherValue
from soakbook.store.book import create
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import add_entries
from soakbook.store.forecast_rows import add_forecasts
from soakbook.store.garden_rows import add_record, keep_location, keep_mapping, update_record
from soakbook.store.rain_hours import add_rain_hours
from soakbook.store.weather_asked import Asked, add_asked
from soakbook.store.weather_rows import add_weather
from soakbook.weather.column_map import NOTHING_SAID
from soakbook.weather.kept_maps import as_json

LONDON = ZoneInfo("Europe/London")
AUTUMN = datetime(2031, 10, 26, 0, 30, tzinfo=UTC)
"""An hour before the clocks of London go back."""

NASTY = [
    "=1+1", "+44 1234", "-5cm", "@Ann", "'tis", "''", 'say "when"', "a, b; c", "שלום", "مرحبا", "🌿🪴",
    "Zoë", "e\u0301", "NULL", "None", "nan", "1e308", "0012", "2031-05-15", "[tap]", "\\u0041", "#", " ",
]  # fmt: skip
LINES = ["\t=1", "\r=1", "one\r\ntwo", "one\ntwo", "\u202eright to left", "\x7f", "", "'''", '"""']

ON_A_LINE: Any = {"exclude_categories": NO_LETTERS}

names = st.sampled_from(NASTY) | st.text(st.characters(**ON_A_LINE), min_size=1, max_size=20)
texts = (
    names
    | st.sampled_from(LINES)
    | st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=20)
)
days = st.dates(date(1950, 1, 1), date(2150, 1, 1))
moments = (st.integers(-300_000_000, 2_000_000_000) | st.integers(-5400, 5400)).map(
    lambda seconds: (AUTUMN + timedelta(seconds=seconds)).astimezone(LONDON)
)

OWN: dict[str, st.SearchStrategy[Any]] = {
    "soil": st.sampled_from([*SOILS, "unknown"]),
    "dug_from_soil": st.none() | st.sampled_from(sorted(SOILS)),
    "place": st.sampled_from(sorted(PLACES)),
    "plant_class": st.sampled_from(sorted(PLANT_CLASSES)),
    "mix": st.sampled_from(sorted(MIXES)),
    "timezone": st.sampled_from(["Europe/London", "Asia/Kathmandu", "Pacific/Auckland"]),
    "typed": texts,
    "currency": texts,
    "cause": texts.filter(bool),
    "sand_fraction": st.none(),
    "clay_fraction": st.none(),
    "said": st.frozensets(st.sampled_from(["soil", "area_m2", "rain_share"])),
    "flows": st.lists(st.deferred(lambda: drawn(Flow)), max_size=3).map(tuple),
    "absences": st.lists(st.deferred(lambda: drawn(Absence)), max_size=3).map(tuple),
    "happened_at": moments | days,
}


def drawn(record_type: type, **fixed: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """Records of a type that the door would let in."""
    known = OWN | fixed
    fields = {
        name: known[name] if name in known else _of(hint)
        for name, hint in hints(record_type).items()
    }
    if record_type is ENTRY_TYPES["mulch"]:
        fields["kind"] = st.sampled_from(sorted(MULCHES))
    return (
        st.fixed_dictionaries(fields)
        .map(lambda values: record_type(**values))
        .filter(lambda record: not faults(record))
    )


def _of(hint: Any) -> st.SearchStrategy[Any]:
    found = [_one(base, bounds) for base, bounds in kinds(hint)]
    return st.one_of(*([st.none()] if type(None) in get_args(hint) else []), *found)


def _one(base: Any, bounds: tuple[object, ...]) -> st.SearchStrategy[Any]:
    if get_origin(base) is Literal:
        return st.sampled_from(get_args(base))
    if get_origin(base) is frozenset:
        return st.frozensets(st.integers(0, 6))
    plain: dict[Any, Callable[[], st.SearchStrategy[Any]]] = {
        bool: st.booleans,
        str: lambda: names,
        date: lambda: days,
        datetime: lambda: moments,
        time: st.times,
    }
    if base in plain:
        return plain[base]()
    bound = next(one for one in bounds if isinstance(one, Bounds))
    low = bound.ge if bound.gt is None else bound.gt
    high = bound.le if bound.lt is None else bound.lt
    assert low is not None
    assert high is not None
    if base is int:
        return st.integers(int(low), int(high))
    return st.floats(
        low, high, exclude_min=bound.gt is not None, exclude_max=bound.lt is not None, width=64
    )


@st.composite
def fillings(draw: st.DrawFn) -> Callable[[Path], None]:
    """What makes a book at a path: every table has something in it, mostly."""
    garden = draw(drawn(Garden, uid=st.just("garden")))
    taps = [
        one._replace(uid=f"tap {n}", key=f"{one.key[:20]}{n}")
        for n, one in enumerate(draw(st.lists(drawn(Tap), min_size=1, max_size=3)))
    ]
    tap = st.none() | st.sampled_from([one.key for one in taps])
    whole = {"parted_from": st.none(), "parted_on": st.none()}
    beds = [
        one._replace(uid=f"'bed {n}", key=f"{one.key[:20]}{n}")
        for n, one in enumerate(
            draw(st.lists(drawn(Bed, tap=tap, **whole), min_size=1, max_size=3))
        )
    ]
    if len(beds) > 1 and draw(st.booleans()):
        beds[1] = beds[1]._replace(parted_from=beds[0].uid, parted_on=draw(days))
    bed = st.sampled_from([one.uid for one in beds])
    plantings: list[Planting] = []
    for n in range(draw(st.integers(1, 4))):
        replaces = st.sampled_from([None, *(one.uid for one in plantings)])
        given = {"uid": st.just(f"=planting {n}"), "bed_uid": bed, "replaces": replaces}
        given |= {"came_from": replaces, "parted_on": st.none()}
        one = draw(drawn(Planting, **given))
        if one.came_from is not None and draw(st.booleans()):
            one = one._replace(parted_on=max(one.planted_on, draw(days)))
        plantings.append(one)
    people = [
        one._replace(uid=f"person {n}", name=f"{one.name[:20]}{n}")
        for n, one in enumerate(draw(st.lists(drawn(Person), max_size=3)))
    ]
    rules = [
        one._replace(uid=f"rule {n}")
        for n, one in enumerate(draw(st.lists(drawn(Restriction) | drawn(Rate), max_size=3)))
    ]
    named = frozenset(one.uid for one in people)
    reminders = [
        draw(drawn(Reminder, uid=st.just(kind), **_for_whom(named)))
        for kind in draw(st.sets(st.sampled_from(get_args(ReminderKind)), max_size=3))
    ]
    records = [*taps, *beds, *plantings, *people, *rules, *reminders]
    changed = draw(st.lists(st.sampled_from(beds), max_size=2))
    entries = draw(_entries([one.uid for one in beds], [one.uid for one in plantings]))
    weather = draw(_weather())
    at, by = draw(moments), draw(st.none() | names)

    def fill(path: Path) -> None:
        with create(path, garden, at=at, by=by) as book:
            for record in records:
                add_record(book, record, at=at, by=by)
            for n, record in enumerate(changed):
                moment = at + timedelta(days=n)
                update_record(book, record._replace(area_m2=n + 1.5), at=moment, by=by)
            add_entries(book, entries)
            weather(book)

    return fill


def _for_whom(people: frozenset[str]) -> dict[str, st.SearchStrategy[Any]]:
    """The people there are by name, or none."""
    if people:
        return {"whom": st.just("named"), "named": st.just(people)}
    return {
        "whom": st.none() | st.sampled_from(["keeper", "next", "head", "all"]),
        "named": st.just(frozenset()),
    }


@st.composite
def _entries(draw: st.DrawFn, beds: list[str], plantings: list[str]) -> list[Kept]:
    entries: list[Kept] = []
    for n in range(draw(st.integers(0, 12))):
        superseded = {one.supersedes for one in entries}
        free = [one.uid for one in entries if one.uid not in superseded]
        kind = draw(st.sampled_from(sorted(set(ENTRY_TYPES) - (set() if free else {"void"}))))
        kind_type = ENTRY_TYPES[kind]
        given: dict[str, st.SearchStrategy[Any]] = {
            "uid": st.just(f"-entry {n}"),
            "supersedes": st.none() | st.sampled_from(free) if free else st.none(),
        }
        if issubclass(kind_type, BedEntry):
            given["bed_uid"] = st.sampled_from(beds)
            planting = st.sampled_from(plantings)
            given["planting_uid"] = planting if kind == "loss" else st.none() | planting
        if kind_type is Void:
            given["supersedes"] = st.sampled_from(free)
        if kind_type is Rain:
            given["happened_at"] = moments
        entries.append(draw(drawn(kind_type, **given)))
    return entries


@st.composite
def _weather(draw: st.DrawFn) -> Callable[[BookFile], None]:
    sources = names
    numbers = st.floats(0, 50)
    hour = st.floats(0, 20)
    values = draw(
        st.lists(
            st.builds(
                WeatherValue,
                day=days,
                variable=st.sampled_from(["rain_mm", "et0_mm", "tmin_c"]),
                value=numbers,
                source=sources,
                kind=st.sampled_from(["measured", "analysed", "filled"]),
                fetched_at=moments,
                issued_at=st.none() | moments,
                method=st.just("") | texts,
            ),
            max_size=10,
        )
    )
    twice = [one._replace(value=one.value + 1) for one in values[:3]] + values[:3]
    issues = draw(_issues())
    rain = draw(st.lists(st.tuples(days, st.lists(hour, min_size=23, max_size=25)), max_size=2))
    fetched = draw(moments)
    series = [
        WeatherSeries(day, "hours", "rain_mm", tuple(told), "a service", "analysed", fetched)
        for day, told in rain
    ]
    asked = draw(
        st.lists(
            st.builds(
                Asked,
                service=names,
                what=names.filter(lambda text: "://" not in text),
                at=moments,
                came=st.sampled_from(["new", "down"]),
                say=texts,
                not_before=st.none() | moments,
            ),
            max_size=3,
        )
    )
    files = draw(st.dictionaries(names, st.none() | st.just("/home/shed.csv"), max_size=2))

    def add(book: BookFile) -> None:
        add_weather(book, values)
        add_weather(book, twice)
        add_forecasts(book, issues)
        add_rain_hours(book, series)
        for one in asked:
            add_asked(book, one)
        for name, location in files.items():
            keep_mapping(book, name, as_json(NOTHING_SAID), at=fetched)
            if location is not None:
                keep_location(book, name, location)

    return add


@st.composite
def _issues(draw: st.DrawFn) -> list[Forecast]:
    hour, numbers = st.floats(0, 20), st.floats(-50, 50)
    members = st.lists(hour | st.integers(0, 9), min_size=4, max_size=4).map(tuple)
    hours = st.lists(hour, min_size=23, max_size=25).map(tuple)
    first = draw(st.dates(date(2031, 1, 1), date(2031, 12, 1)))
    return [
        Forecast(
            source,
            datetime.combine(first, time(5), UTC) + timedelta(hours=11 * n),
            tuple(
                ForecastDay(
                    first + timedelta(days=ahead + n),
                    rain_mm=draw(st.none() | hour),
                    et0_mm=draw(hour),
                    et0_members_mm=draw(st.just(()) | members),
                    tmin_c=draw(st.none() | numbers),
                    rain_members_mm=draw(members),
                    rain_by_hour_mm=draw(st.just(()) | hours),
                )
                for ahead in range(max(LEADS_DAYS) + 1)
            ),
        )
        for n, source in enumerate(draw(st.lists(names, max_size=3)))
    ]
