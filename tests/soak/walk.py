"""The walk-through in the plain program, by real keys: ``python -m tests.soak.walk [--n 200]``.

The program runs in a process of its own, collects garbage at every event (what is young; all at
every 20th), and nothing outside holds anything of it. Space is pressed until so many ticks are in
the file; prints how many are, and whether the view stands. ``--standing 8`` starts the program
as often without a collector of ours, begins the walk, and counts how often it closed within 12 s.
"""

import argparse
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QCoreApplication

from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.panels.ticks import all_cards
from layout_app.store.project_file import read_project, save_project
from layout_app.walk.moments import CutNow, moments_of
from tests.e2e.desk import Desk, Program, desk, wait_for
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import part, planned, small_job

COLLECTED = """
import gc, sys
from pathlib import Path
from PySide6.QtWidgets import QApplication
from layout_app.window.run import run
from tests.layout_app.collected import collecting
app = QApplication(sys.argv[:1])
gc.freeze()
with collecting(app):
    code = run(Path(sys.argv[1]))
sys.exit(code)
"""
"""The program with the collector at every event; what Python itself holds is left out of it."""
WALK = "At the sawhorses"
TRADE = "Trestles"
OPENS_S, STANDS_S = 10.0, 12.0
UNHEARD_S, SHOWN_S = 1.5, 0.1
"""A press that no tick follows in so long came before the page did, which takes about as long."""
LOOK_S, TRIES = 0.02, 5


@dataclass(frozen=True, slots=True)
class Walked:
    """How a walk ended: whether the view stood to the end, and which cuts the file has ticked.

    ``timed`` are those of which it has the time since the tick before.
    """

    stands: bool
    made: tuple[int, ...]
    timed: tuple[int, ...]
    presses: int


def write_project(path: Path, cuts: int) -> tuple[bool, ...]:
    """Write a planned project of at least so many cuts; say which pages of its walk tick one."""
    copies, plan = 1, None
    while plan is None or len(plan.cuts) < cuts:
        sizes = [(40 - 3 * row, 12 - row // 2) for row in range(8)]
        parts = tuple(part(f"p{n}", f"Leg {n}", size, copies) for n, size in enumerate(sizes))
        job = replace(small_job(), name=TRADE, parts=parts)
        plan, copies = planned(job), copies + 1
    document = Document(Project(job=job))
    adopt(document, plan)
    save_project(path, document.project)
    return tuple(isinstance(page, CutNow) for page in moments_of(all_cards(document)))


class AtTheSawhorses:
    """A maker at a program whose walk was begun."""

    def __init__(self, on: Desk, path: Path, *starter: str) -> None:
        self._desk, self._path = on, path
        self._program = Program(on, path, *starter)
        wait_for("the project's name", lambda: self._program.title.startswith(TRADE))
        self._program.key("F8")
        end = time.monotonic() + OPENS_S
        while not self.stands and time.monotonic() < end:
            time.sleep(LOOK_S)

    @property
    def stands(self) -> bool:
        """Whether the view is on the screen."""
        process = str(self._program.process.pid)
        # Without --all, xdotool finds what meets any of the conditions: the main window, too.
        search = ("search", "--all", "--onlyvisible", "--pid", process, "--name", WALK)
        return bool(self._desk.do(*search))

    def made(self) -> tuple[int, ...]:
        """Read which cuts the file has ticked."""
        return read_project(self._path).progress.made

    def timed(self) -> tuple[int, ...]:
        """Read of which cuts the file has the time."""
        return tuple(one.number for one in read_project(self._path).progress.times)

    def walk(self, pages: Sequence[bool], number: int) -> Walked:
        """Press Space page by page until so many cuts are ticked, or the view is gone."""
        presses, ticked = 0, 0
        for ticks in pages:
            if ticked == number or not self.stands:
                break
            ticked += ticks
            for _ in range(TRIES if ticks else 1):
                presses += 1
                self._program.key("space")
                if not ticks or self._is_written(ticked):
                    break
            time.sleep(SHOWN_S)
        time.sleep(UNHEARD_S)  # a tick too many would be written meanwhile
        return Walked(self._stands_until_left(), self.made(), self.timed(), presses)

    def _stands_until_left(self) -> bool:
        """Say whether the view stands; it must go with Esc, or looking proves nothing."""
        stood = self.stands
        if stood:
            self._program.key("Escape")
            wait_for("the walk to be left", lambda: not self.stands)
        return stood

    def _is_written(self, ticked: int) -> bool:
        end = time.monotonic() + UNHEARD_S
        while len(self.made()) < ticked and time.monotonic() < end:
            time.sleep(LOOK_S)
        return len(self.made()) >= ticked

    def kill(self) -> None:
        """Leave nothing running."""
        self._program.kill()


@contextmanager
def at_the_sawhorses(on: Desk, path: Path, *starter: str) -> Iterator[AtTheSawhorses]:
    """Begin the walk in a program, and end the program."""
    maker = AtTheSawhorses(on, path, *starter)
    try:
        yield maker
    finally:
        maker.kill()


def walk(home: Path, number: int) -> Walked:
    """Walk through so many cuts with the collector at every event."""
    path = home / "walk.ripfirst.json"
    pages = write_project(path, number + 1)
    with desk(home) as on, at_the_sawhorses(on, path, "-c", COLLECTED) as maker:
        walked = maker.walk(pages, number)
        on.shoot("walked")
    return walked


def closed(home: Path, tries: int) -> int:
    """Return how often the walk closed by itself in the plain program."""
    path = home / "walk.ripfirst.json"
    write_project(path, 40)
    count = 0
    with desk(home) as on:
        for _ in range(tries):
            with at_the_sawhorses(on, path) as maker:
                time.sleep(STANDS_S)
                count += not maker.stands
    return count


def main() -> None:
    """Walk once, or begin the walk many times."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=200)
    parser.add_argument("--standing", type=int, default=0)
    wished = parser.parse_args()
    _app = QCoreApplication(sys.argv[:1])
    with tempfile.TemporaryDirectory() as home:
        if wished.standing:
            print(f"closed {closed(Path(home), wished.standing)} of {wished.standing}")
            return
        walked = walk(Path(home), wished.n)
    print(f"{len(walked.made)} ticks of {wished.n} in the file after {walked.presses} presses,")
    print(f"the first {walked.made[:1]}, the last {walked.made[-1:]}")
    print("the view stands" if walked.stands else "the view is gone")


if __name__ == "__main__":
    main()
