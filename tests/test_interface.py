"""soakbook from Python, on the specimen garden."""

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

import soakbook
from soakbook.errors import BookError, InputError
from soakbook.reckoning.advice.report import as_json
from soakbook.services.books import SPECIMEN
from soakbook.services.mornings import round_report, why_report

MORNING = date(2031, 5, 15)


@pytest.fixture
def book() -> soakbook.Book:
    return soakbook.open_book(SPECIMEN)


def test_a_round_is_the_report_as_an_object(book: soakbook.Book) -> None:
    found = book.round(on=MORNING)
    assert found.calls[0].bed == "chapel"
    report = round_report(SPECIMEN, now=datetime(2031, 5, 15, 7, tzinfo=UTC), specimen=True)
    assert as_json(found) == report


def test_a_why_is_found_by_a_part_of_a_name(book: soakbook.Book) -> None:
    now = datetime(2031, 5, 15, 7, tzinfo=UTC)
    report = why_report(SPECIMEN, "chapel", now=now, specimen=True)
    assert as_json(book.why("Chapel W", on=MORNING)) == report


def test_a_moment_counts_what_was_given_that_day(book: soakbook.Book) -> None:
    evening = book.round(now=datetime(2031, 5, 15, 19, tzinfo=UTC))
    assert evening.morning == MORNING
    assert any(call.given_today_l for call in evening.calls)


def test_the_pages_are_what_is_in_force(book: soakbook.Book) -> None:
    pages = book.pages()
    assert len(pages.beds) == 8
    assert sum(one.count for one in pages.plantings) >= 421


def test_an_account_gives_frames_that_add_up(book: soakbook.Book) -> None:
    account = book.account(2031)
    litres = account.beds["litres"].sum()
    assert account.visits["litres"].sum() == pytest.approx(litres)
    assert account.sources["litres"].sum() == pytest.approx(litres)
    assert account.months["litres"].sum() == pytest.approx(litres)
    assert account.days["given_l"].sum() == pytest.approx(litres)


def test_an_account_of_a_morning_ends_the_day_before(book: soakbook.Book) -> None:
    account = book.account(2031, on=MORNING)
    assert account.days["day"].max().date() == date(2031, 5, 14)
    assert not account.span.closed


def test_a_season_of_which_nothing_is_told_is_refused(book: soakbook.Book) -> None:
    with pytest.raises(InputError, match="2029"):
        book.account(2029)


@pytest.mark.parametrize(
    "asked",
    [{}, {"on": MORNING, "now": datetime(2031, 5, 15, tzinfo=UTC)}, {"now": datetime(2031, 5, 15)}],  # noqa: DTZ001
)
def test_what_is_not_a_question_is_refused(book: soakbook.Book, asked: dict[str, date]) -> None:
    with pytest.raises(InputError, match=r"on, now|zone"):
        book.round(**asked)  # type: ignore[arg-type]


def test_no_book_is_no_book(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="there is no book"):
        soakbook.open_book(tmp_path / "none.book")


def test_what_is_public_is_said_and_no_more() -> None:
    assert all(hasattr(soakbook, name) for name in soakbook.__all__)
    with pytest.raises(AttributeError, match="no attribute 'closed'"):
        soakbook.closed  # noqa: B018
