"""The outbox: once in, once claimed, once settled, whatever happens between."""

from datetime import UTC, date, datetime, timedelta

import pytest

from soakbook.errors import InputError
from soakbook.garden.reminding import Notice
from soakbook.store.book import open_book
from soakbook.store.book_file import BookFile
from soakbook.store.outbox import (
    CLAIM,
    Decided,
    Incident,
    add_incident,
    add_notices,
    claim,
    forget_ahead,
    forget_notices,
    lapse_old,
    put_decided,
    put_off,
    read_decided,
    read_incidents,
    read_notices,
    settle,
)

DUE = datetime(2031, 5, 15, 5, 30, tzinfo=UTC)
ROUND = Notice(
    uid="n1",
    what="round",
    whom="ann",
    about="",
    for_day=date(2031, 5, 15),
    zone="Europe/London",
    title="Corrody, Thu 15 May: 2 beds by 10:00",
    body="Chapel Wall 17 L, Bank 20 L.",
    beds=("bed-1", "bed-2"),
    due_at=DUE,
    late_from=DUE + timedelta(hours=6),
    not_after=DUE + timedelta(hours=14),
)
AGAIN = ROUND._replace(uid="n2")
TOMS = ROUND._replace(uid="n3", whom="tom", beds=())


def test_what_is_put_in_comes_back(book: BookFile) -> None:
    assert add_notices(book, [ROUND, TOMS]) == 2
    assert read_notices(book) == (ROUND, TOMS)


def test_the_same_reminder_is_there_once(book: BookFile) -> None:
    add_notices(book, [ROUND])
    assert add_notices(book, [ROUND, AGAIN._replace(body="Another text.")]) == 0
    assert read_notices(book) == (ROUND,)


@pytest.mark.parametrize(
    "other", [{"what": "feel"}, {"whom": "tom"}, {"about": "2"}, {"for_day": date(2031, 5, 16)}]
)
def test_another_of_the_four_makes_another(book: BookFile, other: dict[str, object]) -> None:
    assert add_notices(book, [ROUND, AGAIN._replace(**other)]) == 2  # type: ignore[arg-type]


def test_a_uid_is_one_reminders(book: BookFile) -> None:
    with pytest.raises(InputError, match="uid"):
        add_notices(book, [ROUND, ROUND._replace(whom="tom")])
    assert read_notices(book) == ()


def test_a_title_that_no_lock_screen_holds_is_refused(book: BookFile) -> None:
    with pytest.raises(InputError):
        add_notices(book, [ROUND._replace(title="x" * 61)])


def test_nothing_is_claimed_before_its_hour(book: BookFile) -> None:
    add_notices(book, [ROUND])
    assert claim(book, "a", DUE - timedelta(seconds=1)) is None
    assert claim(book, "a", DUE) == ROUND


def test_what_one_sends_another_leaves_until_the_claim_runs_out(book: BookFile) -> None:
    add_notices(book, [ROUND])
    assert claim(book, "a", DUE)
    with open_book(book.path) as other:
        assert claim(other, "b", DUE + CLAIM) is None
        assert claim(other, "b", DUE + CLAIM + timedelta(seconds=1)) == ROUND
    assert claim(book, "a", DUE + CLAIM + timedelta(seconds=2)) is None


def test_what_is_sent_is_claimed_no_more(book: BookFile) -> None:
    add_notices(book, [ROUND])
    claim(book, "a", DUE)
    sent = ROUND._replace(state="sent", channel="mail", tries=1, answer="250 ok", settled_at=DUE)
    settle(book, sent)
    assert claim(book, "a", DUE + timedelta(days=1)) is None
    assert read_notices(book, state="sent") == (sent,)
    assert read_notices(book, state="due") == ()


def test_what_is_settled_stays_so(book: BookFile) -> None:
    """Two who sent it, one after the other's claim ran out: the first word holds."""
    add_notices(book, [ROUND])
    sent = ROUND._replace(state="sent", settled_at=DUE)
    settle(book, sent)
    settle(book, ROUND._replace(state="lapsed", settled_at=DUE))
    put_off(book, ROUND._replace(tries=4), "a", DUE)
    assert read_notices(book) == (sent,)


def test_what_is_put_off_waits(book: BookFile) -> None:
    add_notices(book, [ROUND])
    claim(book, "a", DUE)
    later = ROUND._replace(tries=1, channel="mail", answer="no answer in 10 s")
    put_off(book, later, "a", DUE + timedelta(minutes=5))
    assert claim(book, "a", DUE + timedelta(minutes=4)) is None
    assert claim(book, "b", DUE + timedelta(minutes=5)) == later


