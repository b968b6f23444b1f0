"""What happened: in and out unchanged, never twice, superseded in chains, in order."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import BookError, InputError
from soakbook.garden.entries import (
    AnyEntry,
    Catch,
    Feel,
    Left,
    Look,
    Loss,
    MulchLaid,
    Rain,
    Ruler,
    Soak,
    Wilt,
)
from soakbook.garden.records import Garden
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import add_entries, entries_in_force

Undone = Callable[[BookFile], AbstractContextManager[None]]

LONDON = ZoneInfo("Europe/London")
MOMENTS = st.datetimes(
    datetime(1990, 1, 1),  # noqa: DTZ001 - the strategy adds the zone
    datetime(2100, 1, 1),  # noqa: DTZ001
    timezones=st.just(LONDON),
    allow_imaginary=False,
)
COMMON = {"happened_at": MOMENTS | st.dates(), "written_at": MOMENTS, "supersedes": st.none()}
OF_BED = {
    **COMMON,
    "bed_uid": st.just("bed-1"),
    "planting_uid": st.sampled_from([None, "planting-1"]),
}
ENTRIES: st.SearchStrategy[AnyEntry] = st.one_of(
    st.builds(Soak, **OF_BED),
    st.builds(Rain, **COMMON, began_at=MOMENTS),
    st.builds(Feel, **OF_BED).filter(lambda feel: feel.ball is not None or feel.bed is not None),
    st.builds(Wilt, **OF_BED),
    st.builds(Left, **OF_BED),
    st.builds(
        Loss,
        **{**OF_BED, "planting_uid": st.just("planting-1")},
        count=st.integers(1, 100_000),
    ),
    st.builds(MulchLaid, **OF_BED),
    st.builds(Catch, **OF_BED),
    st.builds(Ruler, **OF_BED),
    st.builds(Look, **OF_BED),
)


def _exact(entry: AnyEntry) -> tuple[AnyEntry, list[str]]:
    """An entry with its moments as text: those of one zone compare without their offset."""
    moments = [entry.happened_at, entry.written_at]
    if isinstance(entry, Rain):
        moments.append(entry.began_at)
    return entry, [moment.isoformat() for moment in moments]


def _soak(uid: str, at: datetime | date, supersedes: str | None = None) -> Soak:
    return Soak(
        uid=uid,
        happened_at=at,
        written_at=datetime(2031, 5, 15, 9, tzinfo=UTC),
        supersedes=supersedes,
        bed_uid="bed-1",
        litres=17,
        typed="17l",
    )


@given(entry=ENTRIES)
def test_what_the_records_allow_comes_back(
    shared_book: BookFile, undone: Undone, garden: Garden, entry: AnyEntry
) -> None:
    with undone(shared_book):
        add_entries(shared_book, [entry])
        (found,) = entries_in_force(shared_book, garden)
        assert _exact(found) == _exact(entry)


def test_a_moment_of_another_zone_comes_back_on_the_gardens_clock(
    book: BookFile, garden: Garden
) -> None:
    """Entered from abroad: the same instant, said by the clock in the garden."""
    add_entries(book, [_soak("e", datetime(2031, 5, 14, 8, 40, tzinfo=ZoneInfo("Europe/Paris")))])
    (found,) = entries_in_force(book, garden)
    assert found.happened_at.isoformat() == "2031-05-14T07:40:00+01:00"


def test_order_of_happening(book: BookFile, garden: Garden) -> None:
    """A bare day counts at the round hour (07:00), a soak right after it; then as written."""
    day = date(2031, 5, 14)
    written = datetime(2031, 5, 20, 9, tzinfo=UTC)

    def at(hour: int, minute: int = 0) -> datetime:
        return datetime.combine(day, time(hour, minute), LONDON)

    feel = Feel(uid="felt", happened_at=day, written_at=written, bed_uid="bed-1", ball="dry")
    add_entries(
        book,
        [
            _soak("evening", at(18)),
            _soak("dated", day),
            feel,
            replace(feel, uid="felt earlier written", written_at=written - timedelta(hours=1)),
            _soak("a minute later", at(7, 1)),
            _soak("early", at(6, 59)),
            _soak("the day before", day - timedelta(days=1)),
        ],
    )
    assert [entry.uid for entry in entries_in_force(book, garden)] == [
        "the day before",
        "early",
        "felt earlier written",
        "felt",
        "dated",
        "a minute later",
        "evening",
    ]


def test_order_on_the_morning_on_which_an_hour_comes_twice(book: BookFile, garden: Garden) -> None:
    """26 October 2031: 01:50 summer time is before 01:10 winter time."""
    summer = datetime(2031, 10, 26, 1, 50, fold=0, tzinfo=LONDON)
    winter = datetime(2031, 10, 26, 1, 10, fold=1, tzinfo=LONDON)
    add_entries(book, [_soak("winter", winter), _soak("summer", summer)])
    found = entries_in_force(book, garden)
    assert [(entry.uid, entry.happened_at.isoformat()) for entry in found] == [
        ("summer", "2031-10-26T01:50:00+01:00"),
        ("winter", "2031-10-26T01:10:00+00:00"),
    ]


@given(links=st.lists(st.integers(0, 20), max_size=12))
def test_of_a_chain_only_the_last_stands(
    shared_book: BookFile, undone: Undone, garden: Garden, links: list[int]
) -> None:
    """Each entry supersedes one that stands, or none: in force is what nothing supersedes."""
    standing: list[str] = []
    chain = []
    for number, link in enumerate(links):
        taken = standing.pop(link) if link < len(standing) else None
        chain.append(_soak(f"e{number}", date(2031, 5, 14), taken))
        standing.append(f"e{number}")
    with undone(shared_book):
        add_entries(shared_book, chain)
        found = {entry.uid for entry in entries_in_force(shared_book, garden)}
        assert found == set(standing)


def test_a_soak_may_turn_out_to_have_been_a_visit(book: BookFile, garden: Garden) -> None:
    day = date(2031, 5, 14)
    left = Left(
        uid="left",
        happened_at=day,
        written_at=datetime(2031, 5, 15, 9, tzinfo=UTC),
        supersedes="soaked",
        bed_uid="bed-1",
        reason="no time",
    )
    add_entries(book, [_soak("soaked", day), left])
    assert entries_in_force(book, garden) == (left,)


FELT_NOTHING = Feel(
    uid="e",
    happened_at=date(2031, 5, 14),
    written_at=datetime(2031, 5, 15, 9, tzinfo=UTC),
    bed_uid="bed-1",
)


@pytest.mark.parametrize(
    ("entry", "field", "right"),
    [
        (_soak("first", date(2031, 5, 14)), "uid", "another entry has it"),
        (_soak("e", date(2031, 5, 14), "nobody"), "supersedes", "the uid of an entry in the book"),
        (_soak("e", date(2031, 5, 14), "first"), "supersedes", "superseded already"),
        (replace(_soak("e", date(2031, 5, 14)), bed_uid="bed-9"), "bed_uid", "the uid of a bed"),
        (
            replace(_soak("e", date(2031, 5, 14)), planting_uid="p"),
            "planting_uid",
            "the uid of a planting",
        ),
        (replace(_soak("e", date(2031, 5, 14)), litres=-3), "litres", "litres > 0"),
        (FELT_NOTHING, "entry", "a feel says ball or bed or both"),
        (_soak("e", datetime.fromisoformat("2031-05-14T07:40:00")), "happened_at", "time zone"),
    ],
)
def test_a_list_with_one_wrong_entry_adds_nothing(
    book: BookFile, garden: Garden, entry: AnyEntry, field: str, right: str
) -> None:
    """The failure comes half-way: good entries stand before and after the wrong one."""
    add_entries(
        book, [_soak("first", date(2031, 5, 13)), _soak("second", date(2031, 5, 13), "first")]
    )
    before = (entries_in_force(book, garden), book.change_mark())
    good = [_soak("good", date(2031, 5, 14)), entry, _soak("also good", date(2031, 5, 14))]
    with pytest.raises(InputError, match=right) as refused:
        add_entries(book, good)
    assert refused.value.field == field
    assert (entries_in_force(book, garden), book.change_mark()) == before


def test_a_list_that_breaks_off_adds_nothing(book: BookFile, garden: Garden) -> None:
    def listed() -> Iterator[AnyEntry]:
        yield _soak("good", date(2031, 5, 14))
        raise LookupError

    with pytest.raises(LookupError):
        add_entries(book, listed())
    assert entries_in_force(book, garden) == ()


def test_a_zone_that_this_computer_does_not_know(book: BookFile, garden: Garden) -> None:
    with pytest.raises(BookError, match="'Europe/Marl_Hatherby' is not known"):
        entries_in_force(book, garden._replace(timezone="Europe/Marl_Hatherby"))


def test_reading_up_to_a_day_leaves_out_only_later_days(book: BookFile, garden: Garden) -> None:
    """A day of grace: late on the 14th in London it is the 15th further east."""
    days = [date(2031, 5, day) for day in (13, 14, 15, 16, 20)]
    wilts = [
        Wilt(
            uid=f"wilt-{day}",
            happened_at=day,
            written_at=datetime(2031, 5, 21, 9, tzinfo=LONDON),
            bed_uid="bed-1",
        )
        for day in days
    ]
    add_entries(book, wilts)
    read = entries_in_force(book, garden, until=date(2031, 5, 15))
    assert [entry.happened_at for entry in read] == days[:4]
