"""Answers at a terminal: read, and asked again until they can be right.

Also a conversation that is broken off: it says how to go on.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TypeVar

import click

from soakbook.cli import paper
from soakbook.errors import InputError

Value = TypeVar("Value")

YES_NO = {"yes": True, "y": True, "no": False, "n": False}


def answer(
    typed: str | None, question: str, read: Callable[[str], Value], default: str | None = None
) -> Value:
    """What was typed, read; or what is answered, asked again until it can be right."""
    if typed is not None:
        return read(typed)
    while True:
        try:
            return read(paper.ask(question, default))
        except InputError as error:
            paper.put_error(str(error))


def is_right(guessed: str) -> bool:
    """Whether somebody lets a guess stand; Enter does."""
    return yes(f"{guessed} Right?", "yes")


def yes(question: str, default: str) -> bool:
    """Whether somebody says yes, or leaves it at that."""
    return answer(None, question, _yes_or_no, default)


@contextmanager
def broken_off(how_to_go_on: Callable[[], str]) -> Iterator[None]:
    """Say how things stand, or how to go on, where somebody breaks off."""
    try:
        yield
    except (click.Abort, KeyboardInterrupt):
        paper.put_text("")
        paper.put_text(how_to_go_on())
        raise


def _yes_or_no(text: str) -> bool:
    word = text.strip().casefold()
    if word not in YES_NO:
        raise InputError("answer", text, "yes or no")
    return YES_NO[word]
