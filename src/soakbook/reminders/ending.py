"""That a program is to end: said by a signal in the midst of anything, waited for by the program itself."""

from contextlib import suppress
from threading import Lock


class Ending:
    """Waited for by one thread, said by any, or by a signal that interrupts any.

    One bare lock, released when the end has come. An Event, and whatever else is made of several steps, can be
    interrupted by the signal between two of them: it then waits for itself, or for ever.
    """

    def __init__(self) -> None:
        self.has_come = False
        self._until = Lock()
        self._until.acquire()

    def come(self) -> None:
        """It is to end."""
        self.has_come = True
        with suppress(RuntimeError):  # said before
            self._until.release()

    def comes_within(self, seconds: float) -> bool:
        """Whether it was said by then; it is heard once."""
        return self._until.acquire(timeout=seconds)
