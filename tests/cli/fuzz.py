"""Mistakes, tried and counted: `python -m tests.cli.fuzz [INPUTS] </dev/null`, 100,000 where nothing is said.

Every command's own examples, spoiled: words dropped, doubled and swapped, numbers from beyond every bound, and
nastiness made by hand. One in five is a spoiled file (`spoiled_files`) instead; `--file NUMBER` brings that one again.
Right is: status 0; or 2 (3 where weather did not come), one line on standard error that begins with the program's
name, and the book as it was. A traceback, status 1 or a changed book is a fault; so is a book that can no longer be
read after a file was taken.
"""

import argparse
import contextlib
import io
import os
import random
import re
import shlex
import shutil
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from pathlib import Path
from time import monotonic
from typing import Any, NamedTuple

import click
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from soakbook.cli import options
from soakbook.cli.examples import Exampled
from soakbook.cli.exits import NOTHING_CAME
from soakbook.cli.main import main, soakbook
from soakbook.reminders.channels import giving
from soakbook.reminders.message import Outcome
from soakbook.services import books, entries, setup
from soakbook.services.mornings import round_report
from soakbook.services.weather_files import import_file
from soakbook.store.book import open_book
from soakbook.store.earlier import earlier_copies
from tests.cli.spoiled_files import SEEDS, Good, Laid, good, laid

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
    "~nobody/x",
)  # fmt: skip

NUMBER = re.compile(r"\d+(?:\.\d+)?")

numbers = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True).map(repr),
    st.integers(-10, 10**7).map(str),
    st.floats(0.001, 1000).map(lambda x: f"{x:.3g}"),
    st.sampled_from(["0", "0.0", "-0", "00", "1e3", "1,5", "१२", "1'000", "+4", ".5", "5."]),
)


A_FILE_IN = 5
"""Inputs, of which one is a spoiled file."""

LOOKED_AT = 4
"""In one of so many books that took a spoiled file, what is in it then is read."""

READ_AFTER = ("round", "round --as-known 14may", "book check", "book log", "book export out")

FINDINGS = ["book", "check"]
"""What it finds in a damaged book is its answer, on standard output, and its exit status 2."""

LONGEST_SAID = 6_000
"""Letters that are said of anything: of a list twenty faults, each with its lines."""

BESIDES = (
    "person Ann --days mon-sat", "person Tom --hours 1h30 --away 9jul-17jul", "rate 1apr water 4.00",
    'restriction 18jul 5sep --tool hose --source mains --text "No hoses."', "rain 5.6mm --gentle",
    "feel chapel --ball dry --bed moist --unsure", 'left dole "too wet"', "mulch dole chip 5cm",
    "loss dole shrub 1 wind", "soak dole 20l", "book undo", "wilt chapel", "bed chapel --jam-jar 6mm --gauge 14mm",
)  # fmt: skip
"""What the garden's keepers have said, so that there is something of every kind in its folder."""


NOWHERE = Outcome("later", "nobody is asked here")
"""What comes of every message: none leaves this machine."""


class Came(NamedTuple):
    """What came of one line."""

    status: int | None
    fault: str
    """Empty where all is as it should be."""


def lines() -> list[list[str]]:
    """The words of every example in the help of every command."""
    found = []
    for command in _commands(soakbook, click.Context(soakbook)):
        if command.name == "run":  # it ends when it is stopped
            continue
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
    _clear(folder)
    book = folder / "garden.book"
    if words[:2] != ["book", "new"]:
        shutil.copyfile(template, book)
    ran = _run(words)
    return Came(ran.status, ran.fault or _wrong(ran, (template, book)))


