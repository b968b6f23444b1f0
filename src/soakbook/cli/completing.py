"""What a shell may complete: the garden's own beds, their plantings, its people.

A shell that asks gets no error, and where there is no book to read nothing at all.
"""

import os
import re
import shlex
from collections.abc import Iterable
from typing import TYPE_CHECKING

import click

from soakbook.errors import SoakbookError

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

TYPED = f"{__name__}.typed"
"""Where a command's context keeps its words, which are used up as they are read."""


def beds(context: click.Context, _: click.Parameter, typed: str) -> "list[CompletionItem]":
    """Keys of beds, each with its name; those that stand in the words already are left out."""
    found, words = _known(context, "beds"), context.meta[TYPED]
    return _fitting([(key, name) for key, name in found if key not in words], typed)


def plantings(context: click.Context, _: click.Parameter, typed: str) -> "list[CompletionItem]":
    """Names of plantings, of the beds that are named or of all."""
    found, words = _known(context, "plantings"), context.meta[TYPED]
    return _fitting([(name, bed) for name, bed in found if bed in words] or found, typed)


def people(context: click.Context, _: click.Parameter, typed: str) -> "list[CompletionItem]":
    """Names of those who water."""
    return _fitting(_known(context, "people"), typed)


def reminder_kinds(_: click.Context, __: click.Parameter, typed: str) -> "list[CompletionItem]":
    """Kinds of reminder, each with what it is."""
    from soakbook.reminders.kinds import USUAL

    return _fitting([(kind, usual.label) for kind, usual in USUAL.items()], typed)


def _known(context: click.Context, what: str) -> list[tuple[str, str]]:
    from soakbook.services.books import names_in, where

    try:
        path = where(context.params.get("book_path"), bool(context.params.get("specimen")))
        return list(getattr(names_in(path), what))
    except SoakbookError:
        return []


def _fitting(found: Iterable[tuple[str, str]], typed: str) -> "list[CompletionItem]":
    from click.shell_completion import CompletionItem

    start = typed.casefold()
    return [
        CompletionItem(_for_shell(word), help=about)
        for word, about in dict(found).items()
        if word.casefold().startswith(start)
    ]


def _for_shell(word: str) -> str:
    """A word as its shell takes it for one.

    bash alone puts it in as it stands, so what bash would part or read is escaped; twice, because click's
    script for bash reads every word once by itself.
    """
    if not os.environ.get("_SOAKBOOK_COMPLETE", "").startswith("bash"):
        return word
    try:
        shlex.split(os.environ.get("COMP_WORDS", ""))
    except ValueError:  # within quotes that are still open nothing is escaped
        return word
    return re.sub(r"[^\w@%+=:,./-]", r"\\\\\g<0>", word)
