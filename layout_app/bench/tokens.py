"""The tokens of the tray: a slip for all copies of a part; a drag off it goes on over the bench."""

from collections.abc import Sequence
from enum import Enum

from PySide6.QtCore import (
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QSignalBlocker,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from layout_app.bench.slips import (
    CHOOSER_PX,
    INSET_PX,
    PAD_PX,
    SIZES_PX,
    Lines,
    lines_of,
    slip_height,
    slip_rows,
)
from layout_app.look import pens
from layout_app.look.as_typed import tip
from layout_app.look.theme import Theme
from layout_app.model.off_sheets import Stack
from shared.lengths import LengthStyle
from shared.parts import Copy

NARROW_PX = 112
"""Width of the tray beside a narrow bench."""
STACK, LINES, TAKEN = (Qt.ItemDataRole.UserRole + n for n in range(3))
"""A stack of parts, its words, and how many of it are taken."""
EDGE_PX = 3
"""What an item is larger than its slip."""
Key = Qt.Key


class Tokens(QListWidget):
    """Slips of parts on no sheet; what is selected here are as many copies as each slip says."""

    chosen = Signal(list)
    """Copies are selected, with pointer or keys."""
    taken = Signal(list)
    """Copies are dragged off the tray: the one that is pulled first."""
    moved = Signal(QPoint)
    """The pointer went on, in global coordinates."""
    let_go = Signal()
    lifted = Signal()
    """What is selected is to be carried with keys."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._pressed: QPoint | None = None
        self._carrying = False
        self._painter = TokenPainter(theme, self)
        self.setItemDelegate(self._painter)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setSpacing(3)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setSelectionMode(QListWidget.SelectionMode.ExtendedSelection)
        self.setMouseTracking(True)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.viewport().setAutoFillBackground(False)
        self.itemSelectionChanged.connect(self._choose)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self._painter.theme = theme
        self.setStyleSheet("QListWidget { background: transparent; }")

    def show_stacks(self, stacks: Sequence[Stack], style: LengthStyle) -> None:
        """List these; the one that the keys were at is so again, if it is there."""
        here = self.currentItem()
        at = here.data(STACK).part.id if here is not None else ""
        with QSignalBlocker(self):
            self.clear()
            for stack in stacks:
                lines = lines_of(stack, style)
                words = ", ".join(filter(None, lines))
                item = QListWidgetItem(words)
                item.setData(STACK, stack)
                item.setData(LINES, lines)
                item.setData(TAKEN, 1)
                item.setToolTip(tip(words))
                self.addItem(item)
                if stack.part.id == at:
                    self._go_to(item)

    def show_selected(self, selected: frozenset[Copy]) -> None:
        """Mark the tokens of copies that are selected, and say how many."""
        with QSignalBlocker(self):
            for item in self._items():
                number = len(selected.intersection(item.data(STACK).copies))
                self._say_taken(item, max(1, number))
                item.setSelected(number > 0)

    def select_every(self) -> None:
        """Select all copies of all tokens."""
        for item in self._items():
            self._say_taken(item, max(1, len(item.data(STACK).copies)))
        self.selectAll()
        self._choose()

    def take(self, more: int | None) -> None:
        """Take so many copies more of what is selected, or fewer; all where ``None`` is given."""
        here = self.currentItem()
        items = self.selectedItems() or ([here] if here is not None else [])
        for item in items:
            most = len(item.data(STACK).copies)
            number = most if more is None else item.data(TAKEN) + more
            self._say_taken(item, max(1, min(most, number)))
            with QSignalBlocker(self):
                item.setSelected(True)
        self._choose()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Be ready to drag a token, or take more of it, or fewer."""
        at = event.position().toPoint()
        item = self.itemAt(at)
        left = event.button() == Qt.MouseButton.LeftButton
        more = self._painter.button_at(item, self.visualItemRect(item), at) if item else None
        if left and item is not None and more is not None:
            if not item.isSelected():
                self.setCurrentItem(item)
            self.take(more.value)
            return
        super().mousePressEvent(event)
        if left and item is not None:
            self._pressed = at

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Take a second press for what it is: the buttons of a slip are pressed quickly."""
        self.mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Take copies off the tray once the pointer has gone far enough."""
        if self._pressed is None:
            return
        way = (event.position().toPoint() - self._pressed).manhattanLength()
        if not self._carrying and way >= QApplication.startDragDistance():
            self._take(self._pressed)
        if self._carrying:
            self.moved.emit(event.globalPosition().toPoint())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of what was dragged; a click selects."""
        carried, self._carrying, self._pressed = self._carrying, False, None
        if carried:  # What is dragged stays selected, wherever it was let go.
            self.let_go.emit()
        else:
            super().mouseReleaseEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take more or fewer, or carry; letters are the bench's, arrows go from token to token."""
        key = event.key()
        if key in (Key.Key_Plus, Key.Key_Equal):
            self.take(1)
        elif key == Key.Key_Minus:
            self.take(-1)
        elif key == Key.Key_Asterisk:
            self.take(None)
        elif key in (Key.Key_Return, Key.Key_Enter):
            self.take(0)
            self.lifted.emit()
        elif key == Key.Key_Space or not event.text().isprintable() or not event.text():
            super().keyPressEvent(event)
        else:
            event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the keys are: at the first token, if they were at none."""
        super().focusInEvent(event)
        if self.currentItem() is None and self.count():
            self._go_to(self.item(0))

    def _go_to(self, item: QListWidgetItem) -> None:
        """Let the keys be at a token, and leave what is selected."""
        model = self.selectionModel()
        model.setCurrentIndex(self.indexFromItem(item), model.SelectionFlag.NoUpdate)

    def _items(self) -> list[QListWidgetItem]:
        return [self.item(row) for row in range(self.count())]

    def _choose(self) -> None:
        items = [item for item in self._items() if item.isSelected()]
        self.chosen.emit([copy for item in items for copy in _copies(item)])

    def _say_taken(self, item: QListWidgetItem, number: int) -> None:
        if number != item.data(TAKEN):
            item.setData(TAKEN, number)
        lines, most = item.data(LINES), len(item.data(STACK).copies)
        taken = f"{number} of {most} taken" if most > 1 else ""
        said = ", ".join(filter(None, (*lines, taken)))
        if item.data(Qt.ItemDataRole.AccessibleTextRole) != said:
            item.setData(Qt.ItemDataRole.AccessibleTextRole, said)

    def _take(self, at: QPoint) -> None:
        pulled = self.itemAt(at)
        if pulled is None:
            return
        others = (item for item in self.selectedItems() if item is not pulled)
        copies = [copy for item in (pulled, *others) for copy in _copies(item)]
        if copies:
            self._carrying = True
            self.taken.emit(copies)


def _copies(item: QListWidgetItem) -> tuple[Copy, ...]:
    """Return as many copies as a token says are taken."""
    stack: Stack = item.data(STACK)
    return stack.copies[: item.data(TAKEN)]


class Button(Enum):
    """The two buttons of a slip, and how many copies more each takes."""

    FEWER = -1
    MORE = 1


class TokenPainter(QStyledItemDelegate):
    """Paints a token: a dashed slip with name, size, number, and how many of it are taken."""

    def __init__(self, theme: Theme, tokens: Tokens) -> None:
        super().__init__(tokens)
        self.theme, self._tokens = theme, tokens

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Return the size of a slip with all its rows."""
        rows = slip_rows(_lines(index), self._room)
        height = slip_height(rows, chooser=_most(index) > 1)
        return QSize(NARROW_PX - 30, height + EDGE_PX)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Paint one slip."""
        theme, slip = self.theme, _slip(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.fillRect(slip, pens.brush(theme.card))
        name, width = (theme.accent, 2.0) if chosen else (theme.graphite, 1.0)
        painter.setPen(pens.pen(name, width, Qt.PenStyle.DashLine))
        painter.drawRect(slip)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(pens.pen(theme.accent, 2.0))
            painter.drawRect(option.rect.adjusted(0, 0, -1, -1))
        top = slip.top() + PAD_PX
        for row in slip_rows(_lines(index), self._room):
            painter.setFont(pens.font(row.size, bold=row.bold))
            painter.setPen(pens.colour(theme.pencil if row.quiet else theme.graphite))
            room = QRect(slip.left() + INSET_PX, top, slip.width() - 2 * INSET_PX, row.height)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, row.words)
            top += row.height
        if _most(index) > 1:
            self._paint_chooser(painter, slip, index)

    def button_at(self, item: QListWidgetItem, rect: QRect, at: QPoint) -> Button | None:
        """Return the button of a token at a point."""
        if len(item.data(STACK).copies) < 2:
            return None
        return next((which for which, box in _buttons(_slip(rect)) if box.contains(at)), None)

    def _paint_chooser(
        self, painter: QPainter, slip: QRect, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Say how many are taken, between a button for fewer and one for more."""
        theme, taken, most = self.theme, index.data(TAKEN), _most(index)
        painter.setFont(pens.font(SIZES_PX[0], bold=True))
        middle = Qt.AlignmentFlag.AlignCenter
        for which, box in _buttons(slip):
            can = taken > 1 if which is Button.FEWER else taken < most
            inner = box.adjusted(3, 3, -3, -3)
            painter.setPen(pens.pen(theme.edge if can else theme.rule))
            painter.drawRect(inner)
            painter.setPen(pens.colour(theme.graphite if can else theme.faint))
            painter.drawText(inner, middle, "+" if which is Button.MORE else "−")
        painter.setPen(pens.colour(theme.graphite))
        room = _chooser(slip).adjusted(CHOOSER_PX, 0, -CHOOSER_PX, 0)
        painter.drawText(room, middle, f"{taken} of {most}")

    @property
    def _room(self) -> float:
        """How long a row may be: beside a scroll bar too, so that slips keep their heights."""
        tokens = self._tokens
        bar = tokens.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent)
        return tokens.width() - bar - 2 * (tokens.spacing() + INSET_PX) - EDGE_PX


def _lines(index: QModelIndex | QPersistentModelIndex) -> Lines:
    lines: Lines = index.data(LINES)
    return lines


def _most(index: QModelIndex | QPersistentModelIndex) -> int:
    stack: Stack = index.data(STACK)
    return len(stack.copies)


def _slip(rect: QRect) -> QRect:
    """Return the slip within the room of an item."""
    return rect.adjusted(1, 1, 1 - EDGE_PX, 1 - EDGE_PX)


def _chooser(slip: QRect) -> QRect:
    """Return the row of a slip that says how many are taken."""
    return QRect(slip.left(), slip.bottom() - CHOOSER_PX + 1, slip.width(), CHOOSER_PX)


def _buttons(slip: QRect) -> tuple[tuple[Button, QRect], ...]:
    row = _chooser(slip)
    fewer = QRect(row.left(), row.top(), CHOOSER_PX, row.height())
    more = fewer.translated(row.width() - CHOOSER_PX, 0)
    return (Button.FEWER, fewer), (Button.MORE, more)
