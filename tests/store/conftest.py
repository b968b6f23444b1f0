"""A new book in a folder of its own, with a bed, a planting and a tap in it."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from soakbook.garden.records import Bed, Garden, Planting, Tap
from soakbook.store.book import create
from soakbook.store.book_file import BookFile
from soakbook.store.garden_rows import add_record

LONDON = ZoneInfo("Europe/London")
MORNING = datetime(2031, 5, 14, 7, 40, tzinfo=LONDON)


class _UndoError(Exception):
    """Takes back what a test has written."""


@pytest.fixture(scope="session")
def morning() -> datetime:
    """When things are written."""
    return MORNING


@pytest.fixture(scope="session")
def garden() -> Garden:
    """The garden that the books keep."""
    return Garden("garden-1", "The Corrody", 52.3, -0.4, 62, "Europe/London")


@pytest.fixture(scope="session")
def bed() -> Bed:
    """A bed at tap A."""
    return Bed("bed-1", "chapel", "Chapel Wall", 18, tap="A")


@pytest.fixture(scope="session")
def planting(bed: Bed) -> Planting:
    """Six roses in the bed."""
    return Planting("planting-1", bed.uid, "roses", "shrub", 6, "pot", date(2031, 3, 20), 7.5, 0.25)


def _fill(book: BookFile, bed: Bed, planting: Planting) -> None:
    for record in (Tap("tap-1", "A"), bed, planting):
        add_record(book, record, at=MORNING)


@pytest.fixture
def book(tmp_path: Path, garden: Garden, bed: Bed, planting: Planting) -> Iterator[BookFile]:
    """A book of a test's own."""
    with create(tmp_path / "garden.book", garden, at=MORNING, by="Ann") as made:
        _fill(made, bed, planting)
        yield made


@pytest.fixture(scope="module")
def shared_book(
    tmp_path_factory: pytest.TempPathFactory, garden: Garden, bed: Bed, planting: Planting
) -> Iterator[BookFile]:
    """A book for properties: every example undoes what it wrote."""
    path = tmp_path_factory.mktemp("shared") / "garden.book"
    with create(path, garden, at=MORNING) as made:
        _fill(made, bed, planting)
        yield made


@pytest.fixture(scope="session")
def undone() -> Callable[[BookFile], AbstractContextManager[None]]:
    """A block whose writing is taken back at its end."""

    @contextmanager
    def block(book: BookFile) -> Iterator[None]:
        with suppress(_UndoError), book.writing():
            yield
            raise _UndoError

    return block
