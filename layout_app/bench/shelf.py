"""The tray at the right side of the bench: parts set aside, and parts that are not placed."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

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
from PySide6.QtGui import QMouseEvent, QPainter
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from layout_app.bench.bubble import cut_short, fits
from layout_app.document.document import Document
from layout_app.look import pens
from layout_app.look.as_typed import Label, tip
from layout_app.look.theme import Theme
from shared.check import plannable
from shared.layout import Waiting
from shared.lengths import format_pair
from shared.parts import Copy, Part
from shared.plan import ASIDE

WIDTH_PX, NARROW_PX, WIDE_PX = 140, 112, 760
"""Widths of the tray, beside a bench that is at least so wide or narrower."""
PART, LINES = Qt.ItemDataRole.UserRole, Qt.ItemDataRole.UserRole + 1
EDGE_PX = 3
"""What an item is larger than its slip."""
EMPTY = "Drag a part here to set it aside."


class Shelf(QWidget):
    """Lists the parts that lie on no sheet, one token for all copies of a part."""

    taken = Signal(list)
    """Copies are dragged off the shelf: the one that is pulled first."""
    moved = Signal(QPoint)
    """The pointer went on, in global coordinates."""
    let_go = Signal()
    chosen = Signal(list)
    """Other tokens are selected, with pointer or keys: a copy of each."""

    def __init__(self, document: Document, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._document = document
        self._title, self._hint = Label("Set aside"), Label(EMPTY)
        self._hint.setWordWrap(True)
        self.tokens = Tokens(theme, self)
        self.tokens.setAccessibleName("Set aside")
        box = QVBoxLayout(self)
        box.setContentsMargins(8, 10, 8, 6)
        for widget in (self._title, self._hint):
            box.addWidget(widget)
        box.addWidget(self.tokens, 1)
        self.set_theme(theme)
        document.layout_changed.connect(self.refresh)
        document.job_changed.connect(self.refresh)
        document.selection.changed.connect(self._show_selected)
        self.tokens.itemSelectionChanged.connect(self._choose)
        self.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self._theme = theme
        self.tokens.set_theme(theme)
        self.setObjectName("shelf")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setStyleSheet(
            f"QWidget#shelf {{ background: {theme.paper}; border-left: 1px solid {theme.rule}; }}"
        )
        self._title.setStyleSheet(f"color: {theme.pencil}; font-weight: 600;")
        self._hint.setStyleSheet(f"color: {theme.faint};")

    def refresh(self) -> None:
        """List what lies on no sheet now; the list stays where it was scrolled to."""
        bar = self.tokens.verticalScrollBar()
        scrolled = bar.value()
        with QSignalBlocker(self.tokens):
            self._list()
        self._show_selected()
        self.tokens.doItemsLayout()
        bar.setValue(scrolled)

    def _show_selected(self) -> None:
        """Mark the tokens of copies that are selected."""
        waiting = {one.key for one in self._document.layout.waiting}
        chosen = {part for part, _ in self._document.selection.parts & waiting}
        with QSignalBlocker(self.tokens):
            for row in range(self.tokens.count()):
                item = self.tokens.item(row)
                item.setSelected(item.data(PART) in chosen)

    def _choose(self) -> None:
        found = (self.copy_of(item.data(PART)) for item in self.tokens.selectedItems())
        self.chosen.emit([copy for copy in found if copy is not None])

    def _list(self) -> None:
        job = self._document.job
        groups: dict[str, list[Waiting]] = {}
        for one in self._document.layout.waiting:
            groups.setdefault(one.part, []).append(one)
        known = {part.id: part for part in job.parts}
        self.tokens.clear()
        for part_id, copies in groups.items():
            if part_id in known:
                part = known[part_id]
                size = format_pair(part.cut_length, part.cut_width, job.style)
                self.tokens.add(part_id, (part.name, size, _how_many(copies)))
        left = self._left_out(groups)
        for part, number in left:
            size = format_pair(part.cut_length, part.cut_width, job.style)
            self.tokens.add(part.id, (part.name, size, f"{number} not planned until fixed"))
        self._hint.setVisible(not groups and not left)

    def _left_out(self, groups: Mapping[str, Sequence[Waiting]]) -> list[tuple[Part, int]]:
        """Return the parts that are not planned, since their rows have an error, and how many.

        Those that are too large for any sheet are among them; the list of issues says why.
        """
        usable = {part.id for part in plannable(self._document.job).parts}
        lying = Counter(
            one.part for sheet in self._document.layout.sheets for one in sheet.placements
        )
        lying.update(one.part for one in self._document.layout.finished)
        counts = (
            (part, part.copies - lying[part.id] - len(groups.get(part.id, ())))
            for part in self._document.job.parts
            if part.id not in usable
        )
        return [(part, copies) for part, copies in counts if copies > 0]

    def copy_of(self, part: str) -> Copy | None:
        """Return the first copy of a part that lies on no sheet."""
        for one in self._document.layout.waiting:
            if one.part == part:
                return one.key
        return None


class Tokens(QListWidget):
    """The tokens; a drag off them goes on over the bench."""

    def __init__(self, theme: Theme, shelf: Shelf) -> None:
        super().__init__(shelf)
        self._shelf = shelf
        self._pressed: QPoint | None = None
        self._carrying = False
        self._delegate = _TokenPainter(theme, self)
        self.setItemDelegate(self._delegate)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setSpacing(3)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setSelectionMode(QListWidget.SelectionMode.ExtendedSelection)
        self.setMouseTracking(True)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.viewport().setAutoFillBackground(False)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self._delegate.theme = theme
        self.setStyleSheet("QListWidget { background: transparent; }")

    def add(self, part: str, lines: tuple[str, str, str]) -> None:
        """Add a token for all copies of a part that lie on no sheet."""
        item = QListWidgetItem(", ".join(lines))
        item.setData(PART, part)
        item.setData(LINES, lines)
        item.setToolTip(tip(", ".join(lines)))
        self.addItem(item)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Be ready to drag a token."""
        super().mousePressEvent(event)
        if event.button() == Qt.MouseButton.LeftButton and self.itemAt(event.position().toPoint()):
            self._pressed = event.position().toPoint()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Take a copy off the shelf once the pointer has gone far enough."""
        if self._pressed is None:
            return
        way = (event.position().toPoint() - self._pressed).manhattanLength()
        if not self._carrying and way >= QApplication.startDragDistance():
            self._take()
        if self._carrying:
            self._shelf.moved.emit(event.globalPosition().toPoint())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of what was dragged."""
        super().mouseReleaseEvent(event)
        carried, self._carrying, self._pressed = self._carrying, False, None
        if carried:
            self._shelf.let_go.emit()

    def _take(self) -> None:
        pulled = self.itemAt(self._pressed) if self._pressed is not None else None
        if pulled is None:
            return
        others = (item for item in self.selectedItems() if item is not pulled)
        found = (self._shelf.copy_of(item.data(PART)) for item in (pulled, *others))
        copies = [copy for copy in found if copy is not None]
        if copies:
            self._carrying = True
            self._shelf.taken.emit(copies)


