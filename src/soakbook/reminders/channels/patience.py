"""Work that talks to another machine, ended when the time is up whatever that machine does."""

from collections.abc import Callable
from concurrent.futures import Future, wait
from threading import Thread

from soakbook.reminders.message import Outcome

GRACE_S = 1.0
"""So long work that has been cut off may take to say how far it got. [s]"""


def in_time(
    work: Callable[[], Outcome],
    patience_s: float,
    late: Outcome,
    cut: Callable[[], None] | None = None,
) -> Outcome:
    """What the work comes to; it runs in a thread that is left to itself when the time is up.

    A limit on each question to a socket would not do: who sends a letter a second answers every one in time.

    Parameters
    ----------
    work : callable
        What is to be done.
    patience_s : float
        How long it may take [s, above 0].
    late : Outcome
        What came of it when it does not end.
    cut : callable, optional
        Makes it end: called when the time is up, after which `GRACE_S` remain. Without it none do.
    """
    outcome: Future[Outcome] = Future()

    def run() -> None:
        try:
            outcome.set_result(work())
        except BaseException as fault:
            outcome.set_exception(fault)

    Thread(target=run, name="sending a reminder", daemon=True).start()
    wait([outcome], timeout=patience_s)
    if cut is not None and not outcome.done():
        cut()
        wait([outcome], timeout=GRACE_S)
    return outcome.result() if outcome.done() else late
