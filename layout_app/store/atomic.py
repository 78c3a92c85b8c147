"""Saves a file whole or not at all.

The bytes go to a temporary file in the same folder, are forced to disk, and take the
file's place in one step; a crash leaves the old file or the new one, never half of each.
Several files are all written first, and take their places then.
"""

import contextlib
import os
import shutil
import stat
import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from layout_app.store import beside
from layout_app.store.errors import FileProblem, exists, told

UNWRITTEN: Final = "cannot be written"
UNUSABLE: Final = "this folder cannot be written in"


@dataclass(slots=True)
class _Written:
    """Bytes on disk that wait to take the place of a file."""

    path: Path
    target: Path
    name: str
    before: str = field(default="")
    """What the file was, under another name, to be put back if need be."""
    moved: bool = False


def save(path: Path, data: bytes, last_look: Callable[[], None] | None = None) -> None:
    """Write bytes to a file; `FileProblem` if that cannot be done, and then nothing changed.

    ``last_look`` is asked when all is written and only the place is to be taken; it may raise.
    """
    save_all([(path, data)], last_look)


def save_all(
    files: Sequence[tuple[Path, bytes]], last_look: Callable[[], None] | None = None
) -> None:
    """Write several files, or none: `FileProblem` if one cannot be, and then nothing changed.

    A file that may not be written is not replaced, and a link that leads nowhere not followed.
    """
    beside.sweep(path for path, _ in files)
    written: list[_Written] = []
    try:
        for path, data in files:
            with told(path, UNWRITTEN):
                _write(path, data, written)
        if last_look is not None:
            last_look()
        _move(written)
    finally:
        for one in written:
            for name in filter(None, (one.name, one.before)):
                beside.end(name)
    for folder in {one.target.parent for one in written}:
        _sync_folder(folder)


def other_names(path: Path) -> int:
    """Count the other names of a file, as hard links; 0 if there are none or nobody can say.

    What is saved takes the place of one name: the others keep the old contents, as a backup that
    is made of such links must.
    """
    try:
        return max(0, os.stat(path).st_nlink - 1)
    except (OSError, ValueError):
        return 0


def make_folder(path: Path) -> None:
    """Make a folder that can be written in, with those above it; `FileProblem` if it cannot be."""
    with told(path, UNUSABLE):
        path.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=path):
            pass


def check_folder(path: Path) -> None:
    """Raise `FileProblem` if a folder can be neither written in nor made; makes nothing."""
    with told(path, UNUSABLE):
        nearest = next(one for one in (path, *path.absolute().parents) if exists(one))
        with tempfile.TemporaryFile(dir=nearest):
            pass


@contextlib.contextmanager
def new_folders() -> Iterator[Callable[[Path], None]]:
    """Yield what makes a folder; if what is done meanwhile fails, those left empty go again."""
    made: list[Path] = []

    def make(path: Path) -> None:
        with told(path, UNUSABLE):
            missing = [one for one in (path, *path.parents) if not exists(one)]
        made.extend(reversed(missing))
        make_folder(path)

    try:
        yield make
    except BaseException:
        for folder in reversed(made):
            with contextlib.suppress(OSError, ValueError):
                folder.rmdir()
        raise


def _write(path: Path, data: bytes, written: list[_Written]) -> None:
    """Write bytes beside the file they are for."""
    mode = _mode(path)
    target = Path(os.path.realpath(path))
    descriptor, name = beside.begin(target)
    written.append(_Written(path, target, name))
    with os.fdopen(descriptor, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    with contextlib.suppress(PermissionError):  # sticks often know no rights
        os.chmod(name, mode)


def _mode(path: Path) -> int:
    """Return the rights of the file that is replaced, or those a new file gets.

    FileProblem if it may not be replaced.
    """
    try:
        found = os.stat(path)
    except FileNotFoundError:
        if os.path.islink(path):
            raise FileProblem(path, "", "this is a link to a file that is not there") from None
        mask = os.umask(0o077)
        os.umask(mask)
        return 0o666 & ~mask
    if stat.S_ISDIR(found.st_mode):
        raise FileProblem(path, "", "this is a folder, not a file")
    if not stat.S_ISREG(found.st_mode):
        raise FileProblem(path, "", "this is a device or a pipe, not a file")
    # Some may write whatever the rights say; what its owner has protected stays as it is.
    if not found.st_mode & 0o222 or not os.access(path, os.W_OK):
        raise FileProblem(path, "", "this file is write-protected")
    return stat.S_IMODE(found.st_mode)


def _move(written: Sequence[_Written]) -> None:
    """Let all take their places; if one cannot, the others give theirs back."""
    if len(written) > 1:
        for one in written:
            with told(one.path, UNWRITTEN):
                _keep(one)
    try:
        for one in written:
            with told(one.path, UNWRITTEN):
                os.replace(one.name, one.target)
            one.moved = True
    except BaseException:
        for one in written:
            if one.moved:
                _put_back(one)
        raise


def _keep(one: _Written) -> None:
    """Keep what a file was under another name: as a link where there are such, else a copy."""
    if not exists(one.target):
        return
    descriptor, one.before = beside.begin(one.target)
    os.close(descriptor)
    os.unlink(one.before)
    try:
        os.link(one.target, one.before)
    except OSError:
        shutil.copy2(one.target, one.before)


def _put_back(one: _Written) -> None:
    with contextlib.suppress(OSError):
        if one.before:
            os.replace(one.before, one.target)
        else:
            os.unlink(one.target)


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
