"""soakbook: which newly planted beds need water, how much, and which can wait."""

from typing import TYPE_CHECKING

from soakbook.version import __version__

if TYPE_CHECKING:
    from soakbook.interface import Book, open_book

__all__ = ["Book", "__version__", "open_book"]


def __getattr__(name: str) -> object:
    """What is public, fetched when it is asked for: the morning's command needs none of it."""
    if name in __all__:
        from importlib import import_module

        found: object = getattr(import_module("soakbook.interface"), name)
        return found
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
