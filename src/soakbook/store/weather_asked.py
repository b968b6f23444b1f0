"""What came of asking weather services: added, never changed; no round depends on it."""

from datetime import datetime
from typing import Literal, NamedTuple

from soakbook.store.book_file import BookFile
from soakbook.store.rows import insert
from soakbook.store.texts import utc_text

Came = Literal["new", "same", "refused", "busy", "down", "rubbish"]


class Asked(NamedTuple):
    """One asking: of whom, what for, what came; not to be asked again before a moment, if it said so."""

    service: str
    what: str
    at: datetime
    came: Came
    say: str = ""
    not_before: datetime | None = None


def add_asked(book: BookFile, asked: Asked) -> None:
    """Write down what came of asking."""
    row = asked._asdict() | {
        "at": utc_text("at", asked.at),
        "not_before": None
        if asked.not_before is None
        else utc_text("not_before", asked.not_before),
    }
    with book.writing() as connection:
        insert(connection, "weather_asked", row)


def last_asked(book: BookFile) -> dict[tuple[str, str], Asked]:
    """The last asking of each service for each thing."""
    with book.reading() as connection:
        found = connection.execute(
            "SELECT service, what, at, came, say, not_before, max(id) FROM weather_asked"
            " GROUP BY service, what"
        ).fetchall()
    return {
        (service, what): Asked(
            service,
            what,
            datetime.fromisoformat(at),
            came,
            say,
            None if until is None else datetime.fromisoformat(until),
        )
        for service, what, at, came, say, until, _ in found
    }
