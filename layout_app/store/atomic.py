"""Saves a file whole or not at all.

The bytes go to a temporary file in the same folder, are forced to disk, and take the
file's place in one step; a crash leaves the old file or the new one, never half of each.
"""

import contextlib
import os
import stat
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from layout_app.store.errors import FileProblem


def save(path: Path, data: bytes) -> None:
    """Write bytes to a file; `FileProblem` if that cannot be done, and then nothing changed."""
    target = Path(os.path.realpath(path))
    if target.is_dir():
        raise FileProblem(path, "", "this is a folder, not a file")
    try:
        _replace(target, data)
    except OSError as error:
        raise FileProblem(path, "", f"cannot be written: {reason_of(error)}") from error


def make_folder(path: Path) -> None:
    """Make a folder that can be written in, with those above it; `FileProblem` if it cannot be."""
    try:
        path.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=path):
            pass
    except OSError as error:
        raise _unusable(path, error) from error


def check_folder(path: Path) -> None:
    """Raise `FileProblem` if a folder can be neither written in nor made; makes nothing."""
    try:
        nearest = next(one for one in (path, *path.absolute().parents) if one.exists())
        with tempfile.TemporaryFile(dir=nearest):
            pass
    except OSError as error:
        raise _unusable(path, error) from error


@contextlib.contextmanager
def new_folders() -> Iterator[Callable[[Path], None]]:
    """Yield what makes a folder; if what is done meanwhile fails, those left empty go again."""
    made: list[Path] = []

    def make(path: Path) -> None:
        missing = [one for one in (path, *path.parents) if not one.exists()]
        made.extend(reversed(missing))
        make_folder(path)

    try:
        yield make
    except BaseException:
        for folder in reversed(made):
            with contextlib.suppress(OSError):
                folder.rmdir()
        raise


def reason_of(error: OSError) -> str:
    """Return what the system says, in small letters and without its number."""
    return (error.strerror or type(error).__name__).lower()


def _unusable(path: Path, error: OSError) -> FileProblem:
    return FileProblem(path, "", f"this folder cannot be written in: {reason_of(error)}")


def _replace(target: Path, data: bytes) -> None:
    descriptor, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".tmp", dir=target.parent)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, _mode(target))
        os.replace(name, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise
    _sync_folder(target.parent)


def _mode(target: Path) -> int:
    """Return the rights of the file that is replaced, or those a new file gets."""
    try:
        return stat.S_IMODE(target.stat().st_mode)
    except FileNotFoundError:
        mask = os.umask(0o077)
        os.umask(mask)
        return 0o666 & ~mask


def _sync_folder(folder: Path) -> None:
    """Force the new name to disk, where folders can be opened for that."""
    if os.name != "posix":
        return
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
