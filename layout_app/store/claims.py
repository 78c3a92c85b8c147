"""Who may write a project's file: a lock beside it, held by one window at a time.

A lock whose program was killed is taken over; where no lock can be made, as in a folder
that cannot be written in, none is asked for. One that lies there and cannot be removed counts only
as long as a window holds it (`locks`). A file may have several names, as links of either
kind: so a second lock, named by the file itself, lies in the system's folder of temporary files.
"""

import contextlib
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from PySide6.QtCore import QLockFile

from layout_app.store.beside import beside
from layout_app.store.locks import locked, unlock


def lock_path(path: Path) -> Path:
    """Return where the lock of a file lies."""
    return beside(path, ".lock")


class Claim:
    """Locks on at most one file; another file's take their place."""

    def __init__(self) -> None:
        self._path: Path | None = None
        self._locks: dict[Path, QLockFile] = {}

    def take(self, path: Path) -> bool:
        """Claim a file, and let the one before go; say whether it is ours to write.

        When another window has it, the one before stays claimed.
        """
        try:
            path = Path(os.path.realpath(path))
        except (OSError, ValueError):  # whoever opens or saves it says what is wrong
            return True
        return path == self._path or self._hold(path)

    def renew(self) -> None:
        """Follow the claimed file: once it is saved the system takes it for another one."""
        if self._path is not None:
            self._hold(self._path)

    def release(self) -> None:
        """Let the file go."""
        self._let_go_but({})
        self._path = None

    def _hold(self, path: Path) -> bool:
        locks: dict[Path, QLockFile] = {}
        for place in (lock_path(path), *_by_itself(path)):
            held = self._locks.get(place)
            lock = held if held is not None and held.isLocked() else locked(place)
            if lock is None:
                for other, one in locks.items():
                    if self._locks.get(other) is not one:
                        unlock(one)
                return False
            locks[place] = lock
        self._let_go_but(locks)
        self._path = path
        return True

    def _let_go_but(self, locks: dict[Path, QLockFile]) -> None:
        for place, lock in self._locks.items():
            if locks.get(place) is not lock:
                unlock(lock)
        self._locks = locks


def _by_itself(path: Path) -> Iterator[Path]:
    """Yield where the lock lies that all names of a file share, if there is the file."""
    with contextlib.suppress(OSError):
        found = os.stat(path)
        maker = os.getuid() if hasattr(os, "getuid") else ""
        folder = Path(tempfile.gettempdir()) / f"ripfirst-{maker}"
        folder.mkdir(mode=0o700, exist_ok=True)
        yield folder / f"{found.st_dev}-{found.st_ino}.lock"
