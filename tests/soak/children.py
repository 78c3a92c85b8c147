"""Processes to be killed: each a copy of this one, so that hundreds begin within milliseconds.

No program of Qt may run here before: each child begins its own.
"""

import os
import select
import signal
import sys
import traceback
from collections.abc import Callable
from dataclasses import dataclass

Act = Callable[[Callable[[str], None], int], None]
"""What a child does, given what says a line, and the pipe where it hears lines."""


@dataclass(slots=True)
class Child:
    """A process, and pipes to hear it and to tell it something."""

    process: int
    heard: int
    told: int
    lines: bytes = b""

    def line(self, seconds: float) -> str | None:
        """Return the next line it says; ``None`` if it says none in time, or has ended."""
        while b"\n" not in self.lines:
            ready, _, _ = select.select([self.heard], [], [], seconds)
            more = os.read(self.heard, 65536) if ready else b""
            if not more:
                return None
            self.lines += more
        line, _, self.lines = self.lines.partition(b"\n")
        return line.decode(errors="replace")

    def tell(self, line: str) -> None:
        """Send it a line."""
        os.write(self.told, f"{line}\n".encode())

    def kill(self) -> list[str]:
        """Kill it, and return what it had said that was not heard yet."""
        os.kill(self.process, signal.SIGKILL)
        os.waitpid(self.process, 0)
        while more := os.read(self.heard, 65536):
            self.lines += more
        os.close(self.heard)
        os.close(self.told)
        return self.lines.decode(errors="replace").split("\n")[:-1]


def begin(act: Act) -> Child:
    """Let another process act."""
    heard, says = os.pipe()
    hears, told = os.pipe()
    process = os.fork()
    if process:
        os.close(says)
        os.close(hears)
        return Child(process, heard, told)
    os.close(heard)
    os.close(told)
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    try:
        act(lambda line: _say(says, line), hears)
    except BaseException:
        traceback.print_exc(file=sys.stderr)
    os._exit(0)


def _say(pipe: int, line: str) -> None:
    os.write(pipe, f"{line}\n".encode(errors="replace"))
