"""Ways to spoil a good file: its bytes, its lines, a cell of its table, a value of its TOML, its place on the disk.

Each takes what is good and dice; what it gives need not be wrong, but must be answered in a gardener's words.
"""

import csv
import io
import os
import random
import re
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path

LONG_B = 10_000_000

CELLS = (
    "", " ", "true", "True", "NaN", "nan", "inf", "-inf", "1e308", "-1e308", "1e-320", "-1", "-18", "0", "0.0", "-0.0",
    "12,5", "1.234,5", "1,234.5", "9" * 400, "99999999999999999999", "0x1F", "1_000", "½", "١٧", "+4", ".5", "5.",
    "=1+1", "=cmd|' /C calc'!A0", "+1+1", "-1+1", "@SUM(A1:A9)", "'", "''", "'=1", '"', '""', "\t", "\r", "a\nb",
    "\x00", "\ufeff", "\u202eladelos", "לונדון", "💧", "é" * 300, "x" * 600, "x" * 10_001, "all", "none", "null",
    "chapel", "2031-05-15", "15/05/2031", "05/15/2031", "2031-02-30", "0000-00-00", "9999-12-31", "1/4", "15.05.2031",
    "2031-5-1", "2031-05-15T07:10:00", "2031-05-15T07:10:00+01:00", "2031-05-15T07:10:00+99:00", "2031-05-15 24:00",
    "07:40", "../../etc/passwd", "/dev/zero", "[[[[", "{}", "[]", '{"a": NaN}', "%s%n", "{0}",
    "'; DROP TABLE entry; --", "\x1b[31m",
)  # fmt: skip

VALUES = (
    "true", "1e308", "-1e308", "nan", "inf", "-inf", "-18", "0", "-0.0", "9" * 400, "9" * 5000, "99999999999999999999",
    "0x1F", "1_000", '"18"', '""', '" "', '"all"', '"\\u0000"', '"\\u202eladelos"', '"לונדון"', '"💧"', '"=1+1"',
    "'x'", '"' + "x" * 10_001 + '"', '"' + "é" * 300 + '"', "[]", "[[]]", "[1, 2]", "{}", "{ a = 1 }", "2031-05-15",
    "2031-05-15T07:10:00", "2031-05-15T07:10:00Z", "0001-01-01", "9999-12-31", "07:10:00", '"2031-02-30"', '"NaN"',
    "[" * 9_000 + "]" * 9_000, "[" * 90 + "]" * 90, '"""a\nb"""', '"a\\nb"', "", "=", "1 2", '"unended', '"{}"', '"[]"',
    '"{\\"uid\\": 1}"', '"soakbook.export/2"', "{ first = 2031-05-15, last = 2031-05-14 }", '["2031-05-15"]',
)  # fmt: skip

Dice = random.Random
Spoiler = Callable[[bytes, Dice], bytes]


def spoiled_text(content: bytes, dice: Dice) -> tuple[bytes, str]:
    """A file of text spoiled once or twice, and how; a very long line or a zip comes seldom."""
    done = []
    for _ in range(dice.choice((1, 1, 1, 2))):
        name, way = dice.choice(sorted(WAYS.items()))
        if not dice.randrange(60):
            name, way = dice.choice(sorted(LARGE.items()))
        content = way(content, dice)
        done.append(name)
    return content, " and ".join(done)


def spoiled_bytes(content: bytes, dice: Dice) -> tuple[bytes, str]:
    """A file that is no text, cut short, with bytes flipped, or another altogether."""
    ways: dict[str, Callable[[], bytes]] = {
        "cut short": lambda: content[: dice.randrange(len(content))],
        "a byte flipped": lambda: _flip(content, dice),
        "bytes flipped": lambda: _flip_some(content, dice),
        "a page swept": lambda: _sweep(content, dice),
        "pages swapped": lambda: _swap_pages(content, dice),
        "something behind": lambda: content + dice.randbytes(5000),
        "a zip": lambda: _zip(content, dice),
        "rubbish": lambda: dice.randbytes(dice.randrange(9000)),
        "empty": lambda: b"",
        "the head alone": lambda: content[:100],
    }
    name = dice.choice(sorted(ways))
    return ways[name](), name


def _at(content: bytes, dice: Dice) -> int:
    return dice.randrange(len(content)) if content else 0


def _insert(what: bytes) -> Spoiler:
    def spoil(content: bytes, dice: Dice) -> bytes:
        at = _at(content, dice)
        return content[:at] + what + content[at:]

    return spoil


