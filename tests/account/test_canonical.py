"""Canonical JSON: read back it is the same, written again too; what JSON has no word for is refused."""

import json
import math
from hashlib import sha256
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.account.canonical import canonical_json, digest_of

TEXTS = st.text(st.characters(exclude_categories=["Cs"]))
JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53), 2**53)
    | st.floats(-(2.0**53), 2.0**53)  # a whole one beyond would be read as a whole number
    | TEXTS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXTS, inner, max_size=4),
    max_leaves=20,
)


@given(JSON)
def test_what_is_written_reads_back_as_it_was(value: Any) -> None:
    written = canonical_json(value)
    assert json.loads(written) == value
    assert canonical_json(json.loads(written)) == written


def test_the_order_of_keys_and_blanks_do_not_matter_but_every_value_does() -> None:
    one = {"b": [1, 2.50], "a": "x", "sha256": "old"}
    other = json.loads('{ "a": "x", "b": [1.0, 2.5] }')
    assert digest_of(one, "sha256") == digest_of(other, "sha256")
    assert digest_of(one, "sha256") == sha256(b'{"a":"x","b":[1,2.5]}').hexdigest()
    assert digest_of({**one, "b": [2, 1]}, "sha256") != digest_of(one, "sha256")


@pytest.mark.parametrize(
    "value", [math.nan, math.inf, -math.inf, 2**53 + 1, b"x", {1, 2}, "\ud800"]
)
def test_what_has_no_place_in_json_is_refused(value: Any) -> None:
    with pytest.raises(ValueError, match=r".+"):
        canonical_json({"a": [value]})
