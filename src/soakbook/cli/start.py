"""Where a process of our own begins: light, so that breaking off is quiet from the first moment."""

import gc
import os

from soakbook.cli.exits import BROKEN_OFF


def run() -> int:
    """Exit status of the command line this process was started with.

    Two things are set that only a process of our own may set, so that the morning stays light:
    numpy's linear algebra, which we do not use, starts a thread for every core; and collecting
    garbage, on the way or at the end, is no use to a program that ends in a moment.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    gc.disable()
    try:
        from soakbook.cli.main import main

        status = main()
        gc.freeze()
    except KeyboardInterrupt:
        return BROKEN_OFF
    return status
