"""Good files of every kind that a gardener brings, spoiled, and the command that brings them.

A folder of `book export`, files of weather, lists of plantings and beds, and books. Which is spoiled, and how, follows
from one number, so that each can be laid again.
"""

import csv
import io
import random
import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from soakbook.services.exporting import export
from soakbook.services.folder.columns import SHEETS
from tests.cli.spoilers import misplaced, spoiled_bytes, spoiled_text
from tests.store.old_books import OLD, old_book

SEEDS = 2**32
"""So many different ones."""

CAME = {
    "arrival": "100", "source": "the hill", "kind": "forecast", "issued_at": "2031-05-14T06:00:00+00:00",
    "fetched_at": "2031-05-14T06:10:00+00:00",
}  # fmt: skip
HOURS = " ".join(["0.0"] * 20 + ["1.5"] * 4)
MORE: Mapping[str, Mapping[str, str]] = {
    "forecasts.csv": {
        **CAME, "day": "2031-05-15", "rain_mm": "6.0", "et0_mm": "3.1", "tmin_c": "8.0", "tmax_c": "21.0",
        "rain_by_hour_mm": HOURS, "rain_members_mm": "0.0 6.0 9.0", "et0_members_mm": "3.0 3.1 3.2",
    },
    "promises.csv": {
        **CAME, "issued_on": "2031-05-14", "lead_days": "1", "share": "0.7", "middle_mm": "6.0",
    },
    "rain_hours.csv": {
        **CAME, "arrival": "101", "kind": "measured", "issued_at": "", "day": "2031-05-13", "numbers": HOURS,
    },
    "asked.csv": {"service": "the hill", "what": "forecast", "at": "2031-05-14T06:10:00+00:00", "came": "new"},
}  # fmt: skip
"""A row for each file of which the garden's own book has none."""

WEATHER: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "days.csv": (
        "date,tmin_c,tmax_c,rain_mm,wind_2m_m_per_s\n"
        + "".join(f"2031-05-{day:02},8.5,21.0,{day % 3}.2,1.5\n" for day in range(1, 15)),
        (),
    ),
    "comma.csv": (
        "Datum;High;Low;Precip\n"
        + "".join(f"{day}.4.2031;21,5;8,5;{day % 3},2\n" for day in range(14, 29)),
        (
            "--comma", "--dates", "dmy", "--column", "date=Datum", "--column", "tmax=High:C", "--column", "tmin=Low:C",
            "--column", "rain=Precip:mm",
        ),
    ),
    "hours.csv": (
        "time,temp_c,rain_mm,radiation_w/m2\n"
        + "".join(
            f"2031-05-{day:02} {hour:02}:00,{12 + hour / 4},0.1,{hour * 20}\n"
            for day in (11, 12, 13)
            for hour in range(24)
        ),
        ("--clock", "local"),
    ),
}  # fmt: skip

LISTS: Mapping[str, tuple[str, str]] = {
    "plan.csv": (
        "plant",
        "bed,plant,how many,size,planted on,spacing\n"
        "chapel,clematis,2,5 l pot,6 may 2031,60 cm\n"
        "dole,perennial,12,2 l pot,2031-05-07,35 cm\n"
        "dole,dug shrub rose,1,ball 30 cm,7 may 2031,80 cm\n",
    ),
    "both.csv": (
        "plant",
        "bed;plant;count;pot (l);on;area (m2);soil\n"
        "long;lavender;10;2;6 may 2031;12.5;sandy loam\n"
        "ride;perennial;5;3;6 may 2031;9;clay\n",
    ),
    "beds.csv": (
        "bed",
        "bed,name,area,soil,place,tap,slope\n"
        "long,Long Walk,12.5 m2,sandy loam,open,A,5%\n"
        "ride,Orchard Ride,40 m2,clay,under trees,A,0%\n",
    ),
}

READS = (
    ["round"],
    ["why", "chapel"],
    ["book", "check"],
    ["book", "log"],
    ["bed"],
    ["weather", "--offline"],
)
WRITES = (
    ["soak", "chapel", "17l"], ["book", "undo"], ["bed", "chapel", "--right"], ["book", "copy", "copy.book"],
    ["book", "export", "out"], ["book", "amend", "last", "20l"], ["loss", "dole", "shrub rose", "1", "drowned"],
    ["feel", "chapel", "--ball", "dry", "--bed", "moist"],
)  # fmt: skip


class Good(NamedTuple):
    """Everything before it is spoiled."""

    folder: Mapping[str, bytes]
    books: tuple[bytes, ...]
    """Of the newest version and of every old one."""


