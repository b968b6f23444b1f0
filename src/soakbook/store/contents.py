"""How much a book holds, counted."""

from typing import NamedTuple

from soakbook.store.book_file import BookFile


class Contents(NamedTuple):
    """Counts of one moment: entries with those that later ones supersede, days that have any weather."""

    beds: int
    plantings: int
    entries: int
    weather_days: int


def contents(book: BookFile) -> Contents:
    """How much is in a book."""
    with book.reading() as connection:
        found = connection.execute(
            "SELECT (SELECT count(*) FROM bed), (SELECT count(*) FROM planting), (SELECT count(*) FROM entry),"
            " (SELECT count(DISTINCT day) FROM weather_value)"
        ).fetchone()
    return Contents(*found)
