"""The program with its window, from start to end."""

import sys
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from layout_app.collecting import Collecting
from layout_app.main_window import MainWindow
from layout_app.store.recovery import recovery_folder
from layout_app.store.settings_file import settings_path
from layout_app.store.shop_file import shop_path
from layout_app.styling import dress
from layout_app.wished_theme import system_theme


def run(path: Path | None = None, argv: list[str] | None = None) -> int:
    """Open the window and stay until it is closed; return the exit code."""
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
    collecting = Collecting(lambda: window.document.in_hand, window)
    window.files.look_for_left_behind()
    window.keeping.ready.connect(window.show)
    window.keeping.recall()
    QTimer.singleShot(0, window.planner, window.planner.start)
    if path is not None:
        window.open_path(path)
    code = app.exec()
    collecting.end()
    window.faults.end()
    return code
