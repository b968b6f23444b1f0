"""The command `soakbook`: finds the command, and says in one sentence what a gardener can mend.

Exit status: 0 good; 2 the words typed or the book, for the user to mend; 3 nothing came of what was
asked for outside; 1 a fault of ours, or nowhere to print to; 130 broken off.
"""

import sys
from collections.abc import Sequence
from typing import Any

import click

from soakbook.cli import paper
from soakbook.cli.exits import BROKEN_OFF, MENDABLE, NOTHING_CAME, OURS
from soakbook.cli.on_demand import OnDemand
from soakbook.cli.options import BOOK
from soakbook.errors import BookError, InputError, LedgerError, SoakbookError, WeatherError
from soakbook.version import __version__

COMMANDS = {
    "round": "morning",
    "why": "morning",
    "soak": "entries",
    "rain": "entries",
    "feel": "feel",
    "wilt": "wilt",
    "left": "entries",
    "loss": "entries",
    "mulch": "entries",
    "bed": "bed",
    "plant": "garden",
    "tap": "garden",
    "person": "garden",
    "restriction": "garden",
    "rate": "garden",
    "weather": "weather",
    "book": "book",
    "remind": "remind",
    "account": "account",
    "proof": "proof",
}
"""Command -> its module under `commands`."""


class Commands(OnDemand):
    """The commands; where one breaks, what in the book it broke on is said."""

    def invoke(self, ctx: click.Context) -> Any:
        """Do what the words say.

        Raises
        ------
        BookError
            It broke, and something stands in the book that no reckoning gets past.
        """
        try:
            return super().invoke(ctx)
        except (LedgerError, ArithmeticError, LookupError, ValueError, TypeError, AttributeError):
            why = _hindrance(ctx)
            if why is None:
                raise
            raise BookError(why) from None


@click.command(
    cls=Commands,
    modules=COMMANDS,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="soakbook COMMAND -h says more, examples first.",
)
@click.version_option(__version__, message="soakbook %(version)s")
def soakbook() -> None:
    """Which newly planted beds need water this morning, how much, and which can wait."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Exit status of one command line; everything is printed by then."""
    paper.prepare()
    stdout = sys.stdout
    if stdout is None:
        return _unprinted("standard output is closed")
    try:
        return _done(arguments)
    except OSError as error:
        if error.filename is not None:
            raise
        return _unprinted(error.strerror or str(error))
    except SystemExit:
        # Click leaves so, with another standard output, when the reader has gone away.
        if sys.stdout is stdout:
            raise
        return _unprinted("nobody reads it any more")


def _done(arguments: Sequence[str] | None) -> int:
    """Exit status of a command line, as long as what it says can be printed."""
    try:
        status = soakbook.main(arguments, prog_name="soakbook", standalone_mode=False)
    except (InputError, BookError, WeatherError) as error:
        paper.put_error(str(error))
        return NOTHING_CAME if isinstance(error, WeatherError) else MENDABLE
    except SoakbookError as error:
        paper.put_error(f"{error}; this is a fault of soakbook's, please report it")
        return OURS
    except click.exceptions.NoArgsIsHelpError as error:
        error.show()
        return MENDABLE
    except click.UsageError as error:
        paper.put_error(_sentence(error, arguments))
        return MENDABLE
    except click.Abort:
        return BROKEN_OFF
    return status if isinstance(status, int) else 0


def _hindrance(ctx: click.Context) -> str | None:
    """What in the book that was asked of cannot be right; None where it is whole, and the fault is ours."""
    if BOOK not in ctx.meta:
        return None
    from soakbook.services.books import where
    from soakbook.services.checking import hindrance

    path = where(ctx.meta[BOOK], specimen=False)
    if not path.is_file():
        return None
    found = hindrance(path)
    return found and (
        f"{path} cannot be reckoned with. {found} soakbook book check lists all of it, soakbook book log what "
        "was entered"
    )


def _unprinted(why: str) -> int:
    paper.give_up()
    paper.put_error(f"this could not be printed: {why}")
    return OURS


def _sentence(error: click.UsageError, arguments: Sequence[str] | None) -> str:
    """What is wrong with a command line, and which help to ask."""
    if isinstance(error, click.NoSuchOption) and _is_number(error.option_name):
        typed = next(word for word in _words(arguments) if word.startswith(error.option_name))
        return str(InputError("number", typed, "nothing below 0"))
    path = error.ctx.command_path if error.ctx else "soakbook"
    return f"{error.format_message().rstrip('.')} (see {path} -h)"


def _is_number(option: str) -> bool:
    """Whether what looks like an option is an amount with a minus."""
    return option[:1] == "-" and option[1:2] in set("0123456789.¼½¾")


def _words(arguments: Sequence[str] | None) -> Sequence[str]:
    return sys.argv[1:] if arguments is None else arguments
