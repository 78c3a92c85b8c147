"""Pictures of the real window: ``python -m tests.e2e.pictures OUT``.

Drives the window with mouse events and the real planner, and saves it empty, planned, with
the shop, with what would save a sheet, with a cut selected and with a part in mid-drag; then,
in each of the four themes, planned, with what goes on paper, the tab Build and the menu Paper;
all at two sizes and three scales. It works on a copy of the project. Without a display it
uses Qt's offscreen platform. The pictures are for eyes.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from itertools import product
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2] / "assets" / "herbarium.ripfirst.json"
SIZES = ((1440, 900), (1024, 700))
SCALES = (1.0, 1.5, 2.0)
PAPER_MENU = "Pa&per"
WAIT_S = 60.0


def main() -> int:
    """Take all pictures, each scale in a process of its own."""
    parser = argparse.ArgumentParser(description="Takes pictures of the window.")
    parser.add_argument("out", type=Path)
    parser.add_argument("--scale", type=float, help=argparse.SUPPRESS)
    arguments = parser.parse_args()
    arguments.out.mkdir(parents=True, exist_ok=True)
    if arguments.scale is not None:
        return take(arguments.out, arguments.scale)
    for scale in SCALES:
        command = [sys.executable, "-m", "tests.e2e.pictures", str(arguments.out)]
        subprocess.run(
            [*command, "--scale", str(scale)],
            check=True,
            env={**surroundings(), "QT_SCALE_FACTOR": str(scale)},
        )
    for picture in sorted(arguments.out.glob("*.png")):
        print(picture)
    return 0


def surroundings() -> dict[str, str]:
    """Return the environment, with the offscreen platform when there is no display."""
    shown = os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")
    if shown or sys.platform != "linux" or "QT_QPA_PLATFORM" in os.environ:
        return dict(os.environ)
    return {**os.environ, "QT_QPA_PLATFORM": "offscreen"}


def take(out: Path, scale: float) -> int:
    """Take the pictures of one scale."""
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415 - after the scale is set

    from layout_app.look.style_sheet import dress  # noqa: PLC0415 - Qt comes late
    from layout_app.look.theme import Theme  # noqa: PLC0415 - Qt comes late
    from layout_app.window.main_window import MainWindow  # noqa: PLC0415 - Qt comes late
    from solver.budget.stop import Budget  # noqa: PLC0415 - Qt comes late

    app = QApplication(["ripfirst"])
    dress(app, Theme.light())
    window = MainWindow(theme=Theme.light(), limits=Budget(time_s=8.0, workers=1))
    window.show()
    shoot = _Camera(app, window, out, scale)
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(shutil.copy(PROJECT, folder))
        try:
            _take_all(window, shoot, copy)
            _take_themes(window, shoot)
        finally:
            window.document.saved_state.note_saved(window.document.project, copy)
            window.close()
    return 0


def _take_all(window, shoot: "_Camera", project: Path) -> None:
    shoot.sizes("empty")
    window.planner.start()
    window.projects.open(project)
    shoot.wait(lambda: window.document.plan is not None and not window.planning.running)
    shoot.sizes("planned")
    window.left.tabs.setCurrentWidget(window.left.shop)
    shoot.sizes("shop")
    window.left.tabs.setCurrentIndex(0)
    window.menus.actions["bench.advice"].trigger()
    shoot.wait(lambda: window.offers.looking.heard.looked is not None)
    shoot.sizes("advice")
    window.drawers.advice.put_away()
    window.document.selection.select_cut(8)
    shoot.sizes("cut")
    shoot.sizes("dragged", shoot.mid_drag)


def _take_themes(window, shoot: "_Camera") -> None:
    """Take the plan and the panels for paper and building in each theme."""
    from layout_app.look.theme import Theme  # noqa: PLC0415 - Qt comes late

    for dark, high in product((False, True), repeat=2):
        theme = Theme.of(dark=dark, high=high)
        window.keeping.show_in(theme)
        name = theme.name.replace(" ", "-")
        shoot.sizes(name)
        shoot.sizes(f"{name}-menu", shoot.with_menu)
        window.left.tabs.setCurrentWidget(window.left.build)
        window.menus.actions["paper.save"].trigger()
        shoot.sizes(f"{name}-paper")
        window.drawers.paper.put_away()
        window.left.tabs.setCurrentIndex(0)


class _Camera:
    """Sizes the window, waits for it to be painted, and saves what it shows."""

    def __init__(self, app, window, out: Path, scale: float) -> None:
        self._app = app
        self._window = window
        self._out = out
        self._scale = scale

    def wait(self, ready: Callable[[], bool]) -> None:
        """Let the window live until something holds."""
        from PySide6.QtTest import QTest  # noqa: PLC0415 - Qt comes late

        deadline = time.monotonic() + WAIT_S
        while not ready():
            if time.monotonic() > deadline:
                raise TimeoutError("the window did not get there")
            QTest.qWait(20)

    def sizes(self, name: str, shoot: Callable[[str], None] | None = None) -> None:
        """Save a picture at each size."""
        from PySide6.QtTest import QTest  # noqa: PLC0415 - Qt comes late

        for width, height in SIZES:
            self._window.resize(width, height)
            QTest.qWait(150)
            (shoot or self.save)(f"{name}-{width}x{height}@{self._scale:g}")

    def save(self, name: str) -> None:
        """Save what the window shows now."""
        self._window.bench.settle()
        if not self._window.grab().save(str(self._out / f"{name}.png")):
            raise OSError(f"{name} could not be saved")

    def with_menu(self, name: str) -> None:
        """Save what the window shows with the menu Paper open over it."""
        from PySide6.QtGui import QPainter  # noqa: PLC0415 - Qt comes late

        bar = self._window.menuBar()
        action = next(one for one in bar.actions() if one.text() == PAPER_MENU)
        menu = action.menu()
        menu.popup(bar.mapToGlobal(bar.actionGeometry(action).bottomLeft()))
        shown = self._window.grab()
        painter = QPainter(shown)
        painter.drawPixmap(bar.actionGeometry(action).bottomLeft(), menu.grab())
        painter.end()
        menu.close()
        if not shown.save(str(self._out / f"{name}.png")):
            raise OSError(f"{name} could not be saved")

    def mid_drag(self, name: str) -> None:
        """Carry the first part half over its neighbour, save, and let go of it with Esc."""
        from PySide6.QtCore import QPoint, Qt  # noqa: PLC0415 - Qt comes late
        from PySide6.QtTest import QTest  # noqa: PLC0415 - Qt comes late

        view = self._window.bench
        view.verticalScrollBar().setValue(0)
        QTest.qWait(50)
        place = next(p for p in self._window.document.layout.sheets[0].placements)
        middle = view.bench.rects_of([place.key])[0].center()
        start = view.mapFromScene(middle)
        port = view.viewport()
        QTest.mousePress(port, Qt.MouseButton.LeftButton, pos=start)
        for step in range(1, 9):
            QTest.mouseMove(port, start + QPoint(12 * step, 9 * step))
            QTest.qWait(15)
        self.save(name)
        QTest.keyClick(view, Qt.Key.Key_Escape)
        QTest.mouseRelease(port, Qt.MouseButton.LeftButton, pos=start)
        self._window.document.selection.select_parts([])


if __name__ == "__main__":
    sys.exit(main())
