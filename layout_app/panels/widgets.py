"""What all panels are built of: labels, buttons, rows, boxes to tick, lists to choose from."""

from collections.abc import Callable, Iterable
from typing import Final, TypeVar

from PySide6.QtCore import QEvent, QObject, QPointF, Qt, Signal, SignalInstance
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QApplication,
    QBoxLayout,
    QCheckBox,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLayout,
    QPushButton,
    QScrollArea,
    QStyle,
    QStyleOptionButton,
    QVBoxLayout,
    QWidget,
)

from layout_app.look.as_typed import Label

Item = QWidget | QLayout | None
"""What stands in a row: ``None`` is free room, which takes what is left."""
Box = TypeVar("Box", bound=QBoxLayout)
Edges = tuple[int, int, int, int]
BARE: Final[Edges] = (0, 0, 0, 0)
"""Left, top, right and bottom edge of a row in pixels."""


def label(text: str, parent: QWidget, look: str) -> Label:
    """Return words with a look of the style sheet, such as ``strong`` or ``quiet``."""
    made = Label(text, parent)
    made.setObjectName(look)
    return made


def quiet(text: str, parent: QWidget) -> Label:
    """Return words in pencil, broken into lines where they have to be."""
    made = label(text, parent, "quiet")
    made.setWordWrap(True)
    return made


def button(
    text: str,
    parent: QWidget,
    act: Callable[[], object] | SignalInstance,
    tip: str = "",
    *,
    look: str = "",
    enter: bool = False,
) -> QPushButton:
    """Return a button that does something or emits a signal, by ``enter`` with that key too."""
    made = QPushButton(text, parent)
    made.setObjectName(look)
    made.setToolTip(tip)
    made.setAutoDefault(enter)
    made.clicked.connect(act)
    return made


def across(
    *items: Item | tuple[Item, int],
    on: QWidget | None = None,
    edges: Edges | None = None,
    gap: int | None = None,
) -> QHBoxLayout:
    """Set widgets beside each other, on a widget or to be put into another row.

    An item may come with its share of what room is left. Without ``edges`` and ``gap``, in
    pixels, these are as the style has them.
    """
    return _filled(QHBoxLayout(on) if on is not None else QHBoxLayout(), items, edges, gap)


def down(
    *items: Item | tuple[Item, int],
    on: QWidget | None = None,
    edges: Edges | None = None,
    gap: int | None = None,
) -> QVBoxLayout:
    """Set widgets below each other, like `across`."""
    return _filled(QVBoxLayout(on) if on is not None else QVBoxLayout(), items, edges, gap)


def _filled(
    box: Box, items: Iterable[Item | tuple[Item, int]], edges: Edges | None, gap: int | None
) -> Box:
    if edges is not None:
        box.setContentsMargins(*edges)
    if gap is not None:
        box.setSpacing(gap)
    for each in items:
        item, share = each if isinstance(each, tuple) else (each, 0)
        if item is None:
            box.addStretch(share or 1)
        elif isinstance(item, QLayout):
            box.addLayout(item, share)
        else:
            box.addWidget(item, share)
    return box


def scrolled(inside: QWidget, parent: QWidget) -> QScrollArea:
    """Return a frameless area that scrolls a widget and takes no keys itself."""
    area = QScrollArea(parent)
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return area


def bar_below(area: QAbstractScrollArea, stands: bool) -> None:
    """Let a bar stand below what scrolls, whether all is in sight or not; else let none."""
    policy = Qt.ScrollBarPolicy
    area.setHorizontalScrollBarPolicy(
        policy.ScrollBarAlwaysOn if stands else policy.ScrollBarAlwaysOff
    )


class Drawer(QFrame):
    """Stands in place of something else while it is open; Esc puts it away."""

    opened = Signal()
    closed = Signal()

    def put_away(self) -> None:
        """Close it."""
        self.hide()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Put it away with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)


class TickBox(QCheckBox):
    """The usual box, with its tick drawn in the theme's ink."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint box and words, and the tick that the style sheet cannot."""
        super().paintEvent(event)
        if not self.isChecked():
            return
        option = QStyleOptionButton()
        self.initStyleOption(option)
        part = QStyle.SubElement.SE_CheckBoxIndicator
        middle = self.style().subElementRect(part, option, self).toRectF().center()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().buttonText().color(), 1.8, Qt.PenStyle.SolidLine))
        strokes = (QPointF(-3.5, 0), QPointF(-1, 3), QPointF(4, -3.5))
        painter.drawPolyline([middle + stroke for stroke in strokes])
        painter.end()


_TAB: Final = (Qt.Key.Key_Tab, Qt.Key.Key_Backtab)


class Chooser(QComboBox):
    """The usual list, with a small angle at its right end; letters choose in it, and only that."""

    def __init__(self, words: Iterable[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.addItems(list(words))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        for place in (self, self.view()):
            place.installEventFilter(self)

    def open_if_seen(self) -> None:
        """Open the list, unless keys that were faster have closed the field already."""
        if self.isVisible():
            self.showPopup()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep letters from the actions of what is around the list; leave it open with Tab."""
        if watched is self.view() and isinstance(event, QKeyEvent) and self._leaves(event):
            return True
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            bare = not event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier
            if bare and event.text().isprintable() and event.text():
                event.accept()
                return True
        return super().eventFilter(watched, event)

    def _leaves(self, event: QKeyEvent) -> bool:
        """Take the word that is marked in the open list, and let Tab go on from the field."""
        if event.type() != QEvent.Type.KeyPress or event.key() not in _TAB:
            return False
        self.setCurrentIndex(self.view().currentIndex().row())
        self.hidePopup()
        QApplication.sendEvent(self, QKeyEvent(event.type(), event.key(), event.modifiers()))
        return True

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to what scrolls below it: passing by, it would choose something."""
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the field, and the angle that the style sheet cannot."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().buttonText().color(), 1.4, Qt.PenStyle.SolidLine))
        tip = QPointF(self.width() - 11.0, self.height() / 2 + 2)
        painter.drawPolyline([tip + QPointF(-4, -4), tip, tip + QPointF(4, -4)])
        painter.end()
