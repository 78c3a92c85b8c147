"""What stands around the sheets: two rulers, and the readout below them."""

from collections.abc import Iterable
from typing import NamedTuple

from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from layout_app.bench.frame import Stand
from layout_app.bench.paper_view import PaperView
from layout_app.bench.rulers import RULER_PX, Reading, Ruler
from layout_app.document.document import Document
from layout_app.look import pens
from layout_app.look.as_typed import Label
from layout_app.look.theme import Theme
from shared.drawing import RectLabel, Role, SheetDrawing
from shared.drawing.records import ONLY_SHOWN
from shared.drawing.words import fall_size, rect_size
from shared.geometry import Rect
from shared.lengths import MM, Length, LengthStyle, format_length
from shared.parts import Copy


class BenchSurround:
    """Keeps rulers and readout in step with the view and the pointer.

    Both count from the trimmed reference corner of the sheet under the pointer, or of the
    nearest one, as running positions do.
    """

    def __init__(self, view: PaperView, document: Document, theme: Theme) -> None:
        self._view, self._document = view, document
        self.top = Ruler(theme, view, upright=False)
        self.left = Ruler(theme, view, upright=True)
        self.readout = Readout(theme, view)
        self._corner = Label(parent=view)
        self._corner.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._at: QPoint | None = None
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        for one in (self.top, self.left, self.readout):
            one.set_theme(theme)
        self._corner.setStyleSheet(
            f"background: {theme.paper}; color: {theme.pencil}; font-size: 10px;"
        )

    def place(self, port: QRect) -> None:
        """Stand around the viewport."""
        self.top.setGeometry(port.left(), port.top() - RULER_PX, port.width(), RULER_PX)
        self.left.setGeometry(port.left() - RULER_PX, port.top(), RULER_PX, port.height())
        self._corner.setGeometry(port.left() - RULER_PX, port.top() - RULER_PX, RULER_PX, RULER_PX)
        self.readout.setGeometry(
            port.left() - RULER_PX, port.bottom() + 1, port.width() + RULER_PX, READOUT_PX
        )

    def point_at(self, at: QPoint | None) -> None:
        """Follow the pointer, in pixels of the viewport; ``None`` when it is elsewhere."""
        self._at = at
        self.look()

    def look(self) -> None:
        """Show anew what is in sight."""
        view = self._view
        at = self._at or view.viewport().rect().center()
        point = view.mapToScene(at)
        stand = view.bench.floor.nearest(point)
        job, sheets = self._document.job, self._document.layout.sheets
        rows = (one.stock for one in sheets if stand is not None and one.id == stand.sheet)
        stock = next(map(job.stock_row, rows), None)
        self._corner.setText(str(job.style.unit))
        if stand is None or stock is None:
            self.top.show_reading(None, None)
            self.left.show_reading(None, None)
            self.readout.say(Told(), "")
            return
        corner, usable = view.mapFromScene(stand.rect.topLeft()), stock.usable
        along = self._reading(corner.x(), usable.x, stock.length)
        across = self._reading(corner.y(), usable.y, stock.width)
        self.top.show_reading(along, None if self._at is None else at.x())
        self.left.show_reading(across, None if self._at is None else at.y())
        self._say(stand, point, (usable.x, usable.y))

    def _reading(self, corner_px: float, zero: Length, reach: Length) -> Reading:
        scale = self._view.scale_px
        return Reading(
            zero=corner_px + zero * scale / MM,
            start=-zero,
            end=reach - zero,
            scale=scale,
            style=self._document.job.style,
        )

    def _say(self, stand: Stand, point: QPointF, zero: tuple[Length, Length]) -> None:
        """Tell what lies under the pointer, unless a gesture tells of itself."""
        item = self._view.bench.sheet_item(stand.sheet)
        if self._at is None or item is None:
            self.readout.say(Told(), "")
            return
        x, y = stand.point(point)
        style = self._document.job.style
        at_work = self._document.gestures.under_way
        told = Told() if at_work else tell(item.drawing, (x, y), zero, style)
        here = placed(x - zero[0], y - zero[1], style)
        self.readout.say(told, f"pointer at {here}, sheet {stand.sheet}")


READOUT_PX = 24
TEXT_PX = 12
HINT = "Point at a part, offcut or gap to read its size."
NAMES = {
    Role.WASTE: "waste",
    Role.KEEPER: "offcut",
    Role.TRIM: "trim",
    Role.KEPT: "keep side",
    Role.LEFT: "left",
    Role.NO_GO: "bad place",
}
FALLS = (Role.WASTE, Role.KEEPER)
FILLED = (Role.PART, Role.COMING, Role.TRIM, Role.NO_GO)
"""What bounds a gap."""
UNTOLD = ONLY_SHOWN | {Role.BLANK}


class Told(NamedTuple):
    """A name, and what is to be said of it."""

    name: str = ""
    rest: str = ""


