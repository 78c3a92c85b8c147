"""How much memory a process and its children have held at most, as Linux counts it."""

import os
import threading
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

PROC = Path("/proc")
LOOK_S = 0.2


class MemoryWatch:
    """Looks again and again while it is entered, because children may end and others start."""

    def __init__(self) -> None:
        self.peak_mb = 0.0
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._look, daemon=True)

    def __enter__(self) -> "MemoryWatch":
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._over.set()
        self._thread.join()

    def _look(self) -> None:
        last = False
        while not last:
            last = self._over.wait(LOOK_S)
            self.peak_mb = max(peak_mb(), self.peak_mb)


def peak_mb() -> float:
    """Return the sum of the peaks of this process and its living children, in MB.

    Each is the peak resident set (VmHWM), shared libraries counted in every process; not a
    number where the system has no /proc.
    """
    if not (PROC / "self" / "status").exists():
        return float("nan")
    family = {os.getpid(), *_children(os.getpid())}
    return sum(_peak_kb(process) for process in family) / 1024


def _children(parent: int) -> Iterator[int]:
    for folder in PROC.iterdir():
        if folder.name.isdigit() and _field(int(folder.name), "PPid") == parent:
            yield int(folder.name)


def _peak_kb(process: int) -> int:
    return _field(process, "VmHWM")


def _field(process: int, name: str) -> int:
    """Return a number from a process's status; 0 if it has ended."""
    with suppress(OSError):
        for line in (PROC / str(process) / "status").read_text("utf-8").splitlines():
            if line.startswith(f"{name}:"):
                return int(line.split()[1])
    return 0
