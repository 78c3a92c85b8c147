"""A monkey at the window: gestures, keys, menus, table cells and actions, drawn at random."""

import random
import sys
from collections import Counter, deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from PySide6.QtCore import QEvent, QKeyCombination, QPoint, QPointF, Qt
from PySide6.QtGui import QAction, QKeySequence, QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_locks, edit_parts
from layout_app.document.document import Document
from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.model.carry_over import every_copy
from layout_app.model.locks import settled
from layout_app.model.project import Project
from layout_app.panels.placements_table import FIELDS
from layout_app.planner.process import PlannerProcess
from layout_app.window.main_window import MainWindow
from shared.lengths import INCH
from shared.parts import Copy
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.adopting import adopt

Key, Modifier, Kind = Qt.Key, Qt.KeyboardModifier, QEvent.Type

KEYS = (
    *(Key.Key_T, Key.Key_G, Key.Key_W, Key.Key_L, Key.Key_Z, Key.Key_9, Key.Key_0, Key.Key_D),
    *(Key.Key_S, Key.Key_C, Key.Key_R, Key.Key_R, Key.Key_P, Key.Key_N, Key.Key_E),
    *(Key.Key_M, Key.Key_F2),
    *(Key.Key_Left, Key.Key_Right, Key.Key_Up, Key.Key_Down, Key.Key_PageDown, Key.Key_PageUp),
    *(Key.Key_Return, Key.Key_Escape, Key.Key_Tab, Key.Key_Space, Key.Key_Plus, Key.Key_Minus),
)
MODIFIERS = (
    *(Modifier.NoModifier, Modifier.NoModifier, Modifier.ShiftModifier, Modifier.AltModifier),
    *(Modifier.ControlModifier, Modifier.AltModifier | Modifier.ShiftModifier),
)
LEFT_OUT = {
    "cuts.tick": "ticks stand outside undo",
    "cuts.take_back": "ticks stand outside undo",
    "cuts.walk": "takes the whole screen",
    "cuts.mistake": "opens the drawer of what lies there",
    "cuts.today": "opens the drawer of what lies there",
}
LEAST_PARTS = 2


def silent_planner() -> PlannerProcess:
    """Return a planner that never answers, so that the same seed does the same."""
    return PlannerProcess((sys.executable, "-c", "import sys; sys.stdin.buffer.read()"))


