"""Ctrl+C: before there is anything to keep it ends the program, then it ends the work early.

Nothing is ever raised from the handler, so no piece of code is torn apart and no traceback
shows. This module loads nothing slow: it listens before all others are there.
"""

import contextlib
import os
import signal
import sys
from collections.abc import Callable, Iterator
from types import FrameType
from typing import NoReturn, Protocol, TextIO, TypeVar

INTERRUPTED = 130
"""Exit code of what was interrupted, as shells have it: 128 and the number of the signal."""
PATIENCE = 3
"""So many times Ctrl+C leaves at once, whatever is under way."""

Ending = Callable[[], None]
Made = TypeVar("Made")


class Asked(Protocol):
    """What can be asked to end early."""

    def ask(self) -> None:
        """End soon."""


class Interrupts:
    """Hears Ctrl+C for the whole process."""

    def __init__(self) -> None:
        self.times = 0
        self._asked: Asked | None = None
        self._leaves = True
        self._writing = self._wrote = False
        self._at_leaving: list[Ending] = []

    def listen(self) -> None:
        """Hear Ctrl+C from now on, and the word to end; only the main thread can."""
        signal.signal(signal.SIGINT, self._hear)
        signal.signal(signal.SIGTERM, self._end)

    def at_leaving(self, ending: Ending) -> None:
        """Have something done when the program is left at once."""
        self._at_leaving.append(ending)

    def asking(self, stop: Asked, work: Callable[[], Made]) -> Made:
        """Return what some work makes; Ctrl+C asks a stop meanwhile, at once if it came before.

        It is done by another thread: a signal waits until the main thread is back in Python,
        and a solver may keep it from there as long as it likes.
        """
        from concurrent.futures import ThreadPoolExecutor  # noqa: PLC0415 - slow to load

        self._asked, self._leaves = stop, False
        if self.times:
            stop.ask()
        try:
            with ThreadPoolExecutor(1, "works") as pool:
                return pool.submit(work).result()
        finally:
            self._asked = None

    def keep(self) -> None:
        """Only count from now on: there is something to write, or to close."""
        self._leaves = False

    @contextlib.contextmanager
    def writing(self) -> Iterator[None]:
        """Leave for nothing meanwhile, however often it is asked."""
        self._leaves, self._writing, self._wrote = False, True, True
        try:
            yield
        finally:
            self._writing = False

    def _hear(self, _number: int, _frame: FrameType | None) -> None:
        self.times += 1
        if not self._writing and (self._leaves or self.times >= PATIENCE):
            self._leave()
        if self._asked is not None:
            self._asked.ask()

    def _end(self, number: int, _frame: FrameType | None) -> None:
        """End as a process does that hears nothing, but clean up first."""
        self._clean_up()
        signal.signal(number, signal.SIG_DFL)
        os.kill(os.getpid(), number)

    def _clean_up(self) -> None:
        for ending in self._at_leaving:
            with contextlib.suppress(Exception):
                ending()

    def _leave(self) -> NoReturn:
        """End the process now: nothing is half done that anybody could read."""
        self._clean_up()
        said = b"interrupted." if self._wrote else b"interrupted; nothing was written."
        with contextlib.suppress(Exception):
            os.write(2, b"ripfirst: " + said + b"\n")
        os._exit(INTERRUPTED)


INTERRUPTS = Interrupts()
"""Of this process; signals are, too."""


def end_quietly() -> None:
    """Be deaf to Ctrl+C while the interpreter ends; flush what was printed as far as it can be."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError, AttributeError):
            _forget(stream)


def _forget(stream: TextIO) -> None:
    """Let the rest of a stream that nobody reads go nowhere."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