def tell(
    drawing: SheetDrawing,
    at: tuple[Length, Length],
    zero: tuple[Length, Length],
    style: LengthStyle,
) -> Told:
    """Tell what lies at a point of a sheet.

    Parameters
    ----------
    at
        The point, in ticks from the sheet's reference corner.
    zero
        Where running positions begin: the trimmed reference corner, in the same frame.
    """
    if not _has(drawing.rect, at):
        return Told()
    over = [box for box in drawing.boxes if _has(box.rect, at) and box.role not in UNTOLD]
    box = over[-1] if over else None
    if box is not None and box.role in (Role.KERF, Role.CUT):
        width = format_length(min(box.rect.length, box.rect.width), style)
        return Told(f"kerf of cut {box.key.removeprefix('cut:')}", f"{width} wide")
    label = next((one for one in drawing.labels if box and one.key == box.key), None)
    if box is None or (label is None and box.role not in NAMES):
        return Told("gap", _gap(drawing, at, style))
    if label is None:
        place = placed(box.rect.x - zero[0], box.rect.y - zero[1], style)
        write = fall_size if box.role in FALLS else rect_size
        return Told(NAMES[box.role], f"{write(box.rect, style)}, begins at {place}")
    return _tell_labelled(drawing, label, box.rect, zero, style)


def tell_copy(
    drawing: SheetDrawing, key: Copy, zero: tuple[Length, Length], style: LengthStyle
) -> Told:
    """Tell of a copy of a part what is told where it lies; nothing if it does not lie there."""
    labels = {label.key: label for label in drawing.labels}
    for box in drawing.boxes:
        if (box.part, box.copy) == key and box.key in labels:
            return _tell_labelled(drawing, labels[box.key], box.rect, zero, style)
    return Told()


def _tell_labelled(
    drawing: SheetDrawing,
    label: RectLabel,
    rect: Rect,
    zero: tuple[Length, Length],
    style: LengthStyle,
) -> Told:
    place = placed(rect.x - zero[0], rect.y - zero[1], style)
    name, *sizes = label.lines
    rule = next((sign.words for sign in drawing.signs if sign.key == label.key), "")
    said = (*sizes, f"begins at {place}", label.note, rule)
    return Told(name, ", ".join(filter(None, said)))


def placed(x: Length, y: Length, style: LengthStyle) -> str:
    """Write a running position, along and across the sheet."""
    return f"{format_length(x, style)} along, {format_length(y, style)} across"


def _gap(drawing: SheetDrawing, at: tuple[Length, Length], style: LengthStyle) -> str:
    """Write how far it is free about a point, along the sheet and across it."""
    filled = [box for box in drawing.boxes if box.role in FILLED]
    x, y = at
    beside = [box.rect for box in filled if box.rect.y <= y < box.rect.bottom]
    level = [box.rect for box in filled if box.rect.x <= x < box.rect.right]
    along = _free(((one.x, one.right) for one in beside), x, drawing.rect.length)
    across = _free(((one.y, one.bottom) for one in level), y, drawing.rect.width)
    return placed(along, across, style)


def _free(taken: Iterable[tuple[Length, Length]], at: Length, reach: Length) -> Length:
    """Return how much is free about a place between stretches that are taken."""
    low, high = 0, reach
    for start, end in taken:
        if end <= at:
            low = max(low, end)
        elif start > at:
            high = min(high, start)
    return high - low


def _has(rect: Rect, at: tuple[Length, Length]) -> bool:
    return rect.x <= at[0] < rect.right and rect.y <= at[1] < rect.bottom


class Readout(QWidget):
    """The line below the bench."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme
        self.told, self.pointer = Told(), ""
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setAccessibleName("Under the pointer")

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme = theme
        self.update()

    def say(self, told: Told, pointer: str) -> None:
        """Say what lies there, and where the pointer is."""
        if (told, pointer) != (self.told, self.pointer):
            self.told, self.pointer = told, pointer
            self.setAccessibleDescription(", ".join(filter(None, told)))
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write name and size from the left, the pointer's place at the right if there is room."""
        theme, room = self.theme, self.rect().adjusted(10, 1, -10, 0)
        painter = QPainter(self)
        painter.fillRect(self.rect(), pens.brush(theme.paper))
        painter.setPen(pens.pen(theme.rule))
        painter.drawLine(QPointF(0, 0.5), QPointF(self.width(), 0.5))
        name, rest = self.told if self.told.name else ("", "" if self.pointer else HINT)
        left = self._write(painter, room, name, theme.graphite, bold=True)
        left = self._write(painter, left, rest, theme.graphite if name else theme.pencil)
        painter.setFont(pens.font(TEXT_PX))
        need = painter.fontMetrics().horizontalAdvance(self.pointer) + 16
        if need <= left.width():
            place = left.adjusted(round(left.width() - need), 0, 0, 0)
            self._write(painter, place, self.pointer, theme.pencil)
        painter.end()

    def _write(
        self, painter: QPainter, room: QRect, words: str, colour: str, *, bold: bool = False
    ) -> QRect:
        """Write words at the left of a room, cut short if need be; return what is left of it."""
        if not words or room.width() <= 0:
            return room
        painter.setFont(pens.font(TEXT_PX, bold=bold))
        painter.setPen(pens.colour(colour))
        metrics = painter.fontMetrics()
        words = metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width())
        middle = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        painter.drawText(room, middle, words)
        return room.adjusted(metrics.horizontalAdvance(words) + 10, 0, 0, 0)
