"""Where the book lies, opening it to read, and beginning one."""

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from soakbook.store.book import create, new_uid, open_book
from soakbook.store.book_file import BookFile
from soakbook.store.places import default_book, from_home
from soakbook.store.placing import check_free

if TYPE_CHECKING:
    from soakbook.garden.records import Person
    from soakbook.services.told import Report

__all__ = ["check_free", "from_home", "names_in", "new", "reading", "where"]

SPECIMEN = Path(__file__).parent.parent / "specimen" / "corrody.book"
"""The book of the invented garden that ships in the package."""

USUAL = ("hours_by_default", "readiness", "can_l", "gallon")
"""Fields of a garden that are as usual where nobody says them."""


def where(named: str | None, specimen: bool) -> Path:
    """The path of the book that is meant.

    Parameters
    ----------
    named : str or None
        As the command line or the environment says.
    specimen : bool
        Whether the specimen garden is meant; then nothing else counts.
    """
    if specimen:
        return SPECIMEN
    return from_home(named) if named else default_book()


@contextmanager
def reading(path: Path) -> Iterator[BookFile]:
    """The book, open to read, all of it of one moment; that of the specimen garden never changes."""
    with open_book(path, read_only=True, immutable=path == SPECIMEN) as book, book.reading():
        yield book


class Names(NamedTuple):
    """What a garden calls its own, each with what tells it apart."""

    beds: tuple[tuple[str, str], ...]
    """Key and name."""
    plantings: tuple[tuple[str, str], ...]
    """Name, and the key of its bed."""
    people: tuple[tuple[str, str], ...]
    """Name, and nothing."""


def names_in(path: Path) -> Names:
    """The names in a book.

    Raises
    ------
    BookError
        The book cannot be opened.
    """
    from soakbook.garden.records import Bed, Person, Planting
    from soakbook.store.garden_rows import read_records

    with reading(path) as book:
        beds = {bed.uid: bed for bed in read_records(book, Bed)}
        plantings, people = read_records(book, Planting), read_records(book, Person)
    return Names(
        tuple((bed.key, bed.name) for bed in beds.values()),
        tuple((one.name, beds[one.bed_uid].key) for one in plantings),
        tuple((one.name, "") for one in people),
    )


def new(
    path: Path,
    *,
    now: datetime,
    by: str | None = None,
    waters: str | None = None,
    weekdays: frozenset[int] | None = None,
    looked_up: Collection[str] = (),
    **said: object,
) -> "Report":
    """Begin the book of a garden, with somebody who waters if one is named.

    Parameters
    ----------
    path : Path
        Where the book is to lie.
    now : datetime
        Zone-aware.
    by : str, optional
        Who begins it.
    waters : str, optional
        Who waters.
    weekdays : frozenset of int, optional
        On which days they come, Monday as 0; else on every day.
    looked_up : collection of str, optional
        Fields that a weather service told and nobody has confirmed.
    **said
        Other fields of `Garden`: name, latitude_deg, longitude_deg, elevation_m, timezone, and where
        they differ from the usual round_hour, hours_by_default, readiness, can_l, gallon.

    Raises
    ------
    InputError
        A field that cannot be right.
    BookError
        Something lies there already, or nothing can be written there.
    """
    from soakbook.garden.door import admit
    from soakbook.garden.records import Garden
    from soakbook.services.begun import begun

    garden = admit(Garden, uid=new_uid(), **said)
    people = [] if waters is None else [_person(waters, weekdays, garden.hours_by_default)]
    folder = path.parent.resolve()
    made = None if folder.is_dir() else folder
    create(path, garden, people, at=now, by=by).close()
    unsaid = {name for name in USUAL if name not in said} | set(looked_up)
    return begun(path, garden, people, today=now.date(), made=made, unsaid=unsaid)


def _person(name: str, weekdays: frozenset[int] | None, hours: float) -> "Person":
    from soakbook.garden.door import admit
    from soakbook.garden.records import Person

    days = {} if weekdays is None else {"weekdays": weekdays}
    return admit(Person, uid=new_uid(), name=name, hours=hours, **days)