def play_file(number: int, goods: Good, template: Path, folder: Path) -> tuple[Laid, Came]:
    """One spoiled file, brought into a fresh copy of the book; the same for the same number."""
    _clear(folder)
    book = folder / "garden.book"
    shutil.copyfile(template, book)
    one = laid(number, goods, folder)
    there = folder / "spoiled.book"
    before = there.read_bytes() if there.is_file() and not there.is_symlink() else b""
    ran = _run(one.words)
    if one.words[:2] == FINDINGS and ran.out and not ran.fault:
        ran = ran._replace(err=ran.err or "soakbook: findings")
    fault = ran.fault or _wrong(ran, (template, book)) or _said_wrong(ran, one)
    if not fault and ran.status and (folder / "other.book").exists():
        fault = "refused, and there is a new book"
    kept = earlier_copies(
        there
    )  # an old book may have been brought up, with its copy, before it was refused
    if not fault and ran.status and before and not kept and there.read_bytes() != before:
        fault = "refused, and the spoiled book is another"
    if not fault and ran.status == 0 and number % LOOKED_AT == 0:
        fault = _then(one)
    return one, Came(ran.status, fault)


class Ran(NamedTuple):
    """What a line came to, and what it printed."""

    status: int | None
    out: str
    err: str
    fault: str = ""
    """What it raised."""


def _run(words: list[str]) -> Ran:
    out, err, stdin = io.StringIO(), io.StringIO(), sys.stdin
    sys.stdin = io.StringIO()  # whoever asks has no answer
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            status = main(words)
    except SystemExit as leaving:
        status = leaving.code if isinstance(leaving.code, int) else 1
    except BaseException as fault:
        return Ran(None, out.getvalue(), err.getvalue(), f"{type(fault).__name__}: {fault}"[:200])
    finally:
        sys.stdin = stdin
    return Ran(status, out.getvalue(), err.getvalue())


def _clear(folder: Path) -> None:
    for left in folder.iterdir():
        shutil.rmtree(left) if left.is_dir() and not left.is_symlink() else left.unlink()


def _wrong(ran: Ran, kept: tuple[Path, Path]) -> str:
    if "Traceback" in ran.out + ran.err:
        return "a traceback"
    if ran.status not in (0, 2, 3):
        return f"status {ran.status}: {ran.err[-200:]}"
    template, book = kept
    if (
        ran.status == NOTHING_CAME and ran.out
    ):  # what was typed is done, and somebody else failed: the answer says so
        return ""
    if ran.status and not ran.err.startswith(("soakbook: ", "Usage: ")):
        return f"nothing is said of what is wrong: {ran.err[:100]!r}"
    if ran.status and book.exists() and _mark(book) != _mark(template):
        return "refused, and the book is another"
    return ""


def _said_wrong(ran: Ran, one: Laid) -> str:
    """What is amiss with a refusal: more than a sentence, or none that says what would be right."""
    if not ran.status or one.words[:2] == FINDINGS:
        return ""
    if ran.out:
        return f"refused, and this was printed: {ran.out[:100]!r}"
    if len(ran.err) > LONGEST_SAID or (one.kind != "list" and ran.err.count("\n") > 1):
        return f"no sentence: {ran.err[:200]!r}, {len(ran.err):,} letters"
    if not all(letter.isprintable() or letter == "\n" for letter in ran.err):
        return f"signs that are no letters: {ran.err[:200]!r}"
    if one.kind == "book":  # what a book that can be read lacks is said in many ways
        return ""
    named = (" cannot be right; ", " is missing: ", one.words[-1], "(see soakbook")
    return (
        "" if any(words in ran.err for words in named) else f"not said what of: {ran.err[:200]!r}"
    )


def _then(one: Laid) -> str:
    """What is wrong with a book into which a file was taken: that it can no longer be read, or is not sound.

    Of a spoiled book only some may be readable.
    """
    book = one.words[-1] if "--book" in one.words else "garden.book"
    right = (0, 2) if one.kind == "book" else (0,)
    for after in map(shlex.split, READ_AFTER):
        ran = _run([*after, "--book", book])
        if ran.fault or ran.status not in right:
            return f"taken, and then {shlex.join(after)}: {ran.fault or ran.err[-150:]}"
    return ""


def _mark(path: Path) -> str:
    with open_book(path, read_only=True) as book:
        return book.change_mark()


