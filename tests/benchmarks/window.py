"""How quick the window is: ``python -m tests.benchmarks.window [PROJECT] [--runs N]``.

Prints, for each run in a fresh process and as medians: seconds from the interpreter's first
line to the first painted window; milliseconds from a committed edit until every copy lies on a
sheet again; and how long the event loop was held at a time while the planner works (99 of 100
beats, and the worst). Run it on a display, or with QT_QPA_PLATFORM=offscreen.
"""

import argparse
import json
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from statistics import median

STARTED = time.perf_counter()
ASSETS = Path(__file__).resolve().parents[2] / "assets"
BEAT_MS = 4
SETTLE_MS, WATCH_MS = 4_000, 8_000


def main() -> None:
    """Measure in fresh processes and print a table."""
    parser = argparse.ArgumentParser(description="Measures the window.")
    parser.add_argument("project", nargs="?", default=str(ASSETS / "herbarium.ripfirst.json"))
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--once", action="store_true", help=argparse.SUPPRESS)
    arguments = parser.parse_args()
    if arguments.once:
        print(json.dumps(measure(Path(arguments.project))))
        return
    command = [sys.executable, "-m", "tests.benchmarks.window", arguments.project, "--once"]
    rows = []
    for _ in range(arguments.runs):
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        rows.append(json.loads(done.stdout.splitlines()[-1]))
        print(_line(rows[-1]), flush=True)
    middle = {name: median(row[name] for row in rows) for name in rows[0]}
    print(f"{_line(middle)}  (medians of {len(rows)})")


def _line(row: dict[str, float]) -> str:
    return "  ".join(f"{name} {value:.3f}" for name, value in row.items())


def measure(project: Path) -> dict[str, float]:
    """Open the window on a project, edit its first part, and return what was measured."""
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415 - part of what is measured

    from layout_app.look.style_sheet import dress  # noqa: PLC0415 - Qt comes late
    from layout_app.look.theme import Theme  # noqa: PLC0415 - Qt comes late
    from layout_app.window.main_window import MainWindow  # noqa: PLC0415 - Qt comes late

    app = QApplication(["window"])
    dress(app, Theme.light())
    window = MainWindow()
    window.show()
    app.processEvents()
    window.grab()
    first_paint_s = time.perf_counter() - STARTED
    window.planner.start()
    window.projects.open(project)
    watch = _Watch(window)
    watch.run(app.exec, app.exit)  # to quit would ask about the edit first
    window.document.saved_state.note_saved(window.document.project, project)
    window.close()
    return {"first_paint_s": first_paint_s, **watch.figures()}


class _Watch:
    """Edits once the plan has come, and counts how late the beats of a timer are."""

    def __init__(self, window: object) -> None:
        from PySide6.QtCore import Qt, QTimer  # noqa: PLC0415 - Qt comes late

        from layout_app.window.main_window import MainWindow  # noqa: PLC0415 - Qt comes late

        assert isinstance(window, MainWindow)
        self._document = window.document
        self._late_ms: list[float] = []
        self._last = self._edited = 0.0
        self._planned_ms = float("nan")
        self._timer = QTimer()
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.setInterval(BEAT_MS)
        self._timer.timeout.connect(self._beat)
        self._once = QTimer.singleShot

    def run(self, enter: Callable[[], int], leave: Callable[[], None]) -> None:
        """Let events run until all is measured."""
        self._once(SETTLE_MS, self._edit)
        self._once(SETTLE_MS + WATCH_MS, leave)
        enter()
        self._timer.stop()

    def figures(self) -> dict[str, float]:
        """Return what was measured, in milliseconds."""
        late = sorted(self._late_ms)
        return {
            "edit_to_plan_ms": self._planned_ms,
            "held_p99_ms": late[len(late) * 99 // 100],
            "held_worst_ms": late[-1],
        }

    def _edit(self) -> None:
        """Make the first part a twentieth shorter."""
        from layout_app.document import edit_parts  # noqa: PLC0415 - Qt comes late

        part = self._document.job.parts[0]
        self._document.layout_changed.connect(self._note)
        self._edited = self._last = time.perf_counter()
        self._timer.start()
        edit_parts.edit_part(self._document, replace(part, length=part.length * 19 // 20))

    def _note(self) -> None:
        if not self._document.layout.waiting and self._planned_ms != self._planned_ms:
            self._planned_ms = (time.perf_counter() - self._edited) * 1000

    def _beat(self) -> None:
        now = time.perf_counter()
        self._late_ms.append(max(0.0, (now - self._last) * 1000 - BEAT_MS))
        self._last = now


if __name__ == "__main__":
    main()
