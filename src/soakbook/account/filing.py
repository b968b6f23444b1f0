"""An account as files: its documents and its tables, all made before the first of them is written."""

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from soakbook.account.document import document_of, html_of, pdf_of
from soakbook.account.documents.missing import check_there
from soakbook.account.documents.placing import check_place, place_of, write_file
from soakbook.account.export import PYARROW, export_frames
from soakbook.account.reviewed import Account
from soakbook.account.ways import Way
from soakbook.errors import InputError
from soakbook.services.folder.writing import check_new_folder

NEEDED = {
    "html": (("matplotlib", "Matplotlib, which draws the pictures"), ("jinja2", "Jinja2, which sets pages")),
    "pdf": (("matplotlib", "Matplotlib, which draws the pictures"), ("typst", "typst, which sets PDFs")),
}  # fmt: skip
"""Libraries of the extra reports, by document."""


class Wanted(NamedTuple):
    """Files and folders that are to be written, if any, as absolute paths."""

    html: Path | None = None
    pdf: Path | None = None
    csv: Path | None = None
    parquet: Path | None = None
    force: bool = False
    """Whether files may be written over; folders never are."""

    @property
    def documents(self) -> dict[str, Path]:
        """The documents among them."""
        return {name: one for name, one in (("html", self.html), ("pdf", self.pdf)) if one}

    @property
    def folders(self) -> dict[str, Path]:
        """The folders among them."""
        return {name: one for name, one in (("csv", self.csv), ("parquet", self.parquet)) if one}


def check_wanted(wanted: Wanted, book: Path) -> None:
    """Refuse what could not be written, before it is reckoned.

    Parameters
    ----------
    wanted : Wanted
    book : Path
        Where the book lies, which is written over by nothing.

    Raises
    ------
    InputError
        A place is taken or is no place, two are one, or an extra is missing.
    BookError
        The disk has no file of such a name.
    """
    taken: dict[str, str] = {}
    for field, path in {**wanted.documents, **wanted.folders}.items():
        place = place_of(path)
        if place in taken:
            raise InputError(field, str(path), f"another place than that of --{taken[place]}")
        taken[place] = field
    for field, path in wanted.documents.items():
        check_place(field, path, book, force=wanted.force)
        for module, what in NEEDED[field]:
            check_there(module, "reports", what)
    for field, path in wanted.folders.items():
        if "\0" in str(path) or not path.name:
            raise InputError(field, str(path), "a folder")
        check_new_folder(path.absolute(), field)
    if wanted.parquet is not None:
        check_there("pyarrow", "parquet", PYARROW)


def write_wanted(
    account: Account, ways: tuple[Way, ...] | None, wanted: Wanted
) -> tuple[Path, ...]:
    """Write what is wanted of an account; where it lies now.

    Parameters
    ----------
    account : Account
    ways : tuple of Way or None
        For the documents' page "What if".
    wanted : Wanted

    Raises
    ------
    InputError
        Something came into the way, or an extra is missing.
    BookError
        Something cannot be written.
    """
    made = list(_made(account, ways, wanted))
    for form, folder in (("csv", wanted.csv), ("parquet", wanted.parquet)):
        if folder is not None:
            export_frames(account, folder, "csv" if form == "csv" else "parquet", ways)
    for path, content in made:
        write_file(path, content, force=wanted.force)
    return (*(path for path, _ in made), *wanted.folders.values())


def _made(
    account: Account, ways: tuple[Way, ...] | None, wanted: Wanted
) -> Iterator[tuple[Path, bytes]]:
    if not wanted.documents:
        return
    document = document_of(account, ways)
    if wanted.html is not None:
        yield wanted.html, html_of(document)
    if wanted.pdf is not None:
        yield wanted.pdf, pdf_of(document)
