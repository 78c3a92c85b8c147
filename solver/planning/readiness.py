"""Loads and compiles what is slow to, in the background, while work goes on without it.

The compiled search takes a second to load, and some ten seconds to compile when it is
used for the first time of all; OR-Tools takes a second to load.
"""

import threading
import time
import traceback
from collections.abc import Callable


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
