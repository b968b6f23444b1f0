"""What is due is sent once, waits where it must, and what became of it is written."""

from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from pathlib import Path
from threading import Barrier, Thread

import pytest

from soakbook.garden.reminding import Channel, Notice
from soakbook.reminders.message import Came, Message, Outcome
from soakbook.reminders.sending import (
    BACK_OFF,
    NOBODY,
    REFUSALS,
    SWITCHED_OFF,
    UNREACHED,
    send_due,
    worded,
)
from soakbook.services import entries, people
from soakbook.store.book import open_book
from soakbook.store.outbox import CLAIM, read_notices
from tests.reminders.garden_days import THURSDAY, begin, decided, name_of, on, said
from tests.services.conftest import make
from tests.services.looking import at

MINUTE = timedelta(minutes=1)
LATER: tuple[Came, ...] = ("later",)
REFUSED: tuple[Came, ...] = ("refused",)


class Post:
    """A clock that is set by hand, and a channel that answers as it is told, and then says yes."""

    def __init__(self, now: datetime, *answers: Came | Exception) -> None:
        self.now = now
        self.answers = list(answers)
        self.given: list[tuple[datetime, Message]] = []
        self.takes = timedelta(0)
        self.channel: Channel | None = "mail"

    def clock(self) -> datetime:
        """The present moment."""
        return self.now

    def give(self, message: Message, wanted: Channel | None) -> tuple[Channel | None, Outcome]:
        """A message taken, or not."""
        self.given.append((self.now, message))
        self.now += self.takes
        answer = self.answers.pop(0) if self.answers else "sent"
        if isinstance(answer, Exception):
            raise answer
        return self.channel, Outcome(answer, f"the server: {answer}")

    def send(self, path: Path, now: datetime | None = None, who: str = "me") -> list[str]:
        """The states of what was sent."""
        self.now = now or self.now
        return [one.state for one in send_due(path, self.clock, self.give, who)]

    def names(self) -> list[str]:
        """Whom messages were for."""
        return [message.name for _, message in self.given]


@pytest.fixture
def round_of_toms(garden: Path) -> Path:
    """A garden of which Tom has a round of one bed waiting since seven, and Ann none."""
    said(garden, "dry", wanted=False)
    for bed in ("chapel", "school", "ride"):
        entries.left(garden, [bed], "moist", now=at(5, 15, 6, 40), by="Ann")
    (one,) = decided(garden, on(THURSDAY, 7))
    assert (one.what, name_of(garden, one.whom)) == ("round", "Tom")
    return garden


def only(path: Path) -> Notice:
    """The one reminder in the outbox."""
    with open_book(path, read_only=True) as book:
        (one,) = read_notices(book)
    return one


def test_it_is_sent_once(round_of_toms: Path) -> None:
    post = Post(on(THURSDAY, 7))
    assert post.send(round_of_toms) == ["sent"]
    assert post.send(round_of_toms, on(THURSDAY, 19)) == []
    one = only(round_of_toms)
    ((_, message),) = post.given
    assert message == Message(one.uid, "Tom", one.title, one.body, on(THURSDAY, 7))
    assert (one.state, one.channel, one.tries, one.answer, one.settled_at) == (
        "sent",
        "mail",
        1,
        "the server: sent",
        on(THURSDAY, 7),
    )


def test_before_its_hour_nothing_is_sent(round_of_toms: Path) -> None:
    assert Post(on(THURSDAY, 6, 59)).send(round_of_toms) == []


def tried(path: Path, post: Post, until: datetime) -> list[timedelta]:
    """How long it waited between one try and the next, asked each half minute."""
    while post.now < until:
        post.send(path)
        post.now += MINUTE / 2
    moments = [moment for moment, _ in post.given]
    return [later - earlier for earlier, later in pairwise(moments)]


def test_what_may_come_later_is_tried_after_one_five_thirty_minutes_and_two_hours(
    round_of_toms: Path,
) -> None:
    post = Post(on(THURSDAY, 7), *LATER * 7)
    waits = tried(round_of_toms, post, on(THURSDAY, 19, 59))
    assert tuple(waits) == (*BACK_OFF, BACK_OFF[-1], BACK_OFF[-1], BACK_OFF[-1])
    assert [wait / MINUTE for wait in waits[:4]] == [1, 5, 30, 120]
    assert (only(round_of_toms).state, only(round_of_toms).tries) == ("sent", 8)


