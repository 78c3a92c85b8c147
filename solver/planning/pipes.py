"""Standard input and output as a clean line to another process.

Native libraries print where they like; the line must hold nothing but messages. So the
real output is set aside, and what anybody prints goes to the log on standard error.
"""

import os
import signal
import sys
import threading
from collections.abc import Callable, Iterable
from typing import BinaryIO, NoReturn

from solver.planning.kept_code import forget_run

GRACE_S = 1.0
"""Time to end in order once the other side is gone."""


def claim_output() -> BinaryIO:
    """Return standard output for messages only; all else printed goes to standard error.

    Ctrl-C in a terminal reaches all its processes; it is for the one in front to hear.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    sys.stdout.flush()
    line = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    return line


class Sender:
    """Sends lines from several threads, each whole."""

    def __init__(self, output: BinaryIO) -> None:
        self._output = output
        self._lock = threading.Lock()

    def __call__(self, line: bytes) -> None:
        """Send a line; silent when nobody listens any more."""
        try:
            with self._lock:
                self._output.write(line)
                self._output.flush()
        except (BrokenPipeError, ValueError):
            pass


def leave() -> NoReturn:
    """End the process now: threads that are loading or solving are not waited for."""
    forget_run()
    sys.stderr.flush()
    os._exit(0)


def read_in_background(
    lines: Iterable[bytes], heard: Callable[[bytes], None], gone: Callable[[], None]
) -> threading.Thread:
    """Hand each line to ``heard``; when input ends call ``gone`` and make sure to end soon."""

    def read() -> None:
        for line in lines:
            heard(line)
        gone()
        watch = threading.Timer(GRACE_S, leave)
        watch.daemon = True
        watch.start()

    thread = threading.Thread(target=read, name="reader", daemon=True)
    thread.start()
    return thread
