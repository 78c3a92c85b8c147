"""A window in a process of its own that ticks the first cuts, says so, and then waits."""

import sys
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from layout_app.document.ticks import tick
from layout_app.window.main_window import MainWindow


def main(path: Path, recovery: Path, count: int) -> None:
    """Open a project, tick so many cuts one after the other; each is said once it is shown."""
    app = QApplication([])
    window = MainWindow(recovery=recovery)
    document = window.document

    def next_tick() -> None:
        made = len(document.progress.made)
        if made and not document.saved_state.is_done(document.progress.made[-1]):
            return
        print(f"shown {made}", flush=True)
        if made < count:
            QTimer.singleShot(0, lambda: tick(document, [made + 1]))

    def begin() -> None:
        document.progress_changed.connect(next_tick)
        next_tick()

    if path.suffix:
        window.projects.files.opened.connect(lambda *_: QTimer.singleShot(50, begin))
        window.projects.open(path)
    else:
        from tests.layout_app import small_job  # noqa: PLC0415 - brings the planner in

        window.projects.show(small_job.document().project, None)
        QTimer.singleShot(50, begin)
    app.exec()


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3]))
