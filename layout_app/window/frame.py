"""What frames the regions of the window: where they stand, the bar of tools, the banner."""

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QMainWindow,
    QPushButton,
    QSizePolicy,
    QSplitter,
    QToolBar,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.look.elided_label import Cutting
from layout_app.look.window_settings import ACROSS, DOWN
from layout_app.panels.advice import HEIGHTS
from layout_app.panels.styles import style_text
from layout_app.window.actions.menus import Menus
from layout_app.window.safekeeping import Safekeeping

SIZE = (1440, 900)
LEFT_LEAST = 376
TOOLBAR = ("bench.plan", "bench.turn", "bench.grain", "bench.wait", "edit.undo", "edit.redo")
ELSEWHERE = (
    "Another window has this project open, so its file is read-only here: saving asks for another"
    " name, and ticks are kept apart."
)


def arrange(
    window: QMainWindow,
    *,
    above: tuple[QWidget, ...],
    left: QWidget,
    right: tuple[QWidget, QWidget],
    below: tuple[QWidget, ...],
    status: QWidget,
) -> None:
    """Put the regions of a window in their places.

    ``right`` are the bench and the drawer that opens under it; of what is ``below`` them one is
    in sight at a time.
    """
    window.resize(*SIZE)
    window.setMinimumSize(760, 520)
    page = _column(*above, _across(left, (*right, _column(*below))))
    page.setObjectName("page")
    window.setCentralWidget(page)
    window.statusBar().setSizeGripEnabled(False)
    window.statusBar().addWidget(status, 1)


def _across(left: QWidget, right: tuple[QWidget, ...]) -> QSplitter:
    """Return the tables beside the bench and what stands below it."""
    left.setMinimumWidth(LEFT_LEAST)
    down = QSplitter(Qt.Orientation.Vertical)
    down.setObjectName(DOWN)
    for widget in right:
        down.addWidget(widget)
    down.setStretchFactor(0, 1)
    down.setSizes([560, HEIGHTS[1], 290])
    down.setChildrenCollapsible(False)
    across = QSplitter(Qt.Orientation.Horizontal)
    across.setObjectName(ACROSS)
    across.addWidget(left)
    across.addWidget(down)
    across.setStretchFactor(0, 3)
    across.setStretchFactor(1, 7)
    across.setSizes([432, 1008])
    across.setChildrenCollapsible(False)
    return across


def _column(*widgets: QWidget) -> QWidget:
    """Return widgets above each other; the last takes what room is left."""
    page = QWidget()
    column = QVBoxLayout(page)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    for widget in widgets:
        column.addWidget(widget)
    column.setStretchFactor(widgets[-1], 1)
    return page


class Banner(QFrame):
    """A sentence across the window, as long as another window has the project open too."""

    again = Signal()
    """The maker wants the project opened anew, in case the other window is closed now."""

    def __init__(self, safe: Safekeeping, parent: QWidget) -> None:
        super().__init__(parent)
        self._safe = safe
        self.setObjectName("banner")
        self._sentence = Label(ELSEWHERE, self)
        self._sentence.setWordWrap(True)
        self.button = QPushButton("Open it again", self)
        self.button.setAccessibleDescription(ELSEWHERE)
        self.button.clicked.connect(self.again)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 5, 12, 5)
        row.addWidget(self._sentence, 1)
        row.addWidget(self.button)
        safe.elsewhere_changed.connect(self._follow)
        self._follow()

    def _follow(self) -> None:
        self.setVisible(self._safe.elsewhere)

    @property
    def sentence(self) -> str:
        """What it says."""
        return self._sentence.text()


class Tools(QToolBar):
    """Stands at the top of the window."""

    def __init__(self, document: Document, menus: Menus, window: QWidget) -> None:
        super().__init__("Tools", window)
        self._document = document
        self.setMovable(False)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
        for name in TOOLBAR:
            self.addAction(menus.actions[name])
            button = self.widgetForAction(menus.actions[name])
            if isinstance(button, QToolButton):
                button.setAccessibleName(menus.rows[name].row.text.replace("&", ""))
                Follows(button)
        self.widgetForAction(menus.actions["bench.plan"]).setObjectName("chief")
        goal, self.units = Cutting(parent=self), Label(parent=self)
        goal.setText("Least price, then least sawing")
        space = QWidget(self)
        space.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        for label in (goal, self.units):
            label.setObjectName("quiet")
        for widget in (goal, space, self.units):
            self.addWidget(widget)
        document.job_changed.connect(self._show_units)
        self._show_units()

    def _show_units(self) -> None:
        self.units.setText(style_text(self._document.job.style))


class Follows(QObject):
    """Shows on a button what its default action is now; lives as long as the button.

    A `QToolButton` takes over its default action anew each time the action changes. In Qt 6.11 it
    connects to the action once more whenever it does, so that memory and the work of each change
    grow as long as the window is open (seen with PySide6 6.11.3: one receiver of ``changed()``
    more each time). Here the button is told what changed, and nothing is taken over again.
    """

    def __init__(self, button: QToolButton) -> None:
        super().__init__(button)
        button.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take the news of a change instead of the button."""
        if event.type() != QEvent.Type.ActionChanged or not isinstance(watched, QToolButton):
            return False
        _show(watched, watched.defaultAction())
        return True


def _show(button: QToolButton, action: QAction) -> None:
    button.setText(action.iconText().replace("&", "&&"))
    button.setToolTip(action.toolTip())
    button.setCheckable(action.isCheckable())
    button.setChecked(action.isChecked())
    button.setEnabled(action.isEnabled())
