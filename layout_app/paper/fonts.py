"""Fonts without a window: on the command line Qt is started for them alone."""

import os

from PySide6.QtGui import QGuiApplication


def with_fonts() -> None:
    """See that there is a Qt application; one that is made here needs no display."""
    if QGuiApplication.instance() is None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        _KEPT.append(QGuiApplication(["ripfirst"]))


_KEPT: list[QGuiApplication] = []
"""An application that nobody holds is gone at once, and its fonts with it."""
