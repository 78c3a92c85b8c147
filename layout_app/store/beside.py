"""Files that lie beside another one for a while: locks, and what is being written.

Their names begin with a dot and the name of the file, shortened so that systems take it. What is
being written says in its name who writes it, so that what a killed program left can be told from
what is under way.
"""

import contextlib
import hashlib
import os
import platform
import re
import tempfile
import time
from collections.abc import Iterable
from pathlib import Path
from typing import Final

LONGEST: Final = 180
"""Bytes of a name that are kept: systems take 255, and what is added needs some."""
OLD_S: Final = 24 * 3600.0
"""Nothing takes so long to be written: what is older is left over, whoever began it."""
_HOST: Final = hashlib.sha256(platform.node().encode("utf-8", "replace")).hexdigest()[:8]
_OURS: Final = re.compile(r"(\d+)-([0-9a-f]{8})-\w+")
_ANY: Final = re.compile(r"\w{8}")
"""What a name had before it said who writes."""
_under_way: Final[set[str]] = set()
"""What this process is writing now."""


def beside(path: Path, ending: str) -> Path:
    """Return the path of a file beside another."""
    return path.with_name(f".{_short(path.name)}{ending}")


def begin(target: Path) -> tuple[int, str]:
    """Make an empty file beside another; return its descriptor and its path. OSError if not."""
    before = f"{beside(target, '.').name}{os.getpid()}-{_HOST}-"
    descriptor, name = tempfile.mkstemp(prefix=before, suffix=".tmp", dir=target.parent)
    _under_way.add(name)
    return descriptor, name


def end(name: str) -> None:
    """Remove a file that was begun, if it is still there."""
    with contextlib.suppress(OSError):
        os.unlink(name)
    _under_way.discard(name)


def sweep(files: Iterable[Path]) -> None:
    """Remove what killed programs left of writing these files; never what is being written."""
    folders: dict[Path, set[str]] = {}
    with contextlib.suppress(OSError, ValueError):  # whoever opens or saves says what is wrong
        for path in files:
            target = Path(os.path.realpath(path))
            folders.setdefault(target.parent, set()).add(beside(target, ".").name)
        for folder, names in folders.items():
            with os.scandir(folder) as found:
                for entry in found:
                    if _is_left_over(entry, names):
                        os.unlink(entry)


def _is_left_over(entry: "os.DirEntry[str]", names: set[str]) -> bool:
    if not entry.name.endswith(".tmp") or entry.path in _under_way:
        return False
    before, _, writer = entry.name.removesuffix(".tmp").rpartition(".")
    if f"{before}." not in names:
        return False
    known = _OURS.fullmatch(writer)
    if known and known[2] == _HOST:
        number = int(known[1])
        if number == os.getpid() or not runs(number):  # what this one writes was told above
            return True
    return bool(known or _ANY.fullmatch(writer)) and time.time() - entry.stat().st_mtime > OLD_S


def runs(process: int) -> bool:
    """Say whether a process of this machine may still be running."""
    if os.name != "posix":
        return True  # asking would end it there
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except OSError:
        return True
    return True


def _short(name: str) -> str:
    """Return a name that leaves room for more; a long one ends in a sign of all of it."""
    spelled = os.fsencode(name)
    if len(spelled) <= LONGEST:
        return name
    sign = hashlib.sha256(spelled).hexdigest()[:16]
    return f"{spelled[: LONGEST - 17].decode('utf-8', 'ignore')}-{sign}"
