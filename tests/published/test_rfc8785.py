"""Canonical JSON against the examples of RFC 8785, JSON Canonicalization Scheme, June 2020.

Numbers also against the sample lines of the RFC's author's own test data (cyberphone/json-canonicalization, 2019,
testdata/README.md). All must be the same to the letter.
"""

import json
import struct

import pytest

from soakbook.account.canonical import canonical_json

VALUES = r"""{
  "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
  "literals": [null, true, false]
}"""
KEYS = r"""{
  "\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet With Dagesh", "1": "One",
  "\ud83d\ude00": "Emoji: Grinning Face", "\u0080": "Control", "\u00f6": "Latin Small Letter O With Diaeresis"
}"""
IN_ORDER = [
    "Carriage Return",
    "One",
    "Control",
    "Latin Small Letter O With Diaeresis",
    "Euro Sign",
    "Emoji: Grinning Face",
    "Hebrew Letter Dalet With Dagesh",
]
# RFC 8785, appendix B, table 1: an IEEE 754 double in hexadecimal, and its JSON
DOUBLES = [
    ("0000000000000000", "0"),
    ("8000000000000000", "0"),
    ("0000000000000001", "5e-324"),
    ("8000000000000001", "-5e-324"),
    ("7fefffffffffffff", "1.7976931348623157e+308"),
    ("4340000000000000", "9007199254740992"),
    ("4430000000000000", "295147905179352830000"),
    ("44b52d02c7e14af5", "9.999999999999997e+22"),
    ("44b52d02c7e14af6", "1e+23"),
    ("44b52d02c7e14af7", "1.0000000000000001e+23"),
    ("444b1ae4d6e2ef4e", "999999999999999700000"),
    ("444b1ae4d6e2ef4f", "999999999999999900000"),
    ("444b1ae4d6e2ef50", "1e+21"),
    ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"),
    ("3eb0c6f7a0b5ed8d", "0.000001"),
    ("41b3de4355555553", "333333333.3333332"),
    ("41b3de4355555557", "333333333.33333343"),
    ("becbf647612f3696", "-0.0000033333333333333333"),
    ("43143ff3c1cb0959", "1424953923781206.2"),
]
# testdata/README.md of cyberphone/json-canonicalization
AUTHORS_SAMPLES = [
    ("4340000000000001", "9007199254740994"),
    ("4340000000000002", "9007199254740996"),
    ("444b1ae4d6e2ef50", "1e+21"),
    ("3eb0c6f7a0b5ed8d", "0.000001"),
    ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"),
    ("8000000000000000", "0"),
]


def test_the_example_of_values() -> None:
    """Section 3.2.2 and its canonical form in section 3.2.4."""
    assert canonical_json(json.loads(VALUES)).decode() == (
        '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )


def test_the_example_of_keys() -> None:
    """Section 3.2.3: by UTF-16 code units, in which the face comes before the Hebrew letter."""
    canonical = json.loads(canonical_json(json.loads(KEYS)))
    assert list(canonical.values()) == IN_ORDER


@pytest.mark.parametrize(("bits", "written"), [*DOUBLES, *AUTHORS_SAMPLES])
def test_numbers(bits: str, written: str) -> None:
    """Appendix B, table 1; testdata/README.md."""
    (value,) = struct.unpack(">d", bytes.fromhex(bits))
    assert canonical_json(value).decode() == written
