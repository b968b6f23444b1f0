"""Bodies as they come over the line: encodings of tables, types of JSON, and what is neither."""

import pytest

from soakbook.weather.bodies import read_json, read_text

TABLE = "date;Tmax (°C)\n2031-04-01;12,5\n"


@pytest.mark.parametrize(
    ("encoding", "content_type"),
    [
        ("utf-8", "text/csv"),
        ("utf-8-sig", "text/plain; charset=UTF-8"),
        ("utf-16", "application/octet-stream"),
        ("latin-1", ""),
        ("latin-1", "text/csv; charset=utf-8"),
        ("cp1252", "text/csv; charset=windows-1252"),
        ("utf-8", "text/csv; charset=no-such"),
    ],
)
def test_tables_in_their_encodings(encoding: str, content_type: str) -> None:
    assert read_text(TABLE.encode(encoding), content_type) == TABLE


@pytest.mark.parametrize(
    ("content", "content_type", "say"),
    [
        (b"<html>", "text/html; charset=utf-8", "a web page"),
        (b"\xef\xbb\xbf\n <!DOCTYPE html>", "text/csv", "a web page"),
        (b"%PDF", "application/pdf", "application/pdf instead"),
        (b"GIF89a", "image/gif", "image/gif instead"),
        (b"PK\x03\x04\x00\x00", "application/octet-stream", "no text"),
        (b" \r\n", "text/csv", "sent nothing"),
    ],
)
def test_what_is_no_table(content: bytes, content_type: str, say: str) -> None:
    with pytest.raises(ValueError, match=say):
        read_text(content, content_type)


@pytest.mark.parametrize(
    "content_type", ["application/json", "application/geo+json; charset=utf-8", "Text/JSON"]
)
def test_json_by_its_types(content_type: str) -> None:
    assert read_json(b'{"rain_mm": 1.5}', content_type) == {"rain_mm": 1.5}


@pytest.mark.parametrize("content", [b"", b"{", b"[Infinity]", b"[NaN]", b'"\xff"', b"[" * 100_000])
def test_json_that_cannot_be_read(content: bytes) -> None:
    with pytest.raises(ValueError, match="cannot be read"):
        read_json(content, "application/json")
