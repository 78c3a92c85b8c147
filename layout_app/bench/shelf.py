"""The tray at the right side of the bench: parts set aside, and parts that are not placed."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QContextMenuEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QApplication, QPushButton, QVBoxLayout, QWidget

from layout_app.bench.slips import INSET_PX, PAD_PX, Lines, slip_height, slip_rows
from layout_app.bench.tokens import NARROW_PX, Tokens
from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.look import pens
from layout_app.look.as_typed import Label
from layout_app.look.theme import Theme
from layout_app.model.off_sheets import Stack, stacks
from shared.lengths import LengthStyle
from shared.parts import Copy

WIDTH_PX, WIDE_PX = 140, 760
"""Width of the tray beside a bench that is at least so wide; beside others it is narrow."""
THIN_PX = 18
"""Width of the tray while it is empty."""
SETTLES_MS = 700
"""So long what is not placed may be planned yet, before the tray opens or shuts for it."""
TITLE = "Set aside"
EMPTY = "Drop a part here to set it aside."
PUT_ALL_BACK = "Put all back"


class Shelf(QWidget):
    """Lists the parts that lie on no sheet, one token for all copies of a part.

    It is a thin edge while it is empty, and opens while a part is dragged over it.
    """

    resized = Signal()
    """It wants another width."""
    asked = Signal(QPoint)
    """Its menu is wanted at a point of the screen."""

    def __init__(self, document: Document, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._document, self._bench = document, parent
        self.stacks: tuple[Stack, ...] = ()
        self._listed: tuple[tuple[Stack, ...], LengthStyle | None] = (), None
        self.is_thin = True
        """Whether it is no more than an edge, unless something is dragged over it."""
        self.is_open = False
        """Whether something is dragged over it."""
        self._title, self._hint = Label(TITLE), Label(EMPTY)
        self._hint.setWordWrap(True)
        self.tokens = Tokens(theme, self)
        self.tokens.setAccessibleName(TITLE)
        self.back = QPushButton(PUT_ALL_BACK, self)
        self.back.setToolTip("Let planning place all parts again that are set aside (Ctrl+Shift+W)")
        self.back.clicked.connect(self.put_all_back)
        self._ghost = TrayGhost(theme, self)
        self.setAccessibleName(TITLE)
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 10, 8, 6)
        for widget in (self._title, self._hint):
            box.addWidget(widget)
        box.addWidget(self.tokens, 1)
        box.addWidget(self.back)
        self._settling = QTimer(self, singleShot=True, interval=SETTLES_MS)
        self._settling.timeout.connect(self._settle)
        self.set_theme(theme)
        document.layout_changed.connect(self.refresh)
        document.job_changed.connect(self.refresh)
        document.selection.changed.connect(self._show_selected)
        self.refresh()
        self._settle()

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self._theme = self._ghost.theme = theme
        self.tokens.set_theme(theme)
        self.setObjectName("shelf")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setStyleSheet(
            f"QWidget#shelf {{ background: {theme.paper}; border-left: 1px solid {theme.rule}; }}"
        )
        self._title.setStyleSheet(f"color: {theme.pencil}; font-weight: 600;")
        self._hint.setStyleSheet(f"color: {theme.pencil};")

    @property
    def aside(self) -> list[Copy]:
        """The copies that the maker set aside."""
        return [one.key for one in self._document.layout.waiting if one.sent]

    def width_beside(self, room_px: int) -> int:
        """Return how wide it is beside a bench of a width, in pixels."""
        if self.is_thin and not self.is_open:
            return THIN_PX
        return WIDTH_PX if room_px >= WIDE_PX else NARROW_PX

    def refresh(self) -> None:
        """List what lies on no sheet now; the list stays where it was scrolled to."""
        project = self._document.project
        found, style = stacks(project.job, project.layout, project.unplaced), project.job.style
        if (found, style) != self._listed:
            self.stacks, self._listed = found, (found, style)
            bar = self.tokens.verticalScrollBar()
            scrolled = bar.value()
            self.tokens.show_stacks(found, style)
            self.tokens.doItemsLayout()
            bar.setValue(scrolled)
        self._show_selected()
        if self.aside:
            self._settle()
        elif self.is_thin is bool(self.stacks):
            self._settling.start()
        self._arrange()

    def put_all_back(self) -> None:
        """Let planning place all parts again that are set aside."""
        edit_layout.put_back(self._document, self.aside)

    def open(self, opened: bool) -> None:
        """Open an edge while something is dragged over it, or shut it again."""
        if opened != self.is_open:
            self.is_open = opened
            self._arrange()
            self.resized.emit()

    def show_ghost(self, name: str, words: str, at: QPoint | None) -> None:
        """Show what is in the hand over the tray, at a point of it; at its top without one."""
        self.open(True)
        self._ghost.show_at(Lines(name, "", words), at)

    def hide_ghost(self) -> None:
        """Show that nothing is in the hand over the tray."""
        self._ghost.hide()
        self.open(False)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write along the edge what it is, where there is room for no more."""
        super().paintEvent(event)
        if not self._is_edge:
            return
        painter = QPainter(self)
        painter.setPen(pens.colour(self._theme.pencil))
        painter.setFont(pens.font(11, bold=True))
        painter.rotate(-90)
        room = QRect(-self.height(), 0, self.height(), self.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, TITLE)
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Keep a press beside the tokens from the bench: it would clear what is selected."""
        event.accept()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Show what can be done here: at the token that the keys are at, if keys ask."""
        at, tokens, here = event.globalPos(), self.tokens, self.tokens.currentItem()
        if event.reason() == QContextMenuEvent.Reason.Keyboard and here is not None:
            at = tokens.viewport().mapToGlobal(tokens.visualItemRect(here).center())
        self.asked.emit(at)

    @property
    def _is_edge(self) -> bool:
        return self.is_thin and not self.is_open

    def _settle(self) -> None:
        """Be an edge while nothing lies here, and else as wide as tokens are."""
        self._settling.stop()
        thin = not self.stacks
        if thin != self.is_thin:
            self.is_thin = thin
            self._arrange()
            self.resized.emit()

    def _arrange(self) -> None:
        """Show what there is room for; keys at what goes are the bench's, or the list's."""
        here = QApplication.focusWidget()
        if self._is_edge and here is not None and self.isAncestorOf(here):
            self._bench.setFocus()
        elif self.back.hasFocus() and not self.aside:
            self.tokens.setFocus()
        for widget in (self._title, self.tokens):
            widget.setVisible(not self._is_edge)
        self._hint.setVisible(not self._is_edge and not self.stacks)
        self.back.setVisible(not self._is_edge and bool(self.aside))
        self.setToolTip(EMPTY if self._is_edge else "")
        self.update()

    def _show_selected(self) -> None:
        """Mark the tokens of copies that are selected."""
        self.tokens.show_selected(self._document.selection.parts)


