"""What came of asking is kept, and changes no round."""

from datetime import UTC, datetime, timedelta

from soakbook.store.book_file import BookFile
from soakbook.store.weather_asked import Asked, add_asked, last_asked

AT = datetime(2031, 5, 15, 5, 12, tzinfo=UTC)


def test_the_last_asking_of_each_service_for_each_thing(book: BookFile) -> None:
    mark = book.change_mark()
    first = Asked("one", "forecast", AT, "new")
    busy = Asked("one", "forecast", AT + timedelta(hours=3), "busy", "too much", AT + timedelta(1))
    other = Asked("one", "ensemble", AT, "down", "no answer")
    for asked in (first, other, busy):
        add_asked(book, asked)
    assert last_asked(book) == {("one", "forecast"): busy, ("one", "ensemble"): other}
    assert book.change_mark() == mark
