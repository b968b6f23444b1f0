"""What stands on screens is in a gardener's words; nothing is left to be done."""

import re
from pathlib import Path

import pytest

from tests.house.tree import PACKAGE, ROOT, TESTS, Text, files, name_of, source, strings

# Labels of clock boxes, houseplant diaries, bed-drawing programs and farm scheduling. Left out are
# those that are plain words here: a field of a record, the zone of a clock, a station for weather.
OTHER_PROGRAMS = re.compile(
    r"\b("
    r"program [a-c]|run[ -]?times?|start[ -]?times?|cycle.and.soak|seasonal adjust\w*|smart"
    r"|rain (?:delay|skip)|automatic\w*|manual run|controllers?|(?<!weather )stations?"
    r"|my (?:plants?|garden)|add plants?|thirsty|water me|care (?:schedules?|tasks?)|overdue"
    r"|snooze\w*|streaks?|happy|health score|light meter|diagnos\w+|plant parents?"
    r"|plan view|planting calendar|companions?|harvest\w*|to-?do(?: list)?|garden journal"
    r"|paddocks?|crop stages?|irrigation|refill point|full point|fuel gauge|trigger\w*|deficits?"
    r")\b",
    re.IGNORECASE,
)
PROPERTY_NAMES_STAND_IN = {"src/soakbook/reminders/channels/calendar.py"}
"""Those of RFC 5545, which programs read and nobody else."""
PROMISES = re.compile(r"(?<!last )\b(safe|safely|healthy|guaranteed?)\b", re.IGNORECASE)
SYMBOLS = re.compile(r"\b(MAD|TAW|RAW|ETo|ETc|Kc|Kcb|Ks|Ke)\b")
SYMBOLS_STAND_IN = {
    "notebooks/fao56_examples.ipynb",
    "src/soakbook/reckoning/advice/symbols.py",
}
"""What `why --symbols` shows, and FAO-56's own examples, by the names FAO-56 gives it."""

SCREEN_FILES = ("*.json", "*.csv", "*.toml", "*.txt")
UNFINISHED = re.compile(r"\b(TO" + r"DO|FIX" + r"ME|X" + r"XX|NotImpl" + r"ementedError)\b")
LEFT_OUT = re.compile(
    r"mark\.(skip(?!if)|x" + r"fail)|pytest\.(skip|x" + r"fail)\(|pragma: no " + r"cover"
)


def read_by_people() -> list[Text]:
    """Strings of the program, and the texts that ship with it or are read before it is there."""
    found = [text for path in files(PACKAGE) for text in strings(path)]
    texts = [path for pattern in SCREEN_FILES for path in files(PACKAGE, pattern)]
    for path in (*texts, *files(ROOT / "notebooks", "*.ipynb"), ROOT / "README.md"):
        lines = source(path).splitlines()
        found += [Text(name_of(path), number, line) for number, line in enumerate(lines, 1)]
    return found


def hits(pattern: re.Pattern[str], allowed: set[str] | None = None) -> list[str]:
    """Texts in which a pattern is found, as `file:line: word in text`."""
    return [
        f"{text} [{found[0]}]"
        for text in read_by_people()
        if text.file not in (allowed or set()) and (found := pattern.search(text.text))
    ]


def test_no_words_of_other_kinds_of_program() -> None:
    found = hits(OTHER_PROGRAMS, PROPERTY_NAMES_STAND_IN)
    assert not found, "\n".join(found)


def test_nothing_is_promised() -> None:
    found = hits(PROMISES)
    assert not found, "\n".join(found)


def test_symbols_stay_behind_their_option() -> None:
    found = hits(SYMBOLS, SYMBOLS_STAND_IN | {"README.md"})
    assert not found, "\n".join(found)


@pytest.mark.parametrize("folder", [PACKAGE, TESTS], ids=["src", "tests"])
def test_nothing_is_left_to_be_done(folder: Path) -> None:
    found = [
        f"{name_of(path)}:{number}"
        for path in files(folder)
        for number, line in enumerate(source(path).splitlines(), 1)
        if UNFINISHED.search(line) or LEFT_OUT.search(line)
    ]
    assert not found, "\n".join(found)
