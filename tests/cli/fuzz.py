"""Mistakes, tried and counted: `python -m tests.cli.fuzz [INPUTS]`, 100,000 where nothing is said.

Every command's own examples, spoiled: words dropped, doubled and swapped, numbers from beyond every bound, and
nastiness made by hand. Right is: status 0; or 2 (3 where weather did not come), one line on standard error that
begins with the program's name, and the book as it was. A traceback, status 1 or a changed book is a fault.
"""

import contextlib
import io
import os
import re
import shlex
import shutil
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, NamedTuple

import click
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from soakbook.cli import options
from soakbook.cli.main import main, soakbook
from soakbook.services import books, entries, setup
from soakbook.services.mornings import round_report
from soakbook.services.weather_files import import_file
from soakbook.store.book import open_book

NOW = datetime(2031, 5, 15, 5, 30, tzinfo=UTC)
BEDS = {"warden": "dole", "bank": "chapel", "infirm": "dole", "school": "chapel", "ride": "dole"}
"""What the examples call beds, in the two of this garden."""

NASTY = (
    "", " ", "all", "last", "none", "null", "True", "nan", "NaNl", "inf", "-inf", "1e308", "1e308l", "-1l", "0", "0l",
    "-5", "١٧l", "17,5l", "1.234,5l", "17 l", "½l", "1/0l", "17l17l", "99999999999999999999999", "0x11l", "1_000l",
    "\x00", "a\x00b", "\ufeffchapel", "\u202eladelos", "💧", "לונדון", "é" * 300, "x" * 10_000, "\n", "a\nb", "\t",
    "=1+1", "@SUM(A1)", "'; DROP TABLE entry; --", "%s%n", "{0}", "${HOME}", "../../etc", "/dev/null", "-", "--",
    "--json", "--no-such", "--by", "--at", "--on", "--book", "31feb", "2031-02-30", "9999-12-31", "0000-00-00",
    "01/02/2031", "1/4", "30mar 01:30", "26oct 01:30", "24:00", "25:61", "tomorrow", "yesterday 25:00", "1jan1000",
    "\ud800", "chapel;dole", "CHAPEL", "Chape", "dust dust", "sour", "100%", "-0.0l", "1e-320l", "3 4", "1..2",
)  # fmt: skip

NUMBER = re.compile(r"\d+(?:\.\d+)?")

numbers = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True).map(repr),
    st.integers(-10, 10**7).map(str),
    st.floats(0.001, 1000).map(lambda x: f"{x:.3g}"),
    st.sampled_from(["0", "0.0", "-0", "00", "1e3", "1,5", "१२", "1'000", "+4", ".5", "5."]),
)


class Came(NamedTuple):
    """What came of one line."""

    status: int | None
    fault: str
    """Empty where all is as it should be."""


def lines() -> list[list[str]]:
    """The words of every example in the help of every command."""
    found = []
    for command in _commands(soakbook, click.Context(soakbook)):
        text = "\n".join(command.examples).replace("\\\n", " ")
        for line in text.splitlines():
            words = shlex.split(re.split(r"\s\s\s+(?!-)|\|", line)[0])
            found.append([BEDS.get(word, word) for word in words[1:]])
    return found


@st.composite
def spoiled(draw: st.DrawFn) -> list[str]:
    """An example, spoiled once to three times."""
    words = list(draw(st.sampled_from(lines())))
    for _ in range(draw(st.integers(1, 3))):
        place = draw(st.integers(1, max(1, len(words) - 1)))
        how = draw(
            st.sampled_from(["nasty", "number", "number", "number", "drop", "twice", "swap"])
        )
        if how == "drop" or place >= len(words):
            del words[place : place + 1]
        elif how == "twice":
            words.insert(place, words[place])
        elif how == "swap":
            words[place], words[-1] = words[-1], words[place]
        elif how == "number" and (found := NUMBER.search(words[place])):
            other = draw(numbers)
            words[place] = words[place][: found.start()] + other + words[place][found.end() :]
        else:
            words[place] = draw(st.one_of(st.sampled_from(NASTY), st.text(max_size=12)))
    return words


