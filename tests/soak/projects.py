"""Projects opened in turn with all pending that can be: ``python -m tests.soak.projects [--n 10]``.

The real window with its real planner. Each project is left with something pending, by turns an
offer, a run, or choices, each with a question and advice, the last with the preview open. Every
button that could be pressed then is pressed once the next project is shown. Prints how often
each was pending, and what crossed over: what still shows, and what is not as its file says.
"""

import argparse
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget
from shiboken6 import isValid

from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.document.ticks import missing_before, tick
from layout_app.model.carry_over import opened
from layout_app.model.cut_order import to_order, with_order
from layout_app.model.project import Project
from layout_app.panels.entry import Entry
from layout_app.panels.preview import Preview
from layout_app.panels.question import Question
from layout_app.planner.advice import At
from layout_app.store.project_file import SUFFIX, read_project, save_project
from layout_app.window.main_window import MainWindow
from shared.lengths import INCH
from solver.budget.stop import Budget, Stop
from solver.cut_order.order import put_in_order
from tests.layout_app.adopting import adopt
from tests.layout_app.small_job import part, planned, small_job
from tests.solver.planning.test_choices import squares

LIMITS = Budget(time_s=None, work=4_000, trade=True)
"""Counted work: a busy machine finds the same choices."""
WAIT_MS, STEP_MS = 30_000, 10
QUIET_MS = 300
"""So long is waited for what comes late."""


