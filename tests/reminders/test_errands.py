"""Fetch, decide, send, tidy: each at any time, and again."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from soakbook.errors import BookError, InputError
from soakbook.garden.reminding import Channel, Notice
from soakbook.reminders import errands
from soakbook.reminders.addresses import addresses_file, keep_person
from soakbook.reminders.errands import FETCH_AFTER, KEPT_DAYS
from soakbook.reminders.message import Message, Outcome
from soakbook.reminders.ways import Addresses
from soakbook.services import people
from soakbook.services.weather_settings import set_weather
from soakbook.store.book import open_book
from soakbook.store.outbox import Incident, add_incident, add_notices, read_notices
from soakbook.store.weather_asked import Asked, add_asked
from tests.reminders.turned_clock import book_in, incidents

NOON = datetime(2031, 5, 15, 11, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def new_book(tmp_path: Path) -> Path:
    return book_in(tmp_path)


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[datetime]:
    """When weather was asked for."""
    found: list[datetime] = []

    def ask(path: Path, *, now: datetime) -> Any:
        found.append(now)
        return SimpleNamespace(say=["It is dry.", "It stays so."])

    monkeypatch.setattr(errands, "ask", ask)
    return found


def was_asked(path: Path, at: datetime, service: str = "Open-Meteo") -> None:
    """Write down that a service was asked."""
    with open_book(path) as book:
        add_asked(book, Asked(service, "forecast", at, "down"))


def test_weather_that_was_never_asked_for_is_fetched(new_book: Path, asked: list[datetime]) -> None:
    assert errands.fetch(new_book, NOON) == ("It is dry.", "It stays so.")
    assert asked == [NOON]


@pytest.mark.parametrize(
    ("ago", "is_asked"),
    [
        (timedelta(0), False),
        (FETCH_AFTER - timedelta(seconds=1), False),
        (FETCH_AFTER, True),
        (timedelta(seconds=-1), True),  # the clock has been put back since
    ],
)
def test_weather_is_asked_for_after_some_hours_again(
    new_book: Path, asked: list[datetime], ago: timedelta, is_asked: bool
) -> None:
    """Also where nothing came: how long a service wants to be left alone is its own affair."""
    was_asked(new_book, NOON - ago)
    was_asked(new_book, NOON - DAY, "another")
    assert bool(errands.fetch(new_book, NOON)) == is_asked
    assert asked == [NOON] * is_asked


def test_how_many_hours_may_be_said(new_book: Path, asked: list[datetime]) -> None:
    was_asked(new_book, NOON - timedelta(hours=1))
    errands.fetch(new_book, NOON, timedelta(hours=1, seconds=1))
    assert asked == []
    errands.fetch(new_book, NOON, timedelta(hours=1))
    assert asked == [NOON]


def test_a_garden_that_asks_nobody_fetches_nothing(new_book: Path, asked: list[datetime]) -> None:
    set_weather(new_book, now=NOON, ask_whom="none")
    assert errands.fetch(new_book, NOON) == ()
    assert asked == []


def ann(path: Path) -> str:
    """Ann's uid, entered now."""
    people.person(path, "Ann", now=NOON)
    with open_book(path, read_only=True) as book:
        (uid,) = book.connection.execute("SELECT uid FROM person").fetchone()
    return str(uid)


def put(path: Path, count: int, whom: str, at: datetime = NOON, **fields: Any) -> None:
    """Put reminders for somebody into the outbox."""
    with open_book(path) as book:
        add_notices(
            book,
            [
                Notice(
                    uid=f"{at.toordinal()}-{n}", what="rule", whom=whom, about=str(n),
                    for_day=at.date(), zone="UTC", title=f"Abbey {n}", body="Your text.", beds=(),
                    due_at=at, late_from=at + DAY, not_after=at + DAY, state="due",
                    settled_at=None,
                )._replace(**fields)
                for n in range(count)
            ],
        )  # fmt: skip


def outbox(path: Path) -> list[Notice]:
    """All of it."""
    with open_book(path, read_only=True) as book:
        return list(read_notices(book))


@pytest.fixture
def given(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, Channel | None, str]]:
    """What channels were given: whose, the channel wanted, the address it would go to."""
    found: list[tuple[str, Channel | None, str]] = []

    def give(
        message: Message, wanted: Channel | None, addresses: Addresses
    ) -> tuple[Channel, Outcome]:
        found.append((message.title, wanted, addresses.people[message.name].mail))
        return "mail", Outcome("sent", "250 OK")

    monkeypatch.setattr(errands, "give", give)
    return found


