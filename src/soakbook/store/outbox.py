"""The outbox: reminders decided, claimed by whoever sends them, and what became of each.

A reminder is known by what it is, whom it is for, what it is about and for which day. Putting it in again changes
nothing. A claim holds for some minutes and then falls to whoever comes next, so that what was being sent when
a program was killed is sent after all.
"""

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

from soakbook.garden.reminding import Notice, NoticeState
from soakbook.store.book_file import BookFile
from soakbook.store.rows import insert
from soakbook.store.texts import utc_text

CLAIM = timedelta(minutes=2)
"""How long a claim is believed: longer than any channel may take."""

CLAIM_AT_MOST = CLAIM + timedelta(minutes=5)
"""A claim that ends later than so long from now was made by a clock that was wrong. Clocks may differ by the rest."""

WAIT_AT_MOST = timedelta(hours=26)
"""Nothing is put off for longer, not for quiet hours that leave an hour of a day: what is was put off by a clock that
was wrong."""


class Decided(NamedTuple):
    """Up to when everything has been decided, and the latest moment that any clock has shown."""

    up_to: datetime
    greatest_now: datetime


def read_decided(book: BookFile) -> Decided | None:
    """How far has been decided; None in a book of which nobody was ever reminded."""
    with book.reading() as connection:
        row = connection.execute("SELECT up_to, greatest_now FROM decided").fetchone()
    return None if row is None else Decided(*map(datetime.fromisoformat, row))


def put_decided(book: BookFile, decided: Decided) -> None:
    """Say how far has been decided."""
    with book.writing() as connection:
        connection.execute(
            "INSERT INTO decided VALUES (1, :up_to, :greatest_now) ON CONFLICT (one) DO UPDATE"
            " SET up_to = excluded.up_to, greatest_now = excluded.greatest_now",
            {name: utc_text(name, moment) for name, moment in decided._asdict().items()},
        )


def add_notices(book: BookFile, notices: Iterable[Notice]) -> int:
    """Put reminders into the outbox, those that are there already apart; how many were new."""
    added = 0
    with book.writing() as connection:
        for notice in notices:
            row = _row(notice)
            known = connection.execute(
                "SELECT 1 FROM notice WHERE (what, whom, about, for_day) ="
                " (:what, :whom, :about, :for_day)",
                row,
            ).fetchone()
            if known is None:
                insert(connection, "notice", row)
                added += 1
    return added


def read_notices(
    book: BookFile,
    *,
    since: date | None = None,
    state: NoticeState | None = None,
    newest: int | None = None,
) -> tuple[Notice, ...]:
    """What is in the outbox, oldest first.

    Parameters
    ----------
    book
        Open.
    since
        Only what is for this day or a later one.
    state
        Only what is in this state.
    newest
        At most so many, the last ones.
    """
    with book.reading() as connection:
        found = connection.execute(
            f"SELECT {_LISTED} FROM notice WHERE for_day >= ? AND state = coalesce(?, state)"
            " ORDER BY id DESC LIMIT ?",
            (since.isoformat() if since else "", state, -1 if newest is None else newest),
        ).fetchall()
    return tuple(_notice(row) for row in reversed(found))


def claim(book: BookFile, who: str, now: datetime) -> Notice | None:
    """A reminder whose hour has come and that nobody else is sending, claimed; None where there is none.

    Parameters
    ----------
    book
        Open for writing.
    who
        A name that no other sender bears.
    now
        Zone-aware.
    """
    with book.writing() as connection:
        row = connection.execute(
            f"SELECT {_LISTED} FROM notice WHERE state = 'due' AND due_at <= :now"
            " AND (not_before IS NULL OR not_before <= :now OR not_before > :longest_wait)"
            f" AND {_UNCLAIMED} ORDER BY due_at, id LIMIT 1",
            _moments(now) | {"longest_wait": utc_text("now", now + WAIT_AT_MOST)},
        ).fetchone()
        if row is None:
            return None
        notice = _notice(row)
        connection.execute(
            "UPDATE notice SET claimed_by = ?, claimed_until = ? WHERE uid = ?",
            (who, utc_text("now", now + CLAIM), notice.uid),
        )
    return notice


def lapse_old(book: BookFile, now: datetime) -> int:
    """Let lapse what is too old by now and nobody is sending; how many there were."""
    with book.writing() as connection:
        gone = connection.execute(
            "UPDATE notice SET state = 'lapsed', settled_at = :now, claimed_by = NULL, claimed_until = NULL,"
            f" not_before = NULL WHERE state = 'due' AND not_after <= :now AND {_UNCLAIMED}",
            _moments(now),
        )
    return int(gone.rowcount)


