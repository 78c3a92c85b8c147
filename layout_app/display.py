"""Whether a window can be opened here.

Qt ends the whole process when it finds no display, so it is tried in another one first.
"""

import os
import subprocess
import sys

WITHOUT_WINDOW = ("offscreen", "minimal", "vnc", "linuxfb")
"""Platforms of Qt on which nobody sees a window beside others."""

TRY_S = 20.0
_TRY = "from PySide6.QtGui import QGuiApplication; QGuiApplication(['ripfirst'])"


def can_show_window() -> bool:
    """Say whether Qt can open a window that somebody sees."""
    if os.environ.get("QT_QPA_PLATFORM", "").split(":")[0] in WITHOUT_WINDOW:
        return False
    if sys.platform.startswith("linux") and not _linux_display():
        return False
    return _qt_starts()


def _linux_display() -> bool:
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY"))


def _qt_starts() -> bool:
    try:
        tried = subprocess.run(
            [sys.executable, "-c", _TRY], capture_output=True, timeout=TRY_S, check=False
        )
    except (OSError, subprocess.TimeoutExpired):
        return False
    return tried.returncode == 0