def test_what_is_due_goes_by_this_users_addresses(
    new_book: Path, given: list[tuple[str, Channel | None, str]]
) -> None:
    keep_person("Ann", mail="ann@example.org")
    put(new_book, 2, ann(new_book))
    done = errands.send(new_book, lambda: NOON)
    assert given == [("Abbey 0", None, "ann@example.org"), ("Abbey 1", None, "ann@example.org")]
    assert [one.state for one in done] == ["sent", "sent"]
    assert outbox(new_book) == list(done)
    assert errands.send(new_book, lambda: NOON) == ()


def test_who_is_told_to_end_claims_no_other(
    new_book: Path, given: list[tuple[str, Channel | None, str]]
) -> None:
    keep_person("Ann", mail="ann@example.org")
    put(new_book, 3, ann(new_book))
    errands.send(new_book, lambda: NOON, lambda: not given)
    assert len(given) == 1
    errands.send(new_book, lambda: NOON)  # at once: nobody else has the others
    assert [title for title, _, _ in given] == ["Abbey 0", "Abbey 1", "Abbey 2"]


def test_with_a_file_of_addresses_that_cannot_be_right_all_of_it_waits(
    new_book: Path, given: list[tuple[str, Channel | None, str]]
) -> None:
    put(new_book, 2, ann(new_book))
    keep_person("Ann", mail="ann@example.org")
    file = addresses_file()
    right = file.read_text()
    file.write_text(right.replace("ann@example.org", "ann at home"))
    before = outbox(new_book)
    with pytest.raises(InputError, match="people"):
        errands.send(new_book, lambda: NOON)
    assert (given, outbox(new_book)) == ([], before)
    file.write_text(right)
    assert [one.state for one in errands.send(new_book, lambda: NOON)] == ["sent", "sent"]


def test_only_what_was_sent_more_than_a_year_ago_is_forgotten(new_book: Path) -> None:
    """400 days: what is for the day before the first is forgotten, and incidents by the hour."""
    first = NOON - KEPT_DAYS * DAY
    for at, state in ((first - DAY, "sent"), (first - DAY, "due"), (first, "sent")):
        put(new_book, 1, state, at, uid=f"{at} {state}", state=state,
            settled_at=at if state == "sent" else None)  # fmt: skip
    minute = timedelta(minutes=1)
    with open_book(new_book) as book:
        add_incident(book, Incident(first - minute, "long ago"))
        add_incident(book, Incident(first, "a year ago"))
    assert errands.tidy(new_book, NOON) == 2
    assert [one.uid for one in outbox(new_book)] == [f"{first - DAY} due", f"{first} sent"]
    assert incidents(new_book) == ["a year ago"]
    assert errands.tidy(new_book, NOON) == 0


def test_days_are_those_of_the_garden(tmp_path: Path) -> None:
    """It is half past nine in the evening there: two hours and a half later the first of 400 days is another."""
    path = book_in(tmp_path, "Australia/Lord_Howe")
    last = date(2031, 5, 15) - KEPT_DAYS * DAY
    put(path, 1, "", NOON - KEPT_DAYS * DAY, state="sent", settled_at=NOON, for_day=last)
    assert errands.tidy(path, NOON + timedelta(hours=2)) == 0
    assert errands.tidy(path, NOON + timedelta(hours=2, minutes=30)) == 1


def test_a_book_that_is_gone_is_said(tmp_path: Path) -> None:
    path = tmp_path / "none.book"
    for errand in (
        lambda: errands.fetch(path, NOON),
        lambda: errands.decide(path, NOON),
        lambda: errands.send(path, lambda: NOON),
        lambda: errands.tidy(path, NOON),
    ):
        with pytest.raises(BookError, match=r"none\.book"):
            errand()


def test_a_calendar_is_kept_up_and_left_alone_while_it_says_the_same(
    new_book: Path, tmp_path: Path
) -> None:
    file = tmp_path / "abbey.ics"
    assert errands.keep_calendar(new_book, file, NOON) is True
    text = file.read_bytes()
    assert text.startswith(b"BEGIN:VCALENDAR")
    assert errands.keep_calendar(new_book, file, NOON) is False
    with pytest.raises(InputError, match="nowhere"):
        errands.keep_calendar(new_book, tmp_path / "nowhere" / "abbey.ics", NOON)
    assert file.read_bytes() == text