@contextlib.contextmanager
def surroundings() -> Iterator[tuple[Path, Path]]:
    """A template and a folder to play in; nobody is asked, and the clock stands still."""
    before, here, clock = dict(os.environ), Path.cwd(), options.now
    channels = {name: getattr(giving, name) for name in ("send_mail", "send_push")}
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        template, folder = home / "template.book", home / "play"
        folder.mkdir()
        said = {"HOME": name, "XDG_CACHE_HOME": f"{name}/cache", "SOAKBOOK_OFFLINE": "1"}
        said |= {"XDG_CONFIG_HOME": f"{name}/config"}
        os.environ |= said | {"SOAKBOOK_BOOK": str(folder / "garden.book")}
        options.now = lambda: NOW
        for one in channels:
            setattr(giving, one, lambda *_: NOWHERE)
        try:
            garden(template)
            os.chdir(folder)
            for line in BESIDES:
                ran = _run([*shlex.split(line), "--book", str(template)])
                assert ran.status == 0, (line, ran)
            yield template, folder
        finally:
            os.chdir(here)
            options.now = clock
            for one, channel in channels.items():
                setattr(giving, one, channel)
            os.environ.clear()
            os.environ |= before


class Tried(NamedTuple):
    """How many inputs of which kind came to what, and the faults with what led to each."""

    counts: Counter[tuple[str, str]]
    faults: dict[str, str]

    def add(self, kind: str, came: Came, led: str) -> None:
        """Count an input."""
        self.counts[kind, "fault" if came.fault else f"status {came.status}"] += 1
        if came.fault:
            self.faults.setdefault(came.fault, led[:300])


def tried(inputs: int, number: int | None = None) -> Tried:
    """Try so many inputs; the same for the same number, others each time where there is none."""
    found = Tried(Counter(), {})
    dice = random.Random(number)
    with surroundings() as (template, folder):
        goods = good(template, folder)
        for _ in range(inputs // A_FILE_IN):
            one = dice.randrange(SEEDS)
            file, came = play_file(one, goods, template, folder)
            found.add(file.kind, came, f"--file {one}: {file.how}; {shlex.join(file.words)}")

        @seed(dice.randrange(SEEDS))
        @settings(
            max_examples=inputs - inputs // A_FILE_IN,
            deadline=None,
            database=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        )
        @given(spoiled())
        def every(words: list[str]) -> None:
            found.add("words", play(words, template, folder), shlex.join(words))

        every()
        _still_reckons(template)
    return found


def _still_reckons(template: Path) -> Mapping[str, Any]:
    report: Mapping[str, Any] = round_report(template, now=NOW)
    return report


def _commands(group: click.Group, context: click.Context) -> Iterator[Exampled]:
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        if isinstance(command, Exampled) and command.examples:
            yield command
        if isinstance(command, click.Group):
            yield from _commands(command, click.Context(command, parent=context))


def report(inputs: int, number: int | None) -> int:
    """Print the table; exit status 1 where there was a fault."""
    began = monotonic()
    counts, faults = tried(inputs, number)
    kinds, came = (sorted({key[place] for key in counts}) for place in (0, 1))
    print(f"{'':10}" + "".join(f"{what:>10}" for what in came))
    for kind in kinds:
        print(f"{kind:10}" + "".join(f"{counts[kind, what]:>10}" for what in came))
    for fault, led in faults.items():
        print(f"  {fault}\n    {led!r}")
    wrong = sum(count for (_, what), count in counts.items() if what == "fault")
    print(f"{counts.total():,} inputs, {wrong} faults; {monotonic() - began:.0f} s")
    return 1 if faults else 0


def again(number: int) -> int:
    """Bring one spoiled file and show what comes of it; exit status 1 where it is a fault."""
    with surroundings() as (template, folder):
        file, came = play_file(number, good(template, folder), template, folder)
        print(f"{file.how}\nsoakbook {shlex.join(file.words)}")
        ran = _run(file.words)
        print(f"status {came.status}\n{ran.out[:500]}{ran.err[:500]}{came.fault}")
        if ran.fault:
            main(file.words)
    return 1 if came.fault else 0


if __name__ == "__main__":
    asked = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    asked.add_argument("inputs", nargs="?", type=int, default=100_000)
    asked.add_argument("--file", type=int, metavar="NUMBER")
    asked.add_argument("--seed", type=int, metavar="NUMBER")
    said = asked.parse_args()
    sys.exit(report(said.inputs, said.seed) if said.file is None else again(said.file))
