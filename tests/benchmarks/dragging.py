"""How quick a card answers: ``python -m tests.benchmarks.dragging INSTANCE PLAN [--moves N]``.

Opens the window on a plan that ``python -m tests.benchmarks ... --plans`` wrote, takes cards up,
carries them over all gaps in view and drops them where they may go. Prints milliseconds,
paint included, for taking a card up, for one step of the mouse, and for the drop: cuts
renumbered, sawn by the simulated saw, and all shown. Run it on a display, or with
QT_QPA_PLATFORM=offscreen.
"""

import argparse
import time
from collections.abc import Callable
from pathlib import Path
from random import Random
from statistics import median, quantiles

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from layout_app.panels.sequence import SequenceView
from layout_app.store.plan_file import read_plan
from layout_app.window.main_window import MainWindow
from tests.benchmarks.neutral import load

BUTTON = Qt.MouseButton.LeftButton


def main() -> None:
    """Measure and print a line for each kind of answer."""
    parser = argparse.ArgumentParser(description="Measures dragging cards.")
    parser.add_argument("instance", type=Path)
    parser.add_argument("plan", type=Path)
    parser.add_argument("--moves", type=int, default=60)
    asked = parser.parse_args()
    app = QApplication(["dragging"])
    dress(app, Theme.light())
    window = MainWindow()
    window.resize(1440, 900)
    window.show()
    project = Project(job=load(asked.instance)[0].job)
    window.document.open(adopted(project, read_plan(asked.plan)), None)
    app.processEvents()
    plan = window.document.plan
    assert plan is not None
    took = measure(window.sequence.cards, len(plan.cuts), asked.moves)
    print(f"{len(plan.cuts)} cuts, {len(plan.sheets)} sheets")
    for name, times in took.items():
        ms = sorted(1000 * one for one in times)
        p95 = quantiles(ms, n=20)[-1]
        print(
            f"{name:8} median {median(ms):6.1f} ms  95 % within {p95:6.1f} ms"
            f"  worst {ms[-1]:6.1f} ms  ({len(ms)})"
        )
    window.planner.close()


def measure(view: SequenceView, cuts: int, moves: int) -> dict[str, list[float]]:
    """Drag random cards; return seconds for each kind of answer."""
    rng = Random(0)
    took: dict[str, list[float]] = {"take up": [], "step": [], "drop": []}
    for _ in range(moves):
        number = rng.randint(1, cuts)
        view._select(number - 1)
        QApplication.processEvents()
        start = view.card_rect(number).center()
        timed(lambda at=start: mouse(view, QEvent.Type.MouseButtonPress, at))
        at = start + QPoint(30, 0)
        took["take up"].append(timed(lambda at=at: mouse(view, QEvent.Type.MouseMove, at)))
        drag = view.dragging
        assert drag is not None
        for x in range(20, view.viewport().width(), 60):
            to = QPoint(x, start.y())
            took["step"].append(timed(lambda to=to: mouse(view, QEvent.Type.MouseMove, to)))
        lit = drag.lit() or [drag.place]
        drag.gap = rng.choice(lit)
        took["drop"].append(timed(lambda: view._let_go(drop=True)))
    return took


def timed(does: Callable[[], None]) -> float:
    """Return the seconds until something is done and painted."""
    began = time.perf_counter()
    does()
    QApplication.processEvents()
    return time.perf_counter() - began


def mouse(view: SequenceView, kind: QEvent.Type, point: QPoint) -> None:
    """Send a mouse event to the cards."""
    where = QPointF(view.viewport().mapToGlobal(point))
    none = Qt.KeyboardModifier.NoModifier
    event = QMouseEvent(kind, QPointF(point), where, BUTTON, BUTTON, none)
    QApplication.sendEvent(view.viewport(), event)


if __name__ == "__main__":
    main()