class Laid(NamedTuple):
    """A spoiled file on the disk, and the words that bring it."""

    kind: str
    words: list[str]
    how: str


def good(template: Path, folder: Path) -> Good:
    """What is spoiled: of a book, with a folder to work in."""
    came = folder / "came"
    export(template, came)
    files = {one.name: one.read_bytes() for one in came.iterdir()}
    shutil.rmtree(came)
    for sheet in SHEETS:
        if row := MORE.get(f"{sheet.name}.csv"):
            text = io.StringIO(newline="")
            csv.DictWriter(text, [column.name for column in sheet.columns]).writerow(row)
            files[f"{sheet.name}.csv"] += text.getvalue().encode()
    old = [old_book(folder / f"version {version}.book", version) for version in OLD]
    return Good(files, tuple(one.read_bytes() for one in (template, *old)))


def laid(number: int, good: Good, folder: Path) -> Laid:
    """Lay a spoiled file in a folder: the same for the same number."""
    dice = random.Random(number)
    lay = dice.choice((_folder, _folder, _folder, _weather, _weather, _list, _list, _book))
    return lay(good, folder, dice)


def _folder(good: Good, folder: Path, dice: random.Random) -> Laid:
    there = folder / "came"
    there.mkdir()
    for name, content in good.folder.items():
        (there / name).write_bytes(content)
    names = sorted(name for name in good.folder if name != "README.txt")
    name = dice.choice((*names, "garden.toml", "garden.toml", "entries.csv", "weather.csv"))
    how = dice.randrange(20)
    if how == 0:
        name, said = "", f"{name} is {misplaced(there / name, dice)}"
    elif how == 1:
        name, said = "", _otherwise(there, dice)
    else:
        content, said = spoiled_text(good.folder[name], dice)
        (there / name).write_bytes(content)
    more = dice.choice(([], [], ["--dry-run"], ["--new", "--book", str(folder / "other.book")]))
    return Laid("folder", ["book", "import", str(there), *more], f"{name}: {said}".lstrip(": "))


def _otherwise(there: Path, dice: random.Random) -> str:
    """Something else about a folder: its name leads elsewhere, or there is more in it."""
    how = dice.choice(
        ("a file", "none", "a zip", "a link", "a further part", "a part too far", "another file")
    )
    entries = (there / "entries.csv").read_bytes()
    match how:
        case "a file" | "a zip" | "none":
            shutil.rmtree(there)
            if how != "none":
                there.write_bytes(b"PK\x03\x04zip" if how == "a zip" else entries)
        case "a link":
            there.rename(there.with_name("elsewhere"))
            there.symlink_to(there.with_name("elsewhere"))
        case "a further part":
            (there / "entries-2.csv").write_bytes(entries)
        case "a part too far":
            (there / "entries-7.csv").write_bytes(entries)
        case _:
            (there / "x.exe").write_bytes(b"MZ")
    return f"the folder is {how}"


def _weather(good: Good, folder: Path, dice: random.Random) -> Laid:
    del good
    name = dice.choice(sorted(WEATHER))
    text, options = WEATHER[name]
    how = _lay(folder / name, text, dice)
    said = dice.choice((options, options, options, (*options, "--gaps"), ()))
    return Laid("weather", ["weather", name, *said], f"{name}: {how}")


def _list(good: Good, folder: Path, dice: random.Random) -> Laid:
    del good
    name = dice.choice(sorted(LISTS))
    command, text = LISTS[name]
    how = _lay(folder / name, text, dice)
    more = dice.choice(([], [], ["--dry-run"], ["--again"] if command == "plant" else []))
    return Laid("list", [command, "--from", name, *more], f"{name}: {how}")


def _book(good: Good, folder: Path, dice: random.Random) -> Laid:
    there = folder / "spoiled.book"
    content, how = spoiled_bytes(dice.choice((good.books[0], *good.books)), dice)
    there.write_bytes(content)
    if not dice.randrange(20):
        how += f", and {misplaced(there, dice)}"
    elif not dice.randrange(20):
        there.with_name("spoiled.book-wal").write_bytes(dice.randbytes(5000))
        how += ", with a log of something else"
    words = dice.choice((*READS, *WRITES))
    return Laid("book", [*words, "--book", str(there)], how)


def _lay(path: Path, text: str, dice: random.Random) -> str:
    content, how = spoiled_text(text.encode(), dice)
    path.write_bytes(content)
    return misplaced(path, dice) if not dice.randrange(25) else how
