"""How quick a card answers: ``python -m tests.benchmarks.dragging PROJECT [--moves N]``.

Or INSTANCE PLAN in place of PROJECT: a neutral list in the usual shop, and a plan of it that
``python -m tests.benchmarks ... --plans`` wrote. Opens the whole window, with Python's collecting
as the program has it, and works on the cards with mouse events: takes them up, carries them over
all gaps in view and lets them go at one that is lit. Prints for taking a card up, for one step
of the mouse, for the drop (cuts renumbered, sawn by the simulated saw, and all shown), and for
taking it back: median, 95 of 100 and the worst in milliseconds from the event until it is done and
painted; then median and 95 of 100 of the time of the window's own thread, which other work on the
machine disturbs less. *Settled* is a drop until what its first frame left for the next ones is
painted as well. Run it on a display, or with QT_QPA_PLATFORM=offscreen.
"""

import argparse
import cProfile
import os
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from random import Random
from statistics import median, quantiles

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import read_project
from layout_app.window.main_window import MainWindow
from layout_app.window.run import Collecting
from shared.practice import USUAL_SHOP
from tests.benchmarks.neutral import load

BUTTON = Qt.MouseButton.LeftButton
PEACE_MS = 700
"""After a project is opened: what goes on by itself has ended by then."""


def main() -> None:
    """Measure and print a line for each kind of answer."""
    parser = argparse.ArgumentParser(description="Measures dragging cards.")
    parser.add_argument("project", type=Path, help="a project file, or a neutral list")
    parser.add_argument("plan", type=Path, nargs="?", help="a plan of the list")
    parser.add_argument("--moves", type=int, default=60)
    parser.add_argument("--profile", type=Path, help="write what the drops do, for pstats")
    asked = parser.parse_args()
    app = QApplication(["dragging"])
    dress(app, Theme.light())
    window = MainWindow()
    window.resize(1440, 900)
    window.show()
    document = window.document
    document.open(_opened(asked.project, asked.plan), None)
    collecting = Collecting(lambda: document.gestures.in_hand, window)
    document.gestures.ended.connect(collecting.put_off)
    QTest.qWait(PEACE_MS)
    plan = document.plan
    assert plan is not None
    hand = Hand(window, cProfile.Profile() if asked.profile else None)
    hand.work(asked.moves)
    load_1 = os.getloadavg()[0]
    print(
        f"{len(plan.cuts)} cuts, {len(plan.sheets)} sheets, on {app.platformName()}, {load_1=:.1f}"
    )
    for name, times in hand.took.items():
        print(_line(name, times))
    if hand.profile is not None:
        hand.profile.dump_stats(asked.profile)
    collecting.end()
    document.saved_state.note_saved(document.project, Path("not-written"))
    window.close()


def _opened(path: Path, plan: Path | None) -> Project:
    if plan is None:
        return read_project(path)
    job = load(path)[0].job
    shop = replace(USUAL_SHOP, kerf=job.shop.kerf)
    project = adopted(Project(job=replace(job, shop=shop)), read_plan(plan))
    return replace(project, layout=replace(project.layout, sawing=shop.sawing))  # in order already


def _line(name: str, times: list[tuple[float, float]]) -> str:
    by_clock, own = ([1000 * one[which] for one in times] for which in (0, 1))
    return (
        f"{name:8} median {median(by_clock):6.1f} ms  95 % within {_most(by_clock):6.1f}"
        f"  worst {max(by_clock):6.1f}  own {median(own):6.1f} {_most(own):6.1f}  ({len(times)})"
    )


def _most(times: list[float]) -> float:
    """Return what 95 of 100 are within."""
    return quantiles(times, n=20)[-1] if len(times) > 1 else times[0]


class Hand:
    """Drags random cards; ``took`` are seconds, by the clock and own, for each kind of answer."""

    def __init__(self, window: MainWindow, profile: cProfile.Profile | None = None) -> None:
        self._window, self._view = window, window.sequence.cards
        self.profile = profile
        self.took: dict[str, list[tuple[float, float]]] = {}

    def work(self, moves: int) -> None:
        """Make so many drops; each third one is taken back."""
        rng, made = Random(0), 0
        while made < moves:
            made += self._drag(rng)
            if made % 3 == 2 and self._window.document.undo_stack.canUndo():
                self._timed("undo", self._window.document.undo)

    def _drag(self, rng: Random) -> bool:
        """Carry a random card; say whether it was dropped elsewhere."""
        view = self._view
        card = rng.choice(view.cards)
        self._window.document.selection.select_cut(card.number)
        QApplication.processEvents()
        start = view.card_rect(card.number).center()
        self._mouse(QEvent.Type.MouseButtonPress, start)
        QApplication.processEvents()
        at = start + QPoint(30, 0)
        self._timed("take up", lambda: self._mouse(QEvent.Type.MouseMove, at))
        drag = view.dragging
        assert drag is not None
        for x in range(20, view.viewport().width(), 60):
            to = QPoint(x, start.y())
            self._timed("step", lambda to=to: self._mouse(QEvent.Type.MouseMove, to))
        seen = view.viewport().rect()
        lit = [gap for gap in drag.lit() if seen.contains(view.gap_point(gap))]
        goal = view.gap_point(rng.choice(lit)) if lit else start
        self._mouse(QEvent.Type.MouseMove, goal)
        QApplication.processEvents()
        if not lit:
            self._mouse(QEvent.Type.MouseButtonRelease, goal)
            return False
        if self.profile is not None:
            self.profile.enable()
        self._timed("drop", lambda: self._mouse(QEvent.Type.MouseButtonRelease, goal))
        if self.profile is not None:
            self.profile.disable()
        return True

    def _timed(self, name: str, does: Callable[[], object]) -> None:
        began = time.perf_counter(), time.thread_time()
        does()
        QApplication.processEvents()
        self._note(name, began)
        QApplication.processEvents()  # what was put off until there is time, and what that caused
        if name == "drop":
            self._note("settled", began)

    def _note(self, name: str, began: tuple[float, float]) -> None:
        ended = time.perf_counter(), time.thread_time()
        self.took.setdefault(name, []).append((ended[0] - began[0], ended[1] - began[1]))

    def _mouse(self, kind: QEvent.Type, point: QPoint) -> None:
        port, none = self._view.viewport(), Qt.KeyboardModifier.NoModifier
        where = QPointF(port.mapToGlobal(point))
        event = QMouseEvent(kind, QPointF(point), where, BUTTON, BUTTON, none)
        QApplication.sendEvent(port, event)


if __name__ == "__main__":
    main()
