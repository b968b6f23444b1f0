"""Wrapping, widths, bold and bytes: whatever is printed passes through here."""

import io
import json
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soakbook.cli import paper
from soakbook.cli.paper import Page


class Screen(io.StringIO):
    """Standard output that is a terminal."""

    def isatty(self) -> bool:
        return True


def page_with(*texts: str, width: int = 60) -> Page:
    page = Page(width)
    for text in texts:
        page.text(text)
    return page


@given(st.text(), st.integers(0, 8), st.integers(0, 8), st.integers(30, 80))
def test_no_line_is_wider_than_the_page(text: str, indent: int, hang: int, width: int) -> None:
    page = Page(width)
    page.text(text, indent=indent, hang=hang)
    page.pair(text, text, indent=indent)
    page.text_with(text, "Last", indent=indent)
    assert all(len(line.text) <= width for line in page.lines)


def test_a_paragraph_hangs_and_keeps_its_own_lines() -> None:
    """A line break and the blanks after it stand before a command that is to be typed."""
    page = Page(30)
    page.text(
        "Tell me how it really was, please, as\n  soakbook left bank no time\nor not.", hang=4
    )
    assert str(page).splitlines() == [
        "Tell me how it really was,",
        "    please, as",
        "      soakbook left bank no",
        "        time",
        "    or not.",
    ]


def test_an_option_is_not_broken_at_its_hyphens() -> None:
    page = page_with("x" * 50 + " --not-watered-in", width=60)
    assert str(page).splitlines()[1] == "--not-watered-in"


@pytest.mark.parametrize(
    ("text", "second"),
    [
        ("1.5 L", "1.5 L"),
        ("½ L", "½ L"),
        ("7 mm", "7 mm"),
        ("tap A", "tap A"),
        ("tap and", "and"),
        ("2 Lances", "Lances"),
    ],
)
def test_a_number_is_not_parted_from_its_unit(text: str, second: str) -> None:
    """A line with room for a number, or for `tap`, but not for what comes after it."""
    before = "x" * (60 - len(f" {text.split(maxsplit=1)[0]}"))
    page = page_with(f"{before} {text}", width=60)
    assert str(page).splitlines()[1] == second


def test_what_a_printer_cannot_show_becomes_a_blank() -> None:
    page = Page(60)
    page.line("a\x1b[2Jb\tc")
    assert str(page) == "a [2Jb c"


def test_nor_is_it_shown_in_a_fault_or_a_question(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("yes\nrose\n"))
    paper.put_error("list: 2 faults:\n  line 2: \x1b]0;mine\x07Plants")
    assert paper.confirmed("\x9b2JEnter both?")
    assert paper.ask("What is \x1b[2Jelder like?") == "rose"
    shown = capsys.readouterr()
    assert shown.err.startswith(
        "soakbook: list: 2 faults:\n  line 2:  ]0;mine Plants\n 2JEnter both?"
    )
    assert "What is  [2Jelder like?" in shown.err + shown.out
    assert not {"\x1b", "\x07", "\x9b"} & set(shown.err + shown.out)


def test_two_texts_share_a_line_or_stand_below_each_other() -> None:
    page = Page(20)
    page.pair("left", "right")
    page.pair("quite long to the left", "right")
    page.pair("", "right")
    assert str(page).splitlines() == [
        "left           right",
        "quite long to the",
        "left",
        "right",
        "right",
    ]


def test_a_text_takes_another_at_the_end_of_its_last_line() -> None:
    page = Page(20)
    page.text_with("one two three four five six", "safe", indent=2)
    assert str(page).splitlines() == ["  one two three four", "  five six      safe"]
    page = Page(20)
    page.text_with("", "safe")
    page.text_with("one", "")
    assert str(page).splitlines() == ["safe", "one"]


@pytest.mark.parametrize(
    ("columns", "width"), [("100", 80), ("72", 72), ("20", 60), ("many", 80), ("", 80)]
)
def test_columns_count_downwards_to_sixty(
    columns: str, width: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    monkeypatch.setattr(sys, "stdout", io.StringIO())
    assert paper.new_page().width == width


def bold_page() -> Page:
    page = Page(60)
    page.line("CHAPEL WALL", bold=True)
    page.line("plain")
    return page


def test_bold_only_on_a_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    for stream, bold in ((Screen(), True), (io.StringIO(), False)):
        monkeypatch.setattr(sys, "stdout", stream)
        paper.put(bold_page())
        assert ("\x1b[1mCHAPEL WALL" in stream.getvalue()) is bold
        assert stream.getvalue().endswith("plain\n")


def test_no_color_is_kept_to(monkeypatch: pytest.MonkeyPatch) -> None:
    screen = Screen()
    monkeypatch.setattr(sys, "stdout", screen)
    monkeypatch.setenv("NO_COLOR", "1")
    paper.put(bold_page())
    assert screen.getvalue() == "CHAPEL WALL\nplain\n"


def test_a_sheet_for_each_card_on_paper(monkeypatch: pytest.MonkeyPatch) -> None:
    out = io.StringIO()
    monkeypatch.setattr(sys, "stdout", out)
    paper.put(bold_page(), bold_page())
    assert out.getvalue() == "CHAPEL WALL\nplain\n\fCHAPEL WALL\nplain\n"


@pytest.mark.parametrize("encoding", ["utf-8", "latin-1", "ascii"])
def test_json_survives_any_encoding(encoding: str, monkeypatch: pytest.MonkeyPatch) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding=encoding))
    paper.prepare()
    paper.put_json({"garden": "Höhe ½ Ђ"})
    sys.stdout.flush()
    assert json.loads(raw.getvalue().decode(encoding)) == {"garden": "Höhe ½ Ђ"}


@pytest.mark.parametrize(
    ("encoding", "written"),
    [("latin-1", b"\xbd L ?\n"), ("ascii", "½ L Ђ\n".encode())],
    ids=["what the stream cannot write becomes a mark", "a stream set up as ascii gets UTF-8"],
)
def test_a_strange_letter_does_not_stop_the_round(
    encoding: str, written: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding=encoding))
    paper.prepare()
    paper.put(page_with("½ L Ђ"))
    sys.stdout.flush()
    assert raw.getvalue() == written


def test_what_a_terminal_would_obey_is_not_said_to_it(capsys: pytest.CaptureFixture[str]) -> None:
    """A header of somebody else's file, repeated in what is wrong with it; a list of faults keeps its lines."""
    paper.put_error("columns of a.csv: \x1b[2J\x07dole\u202e, ros\u00e9\n  line 2: no")
    assert (
        capsys.readouterr().err
        == "soakbook: columns of a.csv:  [2J dole , ros\u00e9\n  line 2: no\n"
    )
