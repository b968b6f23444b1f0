"""One way of writing JSON, so that a digest of it means the same everywhere: RFC 8785, JSON Canonicalization Scheme.

Keys in the order of their UTF-16 code units, no blanks, UTF-8, strings as they are but for quotes, backslashes and
control characters, numbers as short as they can be read back (ECMAScript's Number::toString, which is Python's own
digits with another rule for the exponent). Whole numbers beyond 2**53 are refused, as I-JSON wants it, and so is what
JSON has no word for. Left out is the RFC's rounding of numbers read with more digits than a double holds: Python does
it when it reads them.
"""

import json
import math
from hashlib import sha256
from typing import Any

MOST_WHOLE = 2**53
"""Beyond it not every whole number is a double: RFC 7493, section 2.2."""

DIGITS_WITHOUT_EXPONENT = 21
ZEROS_WITHOUT_EXPONENT = 6
"""ECMA-262, Number::toString: from 1e21 on, and below 1e-6, numbers have an exponent."""

_PLAIN = json.JSONEncoder(ensure_ascii=False)


def canonical_json(value: Any) -> bytes:
    """A value of dicts, lists, texts, numbers, booleans and None as canonical JSON.

    Parameters
    ----------
    value : Any
        Keys are texts. A number that is none or too large, a text that is no Unicode, and whatever JSON does not know
        is a ValueError.
    """
    return _text(value).encode("utf-8")


def digest_of(report: dict[str, Any], without: str) -> str:
    """SHA-256 of a report's canonical JSON, in hexadecimal.

    Parameters
    ----------
    report : dict
        As for `canonical_json`.
    without : str
        The key under which the digest itself is kept: it is left out.
    """
    rest = {key: value for key, value in report.items() if key != without}
    return sha256(canonical_json(rest)).hexdigest()


def _text(value: Any) -> str:
    if isinstance(value, dict):
        keys = sorted(value, key=lambda key: key.encode("utf-16-be"))
        return "{" + ",".join(f"{_text(key)}:{_text(value[key])}" for key in keys) + "}"
    if isinstance(value, list | tuple):
        return "[" + ",".join(map(_text, value)) + "]"
    if value is None or isinstance(value, bool | str):
        return _PLAIN.encode(value)
    if isinstance(value, int):
        if abs(value) > MOST_WHOLE:
            raise ValueError(f"{value} is beyond what every reader of JSON keeps whole")
        return str(value)
    if isinstance(value, float):
        return _number(value)
    raise ValueError(f"{type(value).__name__} has no place in JSON")


def _number(value: float) -> str:
    """A double as ECMAScript writes it."""
    if not math.isfinite(value):
        raise ValueError(f"{value} has no place in JSON")
    if value == 0:
        return "0"
    sign, whole = ("-" if value < 0 else ""), abs(value)
    mantissa, _, power = repr(whole).partition("e")
    before, _, after = mantissa.partition(".")
    digits = before + after
    point = len(before) + int(power or 0)
    point -= len(digits) - len(digits.lstrip("0"))
    digits = digits.strip("0")
    if len(digits) <= point <= DIGITS_WITHOUT_EXPONENT:
        return sign + digits + "0" * (point - len(digits))
    if 0 < point <= DIGITS_WITHOUT_EXPONENT:
        return f"{sign}{digits[:point]}.{digits[point:]}"
    if -ZEROS_WITHOUT_EXPONENT < point <= 0:
        return f"{sign}0.{'0' * -point}{digits}"
    tail = f".{digits[1:]}" if len(digits) > 1 else ""
    return f"{sign}{digits[0]}{tail}e{point - 1:+d}"
