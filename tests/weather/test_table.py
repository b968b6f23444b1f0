"""Files as text: encodings, separators, shapes."""

import pytest

from soakbook.errors import InputError
from soakbook.weather.table import read_table

TEXT = "date,tmax_c\n2031-04-01,12.5\n"


def cells(content: bytes) -> list[tuple[str, ...]]:
    return [row.cells for row in read_table(content, "w.csv").rows]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_separators_and_line_ends(separator: str, newline: str) -> None:
    content = TEXT.replace(",", separator).replace("\n", newline).encode()
    table = read_table(content, "w.csv")
    assert table.headers == ("date", "tmax_c")
    assert [row.cells for row in table.rows] == [("2031-04-01", "12.5")]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "latin-1", "utf-16"])
def test_encodings(encoding: str) -> None:
    content = "date;Tmax (°C)\n2031-04-01;12,5\n".encode(encoding)
    assert read_table(content, "w.csv").headers == ("date", "Tmax (°C)")


def test_quotes_blanks_comments_and_blank_lines() -> None:
    content = b'# station 3\n\ndate , "rain, mm"\n 2031-04-01 ,"1.5"\n\n,\n2031-04-02,0\n\n'
    table = read_table(content, "w.csv")
    assert table.headers == ("date", "rain, mm")
    assert [(row.line, row.cells) for row in table.rows] == [
        (4, ("2031-04-01", "1.5")),
        (7, ("2031-04-02", "0")),
    ]


def test_empty_cells_beyond_the_headers_are_let_go() -> None:
    assert cells(b"date,rain_mm\n2031-04-01,1,,\n") == [("2031-04-01", "1")]


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "it is empty"),
        (b"\n  \n", "it is empty"),
        (b"\xef\xbb\xbf", "it is empty"),
        (b"date,rain_mm\n", "it has none"),
        (b"just a line\nand another\n", "a comma, a semicolon or a tab"),
        (b"PK\x03\x04\x00\x00\x00", "a table written as text"),
        (b"date,tmin_c,tmax_c\n2031-04-01,3,5,12,5\n", "line 2: '2031-04-01,3,5,12,5'"),
        (
            b"date,tmin_c,tmax_c\n2031-04-01,3,5,12,5\n",
            "if numbers have a comma, part columns by semicolons, and say --comma",
        ),
        (b"date;tmin_c;tmax_c\n2031-04-01;3\n", "3 values, as many as column names"),
        (b'date,rain_mm\n2031-04-01,"1\n', "quotes in pairs"),
    ],
)
def test_what_is_no_table_is_refused(content: bytes, message: str) -> None:
    with pytest.raises(InputError) as fault:
        read_table(content, "w.csv")
    assert message in str(fault.value)


@pytest.mark.parametrize(
    "rows",
    [b"2031-04-01;12,5", b"2031-04-01\t12,5", b'2031-04-01,"12,5"'],
    ids=["; ", "tab", "quotes"],
)
def test_numbers_with_a_comma_are_told_from_columns(rows: bytes) -> None:
    separator = b";" if b";" in rows else b"\t" if b"\t" in rows else b","
    content = b"date" + separator + b"rain_mm\n" + rows + b"\n"
    table = read_table(content, "w.csv", decimal_comma=True)
    assert [row.cells for row in table.rows] == [("2031-04-01", "12,5")]


def test_a_comma_cannot_part_tenths_and_columns() -> None:
    """Read as it stands, rain would be 12 and the low 5."""
    content = b"date,rain_mm,tmin_c\n2031-04-01,12,5\n"
    with pytest.raises(InputError, match="with --comma, semicolons or tabs between the columns"):
        read_table(content, "w.csv", decimal_comma=True)
    assert read_table(content, "w.csv").rows[0].cells == ("2031-04-01", "12", "5")
