"""The only place that prints: plain ink, 60 to 80 columns, words never dependent on colour.

A `Page` is filled by one of the page modules and printed whole; what stands on it is theirs.
"""

import contextlib
import io
import os
import re
import sys
import textwrap
from typing import Any, NamedTuple

import click

from soakbook.errors import InputError

WIDEST = 80
NARROWEST = 60
KEPT_HANG = 2

PASTED_WITHIN_S = 0.05
"""Lines that come sooner after each other were not typed."""

TIED = re.compile(
    r"(?<=[0-9½]) (?=(?:L|min|h|s|mm|cm|m)\b)|(?<=\btap) (?=[A-Z0-9]\b)|(?<=\beq) (?=[0-9])"
)
"""Blanks at which a line is not broken: a number stays with its unit, a tap with its letter."""
TIE = "\N{NO-BREAK SPACE}"

Report = dict[str, Any]
"""A report as `--json` gives it."""


class Line(NamedTuple):
    """A printed line, without its end."""

    text: str
    bold: bool = False


class Page:
    """Lines of at most `width` characters, in the order they are written."""

    def __init__(self, width: int) -> None:
        self.width = width
        self.lines: list[Line] = []

    def __str__(self) -> str:
        """The page as plain text."""
        return "\n".join(line.text for line in self.lines)

    def line(self, text: str = "", *, bold: bool = False) -> None:
        """Add a line as it stands; what a printer cannot show becomes a blank."""
        self.lines.append(Line(_shown(text).rstrip(), bold))

    def text(self, text: str, *, indent: int = 0, hang: int = 0, bold: bool = False) -> None:
        """Add a paragraph, wrapped; lines after the first stand `hang` further in.

        A line break in the text is kept, and so are blanks that begin a line: commands stand so.
        """
        for number, part in enumerate(text.splitlines()):
            blanks = len(part) - len(part.lstrip(" "))
            margin = indent + blanks + (hang if number else 0)
            further = min(blanks, KEPT_HANG) if number else hang
            for wrapped in textwrap.wrap(
                TIED.sub(TIE, part.lstrip(" ")),
                self.width,
                initial_indent=" " * margin,
                subsequent_indent=" " * (margin + further),
                break_on_hyphens=False,
            ):
                self.line(wrapped, bold=bold)

    def pair(self, left: str, right: str, *, indent: int = 0, bold: bool = False) -> None:
        """Add two texts at the two ends of a line, or below each other where they do not fit."""
        gap = self.width - indent - len(left) - len(right)
        if gap < 2 or not left or not right:
            for text in filter(None, (left, right)):
                self.text(text, indent=indent, bold=bold)
        else:
            self.line(" " * indent + left + " " * gap + right, bold=bold)

    def text_with(self, left: str, right: str, *, indent: int = 0) -> None:
        """Add a paragraph with a text at the right end of its last line, or below where it is full."""
        start = len(self.lines)
        self.text(left, indent=indent)
        last = self.lines.pop().text.lstrip(" ") if len(self.lines) > start else ""
        self.pair(last, right, indent=indent)


def prepare() -> None:
    """Let a stream that cannot write a letter write a question mark instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def give_up() -> None:
    """Print nothing more: what could not be written would be tried again, and fail again, at the end."""
    if sys.stdout is None:
        return
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def new_page() -> Page:
    """A page as wide as the screen, within 60 to 80 columns."""
    return Page(min(WIDEST, max(NARROWEST, _columns())))


def put(*sheets: Page) -> None:
    """Print sheets: on a screen below each other, else one a printed page."""
    screen = sys.stdout.isatty()
    loud = screen and not os.environ.get("NO_COLOR")
    apart = "\n\n" if screen else "\n\f"
    click.echo(
        apart.join(
            "\n".join(
                click.style(line.text, bold=True) if loud and line.bold else line.text
                for line in sheet.lines
            )
            for sheet in sheets
        )
    )


def put_json(report: Report | list[Report]) -> None:
    """Print a report for a machine, and nothing else."""
    import json

    plain_only = not (sys.stdout.encoding or "").lower().startswith("utf")
    click.echo(json.dumps(report, indent=2, ensure_ascii=plain_only, allow_nan=False))


def put_text(text: str) -> None:
    """Print a text as it stands."""
    click.echo(text)


def put_line(text: str) -> None:
    """Print a line of a program that goes on, at once."""
    click.echo(_shown(text))
    sys.stdout.flush()


def put_meanwhile(sentence: str) -> None:
    """Say to whoever sits at a screen what takes a while; nobody else is told."""
    if sys.stderr is not None and sys.stderr.isatty():
        with contextlib.suppress(OSError):
            click.echo(_shown(sentence), err=True)


def put_error(sentence: str) -> None:
    """Say on standard error why nothing was done; what a terminal would obey or hide becomes a blank."""
    shown = "\n".join(map(_shown, sentence.split("\n")))
    with contextlib.suppress(OSError):
        click.echo(f"soakbook: {shown}", err=True)


def somebody_there() -> bool:
    """Whether a question would be read and answered."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def ask(question: str, default: str | None = None) -> str:
    """What somebody answers."""
    answer: str = click.prompt(
        _shown(question), default=default, show_default=bool(default), err=True
    )
    return answer


def ask_hidden(field: str, question: str) -> str:
    """What somebody answers unseen at a terminal; else the first line of standard input.

    Parameters
    ----------
    field : str
        What the gardener calls it.
    question : str
        What is asked.

    Raises
    ------
    InputError
        There is no such line, or it is no text.
    """
    if sys.stdin.isatty():
        answer: str = click.prompt(_shown(question), hide_input=True, err=True)
        return answer
    try:
        line = sys.stdin.readline().rstrip("\r\n")
    except ValueError:  # it may carry what was piped
        raise InputError(field, "-", "a line of text on standard input") from None
    if not line:
        raise InputError(field, None, "a line of text on standard input, where it is -")
    return line


def ask_lines(question: str) -> list[str]:
    """What somebody answers: a line, or all of several that are pasted at once, without blank ones."""
    lines = ask(question, "").splitlines()
    with contextlib.suppress(click.Abort):  # what came before the end still counts
        while _more_waits():
            lines += _next_line().splitlines()
    return [line for line in lines if line.strip()]


def confirmed(question: str) -> bool:
    """Whether somebody says yes."""
    return click.confirm(_shown(question), default=False, err=True)


def _shown(text: str) -> str:
    """A text without what could move a cursor or set a title: names and headers come from other programs, too."""
    return "".join(mark if mark.isprintable() else " " for mark in text)


def _next_line() -> str:
    line: str = click.prompt("", default="", show_default=False, prompt_suffix="", err=True)
    return line


def _more_waits() -> bool:
    """Whether another line is there already, as only a paste has it."""
    if not sys.stdin.isatty():
        return False
    if sys.platform == "win32":
        import msvcrt

        return msvcrt.kbhit()
    import select

    return bool(select.select([sys.stdin], [], [], PASTED_WITHIN_S)[0])


def _columns() -> int:
    said = os.environ.get("COLUMNS", "")
    if said.isdecimal():
        return int(said)
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns
    except (OSError, ValueError):
        return WIDEST
