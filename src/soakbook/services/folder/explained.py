"""README.txt of the folder: what each file and each column is, in a gardener's words and a programmer's."""

from collections.abc import Iterator
from textwrap import fill
from typing import Any

from soakbook.garden.annotations import hints, right, words
from soakbook.garden.records import Absence, Flow
from soakbook.services.folder.columns import SHEETS
from soakbook.services.folder.garden_text import FORMAT, RECORDS

NAME = "README.txt"
WIDTH = 90

TABLES = {
    "garden": "where the garden is and how its gardener wants to be advised",
    "tap": "where water is drawn, with every test of its flow",
    "bed": "one bed; what is left out is not known, and guessed from tables",
    "planting": "a number of like plants put into one bed on one day",
    "person": "somebody who waters, on which weekdays (Monday is 0), and when they are away",
    "restriction": "a rule on watering, as its text has it",
    "rate": "a price from a day on",
    "reminder": "how one kind of reminder is sent; what is left out is as usual. What was sent is in the book alone",
    "weather_file": "a file of weather that is remembered: its name, how its columns are read (mapping, as JSON), "
    "and where it is read again (location)",
    "change": "the log: when (at, in UTC) and by whom a table above (what, uid) was changed, and the record before "
    "and after, as JSON; without before it was new",
}

SAYS = {
    "uid": "permanent name by which others refer to it",
    "said": "fields that somebody has said, which are no guesses",
    "bed_uid": "uid of its bed",
    "replaces": "uid of the planting whose place it took",
    "parted_from": "uid of the bed of which it was a part",
    "came_from": "uid of the planting from which these plants were taken",
    "tap": "key of the tap it is watered from",
    "keeper": "who looks after it",
    "head": "who is told what concerns the whole garden",
    "named": "uids of the people it goes to, where whom is named",
}

LISTS = {"flows": "every test of its flow", "absences": "days on which they are away"}

GARDENER = """\
This folder holds the whole book of a garden that soakbook keeps: what is planted where, everything that was done
and found, and the weather. Nothing in it needs soakbook: garden.toml opens in any editor, the .csv files in any
spreadsheet. 'soakbook book import FOLDER --new' makes a book of it again that is equal to the first; without --new
the book of the same garden takes over what it does not know yet."""

PLACE = """\
Latitude and longitude stand in garden.toml as exactly as the book has them: think of that before you hand the
folder on. Passwords and keys in addresses are left out; so an address that needs one has to be told again."""

UNNAMED = """\
People's names were left out: person 1, person 2 and so on stand in their place, the same one always in the same
place. Notes, reasons, names of beds and files, where files lie, and the texts of rules are kept as they were
written; a name may stand in them."""

PROGRAMMER = """\
Text is UTF-8 without a byte-order mark. CSV files are as RFC 4180 has them, with one line of names. A cell left
empty says nothing. Text that begins with = + - @ (in full width, too), a tab, an end of line or an apostrophe has an
apostrophe put before it, so that no spreadsheet takes it for a sum, and text without letters is an apostrophe alone:
to read a column of text, take one apostrophe away from the front. Numbers stand as they are, with a point. Rows
stand in the order in which they were written in the book, which counts: a correction stands below what it corrects,
and of two values from one source the lower one is the newer. Moments carry their offset from UTC. A file too long
for many programs goes on in a second one, such as weather-2.csv."""


def readme_text(*, unnamed: bool) -> str:
    """The page, for a folder with people's names or without them.

    Parameters
    ----------
    unnamed : bool
        Whether they were left out.
    """
    told = [GARDENER, PLACE, *([UNNAMED] if unnamed else [])]
    parts = ["SOAKBOOK: THE BOOK OF A GARDEN AS PLAIN FILES", *(fill(one, WIDTH) for one in told)]
    parts += [f"FOR PROGRAMMERS ({FORMAT})", fill(PROGRAMMER, WIDTH), *_toml(), *_csv()]
    return "\n\n".join(parts) + "\n"


def _toml() -> Iterator[str]:
    yield "garden.toml: the lasting things, a table each; [[tap]] and the others stand once for each."
    for name, says in TABLES.items():
        header = f"[{name}]" if name == "garden" else f"[[{name}]]"
        kind = RECORDS.get(name)
        fields = [] if kind is None else list(_fields(kind))
        yield "\n".join((fill(f"{header} {says}.", WIDTH), *fields))


def _fields(kind: Any, indent: str = "  ") -> Iterator[str]:
    for field, hint in hints(kind).items():
        parts = {"flows": Flow, "absences": Absence}.get(field)
        called = words((field,))
        says = SAYS.get(field) or (LISTS[field] if parts else _may_be(hint, field))
        plain = field in SAYS or parts or called == field.replace("_", " ")
        yield _item(indent, field, says if plain else f"{called}: {says}")
        if parts is not None:
            yield from _fields(parts, f"{indent}  ")


def _may_be(hint: Any, field: str) -> str:
    if field == "weekdays":
        return "a list of 0 to 6, Monday being 0"
    return right(hint, field)


def _csv() -> Iterator[str]:
    for sheet in SHEETS:
        title = fill(f"{sheet.name}.csv: {sheet.says}", WIDTH)
        yield "\n".join((title, *(_item("  ", one.name, one.says) for one in sheet.columns)))


def _item(indent: str, name: str, says: str) -> str:
    return fill(
        f"{name}  {says}",
        WIDTH,
        initial_indent=indent,
        subsequent_indent=f"{indent}    ",
        break_on_hyphens=False,
    )
