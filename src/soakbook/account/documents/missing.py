"""What is said where a library of an extra is not installed: one line, and how to have it."""

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec

from soakbook.errors import InputError


class ExtraMissingError(InputError):
    """A library that only an extra brings is not there."""

    def __init__(self, extra: str, what: str) -> None:
        say = f"{what}, is not installed: pip install 'soakbook[{extra}]'"
        super().__init__(extra, None, say)
        self.args = (say,)


@contextmanager
def of_extra(extra: str, what: str) -> Iterator[None]:
    """A block that imports what an extra brings.

    Parameters
    ----------
    extra : str
        Its name in pyproject.toml, such as reports.
    what : str
        The library and what it is for: `typst, which sets PDFs`.

    Raises
    ------
    InputError
        It cannot be imported.
    """
    try:
        yield
    except ImportError as error:
        raise ExtraMissingError(extra, what) from error


def check_there(module: str, extra: str, what: str) -> None:
    """Refuse what wants a library that is not there, before anything was done for it.

    Parameters
    ----------
    module : str
        The library as it is imported.
    extra : str
        That brings it.
    what : str
        The library and what it is for.

    Raises
    ------
    InputError
        It cannot be found.
    """
    try:
        found = find_spec(module)
    except (ImportError, ValueError):  # taken out of the way, as tests do
        found = None
    if found is None:
        raise ExtraMissingError(extra, what)
