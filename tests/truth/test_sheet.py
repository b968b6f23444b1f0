"""A table as rows of days: commas, units, rows said twice, the order of dates."""

from datetime import date

import pytest

from soakbook.errors import InputError
from soakbook.truth.sheet import Sheet, read_sheet


def sheet(text: str, order: str | None = None) -> Sheet:
    assert order in (None, "dmy", "mdy")
    return read_sheet(text.encode(), "made.csv", None, order)  # type: ignore[arg-type]


def test_decimal_commas_between_semicolons() -> None:
    found = sheet("date;rain_mm\n2015-04-01;1,5\n2015-04-02;,25\n")
    assert found.column("rain_mm") == ["1.5", ".25"]
    assert found.findings == ("commas of 2 numbers read as decimal points",)


def test_a_row_of_units_is_passed_over() -> None:
    found = sheet("date,rain\nday,mm\n2015-04-01,1\n")
    assert found.days == (date(2015, 4, 1),)
    assert found.findings == ("line 2 taken for units and passed over: day, mm",)


def test_a_row_said_twice_counts_once() -> None:
    found = sheet("date,rain\n2015-04-01,1\n2015-04-03,2\n2015-04-01,1\n")
    assert found.days == (date(2015, 4, 1), date(2015, 4, 3))
    assert found.span() == tuple(date(2015, 4, day) for day in (1, 2, 3))
    assert len(found.findings) == 3
    with pytest.raises(InputError, match="with other values"):
        sheet("date,rain\n2015-04-01,1\n2015-04-01,2\n")


@pytest.mark.parametrize(("order", "day"), [("dmy", date(2015, 4, 5)), ("mdy", date(2015, 5, 4))])
def test_the_order_of_dates_is_asked_for_and_obeyed(order: str, day: date) -> None:
    text = "date,rain\n05/04/2015,1\n"
    with pytest.raises(InputError, match='dates = "dmy"'):
        sheet(text)
    assert sheet(text, order).days == (day,)