@pytest.mark.parametrize("ahead", [timedelta(hours=2), timedelta(days=3)])
def test_a_claim_by_a_clock_that_was_wrong_holds_nobody_up(
    book: BookFile, ahead: timedelta
) -> None:
    """The clock leapt ahead, somebody claimed and was killed, the clock came back: not silent until it has leapt."""
    add_notices(book, [ROUND])
    assert claim(book, "killed", DUE + ahead) == ROUND
    assert claim(book, "next", DUE) == ROUND
    assert claim(book, "third", DUE) is None


def test_clocks_may_differ_by_minutes(book: BookFile) -> None:
    add_notices(book, [ROUND])
    assert claim(book, "a", DUE + timedelta(minutes=5)) == ROUND
    assert claim(book, "b", DUE) is None


def test_what_a_wrong_clock_claimed_lapses_all_the_same(book: BookFile) -> None:
    late = ROUND.not_after
    add_notices(book, [ROUND])
    claim(book, "killed", late + timedelta(days=3))
    assert lapse_old(book, late) == 1


@pytest.mark.parametrize(("wait", "waits"), [(25, True), (72, False)])
def test_what_was_put_off_by_a_clock_that_was_wrong_waits_no_more(
    book: BookFile, wait: int, waits: bool
) -> None:
    """No wait is as long as three days, not for quiet hours on the day on which the clock is put back."""
    add_notices(book, [ROUND])
    claim(book, "a", DUE)
    put_off(book, ROUND, "a", DUE + timedelta(hours=wait))
    assert (claim(book, "b", DUE) is None) == waits


def test_who_was_too_slow_puts_nothing_off(book: BookFile) -> None:
    add_notices(book, [ROUND])
    claim(book, "slow", DUE)
    claim(book, "next", DUE + CLAIM + timedelta(seconds=1))
    put_off(book, ROUND._replace(tries=1), "slow", DUE + timedelta(days=1))
    assert claim(book, "third", DUE + timedelta(minutes=5)) == ROUND


def test_the_oldest_goes_first(book: BookFile) -> None:
    add_notices(book, [ROUND, TOMS._replace(due_at=DUE - timedelta(hours=1))])
    first = claim(book, "a", DUE)
    assert first
    assert first.uid == "n3"


def test_how_far_was_decided_comes_back(book: BookFile) -> None:
    assert read_decided(book) is None
    for day in (15, 16):
        decided = Decided(DUE.replace(day=day), DUE.replace(day=day, hour=6))
        put_decided(book, decided)
        assert read_decided(book) == decided


def test_what_is_due_is_never_forgotten(book: BookFile) -> None:
    add_notices(book, [ROUND, TOMS])
    settle(book, ROUND._replace(state="sent", settled_at=DUE))
    assert forget_notices(book, date(2031, 5, 15)) == 0
    assert forget_notices(book, date(2032, 5, 15)) == 1
    assert read_notices(book) == (TOMS,)


def test_of_hours_to_come_only_what_was_sent_or_is_being_sent_is_kept(book: BookFile) -> None:
    add_notices(book, [ROUND, TOMS, *(TOMS._replace(uid=f"n{n}", whom=f"w{n}") for n in (4, 5))])
    claim(book, "me", DUE)
    for uid, state in (("n3", "lapsed"), ("n4", "sent")):
        settle(book, TOMS._replace(uid=uid, state=state, settled_at=DUE))  # type: ignore[arg-type]
    assert forget_ahead(book, DUE) == 0
    assert forget_ahead(book, DUE - timedelta(seconds=1)) == 2
    assert [one.uid for one in read_notices(book)] == ["n1", "n4"]


def test_the_newest_come_oldest_first(book: BookFile) -> None:
    more = [
        ROUND._replace(uid=f"d{n}", for_day=ROUND.for_day + timedelta(days=n)) for n in range(4)
    ]
    add_notices(book, more)
    assert read_notices(book, newest=2) == tuple(more[2:])
    assert read_notices(book, since=date(2031, 5, 17)) == tuple(more[2:])


def test_incidents_come_back(book: BookFile) -> None:
    told = [Incident(DUE + timedelta(days=n), f"no {n}") for n in range(3)]
    for one in told:
        add_incident(book, one)
    assert read_incidents(book, 2) == tuple(told[1:])


def test_no_reminder_makes_a_round_another(book: BookFile) -> None:
    before = book.change_mark()
    add_notices(book, [ROUND])
    claim(book, "a", DUE)
    settle(book, ROUND._replace(state="sent", settled_at=DUE))
    put_decided(book, Decided(DUE, DUE))
    assert book.change_mark() == before
