"""Stops: asked by anybody, from anywhere."""

import os
import subprocess
import sys

import pytest

from solver.budget.stop import Stop

BOTH_ASK = """
import signal, time
from solver.budget.stop import Stop
stop, heard = Stop(), []
def hear(*_):
    heard.append(1)
    stop.ask()
signal.signal(signal.SIGALRM, hear)
signal.setitimer(signal.ITIMER_REAL, 1e-4, 1e-4)
end = time.monotonic() + 0.5
while time.monotonic() < end:
    stop.ask()
signal.setitimer(signal.ITIMER_REAL, 0)
print(stop.asked, len(heard) > 100)
"""


@pytest.mark.skipif(os.name != "posix", reason="there are no interval timers")
def test_a_signal_may_ask_while_its_own_thread_asks() -> None:
    """Some thousand times in half a second; with a lock the second would wait for the first."""
    command = [sys.executable, "-c", BOTH_ASK]
    done = subprocess.run(command, capture_output=True, text=True, timeout=20, check=True)
    assert done.stdout.split() == ["True", "True"]


def test_all_that_come_of_a_stop_are_asked_with_it() -> None:
    """With less time or one more condition it is still the same word."""
    stop = Stop()
    others = (stop.within(60.0), stop.when(lambda: False))
    assert not any(others)
    others[0].ask()
    assert stop.asked
    assert all(others)
