"""Checking a proof: its digest against its data, the page against the data, and the data against the book.

A digest that does not fit shows that a file was changed. Who wrote it, and whether it is true, none can show: anybody
can make data and a digest that fit each other. So the book is asked as well, where there is one.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any, Literal, NamedTuple

from soakbook.account.canonical import digest_of
from soakbook.account.proof import proof_report
from soakbook.account.proof_files import Carried, Kind, carried_by, made_anew
from soakbook.account.proof_findings import DIGEST_SHOWS
from soakbook.account.proof_record import DIGEST
from soakbook.errors import InputError
from soakbook.quantities.saying import counted
from soakbook.services.books import reading
from soakbook.store.pages import read_pages
from soakbook.version import __version__

VERIFIED_SCHEMA = "soakbook.verified/1"
NAMED = 5
"""So many differences are named, the first ones; the rest are counted."""

LONGEST_SHOWN = 80

NOT_COMPARED = frozenset({DIGEST, "made_with"})
"""Keys of a proof that may differ though the book says the same."""

BookSays = Literal["same", "different", "another_garden", "not_asked"]
Report = Mapping[str, Any]


class Verified(NamedTuple):
    """What came of checking a file."""

    schema: str
    file: str
    kind: Kind
    verified: bool
    sha256: str
    sha256_of_data: str
    page_as_data: bool | None
    made_with: str
    book: BookSays
    differences: tuple[str, ...]
    say: tuple[str, ...]


def verify(path: Path, book: Path, *, asked_for: bool) -> Verified:
    """What comes of checking a proof.

    Parameters
    ----------
    path : Path
        The file: JSON, HTML or PDF.
    book : Path
        The book to hold it against.
    asked_for : bool
        Whether that book was named. One that was not may be missing, or be of another garden.

    Raises
    ------
    BookError
        The file cannot be read, or the book that was named cannot.
    InputError
        The file is no proof, or a library that sets or reads it is not installed.
    """
    carried = carried_by(path)
    report = carried.report
    anew = digest_of(dict(report), DIGEST)
    page = _page_as_data(carried)
    says, differences = _held_against(report, book, asked_for=asked_for)
    right = anew == report[DIGEST]
    verified = (
        right
        and page is not False
        and (says in {"same", "not_asked"} or (says == "another_garden" and not asked_for))
    )
    say = (
        _of_digest(right),
        *_of_page(carried, page),
        *_of_book(says, differences, book),
        DIGEST_SHOWS,
    )
    return Verified(
        schema=VERIFIED_SCHEMA,
        file=str(path),
        kind=carried.kind,
        verified=verified,
        sha256=report[DIGEST],
        sha256_of_data=anew,
        page_as_data=page,
        made_with=report["made_with"],
        book=says,
        differences=differences,
        say=say,
    )


def differences_between(there: Report, here: Report) -> tuple[str, ...]:
    """Where two proofs say different things: the first few places, each with both values, then how many more.

    Parameters
    ----------
    there, here : mapping
        What the file says, and what the book says.
    """
    found = list(_differences(there, here, ()))
    more = [f"and {counted(len(found) - NAMED, 'place')} more"] if len(found) > NAMED else []
    return tuple(found[:NAMED] + more)


def _page_as_data(carried: Carried) -> bool | None:
    anew = made_anew(carried)
    return None if anew is None else anew == carried.content


def _held_against(
    report: Report, book: Path, *, asked_for: bool
) -> tuple[BookSays, tuple[str, ...]]:
    if not asked_for and not book.is_file():
        return "not_asked", ()
    with reading(book) as opened:
        pages = read_pages(opened)
    if pages.garden.uid != report["garden"]["uid"]:
        return "another_garden", ()
    span = report["span"]
    first, last = date.fromisoformat(span["first"]), date.fromisoformat(span["last"])
    try:
        here = proof_report(pages, first, last)
    except InputError as error:
        return "different", (str(error),)
    found = differences_between(report, here)
    return ("different" if found else "same"), found


def _differences(there: Any, here: Any, way: tuple[str, ...]) -> Iterator[str]:
    """Every place at which two values differ, in the file's order."""
    if isinstance(there, Mapping) and isinstance(here, Mapping):
        for key in dict.fromkeys([*there, *here]):
            if way or key not in NOT_COMPARED:
                yield from _differences(there.get(key), here.get(key), (*way, key))
    elif isinstance(there, list | tuple) and isinstance(here, list | tuple):
        theirs, ours = _by_name(there), _by_name(here)
        for name in dict.fromkeys([*theirs, *ours]):
            yield from _differences(theirs.get(name), ours.get(name), (*way, name))
        if list(theirs) != list(ours) and theirs.keys() == ours.keys():
            yield f"{', '.join(way)}: in another order than in the book"
    elif there != here:
        yield f"{', '.join(way)}: {_shown(there)} in the file, {_shown(here)} in the book"


def _by_name(items: Sequence[Any]) -> dict[str, Any]:
    """The items of a list by what they are called; of two that are called the same the second is `NAME again`."""
    found: dict[str, Any] = {}
    for number, one in enumerate(items):
        name = _named(one, number)
        while name in found:  # else one that is doubled in a file would hide behind the other
            name += " again"
        found[name] = one
    return found


def _named(one: Any, number: int) -> str:
    """What an item of a list is called: by its day, bed, person or source where it has one."""
    if not isinstance(one, Mapping):
        return f"number {number + 1}"
    if "visits" in one and "day" in one:
        return str(one["day"])
    told = [
        str(one[key])
        for key in ("first", "bed", "at", "by", "source", "what", "kind")
        if one.get(key)
    ]
    return _on_one_line(" ".join(told)) or f"number {number + 1}"


def _shown(value: Any) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping | list | tuple):
        return "something"
    return f"{value:g}" if isinstance(value, float) else _on_one_line(str(value))


def _on_one_line(text: str) -> str:
    """A text out of a file, so that it cannot be taken for a line of ours: without line breaks, and not long."""
    line = " ".join(text.split())
    return line if len(line) <= LONGEST_SHOWN else f"{line[:LONGEST_SHOWN]}..."


def _of_digest(right: bool) -> str:
    if right:
        return "The data are those of which the digest was made."
    return "CHANGED: the data are not those of which the digest was made."


def _of_page(carried: Carried, page: bool | None) -> tuple[str, ...]:
    if page is None:
        return ()
    what = "page" if carried.kind == "html" else "PDF"
    made_with, here = _on_one_line(carried.report["made_with"]), f"soakbook {__version__}"
    if page:
        return (f"The {what} is to the last byte what is set from the data.",)
    if made_with != here:
        return (
            f"NOT CHECKED: the {what} says it was made with {made_with}; this is {here}, which sets it otherwise. "
            "Believe the data, not what it shows.",
        )
    return (f"CHANGED: the {what} is not what is set from the data it carries.",)


def _of_book(says: BookSays, differences: tuple[str, ...], book: Path) -> tuple[str, ...]:
    if says == "same":
        return (f"The book says the same for these days ({book}).",)
    if says == "not_asked":
        return ("It was held against no book: --book PATH names one.",)
    if says == "another_garden":
        return (f"It was not held against the book: {book} is of another garden.",)
    return (f"The book says otherwise for these days ({book}):", *differences)
