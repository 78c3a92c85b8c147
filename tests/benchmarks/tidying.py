"""How long tidying one sheet takes: ``python -m tests.benchmarks.tidying [LIST ...]``.

Opens the window on a plan of each workshop list, in little time, so that there is something to
tidy; then each sheet (at most ``--sheets`` of a list) is tidied, as its menu does it, as it lies
and with two parts moved away from each other. Printed are the seconds from the word to the answer,
and how often the sheet became better.
"""

import argparse
import time
from dataclasses import replace
from pathlib import Path
from statistics import median, quantiles

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.document import edit_layout
from layout_app.model.project import Project
from layout_app.planner import aside
from layout_app.window.main_window import MainWindow
from solver.wire import Budget
from tests.benchmarks.neutral import load

LISTS = Path(__file__).parent / "workshop"
WAIT_S = 60.0


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description="Measures tidying.")
    parser.add_argument("lists", type=Path, nargs="*", default=sorted(LISTS.glob("*.json")))
    parser.add_argument("--sheets", type=int, default=2)
    parser.add_argument("--budget", type=float, default=aside.TIDY.time_s)
    asked = parser.parse_args()
    aside.TIDY = replace(aside.TIDY, time_s=asked.budget)
    app = QApplication(["tidying"])
    window = MainWindow(limits=Budget(time_s=0.5, workers=1))
    window.show()
    took: list[float] = []
    better = {False: 0, True: 0}
    for path in asked.lists:
        window.document.open(Project(job=load(path)[0].job), None)
        window.planning.plan_if_needed()
        _rest(window)
        for sheet in [one.id for one in window.document.layout.sheets[: asked.sheets]]:
            for messed in (False, True):
                if messed:
                    _mess(window, sheet)
                    _rest(window)
                steps = window.document.undo_stack.count()
                began = time.perf_counter()
                window.offers.tidying.tidy(sheet)
                while window.offers.tidying.under_way:
                    app.processEvents()
                took.append(time.perf_counter() - began)
                better[messed] += window.document.undo_stack.count() > steps
                while window.document.undo_stack.canUndo():
                    window.document.undo()
                _rest(window)
        print(f"{path.stem} {[round(one, 2) for one in took[-2 * asked.sheets :]]}", flush=True)
    print(
        f"{len(took)} tidied, better: {better[False]} as they lay, {better[True]} that could not be"
        f" cut; seconds: median {median(took):.2f},"
        f" 95 % within {quantiles(took, n=20)[-1]:.2f}, worst {max(took):.2f}"
    )
    document = window.document
    document.saved_state.note_saved(document.project, Path("not-written"))
    window.close()


def _mess(window: MainWindow, sheet: str) -> None:
    """Lay the last part of a sheet over the first, so that the sheet cannot be cut."""
    lies = window.document.layout.sheet(sheet).placements
    first, last = lies[0], lies[-1]
    edit_layout.move_parts(window.document, [replace(last, x=first.x + 1, y=first.y + 1)])


def _rest(window: MainWindow) -> None:
    """Wait until nothing is planned."""
    until = time.perf_counter() + WAIT_S
    QTest.qWait(100)
    while window.planner.running and time.perf_counter() < until:
        QTest.qWait(20)


if __name__ == "__main__":
    main()