def test_what_is_refused_is_given_up_when_it_was_asked_again_so_often(round_of_toms: Path) -> None:
    post = Post(on(THURSDAY, 7), *REFUSED * 20)
    assert len(tried(round_of_toms, post, on(THURSDAY, 19))) == REFUSALS == 4
    one = only(round_of_toms)
    assert (one.state, one.tries, one.answer) == ("given_up", 5, "the server: refused")


def test_what_grows_too_old_while_it_waits_lapses(round_of_toms: Path) -> None:
    post = Post(on(THURSDAY, 7), "later")
    assert post.send(round_of_toms) == ["due"]
    assert post.send(round_of_toms, on(THURSDAY, 20)) == []
    one = only(round_of_toms)
    assert (one.state, one.settled_at, one.tries) == ("lapsed", on(THURSDAY, 20), 1)


def test_what_grows_too_old_while_a_slow_server_answers_lapses(garden: Path) -> None:
    decided(garden, on(THURSDAY, 8))
    post = Post(on(THURSDAY, 19, 59))
    post.takes = timedelta(minutes=1, seconds=30)
    assert post.send(garden) == ["sent", "lapsed"]
    assert len(post.given) == 1


def test_what_waits_is_withdrawn_when_its_kind_is_switched_off(round_of_toms: Path) -> None:
    post = Post(on(THURSDAY, 7), "later")
    assert post.send(round_of_toms) == ["due"]
    said(round_of_toms, "round", wanted=False, now=on(THURSDAY, 7, 1))
    assert post.send(round_of_toms, on(THURSDAY, 7, 2)) == ["withdrawn"]
    assert (len(post.given), only(round_of_toms).answer) == (1, SWITCHED_OFF)


def test_what_was_answered_in_between_is_withdrawn(round_of_toms: Path) -> None:
    post = Post(on(THURSDAY, 7), "later")
    post.send(round_of_toms)
    entries.soak(round_of_toms, ["dole"], "140l", now=on(THURSDAY, 7, 30), by="Tom")
    assert post.send(round_of_toms, on(THURSDAY, 8)) == ["withdrawn"]
    assert len(post.given) == 1


def test_of_two_beds_one_answered_it_is_sent_all_the_same(garden: Path) -> None:
    decided(garden, on(THURSDAY, 7))
    entries.soak(garden, ["chapel"], "45l", now=on(THURSDAY, 7, 30), by="Ann")
    post = Post(on(THURSDAY, 8))
    assert post.send(garden) == ["sent", "sent"]
    assert sorted(post.names()) == ["Ann", "Tom"]


def test_another_try_keeps_quiet_hours_too(round_of_toms: Path) -> None:
    said(round_of_toms, "round", quiet_from=time(7, 30), quiet_until=time(9))
    post = Post(on(THURSDAY, 7), "later", "later", "later")
    tried(round_of_toms, post, on(THURSDAY, 12))
    moments = [moment for moment, _ in post.given]
    # 7:36 is in the quiet hours
    assert moments == [on(THURSDAY, 7), on(THURSDAY, 7, 1), on(THURSDAY, 7, 6), on(THURSDAY, 9)]


def test_late_is_said(round_of_toms: Path) -> None:
    post = Post(on(THURSDAY, 11, 59), "later")
    post.send(round_of_toms)
    post.send(round_of_toms, on(THURSDAY, 12))
    bodies = [message.body for _, message in post.given]
    assert bodies == [only(round_of_toms).body, f"Late, for Thu 15. {only(round_of_toms).body}"]
    assert post.given[0][1].identifier == post.given[1][1].identifier


