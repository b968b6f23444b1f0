"""`book import`: a folder that `book export` wrote becomes a book again, or its book learns what it did not know.

All of it or nothing. The folder is not trusted: every record and entry goes through the door, and whatever refers to
something has to find it. A dry run is a real one into a copy that is thrown away.
"""

from collections.abc import Iterator, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from soakbook.errors import InputError
from soakbook.quantities.saying import names
from soakbook.services.addresses import shown
from soakbook.services.folder.bringing_entries import bring_entries
from soakbook.services.folder.bringing_records import bring_garden
from soakbook.services.folder.bringing_weather import bring_asked, bring_weather
from soakbook.services.folder.brought import Brought, Differing
from soakbook.services.folder.garden_text import NAME, Placed, read_garden_text
from soakbook.services.folder.reading import check_folder, read_text
from soakbook.services.told import Report, told
from soakbook.store.book import begin, open_book
from soakbook.store.book_file import BookFile
from soakbook.store.bringing import copy_aside
from soakbook.store.placing import check_free

Tables = dict[str, list[Placed]]


def bring_back(path: Path, folder: Path, *, new: bool = False, dry_run: bool = False) -> Report:
    """Take in a folder: what the book does not know is added, nothing is removed.

    A lasting record that is another in the folder holds as it was changed last, by the log of changes.

    Parameters
    ----------
    path : Path
        The book.
    folder : Path
        As `exporting.export` wrote it.
    new : bool
        Begin a new book of it, where none lies yet; else the folder is of the book's own garden.
    dry_run : bool
        Say what would change, and write nothing.

    Raises
    ------
    InputError
        Anything in the folder that cannot be right, or one of another garden, or one without people's names
        where the book has them; then nothing of it is taken.
    BookError
        The book cannot be written; with `new`, something lies there already.
    """
    if new:
        check_free(path)
    check_folder(folder)
    tables = read_garden_text(read_text(folder, NAME), unnamed_allowed=new)
    if new:
        brought = _begun(path, folder, tables, dry_run=dry_run)
    elif dry_run:
        with TemporaryDirectory() as aside:
            copy = Path(aside) / "copy.book"
            with open_book(path, read_only=True) as book:
                _check_same(book, tables)
                copy_aside(book, copy)
            with open_book(copy) as book:
                brought = _bring(book, folder, tables)
    else:
        with open_book(path) as book:
            brought = _bring(book, folder, tables)
    return _answer(path, tables, brought, new=new, dry_run=dry_run)


def _begun(path: Path, folder: Path, tables: Tables, *, dry_run: bool) -> Brought:
    told_of: list[Brought] = []

    def fill(book: BookFile) -> None:
        told_of.append(_bring(book, folder, tables))

    uid = tables["garden"][0].what.uid
    if dry_run:
        with TemporaryDirectory() as aside:
            begin(Path(aside) / "copy.book", uid, fill).close()
    else:
        begin(path, uid, fill).close()
    return told_of[0]


def _bring(book: BookFile, folder: Path, tables: Tables) -> Brought:
    with book.writing():
        _check_same(book, tables)
        brought = Brought()
        bring_garden(book, tables, brought)
        bring_entries(book, folder, brought)
        bring_weather(book, folder, brought)
        bring_asked(book, folder, brought)
    return brought


def _check_same(book: BookFile, tables: Tables) -> None:
    garden = tables["garden"][0].what
    if garden.uid != book.uid:
        raise InputError(
            "folder",
            garden.name,
            "the garden of this book; --new begins a book of its own, at a --book where none lies yet",
        )


def _answer(path: Path, tables: Tables, brought: Brought, *, new: bool, dry_run: bool) -> Report:
    garden = tables["garden"][0].what
    begun = "would begin" if dry_run else "lies"
    added = {name: count for name, count in brought.added.items() if count}
    listed = names([f"{count:,} {_CALLED[name][count > 1]}" for name, count in added.items()])
    would = "would be" if dry_run else "was" if sum(added.values()) == 1 else "were"
    say = [
        f"The book of {garden.name} {begun} at {path}." if new else "",
        f"{listed} {would} added."
        if added
        else "The book knew everything in the folder: nothing was added.",
    ]
    say += _differing(brought.differing, "would hold" if dry_run else "holds")
    say.append(_read_again(brought))
    say.append("This was a dry run: nothing was written." if dry_run else "")
    changed = {
        "path": str(path),
        "uid": garden.uid,
        "new": new,
        "dry_run": dry_run,
        "added": brought.added,
        "differing": [
            {"what": one.what, "uid": one.uid, "name": one.called, "holds": one.holds}
            for one in brought.differing
        ],
    }
    return told("import", None, say, changed)


def _differing(differing: Sequence[Differing], holds: str) -> Iterator[str]:
    """What is said of what book and folder have differently."""
    entries = [one for one in differing if one.what == "entry"]
    for one in differing:
        if one.what != "entry":
            where = "the folder, where it was changed last" if one.holds == "folder" else "the book"
            yield f"{one.called} is not the same in book and folder: it {holds} as in {where}."
    if entries:
        more = f" and {len(entries) - 1:,} more" if len(entries) > 1 else ""
        yield (
            f"{entries[0].called}{more} is not as the book has it: an entry is never changed, "
            f"and the book's {holds}."
        )


def _read_again(brought: Brought) -> str:
    """From where the book takes weather from now on: a stranger's folder may name any place."""
    if not brought.read_again:
        return ""
    places = names([f"{name}, from {shown(place)}" for name, place in brought.read_again.items()])
    return f"soakbook weather reads again from now on: {places}."


_CALLED = {
    "records": ("lasting record", "lasting records"),
    "weather_files": ("remembered file", "remembered files"),
    "changes": ("line of the log", "lines of the log"),
    "entries": ("entry", "entries"),
    "weather": ("value of weather", "values of weather"),
    "forecasts": ("day of a forecast", "days of forecasts"),
    "promises": ("promise", "promises"),
    "rain_hours": ("day of rain by the hour", "days of rain by the hour"),
    "asked": ("asking for weather", "askings for weather"),
}
"""What each count in `Brought.added` counts: one, and many."""