class TrayGhost(QWidget):
    """What is in the hand, over the tray: a slip that goes with the pointer."""

    def __init__(self, theme: Theme, shelf: Shelf) -> None:
        super().__init__(shelf)
        self.theme, self._shelf = theme, shelf
        self.lines = Lines("", "", "")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()

    def show_at(self, lines: Lines, at: QPoint | None) -> None:
        """Show a name and what becomes of it, about a point of the tray and all within it."""
        shelf, self.lines = self._shelf, lines
        width = shelf.width() - 12
        height = slip_height(slip_rows(lines, width - 2 * INSET_PX)) + 2
        point = at or QPoint(0, 40)
        top = max(4, min(point.y() - height // 2, shelf.height() - height - 4))
        self.setGeometry(QRect(QPoint(6, top), QSize(width, height)))
        self.show()
        self.raise_()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the slip, as thick as what is selected."""
        painter, theme = QPainter(self), self.theme
        slip = self.rect().adjusted(1, 1, -1, -1)
        painter.fillRect(slip, pens.brush(theme.accent_wash))
        painter.setPen(pens.pen(theme.accent, 2.0, Qt.PenStyle.DashLine))
        painter.drawRect(slip)
        top = slip.top() + PAD_PX
        for row in slip_rows(self.lines, slip.width() - 2 * INSET_PX):
            painter.setFont(pens.font(row.size, bold=row.bold))
            painter.setPen(pens.colour(theme.graphite))
            room = QRect(slip.left() + INSET_PX, top, slip.width() - 2 * INSET_PX, row.height)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, row.words)
            top += row.height
        painter.end()
