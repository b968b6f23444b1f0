"""Every entry that was ever written, with its handle, and what became of it."""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple, TypeVar

from soakbook.errors import InputError
from soakbook.garden.entries import AnyEntry, Kept, Loss, Void
from soakbook.garden.pages import Pages
from soakbook.garden.records import Uid
from soakbook.garden.tables.causes import ELSEWHERE
from soakbook.services.entry_words import at_a_time, time_words
from soakbook.store.book_file import BookFile
from soakbook.store.entry_rows import entries_written

K = TypeVar("K", bound=Kept)

LAST = "last"
LEAST_LETTERS = 4
LISTED = 5


NO_ENTRY = (
    "a book with an entry in it: there is none yet. Beds and plants have commands of their own"
)


class History(NamedTuple):
    """The entries of a book in the order they were written; the pages are those of the same moment."""

    pages: Pages
    written: tuple[Kept, ...]
    handles: Mapping[Uid, str]
    by_uid: Mapping[Uid, Kept]
    later: Mapping[Uid, Kept]
    """Uid -> the entry that supersedes it."""

    def named(self, word: str) -> Kept:
        """The entry that a handle means, and that nothing supersedes.

        Raises
        ------
        InputError
            No such entry, several, or one that is out of force: the one that stands instead is named.
        """
        entry = self._meant(word)
        if entry.uid not in self.later:
            return entry
        last = entry
        while last.uid in self.later:
            last = self.later[last.uid]
        what = "taken back" if isinstance(last, Void) else "corrected"
        right = (
            f"{self.handles[last.uid]}: {self.handles[entry.uid]} was {what} by that on "
            f"{time_words(last.written_at, self.pages)}"
        )
        raise InputError("handle", word, right)

    def last_sitting(self, by: str | None) -> tuple[Kept, ...]:
        """What was written last, all of one sitting, and that nothing supersedes; by somebody, or by anyone.

        A taking back counts as written: undone, it brings back.

        Raises
        ------
        InputError
            There is nothing.
        """
        return self._newest(self._in_force(by), by)

    def last_that_stands(self, by: str | None) -> tuple[AnyEntry, ...]:
        """The same of what stands: what was taken back, and the taking back, are passed over.

        Raises
        ------
        InputError
            There is nothing.
        """
        standing = [one for one in self._in_force(by) if not isinstance(one, Void)]
        return self._newest(standing, by)

    def listed(self, entries: Iterable[Kept]) -> str:
        """Entries by handle and in words, for a gardener to choose from."""
        found = list(entries)
        said = [f"{self.handles[one.uid]} ({at_a_time(one, self.pages)})" for one in found[:LISTED]]
        more = f" or {len(found) - LISTED} more" if len(found) > LISTED else ""
        return f"{', '.join(said)}{more}"

    def _in_force(self, by: str | None) -> list[Kept]:
        """What nothing supersedes, by somebody or by anyone."""
        return [
            one
            for one in self.written
            if one.uid not in self.later and (by is None or same_name(author(one), by))
        ]

    def _newest(self, found: Sequence[K], by: str | None) -> tuple[K, ...]:
        """Those of them that were written last, all in one sitting."""
        if not found and by is not None:
            raise InputError(
                "by", by, "somebody who has written what can be taken back or corrected"
            )
        if not found and self.written:
            right = (
                "an entry that stands: all were taken back; soakbook book undo brings the last back"
            )
            raise InputError("handle", LAST, right)
        if not found:
            raise InputError("handle", LAST, NO_ENTRY)
        # By the order in the book, not by the clock, which may have been set back.
        newest = found[-1].written_at
        return tuple(one for one in found if one.written_at == newest)

    def _meant(self, word: str) -> Kept:
        letters = word.strip().casefold()
        for one in self.written:
            if letters in (one.uid.casefold(), self.handles[one.uid].casefold()):
                return one
        if len(letters) < LEAST_LETTERS:
            right = f"at least {LEAST_LETTERS} letters, as soakbook book log shows them, or {LAST}"
            raise InputError("handle", word, right)
        found = [one for one in self.written if one.uid.casefold().startswith(letters)]
        if not found:
            right = f"the letters that soakbook book log shows beside an entry, or {LAST}"
            raise InputError("handle", word, right)
        if len(found) > 1:
            raise InputError("handle", word, f"one of {self.listed(found)}")
        return found[0]


def history_of(book: BookFile, pages: Pages) -> History:
    """The history of an open book, whose pages were read in the same block."""
    written = entries_written(book, pages.garden)
    return History(
        pages,
        written,
        handles_of([one.uid for one in written]),
        {one.uid: one for one in written},
        {one.supersedes: one for one in written if one.supersedes is not None},
    )


def check_not_moved(handle: str, entry: Kept) -> None:
    """Refuse to touch an entry that came with a new planting: alone it would double the plants, or lose them.

    Raises
    ------
    InputError
        It is of plants that were moved, or parted with their bed.
    """
    if isinstance(entry, Loss) and entry.cause in ELSEWHERE:
        right = (
            f"an entry that can be changed by itself: this one says {ELSEWHERE[entry.cause]}, and a planting there "
            "came with it; soakbook plant with --moved-from takes them back"
        )
        raise InputError("handle", handle, right)


def author(entry: Kept) -> str | None:
    """Who wrote an entry: who corrected, else who did it or says so."""
    return entry.corrected_by or entry.by


def same_name(one: str | None, other: str | None) -> bool:
    """Whether two names are of one person, capitals apart."""
    return one is not None and other is not None and one.casefold() == other.casefold()


def handles_of(uids: Sequence[Uid]) -> dict[Uid, str]:
    """A handle for each uid: its shortest beginning of four letters or more that no earlier one begins with.

    What is written later never changes a handle: it takes a longer one itself.

    Parameters
    ----------
    uids : sequence of str
        In the order in which they were written.
    """
    owners: dict[str, Uid] = {}
    handles = {}
    for uid in uids:
        length = min(LEAST_LETTERS, len(uid))
        while (owner := owners.get(uid[:length])) is not None and length < len(uid):
            length += 1
            owners.setdefault(owner[:length], owner)
        owners.setdefault(uid[:length], uid)
        handles[uid] = uid[:length]
    return handles
