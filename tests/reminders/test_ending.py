"""That a program is to end."""

import os
import subprocess
import sys
from threading import Thread

import pytest

from soakbook.reminders.ending import Ending

STORM = """\
import random, signal, time
from soakbook.reminders.ending import Ending

ending = Ending()
signal.signal(signal.SIGALRM, lambda *_: ending.come())
rounds, until = 0, time.monotonic() + 1.0
while time.monotonic() < until:
    ending = Ending()
    signal.setitimer(signal.ITIMER_REAL, random.uniform(1e-5, 1.5e-4))
    while not ending.comes_within(1e-5):
        pass
    rounds += 1
print(rounds)
"""


def test_it_has_not_come_until_it_is_said() -> None:
    ending = Ending()
    assert not ending.comes_within(0.001)
    assert not ending.has_come


def test_it_may_be_said_twice_and_before_anybody_waits() -> None:
    ending = Ending()
    ending.come()
    ending.come()
    assert ending.has_come
    assert ending.comes_within(0.001)


def test_who_waits_hears_it_at_once() -> None:
    ending = Ending()
    heard: list[bool] = []
    waiting = Thread(target=lambda: heard.append(ending.comes_within(60)))
    waiting.start()
    ending.come()
    waiting.join(10)
    assert heard == [True]


@pytest.mark.skipif(os.name == "nt", reason="there are no such timers there")
def test_a_signal_may_say_it_in_the_midst_of_anything() -> None:
    """Thousands of signals, at every moment of a wait. An Event stops for ever within a second of this."""
    done = subprocess.run(
        [sys.executable, "-c", STORM], capture_output=True, text=True, check=True, timeout=60
    )
    assert int(done.stdout) > 100
