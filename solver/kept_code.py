"""Where compiled code is kept: in the user's cache, or for one run in a folder of its own.

The first process chooses, and says so to those it starts. Without a cache that can be written
they share one folder for the run; it goes with the first process, or, where that was killed,
with whoever notices.
"""

import atexit
import contextlib
import os
import shutil
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Final

RUN: Final = "RIPFIRST_CODE"
"""Names the folder of a run to the processes that are started in it."""
NUMBA: Final = "NUMBA_CACHE_DIR"
"""Where the compiler keeps its code, if not where `solver.search.kernel.compiled` says."""
PREFIX: Final = "ripfirst-code-"
"""How the folder of a run begins; then comes the number of its process."""
ENDING_S, LOOK_S = 0.3, 0.02
"""A process that is killed closes its lines a moment before it is gone."""

_MADE: Final[list[Path]] = []
"""Folders that this process has made and has to remove."""
_CHOOSING: Final = threading.Lock()


def choose() -> None:
    """Choose for this process and all that it starts; call before the compiler is loaded."""
    with _CHOOSING:
        _choose()


@cache
def _choose() -> None:
    if not _is_chosen():
        forget_ended_runs()
        _MADE.append(Path(tempfile.mkdtemp(prefix=f"{PREFIX}{os.getpid()}-")))
        atexit.register(forget_run)
        os.environ[RUN] = os.environ[NUMBA] = str(_MADE[-1])


def _is_chosen() -> bool:
    """Whether there is a folder for compiled code that can be written, or one was handed on."""
    if RUN in os.environ:
        return True
    try:
        named = os.environ.get(NUMBA)
        folder = Path(named) if named else cache_home() / "ripfirst" / "kernel"
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            return True
    except (OSError, RuntimeError):
        return False


def cache_home() -> Path:
    """Return the folder where this user's programs keep what can be made again."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", tempfile.gettempdir()))
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches"
    return Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")


def without_cache() -> str:
    """Say that nothing is kept for the next run; ``""`` where it is."""
    if RUN not in os.environ:
        return ""
    return (
        "The cache folder can't be written, so the search is compiled for this run only"
        " (20 seconds or so each time)."
    )


def run_goes_on() -> bool:
    """Whether what is kept is of use to others still: for all runs, or one that has not ended."""
    owner = _owner(Path(os.environ.get(RUN, "")))
    return owner is None or _runs(owner)


def forget_run() -> None:
    """Remove the folder of this run; one that was handed on only if its first process is gone."""
    for folder in _MADE:
        shutil.rmtree(folder, ignore_errors=True)
    if _MADE or _owner(Path(os.environ.get(RUN, ""))) is None:
        return
    until = time.monotonic() + ENDING_S
    while run_goes_on() and time.monotonic() < until:
        time.sleep(LOOK_S)
    forget_ended_runs()


def forget_ended_runs() -> None:
    """Remove what runs left whose first process is gone."""
    for folder in _folders_of_runs():
        owner = _owner(folder)
        if owner is not None and not _runs(owner):
            shutil.rmtree(folder, ignore_errors=True)


def _folders_of_runs() -> Iterator[Path]:
    with contextlib.suppress(OSError):
        yield from Path(tempfile.gettempdir()).glob(f"{PREFIX}*")


def _owner(folder: Path) -> int | None:
    """Return the number of the process that a folder is for; ``None`` for one of all runs."""
    number = folder.name.removeprefix(PREFIX).split("-")[0]
    return int(number) if folder.name.startswith(PREFIX) and number.isdecimal() else None


def _runs(process: int) -> bool:
    if os.name != "posix":
        return True  # asking there would end it
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True
