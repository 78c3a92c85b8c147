"""Have the search compiled once for all processes, by a process of its own.

Compiling takes some ten seconds and holds the interpreter; loading what is compiled takes
less than one. So whoever needs the search first starts a process that compiles it into
the cache on disk, the others wait for that, and all go on with other work meanwhile:
what is slow to load is made ready in the background.
"""

import os
import signal
import subprocess
import sys
import threading
import time
import traceback
from collections.abc import Callable
from pathlib import Path

from solver.kept_code import choose, forget_run, run_goes_on
from solver.line import apart, leave, surroundings

MARK = "compiled"
"""File in the cache that says that all of it is there."""
LOCK = "compiling"
"""File in the cache while some process fills it."""
STALE_S = 90.0
"""A lock this old was left behind by a process that is gone."""
LOOK_S = 0.1


class Readiness:
    """Something that is made ready once, by a thread, and may fail."""

    def __init__(self, make: Callable[[], None]) -> None:
        self._make = make
        self._done = threading.Event()
        self._lock = threading.Lock()
        self._thread: threading.Thread | None = None
        self.failed = False
        self.begun_at = self.done_at = time.monotonic()

    @property
    def ready(self) -> bool:
        """Whether it can be used."""
        return self._done.is_set() and not self.failed

    @property
    def pending(self) -> bool:
        """Whether it may become ready yet."""
        return not self._done.is_set()

    def begin(self, after: "Readiness | None" = None) -> None:
        """Begin to make it ready, unless that has begun; ``after`` is waited for first.

        Two at a time would hinder each other, and what is needed first come second.
        """
        with self._lock:
            if self._thread is None:
                self.begun_at = time.monotonic()
                self._thread = threading.Thread(
                    target=self._work, args=(after,), name="readies", daemon=True
                )
                self._thread.start()

    def wait(self) -> bool:
        """Wait until it is ready; say whether it is, or has failed."""
        self.begin()
        self._done.wait()
        return self.ready

    def _work(self, after: "Readiness | None") -> None:
        try:
            if after is not None:
                after.wait()
            self._make()
        except Exception:
            self.failed = True
            traceback.print_exc()
        finally:
            self.done_at = time.monotonic()
            self._done.set()


def load_kernel() -> None:
    """Return once the compiled search can be used in this process."""
    fill(cache_folder())
    from solver.search.kernel.warm import warm_kernel  # noqa: PLC0415 - loads the compiler

    warm_kernel()


def cache_folder() -> Path:
    """Return the folder in which compiled code of these very sources is kept."""
    choose()
    import numba  # noqa: PLC0415 - slow to load

    import solver.search.kernel.compiled  # noqa: F401, PLC0415 - chooses the folder

    return Path(str(numba.config.CACHE_DIR))


def is_filled(folder: Path) -> bool:
    """Whether everything is compiled already."""
    return (folder / MARK).exists()


def fill(folder: Path) -> None:
    """Have the cache filled, by another process or by one that does so already."""
    while not is_filled(folder):
        if _take_lock(folder / LOCK):
            subprocess.run(
                [sys.executable, "-P", "-m", "solver.planning.compiling"],
                env=surroundings(),
                **apart(),
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                check=False,
            )
            return
        time.sleep(LOOK_S)


def _take_lock(lock: Path) -> bool:
    """Take the lock if it is free or stale; true also where none can be kept."""
    try:
        os.close(os.open(lock, os.O_CREAT | os.O_EXCL))
    except FileExistsError:
        return _is_stale(lock)
    except OSError:
        return True
    return True


def _is_stale(lock: Path) -> bool:
    try:
        return time.time() - lock.stat().st_mtime > STALE_S
    except OSError:
        return False


def main() -> None:
    """Compile into the cache, and mark it; goes on to the end even if nobody waits any more.

    If it fails, whoever waits compiles when it loads. A folder for one run only ends it with
    that run.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_run, name="ends", daemon=True).start()
    folder = cache_folder()
    from solver.search.kernel.warm import warm_kernel  # noqa: PLC0415 - loads the compiler

    try:
        warm_kernel()
        (folder / MARK).touch()
    finally:
        (folder / LOCK).unlink(missing_ok=True)
        forget_run()


def _end_with_run() -> None:
    """End this process once what it compiles is of no use to anybody."""
    while run_goes_on():
        time.sleep(LOOK_S)
    leave()


if __name__ == "__main__":
    main()
