"""What guards a project's file: against other windows a lock, against other programs a look.

One window at a time holds the lock, which lies beside the file.

A lock whose program was killed is taken over; where no lock can be made, as in a folder
that cannot be written in, none is asked for. One that lies there and cannot be removed, since its
program was killed or the folder closed to it later, bars nobody once no window holds it. A file
may have several names, as links of either kind: so a second lock, named by the file itself, lies
in the system's folder of temporary files.
"""

import contextlib
import hashlib
import os
import sys
import tempfile
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from PySide6.QtCore import (
    QLockFile,
    QMessageLogContext,
    QSysInfo,
    QtMsgType,
    qInstallMessageHandler,
)

from layout_app.store.beside import beside, runs
from layout_app.store.errors import FileProblem
from layout_app.store.json_text import read_bytes

_held: Final[set[str]] = set()
"""Locks that windows of this process hold."""
_one_at_a_time: Final = threading.Lock()


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
            lock = held if held is not None and held.isLocked() else _locked(place)
            if lock is None:
                for other, one in locks.items():
                    if self._locks.get(other) is not one:
                        _unlock(one)
                return False
            locks[place] = lock
        self._let_go_but(locks)
        self._path = path
        return True

    def _let_go_but(self, locks: dict[Path, QLockFile]) -> None:
        for place, lock in self._locks.items():
            if locks.get(place) is not lock:
                _unlock(lock)
        self._locks = locks


def _by_itself(path: Path) -> Iterator[Path]:
    """Yield where the lock lies that all names of a file share, if there is the file."""
    with contextlib.suppress(OSError):
        found = os.stat(path)
        maker = os.getuid() if hasattr(os, "getuid") else ""
        folder = Path(tempfile.gettempdir()) / f"ripfirst-{maker}"
        folder.mkdir(mode=0o700, exist_ok=True)
        yield folder / f"{found.st_dev}-{found.st_ino}.lock"


def _locked(place: Path) -> QLockFile | None:
    """Return a lock; ``None`` if another window has it.

    Where none can be made, what is returned is not locked.
    """
    lock = QLockFile(str(place))
    lock.setStaleLockTime(0)  # a window may stay open for days; only a dead one is stale
    if lock.tryLock(0):
        _held.add(lock.fileName())
    elif lock.error() is QLockFile.LockError.LockFailedError and _is_held(place, lock):
        return None
    return lock


def _unlock(lock: QLockFile) -> None:
    """Let a lock go; one that cannot be removed stays, and bars nobody (`_locked`)."""
    if lock.isLocked():
        with _one_at_a_time, _saying_nothing_of("own lock file"):
            lock.unlock()
        _held.discard(lock.fileName())


def _is_held(place: Path, lock: QLockFile) -> bool:
    """Say whether the window that made a lock may still be open."""
    try:
        process, program, host, *more = place.read_text(errors="replace").split("\n")
        number = int(process)
    except (OSError, ValueError):
        return True
    if host != QSysInfo.machineHostName():
        return True
    boot = bytes(QSysInfo.bootUniqueId().data()).decode(errors="replace")
    if len(more) > 1 and boot and more[1] != boot:
        return False
    if number == os.getpid():
        return lock.fileName() in _held
    return runs(number) and _program_of(number) in {"", program}


def _program_of(process: int) -> str:
    """Return what program a process runs, as locks name it; ``""`` if that cannot be told."""
    with contextlib.suppress(OSError):
        return os.path.basename(os.readlink(f"/proc/{process}/exe"))
    return ""


@contextlib.contextmanager
def _saying_nothing_of(words: str) -> Iterator[None]:
    """Keep what Qt says of something on the terminal back meanwhile; all else is said."""

    def hear(_kind: QtMsgType, _context: QMessageLogContext, message: str) -> None:
        if words not in message:
            print(message, file=sys.stderr)

    before = qInstallMessageHandler(hear)
    try:
        yield
    finally:
        qInstallMessageHandler(before)


class ChangedElsewhereError(FileProblem):
    """A file holds what was neither read nor written here.

    Attributes
    ----------
    sign
        Names what it holds, for whoever decides to write over just that.
    """

    def __init__(self, path: Path, sign: str) -> None:
        super().__init__(path, "", "another program has changed this file since it was opened")
        self.sign = sign


class Seen:
    """Knows the contents of one file.

    They are compared, not their time or length: those of a synced folder may say nothing, and
    a project is read within milliseconds.
    """

    def __init__(self) -> None:
        self._path = ""
        self._sign = ""

    def note(self, path: Path, data: bytes) -> None:
        """Hear what was read from a file or written to it."""
        self._path, self._sign = os.path.realpath(path), _sign_of(data)

    def check(self, path: Path, known: str = "") -> None:
        """Raise `ChangedElsewhereError` if a file of ours is another now.

        ``known`` is the sign of other contents that may be written over. A file that is gone
        holds nothing that could be lost; `FileProblem` if it cannot be read.
        """
        if os.path.realpath(path) != self._path or not os.path.lexists(path):
            return
        sign = _sign_of(read_bytes(path))
        if sign not in {self._sign, known}:
            raise ChangedElsewhereError(path, sign)


def _sign_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
