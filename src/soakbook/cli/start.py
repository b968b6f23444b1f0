"""Where a process of our own begins and ends: light, so that breaking off is quiet from the first moment."""

import gc
import os
import sys
import warnings
from typing import NoReturn

from soakbook.cli.exits import BROKEN_OFF


def run() -> NoReturn:
    """Do what the command line of this process says, and end it.

    It ends at once, when everything is printed: Python would take the program apart piece by piece first, which
    takes longer than many a command and is no use to a process that goes away as a whole. Every book is closed by
    then, and nothing here waits for the end to be written.
    """
    status = status_of_command()
    try:
        for stream in (sys.stdout, sys.stderr):
            if stream is not None:
                stream.flush()
    except (OSError, ValueError):
        sys.exit(status)  # nowhere to print to: Python's own way of saying so
    os._exit(status)


def status_of_command() -> int:
    """Exit status of the command line this process was started with.

    Three things are set that only a process of our own may set. So that the morning stays light: numpy's linear
    algebra, which we do not use, starts a thread for every core; and collecting garbage is no use to a program that
    ends in a moment. And Python's warnings are for who writes programs, unless they are asked for.
    """
    if not sys.warnoptions:
        warnings.simplefilter("ignore")
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    gc.disable()
    try:
        from soakbook.cli.main import main

        return main()
    except KeyboardInterrupt:
        return BROKEN_OFF
