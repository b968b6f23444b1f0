"""Handles: short, of one entry alone, and the same for good."""

from itertools import pairwise, takewhile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.garden.entries import Kept, Left
from soakbook.garden.pages import Pages
from soakbook.garden.records import Garden
from soakbook.services.history import History, handles_of
from tests.services.looking import NOW

UIDS = st.lists(st.text("ab", min_size=1, max_size=9), unique=True, max_size=40)


def alike(one: str, other: str) -> int:
    """With how many equal letters two uids begin."""
    return len(list(takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False))))


@given(UIDS)
def test_a_handle_is_the_shortest_beginning_that_no_earlier_uid_has(uids: list[str]) -> None:
    handles = handles_of(uids)
    for place, uid in enumerate(uids):
        shared = max((alike(uid, one) for one in uids[:place]), default=0)
        assert handles[uid] == uid[: max(4, shared + 1)]


@given(UIDS)
def test_what_is_written_later_changes_no_handle(uids: list[str]) -> None:
    for before, after in pairwise(handles_of(uids[:number]) for number in range(len(uids) + 1)):
        assert before.items() <= after.items()


def history(*uids: str) -> History:
    entries: tuple[Kept, ...] = tuple(
        Left(uid=uid, happened_at=NOW, written_at=NOW, bed_uid="b", reason="no time")
        for uid in uids
    )
    garden = Garden("g", "G", 52, 0, 1, "Europe/London")
    by_uid = {one.uid: one for one in entries}
    return History(Pages(garden), entries, handles_of(uids), by_uid, {})


def test_a_handle_means_its_own_entry_and_a_beginning_the_only_one() -> None:
    """`abcd` is the first one's handle; of `abcde1` and `abcde2` the common beginning is neither's."""
    book = history("abcdxx", "abcde1", "abcde2", "abcde3")
    assert book.handles == {
        "abcdxx": "abcd",
        "abcde1": "abcde",
        "abcde2": "abcde2",
        "abcde3": "abcde3",
    }
    assert [book.named(word).uid for word in ("ABCD", "abcdx", "abcde", "abcde2", " abcde3 ")] == [
        "abcdxx", "abcdxx", "abcde1", "abcde2", "abcde3",
    ]  # fmt: skip


def test_of_several_the_candidates_are_listed() -> None:
    """The first has the handle `xyz1`, the others whole uids: `xyz1a` is the beginning of all."""
    with pytest.raises(InputError) as refused:
        history(*(f"xyz1a{number}" for number in range(8))).named("xyz1a")
    right = refused.value.right
    assert right.startswith("one of xyz1 (b: left, no time, Thu 15 May 2031 06:30), xyz1a1 (")
    assert right.endswith("or 3 more")
