"""The program with its window, from start to end."""

import signal
import socket
import sys
from pathlib import Path

from PySide6.QtCore import QSocketNotifier, Qt, QTimer
from PySide6.QtWidgets import QApplication

from layout_app.interrupts import INTERRUPTED, INTERRUPTS
from layout_app.look.style_sheet import dress
from layout_app.look.wished_theme import system_theme
from layout_app.store.own_files import settings_path, shop_path
from layout_app.store.recovery import recovery_folder
from layout_app.window.garbage import Collecting
from layout_app.window.main_window import MainWindow
from solver.planning.kept_code import without_cache


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
    window.faults.start()
    collecting = Collecting(lambda: window.document.gestures.in_hand, window)
    window.files.look_for_left_behind()
    window.keeping.ready.connect(window.show)
    window.keeping.recall()
    QTimer.singleShot(0, window.planner, window.planner.start)
    once = Qt.ConnectionType.SingleShotConnection
    window.planner.ready.connect(lambda: _say_without_cache(window), once)
    woken = _closing_on_interrupt(window)
    if path is not None:
        window.open_path(path.absolute())
    code = app.exec()
    collecting.end()
    window.faults.end()
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
