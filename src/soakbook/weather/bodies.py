"""What came over the line, read as JSON or as text; whether it is weather is for others to say."""

import json
from email.message import Message
from typing import Any

_PAGES = ("text/html", "application/xhtml+xml")
_NO_TEXT = ("image/", "audio/", "video/", "font/", "application/pdf", "application/zip")


def read_json(content: bytes, content_type: str) -> Any:
    """What JSON says.

    Parameters
    ----------
    content : bytes
        The body, unpacked.
    content_type : str
        The header of that name; empty when there was none.

    A ValueError says what came instead: a web page, something of another type, JSON that breaks off or holds
    numbers that are none.
    """
    kind = _kind(content_type)
    _refuse_page(content, kind)
    if not (kind.endswith("+json") or kind in ("application/json", "text/json")):
        raise ValueError(f"sent {kind or 'something without a type'} instead of JSON")
    try:
        return json.loads(content, parse_constant=_no_number)
    except (ValueError, RecursionError) as fault:
        raise ValueError("sent JSON that cannot be read; it may have broken off") from fault


def read_text(content: bytes, content_type: str) -> str:
    """Text of a table, in the encoding its type or its first bytes state, else UTF-8, else Latin-1.

    Parameters
    ----------
    content : bytes
        The body, unpacked.
    content_type : str
        The header of that name; empty when there was none.

    A ValueError says what came instead: a web page, a picture, nothing.
    """
    kind = _kind(content_type)
    _refuse_page(content, kind)
    if kind.startswith(_NO_TEXT):
        raise ValueError(f"sent {kind} instead of a table")
    if not content.strip():
        raise ValueError("sent nothing")
    text = _decoded(content, _parsed(content_type).get_content_charset())
    if "\0" in text:
        raise ValueError("sent something that is no text")
    return text


def _decoded(content: bytes, stated: str | None) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        stated = "utf-16"
    for encoding in (stated, "utf-8-sig"):
        try:
            if encoding:
                return content.decode(encoding).removeprefix("\ufeff")
        except (LookupError, UnicodeDecodeError):
            continue
    return content.decode("latin-1")


def _refuse_page(content: bytes, kind: str) -> None:
    """A page to log in, a page of an error: whatever its type says."""
    start = content[:200].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if kind in _PAGES or start.startswith((b"<!doctype", b"<html")):
        raise ValueError("sent a web page instead of weather")


def _kind(content_type: str) -> str:
    return content_type.partition(";")[0].strip().lower()


def _parsed(content_type: str) -> Message:
    message = Message()
    message["Content-Type"] = content_type or "text/plain"
    return message


def _no_number(word: str) -> None:
    raise ValueError(f"{word} is no number in JSON")
