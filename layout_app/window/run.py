"""The program with its window, from start to end."""

import gc
import signal
import socket
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject, QSocketNotifier, Qt, QTimer
from PySide6.QtWidgets import QApplication

from layout_app.interrupts import INTERRUPTED, INTERRUPTS
from layout_app.look.style_sheet import dress
from layout_app.look.wished_theme import system_theme
from layout_app.store.own_files import settings_path, shop_path
from layout_app.store.recovery import recovery_folder
from layout_app.window.main_window import MainWindow
from solver.kept_code import without_cache

EVERY_MS: Final = 2000
"""How often garbage is looked for."""
LATEST_S: Final = 10.0
"""After so long it is looked for, however often it was put off."""


def run(path: Path | None = None, argv: list[str] | None = None) -> int:
    """Open the window and stay until it is closed; return the exit code."""
    INTERRUPTS.keep()
    app = QApplication.instance() or QApplication(argv or sys.argv[:1])
    assert isinstance(app, QApplication)
    app.setApplicationName("Ripfirst")
    theme = system_theme()
    dress(app, theme)
    window = MainWindow(
        theme=theme,
        shop_file=shop_path(),
        recovery=recovery_folder(),
        settings_file=settings_path(),
    )
    window.projects.faults.start()
    gestures = window.document.gestures
    collecting = Collecting(lambda: gestures.in_hand, window)
    gestures.ended.connect(collecting.put_off)
    window.projects.files.look_for_left_behind()
    window.keeping.ready.connect(window.show)
    window.keeping.recall()
    QTimer.singleShot(0, window.planner, window.planner.start)
    once = Qt.ConnectionType.SingleShotConnection
    window.planner.ready.connect(lambda: _say_without_cache(window), once)
    woken = _closing_on_interrupt(window)
    if path is not None:
        window.projects.open(path.absolute())
    code = app.exec()
    collecting.end()
    window.projects.faults.end()
    woken.close()
    return INTERRUPTED if INTERRUPTS.times else code


def _say_without_cache(window: MainWindow) -> None:
    """Say that the search is compiled for this run only, if it is."""
    if sentence := without_cache():
        window.status.say(sentence)


def _closing_on_interrupt(window: MainWindow) -> socket.socket:
    """Have Ctrl+C in the terminal close the window as its button does; return what is woken by it.

    Python hears a signal only between two steps of its own, and Qt waits outside of it.
    """
    woken, waker = socket.socketpair()
    for end in (woken, waker):
        end.setblocking(False)
    signal.set_wakeup_fd(waker.detach(), warn_on_full_buffer=False)
    notifier = QSocketNotifier(woken.fileno(), QSocketNotifier.Type.Read, window)
    notifier.activated.connect(lambda: _close(window, woken))
    return woken


def _close(window: MainWindow, woken: socket.socket) -> None:
    woken.recv(64)
    window.close()


class Collecting(QObject):
    """Takes collecting over from Python as long as it lives: not while something is in the hand.

    Python collects on whichever thread happens to make the next object. Were that the thread that
    hears the planner, it would end objects of Qt that belong to the window, which brings the whole
    program down now and then.

    Parameters
    ----------
    busy
        Says that the maker must not be kept waiting now.
    """

    def __init__(self, busy: Callable[[], bool], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._busy, self._looked = busy, time.monotonic()
        gc.disable()
        self._timer = QTimer(self)
        self._timer.setInterval(EVERY_MS)
        self._timer.timeout.connect(self.collect)
        self._timer.start()

    def put_off(self) -> None:
        """Wait the whole time again, for what was let go of just now is being shown."""
        if time.monotonic() - self._looked < LATEST_S:
            self._timer.start()

    def collect(self) -> None:
        """Collect the oldest generation that Python itself would collect by now."""
        if self._busy():
            return
        self._looked = time.monotonic()
        counts, thresholds = gc.get_count(), gc.get_threshold()
        due = [place for place in range(3) if counts[place] > thresholds[place]]
        if due:
            gc.collect(due[-1])

    def end(self) -> None:
        """Give collecting back to Python."""
        self._timer.stop()
        gc.enable()
