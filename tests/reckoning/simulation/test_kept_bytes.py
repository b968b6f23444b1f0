"""Kept dawns as bytes: back as they were, or nothing."""

import json
from datetime import timedelta
from functools import cache
from hashlib import blake2b
from typing import Any

import numpy as np
import pytest

from soakbook.reckoning.simulation.kept import Kept
from soakbook.reckoning.simulation.kept_bytes import DIGEST_BYTES, as_bytes, from_bytes
from tests.reckoning.gardens import PLANTED
from tests.reckoning.simulation.kept_garden import garden, kept, season


@cache
def found() -> Kept:
    """A dawn in the middle."""
    return kept(season(garden()), PLANTED + timedelta(days=31))


def signed(content: bytes) -> bytes:
    """Bytes with the digest that is theirs."""
    return blake2b(content, digest_size=DIGEST_BYTES).digest() + content


def with_words(**changed: Any) -> bytes:
    """The dawn with other words and the digest that is theirs."""
    line, _, numbers = as_bytes(found())[DIGEST_BYTES:].partition(b"\n")
    words = {name: value for name, value in (json.loads(line) | changed).items() if value != "-"}
    return signed(json.dumps(words).encode() + b"\n" + numbers)


def test_they_come_back_as_they_were() -> None:
    back = from_bytes(as_bytes(found()))
    assert back is not None
    for mine, theirs in zip(back, found(), strict=True):
        if isinstance(theirs, np.ndarray):
            np.testing.assert_array_equal(mine, theirs)
        else:
            assert mine == theirs
    assert as_bytes(back) == as_bytes(found())


def test_a_dawn_that_nobody_has_felt_before_comes_back() -> None:
    first = kept(season(garden()), PLANTED + timedelta(days=1))
    back = from_bytes(as_bytes(first))
    assert back is not None
    assert back.squared.shape == first.squared.shape
    assert back.moved_on == (None,)


def test_every_cut_is_nothing() -> None:
    whole = as_bytes(found())
    for length in [*range(600), *range(600, len(whole), 997), len(whole) - 1]:
        assert from_bytes(whole[:length]) is None
    assert from_bytes(whole + b"\0") is None


def test_every_flipped_byte_is_nothing() -> None:
    whole = as_bytes(found())
    for place in [*range(600), *range(600, len(whole), 997), len(whole) - 1]:
        assert from_bytes(whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :]) is None


@pytest.mark.parametrize(
    "content",
    [b"", b"\n", b"{", b"[]\n", b"null\n", b"7\n", b"{}\n", b"\xff\xfe\n", b"[" * 100_000],
)
def test_another_file_is_nothing_even_with_a_digest(content: bytes) -> None:
    assert from_bytes(content) is None
    assert from_bytes(signed(content)) is None


@pytest.mark.parametrize(
    "changed",
    [
        {"format": "soakbook.dawn/2"},
        {"format": "-"},
        {"day": "2031"},
        {"day": 10**9},
        {"members": 0},
        {"members": -6},
        {"members": 7},
        {"members": 10**12},
        {"members": None},
        {"plantings": 4},
        {"plantings": ["one"]},
        {"beds": []},
        {"moved_on": []},
        {"moved_on": ["x"]},
        {"moved_on": [None] * 4},
        {"squared": -1},
        {"squared": 10**12},
        {"squared": "-"},
    ],
)
def test_other_words_are_nothing_even_with_a_digest(changed: dict[str, Any]) -> None:
    assert from_bytes(with_words()) is not None
    assert from_bytes(with_words(**changed)) is None


@pytest.mark.parametrize("name", ["stores", "of_planting", "of_bed", "et0_moved_then", "squared"])
@pytest.mark.parametrize("number", [np.nan, np.inf])
def test_what_is_no_number_is_nothing(name: str, number: float) -> None:
    array = getattr(found(), name).copy()
    array.flat[-1] = number
    assert from_bytes(as_bytes(found()._replace(**{name: array}))) is None


@pytest.mark.parametrize("number", [-1.0, 5.0, 0.5])
def test_a_class_that_there_is_not_is_nothing(number: float) -> None:
    squared = found().squared.copy()
    squared[0, 0] = number
    assert from_bytes(as_bytes(found()._replace(squared=squared))) is None