def write_projects(home: Path, number: int) -> tuple[Path, ...]:
    """Write projects that are planned and in order: same ids, other names and prices."""
    paths = []
    for place in range(number):
        wood, board = squares(oak=2_000 + place), small_job()
        half = part("half", f"Half {place}", (96, 24), 2)
        halves = replace(half, width=half.width + INCH // 16)  # so they need a sheet each
        rows = (*wood.stock, *board.stock)
        job = replace(wood, name=f"Trial {place}", parts=(*wood.parts, halves), stock=rows)
        document = Document(Project(job=job))
        adopt(document, planned(job))
        (*_, best) = put_in_order(to_order(document.project), Stop().within(1.0))
        paths.append(home / f"trial{place}{SUFFIX}")
        save_project(paths[-1], with_order(document.project, best))
    return tuple(paths)


@dataclass(slots=True)
class Count:
    """How often each was pending when its project was left, and what crossed over."""

    pending: Counter[str] = field(default_factory=Counter)
    pressed: int = 0
    crossed: Counter[str] = field(default_factory=Counter)


class Watched(Document):
    """A document that says when its project is about to be left."""

    about_to_leave: Callable[[], None] = staticmethod(lambda: None)

    def open(self, project: Project, path: Path | None, *, saved: bool = True) -> None:
        """Hold another project, once those who watch have looked."""
        self.about_to_leave()
        super().open(project, path, saved=saved)


def shown(window: MainWindow) -> dict[str, bool]:
    """Say what of one project shows, or goes on."""
    return {
        "offer": window.status.offer.isVisible(),
        "run": window.planning.running,
        "question": any(one.isVisible() for one in window.findChildren(Question)),
        "unsaved": window.bar.isVisible(),
        "advice waiting": window.offers.looking.at is At.WAITING,
        "advice looking": window.offers.looking.at is At.LOOKING,
        "advice heard": bool(window.drawers.advice.suggestions)
        and window.drawers.advice.isVisible(),
        "choices": window.drawers.choices.isVisible() and len(window.drawers.choices.cards) > 1,
        "take it back": window.status.back.isVisible(),
        "preview": any(one.isVisible() for one in window.findChildren(Preview)),
    }


def buttons(window: MainWindow) -> list[QAbstractButton]:
    """Return the buttons of all that is asked or offered which could be pressed now."""
    asking = [*window.findChildren(Question), *window.findChildren(Preview)]
    places: list[QWidget] = [
        window.status,
        window.bar,
        window.drawers.advice,
        window.drawers.choices,
        *asking,
    ]
    found = (one for place in places for one in place.findChildren(QAbstractButton))
    return [one for one in found if one.isVisible() and one.isEnabled()]


class Trial:
    """A maker who opens one project after the other, whatever is pending."""

    def __init__(self, window: MainWindow, document: Watched, home: Path) -> None:
        self.window, self.document, self.count = window, document, Count()
        self._home = home
        self._pressable: list[QAbstractButton] = []
        self._files: dict[str, bytes] = {}
        document.about_to_leave = self._leave
        window.projects.files.opened.connect(
            self._press_late
        )  # right after the window has shown it
        window.paper_work.print = self._note_print

    def leave_offer(self) -> None:
        """Lay a part on a sheet of its own, wait for the offer, look for more, tick too early."""
        document, window = self.document, self.window
        edit_layout.add_sheet(document, "sheet oak")
        assert edit_layout.move_part(document, "small oak", 1, document.layout.sheets[-1].id, 0, 0)
        wait("an offer", window.status.offer.isVisible)
        window.drawers.advice.open()
        assert document.plan is not None
        early = (n for n, _ in enumerate(document.plan.cuts, 1) if missing_before(document, n))
        window.sequence.ticking.tick(next(early), window.sequence)

    def leave_run(self) -> None:
        """Tick a cut, leave a size open that can be read in two ways, plan, and ask for advice."""
        document, window = self.document, self.window
        tick(document, [1])
        wait("the tick on disk", lambda: document.saved_state.is_done(1))
        self._type_two_readings()
        window.menus.actions["bench.plan"].trigger()
        window.drawers.advice.open()

    def leave_choices(self) -> None:
        """Wait for choices and for advice, lay them side by side, and look at the pages."""
        window = self.window
        window.menus.actions["bench.plan"].trigger()
        wait("choices", lambda: not window.planning.running and len(window.planning.choices) > 1)
        window.drawers.choices.toggle()
        window.drawers.advice.open()
        wait("advice", lambda: bool(window.drawers.advice.suggestions))
        window.offers.looking.look()  # what is heard goes, and comes again
        wait("advice again", lambda: bool(window.drawers.advice.suggestions))
        self._type_two_readings()

    def _type_two_readings(self) -> None:
        parts = self.window.left.parts
        parts.setCurrentIndex(parts.rows.index(1, 1))
        parts.edit(parts.currentIndex())
        wait("an open cell", lambda: bool(parts.findChildren(Entry)))
        editor = parts.findChildren(Entry)[-1]
        editor.setText("1' - 2\"")
        editor.commit()

    def open_next(self, path: Path, *, over_pages: bool) -> None:
        """Open a project, from over the preview or not; then see what has crossed."""
        if over_pages:
            QTimer.singleShot(0, self.window, lambda: self._open_and_close(path))
            self.window.paper_work.preview()
        else:
            self._open(path)
        settle()
        self._compare(path)

    def _open_and_close(self, path: Path) -> None:
        """Open a project over the preview, and close the preview if it was not closed."""
        self._open(path)
        for one in self.window.findChildren(Preview):
            one.reject()

    def _open(self, path: Path) -> None:
        window = self.window
        window.projects.when_kept(lambda: window.projects.open(path))
        if window.bar.isVisible():
            window.bar.answers[1].click()  # discard
        wait(f"{path.name}", lambda: self.document.saved_state.path == path)
        settle()
        self._press()

    def _leave(self) -> None:
        """Note what is pending, what could be pressed, and what is on disk."""
        self.count.pending.update(name for name, is_on in shown(self.window).items() if is_on)
        self._pressable = buttons(self.window)
        self._files = self._on_disk()

    def _press_late(self) -> None:
        """See what shows of the project that was left, and press what could be pressed there."""
        still = (name for name, is_on in shown(self.window).items() if is_on)
        self.count.crossed.update(f"{name} still shows" for name in still)
        self.count.pressed += len(self._pressable)
        self._press()

    def _press(self) -> None:
        for button in filter(isValid, self._pressable):
            button.click()

    def _compare(self, path: Path) -> None:
        document = self.document
        wrong = {
            "another project": document.project != opened(read_project(path)),
            "another title": not self.window.windowTitle().startswith(document.job.name),
            "another path": document.saved_state.path != path,
            "steps to undo": bool(document.undo_stack.count()),
            "files changed": self._on_disk() != self._files,
        }
        self.count.crossed.update(name for name, is_so in wrong.items() if is_so)

    def _on_disk(self) -> dict[str, bytes]:
        return {one.name: one.read_bytes() for one in self._home.glob(f"*{SUFFIX}")}

    def _note_print(self) -> None:
        self.count.crossed["printed"] += 1


def wait(what: str, holds: Callable[[], bool]) -> None:
    """Let the window live until something holds; TimeoutError names what never did."""
    for _ in range(0, WAIT_MS, STEP_MS):
        if holds():
            return
        QTest.qWait(STEP_MS)
    raise TimeoutError(f"waited in vain for {what}")


def settle() -> None:
    """Let the window live for a while, so that what comes late comes."""
    QTest.qWait(QUIET_MS)


@contextmanager
def at_work(home: Path) -> Iterator[Trial]:
    """Show the window, and close it."""
    document = Watched()
    window = MainWindow(document, limits=LIMITS)
    window.resize(1400, 900)
    window.show()
    trial = Trial(window, document, home)
    try:
        yield trial
    finally:
        document.saved_state.note_saved(document.project, Path("not-written"))
        window.close()


def open_in_turn(home: Path, number: int) -> Count:
    """Open as many projects, each but the first from one where something is pending."""
    paths = write_projects(home, number)
    with at_work(home) as trial:
        trial.open_next(paths[0], over_pages=False)
        leaves = (trial.leave_offer, trial.leave_run, trial.leave_choices)
        for place, path in enumerate((*paths[1:], paths[0])):
            leaves[place % 3]()
            trial.open_next(path, over_pages=place % 3 == 2)
        return trial.count


def main(words: Sequence[str] | None = None) -> None:
    """Open projects in turn and print the counts."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=10)
    number = parser.parse_args(words).n
    _app = QApplication(sys.argv[:1])
    with tempfile.TemporaryDirectory() as home:
        count = open_in_turn(Path(home), number)
    print(f"{number} projects left with {dict(count.pending)} pending")
    print(f"{count.pressed} buttons pressed afterwards, {count.crossed.total()} crossings")
    for what, times in count.crossed.most_common():
        print(f"  {what}: {times}")


if __name__ == "__main__":
    main()
