"""A whole copy of a book in one plain file."""

from pathlib import Path

from soakbook.errors import BookError
from soakbook.store.book_file import BookFile
from soakbook.store.refusals import plain_errors


def copy_to(book: BookFile, target: Path) -> None:
    """Write a copy of a book as it stands, with no journal beside it and no empty pages in it.

    Raises
    ------
    BookError
        When something is at `target` already, or nothing can be written there.
    """
    if target.exists():
        raise BookError(f"{target}: there is a file already; copy to a new name")
    with plain_errors(target):
        book.connection.execute("VACUUM INTO ?", (str(target),))
