"""One door to the compiler, so that the rest of the code stays typed Python.

Compiled code is kept between runs in a folder of the user's cache named by a digest of
all sources of this package. Numba itself looks only at the file a function stands in: it
would go on using code compiled from an older version of the functions that one calls.
"""

import hashlib
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar, cast

import numba

FORGET_S = 14 * 24 * 3600.0
"""Folders of other installations or versions are forgotten when unused for so long.

None that may be in use is taken away: a process whose folder goes fails to compile.
"""

Function = TypeVar("Function", bound=Callable[..., object])


def compiled(function: Function) -> Function:
    """Compile a function of arrays and numbers; cached on disk, free of the interpreter's lock."""
    return cast(Function, numba.njit(cache=True, nogil=True)(function))


def digest(folder: Path) -> str:
    """Return a digest of a folder's place and Python sources and the versions that compile them.

    The place counts because Numba files what it compiles by the path of its source.
    """
    found = hashlib.sha256(f"{folder.resolve()} {sys.version} {numba.__version__}".encode())
    for source in sorted(folder.glob("*.py")):
        found.update(source.read_bytes())
    return found.hexdigest()[:16]


def cache_home() -> Path:
    """Return the folder where this user's programs keep what can be made again."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", tempfile.gettempdir()))
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches"
    return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")


def prepare_cache(home: Path) -> Path:
    """Make the folder for the code of these sources; forget old ones of others."""
    ours = home / "ripfirst" / "kernel"
    folder = ours / digest(Path(__file__).parent)
    if folder.is_dir():
        os.utime(folder)
    else:
        folder.mkdir(parents=True)
        for other in ours.iterdir():
            if time.time() - _changed_at(other) > FORGET_S:
                shutil.rmtree(other, ignore_errors=True)
    return folder


def _changed_at(folder: Path) -> float:
    try:
        return folder.stat().st_mtime
    except OSError:
        return time.time()


def _choose_cache() -> Path:
    try:
        return prepare_cache(cache_home())
    except (OSError, RuntimeError):
        # No home, or one that cannot be written: keep the code for this run only.
        return Path(tempfile.mkdtemp(prefix="ripfirst-"))


if not os.environ.get("NUMBA_CACHE_DIR"):
    setattr(numba.config, "CACHE_DIR", str(_choose_cache()))  # noqa: B010 - numba sets its options at run time