@pytest.mark.parametrize(
    ("for_day", "due_at"),
    [
        pytest.param(THURSDAY, on(THURSDAY, 0, 30), id="it is still Wednesday in UTC"),
        pytest.param(THURSDAY + timedelta(days=1), on(THURSDAY, 16), id="heat from tomorrow on"),
        pytest.param(THURSDAY, on(THURSDAY, 6) + timedelta(days=1), id="after quiet hours"),
    ],
)
def test_late_names_the_day_on_which_its_tomorrow_was_tomorrow(
    round_of_toms: Path, for_day: date, due_at: datetime
) -> None:
    late = only(round_of_toms)._replace(for_day=for_day, due_at=due_at.astimezone(UTC))
    said_late = worded(late, "Tom", late.late_from).body
    assert said_late == f"Late, for Thu 15. {late.body}"


def test_who_has_no_address_is_waited_for_and_no_try_is_counted(round_of_toms: Path) -> None:
    post = Post(on(THURSDAY, 7), "later")
    post.channel = None
    post.send(round_of_toms)
    assert (only(round_of_toms).tries, only(round_of_toms).channel) == (0, None)
    assert only(round_of_toms).answer == "the server: later"
    post.channel = "push"
    assert post.send(round_of_toms, on(THURSDAY, 7) + UNREACHED) == ["sent"]
    assert only(round_of_toms).channel == "push"


def test_who_was_taken_out_of_the_book_is_told_nothing(
    round_of_toms: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("soakbook.reminders.sending.read_records", lambda *_: ())
    post = Post(on(THURSDAY, 7))
    assert post.send(round_of_toms) == ["due"]
    assert post.given == []


def test_where_nobody_was_entered_it_waits_for_who_is(tmp_path: Path) -> None:
    path = tmp_path / "alone.book"
    make(path)
    begin(path, on(THURSDAY, 6, 35))
    decided(path, on(THURSDAY, 7))
    post = Post(on(THURSDAY, 7))
    assert post.send(path) == ["due"]
    assert (post.given, only(path).answer) == ([], NOBODY)
    people.person(path, "Ann", now=on(THURSDAY, 7, 3))
    assert post.send(path, on(THURSDAY, 7, 5)) == ["sent"]
    assert post.names() == ["Ann"]


def test_what_broke_off_is_sent_when_its_claim_has_run_out(round_of_toms: Path) -> None:
    post = Post(on(THURSDAY, 7), RuntimeError("killed"))
    with pytest.raises(RuntimeError):
        post.send(round_of_toms)
    assert only(round_of_toms).state == "due"
    assert post.send(round_of_toms, on(THURSDAY, 7) + CLAIM) == []
    assert post.send(round_of_toms, on(THURSDAY, 7) + CLAIM + timedelta(seconds=1)) == ["sent"]
    first, second = (message for _, message in post.given)
    assert first.identifier == second.identifier


def test_who_was_overtaken_marks_nothing_that_another_sends(round_of_toms: Path) -> None:
    """The first hangs for three minutes; meanwhile a second takes over and is told to come back later."""
    slow, quick = Post(on(THURSDAY, 7), "later"), Post(on(THURSDAY, 7, 3), "later")

    def hang(message: Message, wanted: Channel | None) -> tuple[Channel | None, Outcome]:
        assert quick.send(round_of_toms, who="quick") == ["due"]
        slow.now = on(THURSDAY, 7, 3)
        return slow.give(message, wanted)

    send_due(round_of_toms, slow.clock, hang, "slow")
    assert only(round_of_toms).tries == 1
    assert quick.send(round_of_toms, on(THURSDAY, 7, 3) + MINUTE, who="quick") == ["sent"]


def _at_once(paths: Sequence[Path], of_one: Callable[[int], None]) -> None:
    threads = [Thread(target=of_one, args=(n,)) for n in range(len(paths))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def test_two_senders_at_once_send_each_once(garden: Path) -> None:
    decided(garden, on(THURSDAY, 18))
    posts = [Post(on(THURSDAY, 18)) for _ in range(4)]
    together = Barrier(4)

    def send(n: int) -> None:
        together.wait()
        posts[n].send(garden, who=f"sender {n}")

    _at_once([garden] * 4, send)
    given = [message.identifier for post in posts for _, message in post.given]
    with open_book(garden, read_only=True) as book:
        sent = [one.uid for one in read_notices(book, state="sent")]
        assert read_notices(book, state="due") == ()
    assert sorted(given) == sorted(sent)
    assert len(sent) == 6