def settle(book: BookFile, notice: Notice) -> None:
    """Say what became of a reminder: its state, channel, tries, answer and when; once settled it stays as it is."""
    assert notice.settled_at is not None
    with book.writing() as connection:
        connection.execute(
            "UPDATE notice SET state = ?, channel = ?, tries = ?, answer = ?, settled_at = ?,"
            " claimed_by = NULL, claimed_until = NULL, not_before = NULL WHERE uid = ? AND state = 'due'",
            (
                notice.state,
                notice.channel,
                notice.tries,
                notice.answer,
                utc_text("settled_at", notice.settled_at),
                notice.uid,
            ),
        )


def put_off(book: BookFile, notice: Notice, who: str, not_before: datetime) -> None:
    """Let a claimed reminder wait, its tries, channel and answer kept; nothing of what another has claimed since."""
    with book.writing() as connection:
        connection.execute(
            "UPDATE notice SET channel = ?, tries = ?, answer = ?, not_before = ?, claimed_by = NULL,"
            " claimed_until = NULL WHERE uid = ? AND state = 'due' AND claimed_by = ?",
            (
                notice.channel,
                notice.tries,
                notice.answer,
                utc_text("not_before", not_before),
                notice.uid,
                who,
            ),
        )


def undecide_later(book: BookFile, now: datetime) -> int:
    """Remove what a wrong clock decided for hours yet to come and nobody was sent; how many there were."""
    with book.writing() as connection:
        gone = connection.execute(
            "DELETE FROM notice WHERE due_at > :now"
            f" AND (state = 'lapsed' OR (state = 'due' AND {_UNCLAIMED}))",
            _moments(now),
        )
    return int(gone.rowcount)


def forget_notices(book: BookFile, before: date) -> int:
    """Remove what is settled and was for an earlier day; how many there were."""
    with book.writing() as connection:
        gone = connection.execute(
            "DELETE FROM notice WHERE state <> 'due' AND for_day < ?", (before.isoformat(),)
        )
    return int(gone.rowcount)


class Incident(NamedTuple):
    """What the reminders' own clock met with."""

    at: datetime
    say: str


def add_incident(book: BookFile, incident: Incident) -> None:
    """Write down what the reminders' own clock met with."""
    with book.writing() as connection:
        insert(connection, "incident", {"at": utc_text("at", incident.at), "say": incident.say})


def read_incidents(book: BookFile, newest: int) -> tuple[Incident, ...]:
    """The last incidents, oldest first."""
    with book.reading() as connection:
        found = connection.execute(
            "SELECT at, say FROM incident ORDER BY id DESC LIMIT ?", (newest,)
        ).fetchall()
    return tuple(Incident(datetime.fromisoformat(at), say) for at, say in reversed(found))


def forget_incidents(book: BookFile, before: datetime) -> int:
    """Remove what was met with before a moment; how many there were."""
    with book.writing() as connection:
        gone = connection.execute("DELETE FROM incident WHERE at < ?", (utc_text("at", before),))
    return int(gone.rowcount)


_UNCLAIMED = "(claimed_until IS NULL OR claimed_until < :now OR claimed_until > :longest_claim)"


def _moments(now: datetime) -> dict[str, str]:
    """What a claim is held against."""
    return {
        "now": utc_text("now", now),
        "longest_claim": utc_text("now", now + CLAIM_AT_MOST),
    }


_MOMENTS = ("due_at", "late_from", "not_after", "settled_at")
_LISTED = ", ".join(Notice._fields)


def _row(notice: Notice) -> dict[str, Any]:
    moments = {
        name: None if (moment := getattr(notice, name)) is None else utc_text(name, moment)
        for name in _MOMENTS
    }
    told = {"for_day": notice.for_day.isoformat(), "beds": " ".join(notice.beds)}
    return notice._asdict() | moments | told


def _notice(row: Sequence[Any]) -> Notice:
    told = dict(zip(Notice._fields, row, strict=True))
    for name in _MOMENTS:
        if told[name] is not None:
            told[name] = datetime.fromisoformat(told[name])
    told["for_day"] = date.fromisoformat(told["for_day"])
    told["beds"] = tuple(told["beds"].split())
    return Notice(**told)
