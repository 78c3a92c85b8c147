"""How quick the bench is: ``python -m tests.benchmarks.bench [--parts N ...] [--gestures N]``.

With ``--carried N`` each drag carries so many parts of a sheet. Opens the window on sheets laid
full by hand, with Python's collecting as the program has it, and works on it with mouse events:
takes parts up, drags them over all of the view, drops them, undoes; zooms and pans. Prints
milliseconds for each kind of frame: median, 95 of 100, worst; median and 95 of 100 of the time the
window's own thread took, which other work on the machine disturbs less; and how many paints of the
bench there were. A frame lasts from the event until all it has caused is done and painted. With
``--memory N`` it makes N gestures more on 60 parts and prints the memory held on the way. Run it
with QT_QPA_PLATFORM=offscreen, and on a display (``xvfb-run`` with a window manager will do).
"""

import argparse
import gc
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from random import Random
from statistics import median, quantiles

from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.window.main_window import MainWindow
from layout_app.window.run import Collecting
from tests.benchmarks.laid import laid

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.KeyboardModifier.NoModifier
STEPS, TURN = 40, 14
"""Steps of the mouse in a drag, and after how many it makes for another place."""
ZOOM = 1.2
PEACE_MS = 700
"""Between two kinds of frames: what goes on by itself has ended by then."""
REPORTS = 10


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description="Measures the bench.")
    parser.add_argument("--parts", type=int, nargs="*", default=[100, 500])
    parser.add_argument("--gestures", type=int, default=25)
    parser.add_argument("--carried", type=int, default=1, help="how many parts a drag carries")
    parser.add_argument("--memory", type=int, default=0)
    asked = parser.parse_args()
    app = QApplication(["bench"])
    dress(app, Theme.light())
    print(f"on {app.platformName()}")
    for parts in asked.parts:
        for name, whole in (("as wide as the view", False), ("all in view", True)):
            at_work = Work(parts, asked.carried)
            sheets = len(at_work.window.document.layout.sheets)
            print(f"{parts} parts on {sheets} sheets, {name}", flush=True)
            at_work.measure(asked.gestures, whole=whole)
            at_work.close()
    if asked.memory:
        remember(asked.memory)


@dataclass
class Frames:
    """Milliseconds of each frame of one kind, and how many paints there were."""

    ms: list[float] = field(default_factory=list)
    own_ms: list[float] = field(default_factory=list)
    paints: int = 0
    bare: int = 0
    """Frames without any paint: nothing was to be seen of them."""

    def line(self, name: str) -> str:
        """Return the figures in one line."""
        if len(self.ms) < 2:
            return f"  {name:10} {self.ms}"
        ms, own = sorted(self.ms), self.own_ms
        return (
            f"  {name:10} median {median(ms):6.1f}  p95 {quantiles(ms, n=20)[-1]:6.1f}"
            f"  worst {ms[-1]:6.1f}  own {median(own):6.1f} {quantiles(own, n=20)[-1]:6.1f}"
            f"  ({len(ms)} frames, {self.paints} paints,"
            f" {self.bare} without)"
        )