class _TokenPainter(QStyledItemDelegate):
    """Paints a token: a dashed slip with name, size and number."""

    def __init__(self, theme: Theme, tokens: Tokens) -> None:
        super().__init__(tokens)
        self.theme, self._tokens = theme, tokens

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Return the size of a slip with all its rows."""
        height = slip_height(slip_rows(index.data(LINES), self._room))
        return QSize(NARROW_PX - 30, height + EDGE_PX)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Paint one slip."""
        theme, slip = self.theme, option.rect.adjusted(1, 1, 1 - EDGE_PX, 1 - EDGE_PX)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.fillRect(slip, pens.brush(theme.card))
        name, width = (theme.accent, 2.0) if chosen else (theme.graphite, 1.0)
        painter.setPen(pens.pen(name, width, Qt.PenStyle.DashLine))
        painter.drawRect(slip)
        top = slip.top() + PAD_PX
        for row in slip_rows(index.data(LINES), self._room):
            painter.setFont(pens.font(row.size, bold=row.bold))
            painter.setPen(pens.colour(theme.pencil if row.quiet else theme.graphite))
            room = QRect(slip.left() + INSET_PX, top, slip.width() - 2 * INSET_PX, row.height)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, row.words)
            top += row.height

    @property
    def _room(self) -> float:
        """How long a row may be: beside a scroll bar too, so that slips keep their heights."""
        tokens = self._tokens
        bar = tokens.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent)
        return tokens.width() - bar - 2 * (tokens.spacing() + INSET_PX) - EDGE_PX


def _how_many(copies: list[Waiting]) -> str:
    """Say how many were set aside, and how many no plan has placed."""
    sent = sum(one.sent for one in copies)
    rest = len(copies) - sent
    said = (f"{sent} {ASIDE}" if sent else "", f"{rest} not placed" if rest else "")
    return ", ".join(filter(None, said))


NAME_PX, NAME_ROWS = 12, 3
SIZES_PX, LEAST_PX = (10, 9), 8
ROW_PX = {12: 16, 10: 15, 9: 14, 8: 12}
"""Heights of rows by their text size."""
PAD_PX, INSET_PX = 4, 5
"""Between the slip's edge and its words: above and below, and at the sides."""
BETWEEN = " × "
"""Stands between L and W."""


class SlipRow(NamedTuple):
    """A row of a slip; the number is ``quiet``."""

    words: str
    size: int
    bold: bool = False
    quiet: bool = False

    @property
    def height(self) -> int:
        """How high it is in pixels."""
        return ROW_PX[self.size]


def slip_rows(lines: Sequence[str], width: float) -> list[SlipRow]:
    """Return the rows of a slip: name, size and number in so many pixels.

    A name takes up to three rows where one is too short; a size shrinks, and then L and W part.
    """
    name, size, number = lines
    last = cut_short(number, SIZES_PX[0], width)
    return [*_named(name, width), *_sized(size, width), SlipRow(last, SIZES_PX[0], quiet=True)]


def slip_height(written: Sequence[SlipRow]) -> int:
    """Return how high a slip is in pixels."""
    return sum(row.height for row in written) + 2 * PAD_PX


def _named(name: str, width: float) -> Iterator[SlipRow]:
    """Yield the name: broken at spaces into a few rows, and cut short where that does not help."""
    words = name.split()
    for number in range(NAME_ROWS):
        row, last = "", number == NAME_ROWS - 1
        while words and (last or not row or fits(f"{row} {words[0]}", NAME_PX, width, bold=True)):
            row = f"{row} {words.pop(0)}".lstrip()
        if row:
            yield SlipRow(cut_short(row, NAME_PX, width, bold=True), NAME_PX, bold=True)


def _sized(size: str, width: float) -> list[SlipRow]:
    """Return the size in one row if it has room at any usual text size, else L above W."""
    length, _, across = size.partition(BETWEEN)
    for parts, sizes in (((size,), SIZES_PX), ((length, across), (*SIZES_PX, LEAST_PX))):
        for size_px in sizes:
            if all(fits(one, size_px, width) for one in parts):
                return [SlipRow(one, size_px) for one in parts]
    return [SlipRow(cut_short(one, LEAST_PX, width), LEAST_PX) for one in (length, across)]
