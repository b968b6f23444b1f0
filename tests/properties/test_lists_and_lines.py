"""Whatever is pasted or typed as a line: read, or refused in words; nothing else ever comes of it."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from soakbook.errors import InputError
from soakbook.services import books, setup
from soakbook.services.line_words import bed_line, plant_line, tap_line
from soakbook.services.lists.columns import BEDS, PLANTINGS
from soakbook.services.lists.sheet import Pasted
from tests.services.looking import NOW, pages_of

LONGEST_SAID = 12_000
NASTY = [
    "", " ", "=1+1", "+1", "-3", "@x", "1e308", "nan", "inf", "7,5 L", "7.5", "-1 L", "0 l", "9" * 400, "true",
    "\u202eabc", "🌹", "ورد", "a\tb", "a;b", '"', "'", "all", "1/4", "2031-02-30", "31 feb", "yesterday",
    "tomorrow", "45 cm", "P9", "C5", "bare root", "5 L pot", "dole", "chapel", "rose", "6", "18m2", "clay",
    "open", "A", "none", "x" * 600, "\x00", "\x1b[2J", "½ L", "１２",
]  # fmt: skip
cells = st.one_of(st.sampled_from(NASTY), st.text(max_size=12))


def refused(read: Callable[[], object]) -> str:
    """What is said of what cannot be read; empty where it can. Any other error is a fault of ours."""
    try:
        read()
    except InputError as refusal:
        return str(refusal)
    return ""


def headers_of(known: dict[str, str]) -> st.SearchStrategy[list[str]]:
    words = [word.strip() for words in known.values() for word in words.split(",")]
    names = st.sampled_from([*words, "pot (L)", "ball cm", "area m2", "Price", "", "=x"])
    return st.lists(names, min_size=1, max_size=8)


@pytest.fixture(scope="module")
def dole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with one bed and one tap, which nothing here may change."""
    path = tmp_path_factory.mktemp("lists") / "dole.book"
    books.new(
        path, now=NOW, name="Own", latitude_deg=52.3, longitude_deg=-0.4, elevation_m=62.0,
        timezone="Europe/London",
    )  # fmt: skip
    setup.tap(path, "A", now=NOW, fill="10l 43s")
    setup.bed(path, "dole", now=NOW, area="22m2")
    setup.plant(path, "dole", "rose", "2", now=NOW, pot="5l", on="1may")
    return path


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data(), what=st.sampled_from(["plant", "bed"]))
def test_a_list_is_read_or_refused_in_words(data: st.DataObject, what: str, dole: Path) -> None:
    known = dict(PLANTINGS if what == "plant" else BEDS)
    headers = data.draw(
        st.one_of(headers_of(known), st.just(["bed", "plant", "count", "size", "on"]))
    )
    rows = data.draw(
        st.lists(st.lists(cells, min_size=len(headers), max_size=len(headers)), max_size=4)
    )
    separator = data.draw(st.sampled_from(",;\t"))
    text = "\n".join(separator.join(row) for row in [headers, *rows])
    encoding = data.draw(st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]))
    content = text.encode(encoding, errors="replace")
    service = setup.plant_list if what == "plant" else setup.bed_list
    before = pages_of(dole)
    refusal = refused(lambda: service(dole, Pasted("it", content, dry_run=True), now=NOW))
    assert len(refusal) < LONGEST_SAID
    assert pages_of(dole) == before


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(content=st.binary(max_size=300))
@example(content=b"bed,plant,count\r\ndole,rose,3\r")
@example(content=b"\xff\xfeb")
@example(content=b"\xff\xfe\x00\xd8\n\x00")
def test_any_bytes_are_read_or_refused_in_words(content: bytes, dole: Path) -> None:
    for begin in (b"", b"bed,plant,count\n"):
        pasted = Pasted("it", begin + content, dry_run=True)
        refusal = refused(partial(setup.plant_list, dole, pasted, now=NOW))
        assert len(refusal) < LONGEST_SAID


@given(text=st.one_of(st.lists(cells, max_size=7).map(", ".join), st.text(max_size=40)))
def test_a_line_is_read_or_refused_in_words(text: str) -> None:
    refused(lambda: bed_line(text, ("dole",), ("A",)))
    refused(lambda: plant_line(text))
    refused(lambda: tap_line(text, 10.0))