class Work(QObject):
    """A window with a layout, and a hand that drags, zooms and pans in it."""

    def __init__(self, parts: int, carried: int = 1) -> None:
        super().__init__()
        self._carried = carried
        self.window = MainWindow()
        self.window.resize(1440, 900)
        self.window.show()
        self.window.document.open(laid(parts), None)
        self.view = self.window.bench
        self._collecting = Collecting(lambda: self.window.document.gestures.in_hand, self)
        self.port = self.view.viewport()
        self.paints = 0
        self.port.installEventFilter(self)
        self.rng = Random(3)
        self.frames: dict[str, Frames] = {}
        QTest.qWait(PEACE_MS)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Count the paints of the bench."""
        if event.type() == QEvent.Type.Paint:
            self.paints += 1
        return False

    def close(self) -> None:
        """End without a question about what changed."""
        document = self.window.document
        document.saved_state.note_saved(document.project, Path("not-written"))
        self._collecting.end()
        self.window.close()
        self.window.deleteLater()
        QTest.qWait(50)

    def measure(self, gestures: int, *, whole: bool) -> None:
        """Measure all kinds of frames and print them; ``whole`` shows every sheet meanwhile."""
        for _ in range(gestures):
            self._show(whole=whole)
            self._gesture(whole=whole)
        self._show(whole=whole)
        self._zooming()
        self._show(whole=whole)
        self._panning()
        for name, frames in self.frames.items():
            print(frames.line(name), flush=True)

    def gesture(self, steps: int, *, drop: bool) -> None:
        """Take a part up, move it about and let it go, without measuring."""
        start = self._part()
        self._mouse(QEvent.Type.MouseButtonPress, start)
        for _ in range(steps):
            by = QPoint(self.rng.randint(-90, 90), self.rng.randint(-60, 60))
            self._mouse(QEvent.Type.MouseMove, start + by)
            QApplication.processEvents()
        if not drop:
            self.view.hand.cancel()
        self._mouse(QEvent.Type.MouseButtonRelease, start)
        QApplication.processEvents()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # as a running loop does

    def _show(self, *, whole: bool) -> None:
        (self.view.fit_all if whole else self.view.fit_width)()
        self._rest()

    def _rest(self) -> None:
        """Wait until nothing goes on by itself."""
        QTest.qWait(PEACE_MS)
        while self.window.planner.running:
            QTest.qWait(50)
        QTest.qWait(PEACE_MS // 4)

    def _gesture(self, *, whole: bool) -> None:
        start = self._part(reveal=not whole)
        while self.view.hand.spot(self.view.mapToScene(start)).part is None:  # a tag lies on it
            start = self._part(reveal=not whole)
        self._frame("press", lambda: self._mouse(QEvent.Type.MouseButtonPress, start))
        QTest.qWait(20)
        self._frame("take up", lambda: self._mouse(QEvent.Type.MouseMove, start + QPoint(5, 2)))
        if not self.view.hand.busy:  # an order of the cuts came in between, and the press is void
            self._mouse(QEvent.Type.MouseButtonRelease, start)
            return
        at = base = target = start
        for index in range(STEPS):
            if index % TURN == 0:
                base, target = at, self._anywhere()
            at = base + (target - base) * ((index % TURN + 1) / TURN)
            self._frame("drag", lambda at=at: self._mouse(QEvent.Type.MouseMove, at))
        self._frame("drop", lambda: self._mouse(QEvent.Type.MouseButtonRelease, at))
        self._frame("undo", self.window.document.undo)

    def _zooming(self) -> None:
        for index in range(80):
            factor = ZOOM if index % 20 < 10 else 1 / ZOOM
            at = QPoint(300 + index, 200)
            self._frame("zoom", lambda factor=factor, at=at: self.view.zoom(factor, at))
        until = time.perf_counter() + PEACE_MS / 1000
        while time.perf_counter() < until:
            before, began = self.paints, _now()
            QApplication.processEvents()
            if self.paints > before:
                self._note("sharp again", began, before)

    def _panning(self) -> None:
        for zoom in (1.0, 1.5, 4.0):
            self.view.zoom(zoom)
            self._rest()
            for index in range(60):
                by = QPoint(11, 17) if index % 30 < 15 else QPoint(-11, -17)
                self._frame("pan", lambda by=by: self.view.scroll_by(by))

    def _part(self, *, reveal: bool = True) -> QPoint:
        """Return a point on a part that lies on a sheet, in sight; it and others are selected.

        Nothing is selected, if a drag is to carry one part only.
        """
        document = self.window.document
        document.selection.clear()
        lying = [one for sheet in document.layout.sheets for one in sheet.placements]
        one = self.rng.choice(lying)
        rect = self.view.bench.rects_of([one.key])[0]
        beside = [other for other in lying if other.sheet == one.sheet and other != one]
        if self._carried > 1:
            chosen = (one, *beside[: self._carried - 1])
            document.selection.select_parts(other.key for other in chosen)
        if reveal:
            self.view.reveal(rect)
        QApplication.processEvents()
        return self.view.mapFromScene(rect.center())

    def _anywhere(self) -> QPoint:
        """Return a point in sight, on a sheet."""
        seen = self.view.mapToScene(self.port.rect()).boundingRect().adjusted(40, 40, -40, -40)
        stands = (stand.rect.intersected(seen) for stand in self.view.bench.floor.stands)
        rect = self.rng.choice([one for one in stands if not one.isEmpty()])
        x, y = (self.rng.uniform(0, size) for size in (rect.width(), rect.height()))
        return self.view.mapFromScene(rect.topLeft() + QPointF(x, y))

    def _frame(self, name: str, does: Callable[[], object]) -> None:
        before, began = self.paints, _now()
        does()
        QApplication.processEvents()
        self._note(name, began, before)

    def _note(self, name: str, began: tuple[float, float], before: int) -> None:
        frames = self.frames.setdefault(name, Frames())
        took = [1000 * (end - start) for start, end in zip(began, _now(), strict=True)]
        frames.ms.append(took[0])
        frames.own_ms.append(took[1])
        frames.paints += self.paints - before
        frames.bare += self.paints == before

    def _mouse(self, kind: QEvent.Type, point: QPoint) -> None:
        where = QPointF(self.port.mapToGlobal(point))
        QApplication.sendEvent(
            self.port, QMouseEvent(kind, QPointF(point), where, LEFT, LEFT, NONE)
        )


def _now() -> tuple[float, float]:
    """Return the time of the clock and that of this thread, in seconds."""
    return time.perf_counter(), time.thread_time()


def remember(gestures: int) -> None:
    """Make gestures, four in ten dropped for good, and print the memory held on the way."""
    at_work = Work(60)
    document, every = at_work.window.document, max(1, gestures // REPORTS)
    print(f"{gestures} gestures on 60 parts")
    for number in count():
        if number % every == 0:
            gc.collect()
            steps = document.undo_stack.count()
            print(f"  {number:6} gestures  {held_mb():6.1f} MB  {steps} steps to undo", flush=True)
        if number == gestures:
            break
        at_work.gesture(3, drop=at_work.rng.random() < 0.7)
        if at_work.rng.random() < 0.4:
            document.undo()
            QApplication.processEvents()
    at_work.close()


def held_mb() -> float:
    """Return the resident set of this process in MB; not a number where there is no /proc."""
    status = Path("/proc/self/status")
    if not status.exists():
        return float("nan")
    rows = dict(line.split(":", 1) for line in status.read_text("utf-8").splitlines())
    return int(rows["VmRSS"].split()[0]) / 1024


if __name__ == "__main__":
    main()
