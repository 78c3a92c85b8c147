"""Who may write a project's file: a lock beside it, held by one window at a time.

A lock whose program was killed is taken over; where no lock can be made, as in a folder
that cannot be written in, none is asked for.
"""

from pathlib import Path

from PySide6.QtCore import QLockFile


def lock_path(path: Path) -> Path:
    """Return where the lock of a file lies."""
    return path.with_name(f".{path.name}.lock")


class Claim:
    """A lock on at most one file; another file's takes its place."""

    def __init__(self) -> None:
        self._path: Path | None = None
        self._lock: QLockFile | None = None

    def take(self, path: Path) -> bool:
        """Claim a file, and let the one before go; say whether it is ours to write.

        When another window has it, the one before stays claimed.
        """
        path = path.resolve()
        if path == self._path:
            return True
        lock = QLockFile(str(lock_path(path)))
        lock.setStaleLockTime(0)  # a window may stay open for days; only a dead one is stale
        if not lock.tryLock(0) and lock.error() is QLockFile.LockError.LockFailedError:
            return False
        self.release()
        self._path, self._lock = path, lock
        return True

    def release(self) -> None:
        """Let the file go."""
        if self._lock is not None:
            self._lock.unlock()
        self._path = self._lock = None
