"""Kills while saving and while ticking: what was acknowledged is there, and every file is whole.

``python -m tests.soak.saving --n 300 --ticks 110`` prints how much was lost or broken.
"""

import argparse
import random
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QTimer
from PySide6.QtWidgets import QApplication

from layout_app.document.ticks import next_open, tick
from layout_app.model.project import Project
from layout_app.planner.process import PlannerProcess
from layout_app.store.errors import FileProblem
from layout_app.store.project_file import read_project, save_project
from layout_app.window.files import Files
from layout_app.window.main_window import MainWindow
from tests.layout_app.adopting import adopt
from tests.soak.children import Act, begin

SAVING_S, TICKING_S = 0.25, 1.5
"""Kills come within so many seconds after the first that was acknowledged."""
PATIENCE_S = 60.0


@dataclass(slots=True)
class Count:
    """What was seen; all but the first two ought to be 0."""

    kills: int = 0
    acknowledged: int = 0
    lost: int = 0
    broken: int = 0
    left_over: int = 0


def kills_while_saving(project: Project, folder: Path, number: int, seed: int = 0) -> Count:
    """Kill so many programs that save one project over and over, each under a higher number."""
    path, chance, count = folder / "saved.ripfirst.json", random.Random(seed), Count()
    save_project(path, replace(project, job=replace(project.job, name="0")))
    for _ in range(number):
        first = int(read_project(path).job.name) + 1
        acknowledged = _killed(partial(_save_on, project, path, first), chance, SAVING_S)
        _judge(count, acknowledged, path, lambda found: int(found.job.name))
    save_project(path, project)
    count.left_over = len(list(folder.glob(".*.tmp")))
    return count


def kills_while_ticking(project: Project, folder: Path, number: int, seed: int = 0) -> Count:
    """Kill so many windows in which one cut after the other is ticked."""
    chance, count = random.Random(seed), Count()
    for place in range(number):
        path = folder / str(place) / "ticked.ripfirst.json"
        path.parent.mkdir()
        save_project(path, project)
        acknowledged = _killed(partial(_tick_on, path, path.parent / "recovery"), chance, TICKING_S)
        _judge(count, acknowledged, path, lambda found: len(found.progress.made))
        save_project(path, project)
        count.left_over += len(list(path.parent.rglob(".*.tmp")))
    return count


def _killed(act: Act, chance: random.Random, most_s: float) -> int:
    """Let a program act until it is killed; return the last number it has acknowledged."""
    child = begin(act)
    said = child.line(PATIENCE_S)
    if said is None:
        raise RuntimeError("the program to be killed never began")
    time.sleep(chance.uniform(0, most_s))
    return int([said, *child.kill()][-1])


def _judge(count: Count, acknowledged: int, path: Path, number: Callable[[Project], int]) -> None:
    count.kills += 1
    count.acknowledged += acknowledged
    try:
        count.lost += number(read_project(path)) < acknowledged
    except FileProblem as problem:
        count.broken += 1
        print(problem)


def _save_on(
    project: Project, path: Path, first: int, say: Callable[[str], None], _hears: int
) -> None:
    """Save under ever higher numbers; say each once it is saved."""
    app, files = QCoreApplication([]), Files()

    def save(number: int) -> None:
        files.save(replace(project, job=replace(project.job, name=str(number))), path)

    def go_on(saved: Project, _path: Path) -> None:
        say(saved.job.name)
        save(int(saved.job.name) + 1)

    files.saved.connect(go_on)
    save(first)
    app.exec()


def _tick_on(path: Path, recovery: Path, say: Callable[[str], None], _hears: int) -> None:
    """Open the project in a window and tick its cuts; say each once its tick shows as made."""
    app = QApplication([])
    window = MainWindow(planner=PlannerProcess(), recovery=recovery)
    document = window.document

    def look() -> None:
        made = document.progress.made
        if made and not document.saved_state.is_done(made[-1]):
            return
        say(str(len(made)))
        number = next_open(document.plan, document.progress)
        if number is not None:
            QTimer.singleShot(0, lambda: tick(document, [number]))

    def began(*_: object) -> None:
        document.progress_changed.connect(look)
        QTimer.singleShot(0, look)

    window.projects.files.claimed.connect(began)
    window.projects.open(path)
    app.exec()


def main() -> None:
    """Print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=300)
    parser.add_argument("--ticks", type=int, default=110)
    parser.add_argument("--seed", type=int, default=0)
    wish = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        project = planned_project(folder)
        print("saving", kills_while_saving(project, folder, wish.n, wish.seed), flush=True)
        print("ticking", kills_while_ticking(project, folder, wish.ticks, wish.seed), flush=True)


def planned_project(folder: Path) -> Project:
    """Return a planned project of some size, made in another process: nothing of Qt begins here."""
    path = folder / "planned.ripfirst.json"
    child = begin(partial(_plan, path))
    if child.line(PATIENCE_S) is None:
        raise RuntimeError("the project was not planned")
    child.kill()
    return read_project(path)


def _plan(path: Path, say: Callable[[str], None], _hears: int) -> None:
    from layout_app.document.document import Document  # noqa: PLC0415 - in the child only
    from tests.layout_app.small_job import planned, small_job  # noqa: PLC0415 - in the child only

    job = small_job()
    side, shelf = job.parts
    parts = [replace(side, copies=40)]
    parts += [replace(shelf, id=f"shelf {n}", name=f"Shelf {n}", copies=2) for n in range(40)]
    document = Document(Project(job=replace(job, parts=tuple(parts))))
    adopt(document, planned(document.job))
    save_project(path, document.project)
    say("planned")


if __name__ == "__main__":
    main()
