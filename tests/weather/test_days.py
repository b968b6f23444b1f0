"""Dates of a file, and spans of days in words."""

from datetime import date

import pytest

from soakbook.errors import InputError
from soakbook.weather.column_map import DateOrder
from soakbook.weather.days import read_days, spans
from soakbook.weather.table import Row


def rows(*texts: str) -> list[Row]:
    return [Row(line, (text,)) for line, text in enumerate(texts, start=2)]


@pytest.mark.parametrize(
    "text",
    [
        "2031-04-01",
        "2031/4/1",
        "2031.04.01",
        "20310401",
        "2031-04-01 00:00",
        "2031-04-01T00:00:00",
        "20310401 0:00",
    ],
)
def test_year_first_is_read_as_it_stands(text: str) -> None:
    assert read_days(rows(text), 0, None) == ([date(2031, 4, 1)], "ymd")


@pytest.mark.parametrize(
    ("texts", "order"),
    [
        (("31/3/2031", "1/4/2031"), "dmy"),
        (("3/31/2031", "4/1/2031"), "mdy"),
        (("31.03.2031", "01.04.2031"), "dmy"),
        (("31-03-2031", "01-04-2031"), "dmy"),
    ],
)
def test_a_file_that_can_be_read_one_way_only_is_read_so(
    texts: tuple[str, ...], order: str
) -> None:
    assert read_days(rows(*texts), 0, None) == ([date(2031, 3, 31), date(2031, 4, 1)], order)


def test_a_file_that_can_be_read_two_ways_is_asked_about() -> None:
    with pytest.raises(InputError) as fault:
        read_days(rows("4/4/2031", "1/4/2031"), 0, None)
    assert str(fault.value) == (
        "dates: '1/4/2031' cannot be right; said: dmy if it is 2031-04-01, mdy if it is 2031-01-04"
    )


@pytest.mark.parametrize(("order", "day"), [("dmy", date(2031, 4, 1)), ("mdy", date(2031, 1, 4))])
def test_the_order_said_is_kept_to(order: DateOrder, day: date) -> None:
    assert read_days(rows("1/4/2031"), 0, order) == ([day], order)


def test_a_remembered_year_first_does_not_hinder() -> None:
    assert read_days(rows("13/4/2031"), 0, "ymd") == ([date(2031, 4, 13)], "dmy")


def test_a_day_that_reads_the_same_both_ways_is_no_question() -> None:
    assert read_days(rows("4/4/2031"), 0, None)[0] == [date(2031, 4, 4)]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "yesterday",
        "1/4/31",
        "31/4/2031",
        "2031-02-30",
        "2031-04-01 09:00",
        "1 April 2031",
        "2031-4/1",
        "0031-04-01",
        "203141",
    ],
)
def test_what_is_no_date_is_named_with_its_line(text: str) -> None:
    with pytest.raises(InputError) as fault:
        read_days(rows("2031-04-01", text), 0, None)
    assert fault.value.field == "date on line 3"


def test_a_date_against_the_order_said_is_named() -> None:
    with pytest.raises(InputError, match="date on line 2: '31/3/2031'"):
        read_days(rows("31/3/2031"), 0, "mdy")


def test_spans_in_words() -> None:
    days = [date(2031, 4, n) for n in (5, 3, 4, 9)] + [date(2031, 5, 1), date(2031, 5, 2)]
    assert spans(days) == "2031-04-03 to 2031-04-05, 2031-04-09, 2031-05-01 to 2031-05-02"
    assert spans(days, most=2) == "2031-04-03 to 2031-04-05, 2031-04-09, 2 more"