class Monkey:
    """Does one random thing after another; ``last`` names the latest of them."""

    def __init__(self, window: MainWindow, seed: int) -> None:
        self.window, self.doc, self.view = window, window.document, window.bench
        self.last: deque[str] = deque(maxlen=12)
        self.done: Counter[str] = Counter()
        self.start = self.doc.project
        self.steps = 0
        self.doc.pushing.connect(self._count)
        self._random = random.Random(seed)
        self._not_pressed = [
            action.shortcut()
            for name, action in window.menus.actions.items()
            if name in LEFT_OUT or name.split(".")[0] not in {"bench", "cuts", "edit"}
        ]
        self._ways: tuple[tuple[Callable[[], object], float], ...] = (
            (self.pick, 6),
            (self.press_key, 8),
            (self.drag, 6),
            (self.push_aside, 3),
            (self.take_from_tray, 2),
            (self.swap, 1),
            (self.close_up, 1),
            (self.use_action, 6),
            (self.use_menu, 3),
            (self.write_in_table, 3),
            (self.undo, 0.7),
            (self.redo, 0.5),
            (self.resize, 1),
            (self.zoom, 1),
            (self.set_free, 1),
            (self.let_a_plan_come, 0.5),
            (self.remove_part, 0.1),
        )

    def act(self) -> None:
        """Do something, and let the window answer."""
        ways, weights = zip(*self._ways, strict=True)
        (way,) = self._random.choices(ways, weights)
        self.last.append(way.__name__)
        self.done[way.__name__] += 1
        way()
        QApplication.processEvents()
        QApplication.sendPostedEvents(None, Kind.DeferredDelete)  # left to the event loop otherwise
        if self.doc.undo_stack.index() == 0:
            self.start = self.doc.project  # a plan that came in before the first step

    def pick(self) -> None:
        """Select some copies."""
        copies = self._copies()
        count = min(self._random.choice((1, 1, 1, 2, 3)), len(copies))
        self.doc.selection.select_parts(self._random.sample(copies, count))

    def press_key(self) -> None:
        """Press a key on the bench."""
        key, modifiers = self._random.choice(KEYS), self._random.choice(MODIFIERS)
        if QKeySequence(QKeyCombination(modifiers, key)) in self._not_pressed:
            return
        self._note(f"{key.name} {modifiers.name}")
        QTest.keyClick(self.view, key, modifiers)

    def drag(self) -> None:
        """Press somewhere, move about, press a key in between now and then, and let go."""
        at = self._point() if self._random.random() < 0.3 else self._on_a_part()
        self._mouse(Kind.MouseButtonPress, at, self._random.choice(MODIFIERS[:3]))
        for _ in range(3):
            at = self._point(beyond=self._random.choice((0, 0, 150)))
            self._mouse(Kind.MouseMove, at, self._random.choice(MODIFIERS))
        if self._random.random() < 0.2:
            QTest.keyClick(
                self.view, self._random.choice((Key.Key_T, Key.Key_Escape, Key.Key_Right))
            )
        self._mouse(Kind.MouseButtonRelease, at)

    def push_aside(self) -> None:
        """Drag a part, or its edge, onto another one with Ctrl held."""
        self._mouse(Kind.MouseButtonPress, self._on_a_part())
        for _ in range(2):
            at = self._on_a_part()
            self._mouse(Kind.MouseMove, at, Modifier.ControlModifier)
        if self._random.random() < 0.2:
            key = self._random.choice((Key.Key_T, Key.Key_P, Key.Key_N, Key.Key_Escape))
            QTest.keyClick(self.view, key)
        self._mouse(Kind.MouseButtonRelease, at)

    def take_from_tray(self) -> None:
        """Take more of something in the tray, or fewer, and drag it over the bench."""
        tokens = self.view.shelf.tokens
        if not tokens.count() or not tokens.isVisible():
            return
        row = self._random.randrange(tokens.count())
        tokens.setCurrentRow(row)
        tokens.take(self._random.choice((0, 1, 2, None)))
        port, left, none = tokens.viewport(), Qt.MouseButton.LeftButton, Modifier.NoModifier
        at = tokens.visualItemRect(tokens.item(row)).topLeft() + QPoint(15, 10)
        QTest.mousePress(port, left, none, at)
        for _ in range(2):
            at = port.mapFromGlobal(self.view.viewport().mapToGlobal(self._point(beyond=150)))
            QTest.mouseMove(port, at)
        if self._random.random() < 0.2:
            QTest.keyClick(self.view, self._random.choice((Key.Key_T, Key.Key_W, Key.Key_Escape)))
        QTest.mouseRelease(port, left, none, at)

    def swap(self) -> None:
        """Swap two parts, most of them unequal."""
        copies = self._copies()
        self.doc.selection.select_parts(self._random.sample(copies, min(2, len(copies))))
        self.view.twins.swap()

    def close_up(self) -> None:
        """Close a sheet up, whatever is selected."""
        self.view.twins.close_up()

    def use_action(self) -> None:
        """Use an action of the bench, of the cuts, or of the clipboard."""
        names = [n for n in self.window.menus.actions if n.split(".")[0] in {"bench", "cuts"}]
        names += ("edit.cut", "edit.copy", "edit.paste_parts", "edit.all")
        name = self._random.choice([name for name in names if name not in LEFT_OUT])
        self._note(name)
        self.window.menus.actions[name].trigger()

    def use_menu(self) -> None:
        """Use what the right button offers somewhere."""
        menu = self.view.menu_at(self._point())
        offered = [] if menu is None else [one for one in rows_of(menu) if one.isEnabled()]
        if offered:
            chosen = self._random.choice(offered)
            self._note(chosen.text())
            chosen.trigger()
        if menu is not None:
            menu.deleteLater()

    def write_in_table(self) -> None:
        """Put a choice or a length into a cell of the bench as a table."""
        model = self.window.left.placements.placements
        model.refresh()
        column = self._random.choice([i for i, field in enumerate(FIELDS) if field.change])
        index = model.index(self._random.randrange(model.rowCount()), column)
        if index.flags() & Qt.ItemFlag.ItemIsEditable:
            words = [*model.choices(index)] or [str(self._random.randrange(1, 90)), "12 1/2"]
            text = self._random.choice(words)
            self._note(f"{FIELDS[column].heading} {text}")
            model.change(index, text)

    def undo(self) -> None:
        """Take some steps back."""
        for _ in range(self._random.randint(1, 3)):
            self.doc.undo()

    def redo(self) -> None:
        """Take the next step again."""
        self.doc.redo()

    def resize(self) -> None:
        """Give a part another size, as its row in the take-off does."""
        part = self._random.choice(self.doc.job.parts)
        sides = (int(side * self._random.uniform(0.8, 1.2)) for side in (part.length, part.width))
        edit_parts.resize_part(self.doc, part.id, *(max(INCH, side) for side in sides))

    def zoom(self) -> None:
        """Look nearer or from farther away."""
        self.view.zoom(self._random.choice((0.7, 1.3)), self._point())

    def set_free(self) -> None:
        """Release what is held and put back what is set aside, so that it can be got at again."""
        edit_locks.release_holds(self.doc, self.doc.layout.holds)
        edit_layout.put_back(self.doc, self._copies())
        self.let_a_plan_come()

    def let_a_plan_come(self) -> None:
        """Let the first plan around what stays come in, as the planner would send it."""
        project = self.doc.project
        plan = run(project.job, Budget(time_s=0.0), lambda event: None, settled(project))
        if plan is not None:
            adopt(self.doc, plan)

    def remove_part(self) -> None:
        """Take a row off the take-off."""
        if len(self.doc.job.parts) > LEAST_PARTS:
            edit_parts.remove_parts(self.doc, [self._random.choice(self.doc.job.parts).id])

    def _count(self, step: object) -> None:
        del step
        self.steps += 1

    def _note(self, what: str) -> None:
        self.last[-1] += f": {what}"

    def _copies(self) -> list[Copy]:
        return sorted(every_copy(self.doc.job))

    def _point(self, beyond: int = 0) -> QPoint:
        port = self.view.viewport()
        x = self._random.randrange(-beyond // 4, port.width() + beyond)
        return QPoint(x, self._random.randrange(-beyond // 8, port.height() + beyond // 8))

    def _on_a_part(self) -> QPoint:
        """Return a point on a part that lies on a sheet, now and then on its edge."""
        copies = [p.key for s in self.doc.layout.sheets for p in s.placements]
        rects = self.view.bench.rects_of([self._random.choice(copies)]) if copies else ()
        if not rects:
            return self._point()
        across, down = (self._random.choice((0.0, 0.3, 0.5, 1.0)) for _ in range(2))
        rect = rects[0]
        x, y = rect.left() + across * rect.width(), rect.top() + down * rect.height()
        return self.view.mapFromScene(QPointF(x, y))

    def _mouse(self, kind: Kind, at: QPoint, modifiers: Modifier = Modifier.NoModifier) -> None:
        port, left = self.view.viewport(), Qt.MouseButton.LeftButton
        spot, place = QPointF(at), QPointF(port.mapToGlobal(at))
        QApplication.sendEvent(port, QMouseEvent(kind, spot, place, left, left, modifiers))


@contextmanager
def at_work(document: Document, qtbot: QtBot, qapp: QApplication) -> Iterator[MainWindow]:
    """Show a document in a window whose planner never answers, and close it after."""
    made = MainWindow(document, planner=silent_planner())
    qtbot.addWidget(made)
    made.resize(1100, 760)
    made.show()
    made.activateWindow()
    qtbot.waitExposed(made)
    yield made
    close(made)
    dress(qapp, Theme.light())


def strays(project: Project) -> list[Copy]:
    """Return the copies that are not just once on a sheet, waiting or finished."""
    layout = project.layout
    found: Counter[Copy] = Counter(p.key for s in layout.sheets for p in s.placements)
    found.update(one.key for one in (*layout.waiting, *layout.finished))
    return [key for key in {*every_copy(project.job), *found} if found[key] != 1]


def close(window: MainWindow) -> None:
    """Close a window whatever is unsaved in it."""
    window.bench.hand.cancel()
    window.document.saved_state.note_saved(window.document.project, Path("not-written"))
    assert window.close()


def rows_of(menu: QMenu) -> list[QAction]:
    """Return the actions of a menu and of those below it."""
    found: list[QAction] = []
    for action in menu.actions():
        below = action.menu()
        if isinstance(below, QMenu):
            found += rows_of(below)
        elif not action.isSeparator():
            found.append(action)
    return found
