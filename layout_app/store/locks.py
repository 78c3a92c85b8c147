"""Locks as files, told from those that nobody holds any more but that lie there yet.

A lock can be left behind in a folder that nobody may write in: its program was killed, or the
folder was closed to it after the lock was made. Such a lock bars nobody.
"""

import os
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from PySide6.QtCore import (
    QLockFile,
    QMessageLogContext,
    QSysInfo,
    QtMsgType,
    qInstallMessageHandler,
)

from layout_app.store.beside import runs

_held: Final[set[str]] = set()
"""Locks that windows of this process hold."""
_one_at_a_time: Final = threading.Lock()


def locked(place: Path) -> QLockFile | None:
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


def unlock(lock: QLockFile) -> None:
    """Let a lock go; one that cannot be removed stays, and bars nobody (`locked`)."""
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
    with suppress(OSError):
        return os.path.basename(os.readlink(f"/proc/{process}/exe"))
    return ""


@contextmanager
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
