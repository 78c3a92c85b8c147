"""Whether a window can be opened here, and if not why.

Qt ends the whole process when it finds no display, so it is tried in another one first.
"""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from typing import Final

from solver.line import apart

WITHOUT_WINDOW = ("offscreen", "minimal", "vnc", "linuxfb")
"""Platforms of Qt on which nobody sees a window beside others."""
NO_DISPLAY: Final = "there is no display here to open a window on."
DEAF: Final = "could not connect to display"

TRY_S = 20.0
_TRY = "from PySide6.QtGui import QGuiApplication; QGuiApplication(['ripfirst'])"

_LACKS: Final = re.compile(r"(lib[\w.+-]+?)\.so\.(\d+)[\d.]*: cannot open shared object file")
_OWN_NAMES: Final = {"libglib-2.0-0": "libglib2.0-0"}
"""Packages of Debian that are not called as their library is."""


def trouble_showing() -> str:
    """Say in one sentence why Qt can open no window that somebody sees; ``""`` if it can."""
    if os.environ.get("QT_QPA_PLATFORM", "").split(":")[0] in WITHOUT_WINDOW:
        return NO_DISPLAY
    displays = any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY"))
    if sys.platform.startswith("linux") and not displays:
        return NO_DISPLAY
    said = _said_in_vain()
    if said is None:
        return ""
    packages = list(dict.fromkeys(_packages(said)))
    if not packages:
        return f"{NO_DISPLAY[:-1]}; Qt says: {_gist(said)}"
    libraries = f"{', '.join(packages)} {'is' if len(packages) == 1 else 'are'} not installed"
    remedy = f"on Debian: apt install {' '.join(packages)}"
    return f"the window lacks a library, {libraries} ({remedy}). Qt says: {_gist(said)}"


def _said_in_vain() -> str | None:
    """Return what Qt said when it did not start, ``None`` if it did.

    Which library a plug-in lacks it says only when it is asked to tell of plug-ins.
    """
    said = _tried({})
    if not said:
        return said
    more = _tried({"QT_DEBUG_PLUGINS": "1"}) or ""
    return "\n".join([said, *filter(_LACKS.search, more.splitlines())])


def _tried(more: dict[str, str]) -> str | None:
    """Start Qt in a process of its own, and return what it said in vain."""
    try:
        tried = subprocess.run(
            [sys.executable, "-c", _TRY],
            env=os.environ | more,
            capture_output=True,
            timeout=TRY_S,
            check=False,
            text=True,
            errors="replace",
            **apart(),
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        return str(error)
    return None if tried.returncode == 0 else tried.stderr


def _packages(said: str) -> Iterator[str]:
    """Yield the packages of libraries that are missing, named as Debian's policy has it."""
    if DEAF in said:  # then Qt guesses at libxcb-cursor0 as well
        return
    if "libxcb-cursor0" in said:
        yield "libxcb-cursor0"
    for name, version in _LACKS.findall(said):
        hyphen = "-" if name[-1].isdigit() else ""
        package = f"{name}{hyphen}{version}".lower()
        yield _OWN_NAMES.get(package, package)


def _gist(said: str) -> str:
    """Return the first line that says what is wrong."""
    lines = [line.strip() for line in said.splitlines() if line.strip()]
    told = [line for line in lines if _LACKS.search(line)]
    told += [line for line in lines if DEAF in line or line.startswith("qt.qpa")]
    line = next(iter([*told, *lines[-1:]]), "nothing")
    return line.removeprefix("qt.qpa.plugin: ").removeprefix("qt.qpa.xcb: ")[:300].rstrip(".") + "."