def _flip(content: bytes, dice: Dice) -> bytes:
    if not content:
        return b"\xff"
    at = _at(content, dice)
    return content[:at] + bytes([content[at] ^ dice.randrange(1, 256)]) + content[at + 1 :]


def _flip_some(content: bytes, dice: Dice) -> bytes:
    for _ in range(dice.randint(2, 30)):
        content = _flip(content, dice)
    return content


def _sweep(content: bytes, dice: Dice) -> bytes:
    at = dice.randrange(max(1, len(content) // 4096)) * 4096
    return content[:at] + bytes(4096) + content[at + 4096 :]


def _swap_pages(content: bytes, dice: Dice) -> bytes:
    pages = [content[at : at + 4096] for at in range(0, len(content), 4096)]
    one, other = (dice.randrange(len(pages)) for _ in range(2))
    pages[one], pages[other] = pages[other], pages[one]
    return b"".join(pages)


def _comma_decimals(content: bytes, dice: Dice) -> bytes:
    del dice
    return re.sub(rb"(\d)\.(\d)", rb"\1,\2", content)


def _mixed_newlines(content: bytes, dice: Dice) -> bytes:
    lines = content.replace(b"\r\n", b"\n").split(b"\n")
    return b"".join(line + dice.choice((b"\n", b"\r\n", b"\r", b"\n\r")) for line in lines)


def _mixed_dates(content: bytes, dice: Dice) -> bytes:
    forms = (rb"\3/\2/\1", rb"\2/\3/\1", rb"\3.\2.\1", rb"\1\2\3", rb"\1-\2-\3")
    return re.sub(
        rb"(\d{4})-(\d\d)-(\d\d)", lambda found: found.expand(dice.choice(forms)), content
    )


def _lines(change: Callable[[list[bytes], int, Dice], object]) -> Spoiler:
    def spoil(content: bytes, dice: Dice) -> bytes:
        lines = content.splitlines(keepends=True) or [b"\n"]
        change(lines, dice.randrange(len(lines)), dice)
        return b"".join(lines)

    return spoil


def _swap_lines(lines: list[bytes], at: int, dice: Dice) -> None:
    other = dice.randrange(len(lines))
    lines[at], lines[other] = lines[other], lines[at]


def _first_alone(lines: list[bytes], at: int, dice: Dice) -> None:
    del at, dice, lines[1:]


def _table(change: Callable[[list[list[str]], Dice], object]) -> Spoiler:
    """A change to the cells of a CSV file; of one that is none, to what looks like them."""

    def spoil(content: bytes, dice: Dice) -> bytes:
        text = content.decode("utf-8", errors="replace").replace("\0", "")
        try:
            rows = [row for row in csv.reader(io.StringIO(text, newline="")) if row]
        except csv.Error:
            rows = []
        if not rows:
            return _flip(content, dice)
        change(rows, dice)
        out = io.StringIO(newline="")
        csv.writer(out, delimiter=dice.choice(",,,,,;\t")).writerows(rows)
        return out.getvalue().encode("utf-8", errors="surrogatepass")

    return spoil


def _cell(rows: list[list[str]], dice: Dice) -> None:
    row = dice.choice(rows[1:] or rows)
    row[dice.randrange(len(row))] = dice.choice(CELLS)


def _two_cells(rows: list[list[str]], dice: Dice) -> None:
    _cell(rows, dice)
    _cell(rows, dice)


def _column_of(rows: list[list[str]], dice: Dice) -> None:
    place, value = dice.randrange(len(rows[0])), dice.choice(CELLS)
    for row in rows[1:]:
        row[place : place + 1] = [value]


def _header(rows: list[list[str]], dice: Dice) -> None:
    rows[0][dice.randrange(len(rows[0]))] = dice.choice((*CELLS, *rows[0]))


def _missing_column(rows: list[list[str]], dice: Dice) -> None:
    place = dice.randrange(len(rows[0]))
    for row in rows:
        del row[place : place + 1]
    rows[:] = [row or [""] for row in rows]


def _doubled_column(rows: list[list[str]], dice: Dice) -> None:
    place = dice.randrange(len(rows[0]))
    for row in rows:
        row.extend(row[place : place + 1])


def _another_length(rows: list[list[str]], dice: Dice) -> None:
    row = dice.choice(rows)
    if dice.randrange(2):
        row.append(dice.choice(CELLS))
    else:
        row.pop()
        rows[:] = [one or [""] for one in rows]


def _toml_value(content: bytes, dice: Dice) -> bytes:
    """Another value for a field of TOML; of a table, another cell."""
    lines = content.split(b"\n")
    fields = [number for number, line in enumerate(lines) if b" = " in line]
    if not fields:
        return WAYS["a cell"](content, dice)
    at = dice.choice(fields)
    field = lines[at].partition(b" = ")[0]
    lines[at] = field + b" = " + dice.choice(VALUES).encode()
    return b"\n".join(lines)


def _toml_heads(content: bytes, dice: Dice) -> bytes:
    heads = (
        "[bed]",
        "[[bed]]",
        "[[garden]]",
        "[garden]",
        "[[no_such]]",
        "[a.b]",
        "[[planting]]",
        "bed = 1",
        "[[",
    )
    lines = content.split(b"\n")
    lines.insert(_at(content, dice) % len(lines), dice.choice(heads).encode())
    return b"\n".join(lines)


def _zip(content: bytes, dice: Dice) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as zipped:
        zipped.writestr("entries.csv", content[: 50_000 + dice.randrange(9)])
    return packed.getvalue()


def _long_line(content: bytes, dice: Dice) -> bytes:
    at = dice.choice((0, _at(content, dice), len(content)))
    return content[:at] + dice.choice((b"x", b",", b"1", b'"', b"[", b" ")) * LONG_B + content[at:]


def _many_lines(content: bytes, dice: Dice) -> bytes:
    line = dice.choice(content.splitlines(keepends=True) or [b"\n"])
    return content + line * (2_000_000 // max(1, len(line)))


WAYS: Mapping[str, Spoiler] = {
    "a byte-order mark": lambda content, _: b"\xef\xbb\xbf" + content,
    "a byte-order mark inside": _insert(b"\xef\xbb\xbf"),
    "NUL": _insert(b"\0"),
    "no UTF-8": _insert(b"\xff\xfe\xc0"),
    "half a letter": _insert(b"\xed\xa0\x80"),
    "a quote": _insert(b'"'),
    "UTF-16": lambda content, _: content.decode("utf-8", errors="replace").encode("utf-16"),
    "UTF-16 without a mark": lambda content, _: content.decode("utf-8", "replace").encode(
        "utf-16-le"
    ),
    "mixed newlines": _mixed_newlines,
    "comma decimals": _comma_decimals,
    "mixed date orders": _mixed_dates,
    "cut short": lambda content, dice: content[: _at(content, dice)],
    "a byte flipped": _flip,
    "bytes flipped": _flip_some,
    "a line missing": _lines(lambda lines, at, _: lines.pop(at)),
    "a line twice": _lines(lambda lines, at, _: lines.insert(at, lines[at])),
    "lines swapped": _lines(_swap_lines),
    "the first line alone": _lines(_first_alone),
    "empty": lambda _content, _dice: b"",
    "a cell": _table(_cell),
    "a cell again": _table(_cell),
    "two cells": _table(_two_cells),
    "a column of one value": _table(_column_of),
    "a header": _table(_header),
    "a missing column": _table(_missing_column),
    "a doubled column": _table(_doubled_column),
    "a row of another length": _table(_another_length),
    "a value": _toml_value,
    "another value": _toml_value,
    "a third value": _toml_value,
    "a table": _toml_heads,
}

LARGE: Mapping[str, Spoiler] = {
    "a zip": _zip,
    "a line of 10 MB": _long_line,
    "two million bytes of one line": _many_lines,
}


def misplaced(path: Path, dice: Dice) -> str:
    """Put something else in a file's place: nothing, a folder, a pipe, a link; says what."""
    content = path.read_bytes()
    path.unlink()
    way = dice.choice(
        ("gone", "a folder", "a pipe", "a link", "a device", "a link to itself", "53 MB")
    )
    match way:
        case "a folder":
            path.mkdir()
        case "a pipe":
            os.mkfifo(path)
        case "a link":
            outside = path.parent.with_name("outside.csv")
            outside.write_bytes(content)
            path.symlink_to(outside)
        case "a device":
            path.symlink_to("/dev/zero")
        case "a link to itself":
            path.symlink_to(path)
        case "53 MB":  # of nothing: it takes no room on the disk
            with path.open("wb") as file:
                file.truncate(53_000_000)
    return way