def garden(path: Path) -> None:
    """A garden of two beds in a dry May, with ten days of weather."""
    books.new(
        path,
        now=NOW,
        name="Meadow End",
        latitude_deg=52.3,
        longitude_deg=-0.4,
        elevation_m=62.0,
        timezone="Europe/London",
    )
    setup.tap(path, "A", now=NOW, fill="10l 43s", on="1may")
    setup.bed(path, "chapel", now=NOW, area="18m2", soil="sandy loam", tap="A")
    setup.bed(path, "dole", now=NOW, area="22m2", soil="clay")
    setup.plant(path, "chapel", "climbing rose", "6", now=NOW, pot="7.5l", on="6may")
    setup.plant(path, "dole", "shrub rose", "14", now=NOW, ball="45cm", on="7may")
    file = path.with_name("shed.csv")
    rows = [f"2031-05-{day:02},8,21,0.0" for day in range(5, 15)]
    file.write_text("\n".join(["date,tmin_c,tmax_c,rain_mm", *rows]) + "\n", encoding="utf-8")
    import_file(path, file, now=NOW)
    entries.soak(path, ["chapel"], "17l", now=NOW, at="yesterday 07:40", by="Ann")


def play(words: list[str], template: Path, folder: Path) -> Came:
    """One line, on a fresh copy of the book, in a folder of its own."""
    book = folder / "garden.book"
    for left in folder.iterdir():
        shutil.rmtree(left) if left.is_dir() else left.unlink()
    if words[:2] != ["book", "new"]:
        shutil.copyfile(template, book)
    out, err = io.StringIO(), io.StringIO()
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            status = main(words)
    except SystemExit as leaving:
        status = leaving.code if isinstance(leaving.code, int) else 1
    except BaseException as fault:
        return Came(None, f"{type(fault).__name__}: {fault}"[:200])
    return Came(status, _wrong(status, out.getvalue(), err.getvalue(), (template, book)))


def _wrong(status: int, out: str, err: str, kept: tuple[Path, Path]) -> str:
    if "Traceback" in out + err:
        return "a traceback"
    if status not in (0, 2, 3):
        return f"status {status}: {err[-200:]}"
    template, book = kept
    if status and not err.startswith(("soakbook: ", "Usage: ")):
        return f"nothing is said of what is wrong: {err[:100]!r}"
    if status and book.exists() and _mark(book) != _mark(template):
        return "refused, and the book is another"
    return ""


def _mark(path: Path) -> str:
    with open_book(path, read_only=True) as book:
        return book.change_mark()


@contextlib.contextmanager
def surroundings() -> Iterator[tuple[Path, Path]]:
    """A template and a folder to play in; nobody is asked, and the clock stands still."""
    before, here, clock = dict(os.environ), Path.cwd(), options.now
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        template, folder = home / "template.book", home / "play"
        folder.mkdir()
        said = {"HOME": name, "XDG_CACHE_HOME": f"{name}/cache", "SOAKBOOK_OFFLINE": "1"}
        os.environ |= said | {"SOAKBOOK_BOOK": str(folder / "garden.book")}
        options.now = lambda: NOW
        try:
            garden(template)
            os.chdir(folder)
            yield template, folder
        finally:
            os.chdir(here)
            options.now = clock
            os.environ.clear()
            os.environ |= before


def tried(inputs: int) -> tuple[Counter[str], dict[str, list[str]]]:
    """How many lines came to what, and the faults with a line that led to each."""
    counts: Counter[str] = Counter()
    faults: dict[str, list[str]] = {}
    with surroundings() as (template, folder):

        @settings(
            max_examples=inputs,
            deadline=None,
            database=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        )
        @given(spoiled())
        def every(words: list[str]) -> None:
            came = play(words, template, folder)
            counts["fault" if came.fault else f"status {came.status}"] += 1
            if came.fault:
                faults.setdefault(came.fault, words)

        every()
        _still_reckons(template)
    return counts, faults


def _still_reckons(template: Path) -> Mapping[str, Any]:
    report: Mapping[str, Any] = round_report(template, now=NOW)
    return report


def _commands(group: click.Group, context: click.Context) -> Iterator[options.Command]:
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        if isinstance(command, click.Group):
            yield from _commands(command, click.Context(command, parent=context))
        elif isinstance(command, options.Command):
            yield command


def report(inputs: int) -> int:
    """Print the table; exit status 1 where there was a fault."""
    counts, faults = tried(inputs)
    for what, count in sorted(counts.items()):
        print(f"{what:10} {count:8}")
    for fault, words in faults.items():
        print(f"  {fault}\n    {shlex.join(words)[:300]!r}")
    print(f"{counts.total()} inputs, {counts['fault']} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(report(int(sys.argv[1]) if sys.argv[1:] else 100_000))
