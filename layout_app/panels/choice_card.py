"""One choice as a card: its sheets in small, what it takes, and how it differs."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.model.words.choice_words import figures_of
from shared.drawing.records import Box, Role
from shared.drawing.sheet import offcut_box, part_boxes
from shared.geometry import Rect
from shared.plan import Plan, PlanSheet
from solver.outcome import Choice

WIDTH: Final = 186
HEIGHT: Final = 206
MARGIN: Final = 11
PICTURE_HEIGHT: Final = 82
GAP: Final = 4
"""Pixels between two sheets in small."""

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_TOP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap


class ChoiceCard(QAbstractButton):
    """A button that takes its choice; checked while the bench shows it."""

    def __init__(
        self, choice: Choice, words: str, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.choice, self.words = choice, words
        self._theme = theme
        self._stock, sawing = figures_of(choice)
        self._minutes, _, self._cuts = sawing.partition(": ")
        self._sheets = [
            (sheet.rect, small_boxes(choice.plan, sheet)) for sheet in choice.plan.sheets
        ]
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setText(f"{self._stock}, {sawing}")
        self.setAccessibleName(f"{self.text()}; {words}")
        self.setToolTip(f"{self.text()}\n{words}")

    def sizeHint(self) -> QSize:
        """Return the size that every card has."""
        return QSize(WIDTH, HEIGHT)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint frame, sheets and words."""
        del event
        painter = QPainter(self)
        self._paint_frame(painter)
        top, room = float(MARGIN), WIDTH - 2.0 * MARGIN
        self._paint_sheets(painter, QRectF(MARGIN, top, room, PICTURE_HEIGHT))
        top += PICTURE_HEIGHT + 6
        self._write(painter, QRectF(MARGIN, top, room, 19), self._stock, size=14, bold=True)
        sawing = f"{self._minutes} of sawing"
        self._write(painter, QRectF(MARGIN, top + 19, room, 17), sawing, size=13)
        self._write(painter, QRectF(MARGIN, top + 36, room, 17), self._cuts, size=12)
        said = QRectF(MARGIN, top + 55, room, HEIGHT - MARGIN - top - 50)
        self._write(painter, said, self.words, size=11, faint=True, align=_TOP)

    def _paint_frame(self, painter: QPainter) -> None:
        theme, strong = self._theme, self.isChecked() or self.hasFocus() or self.underMouse()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = 2.4 if self.isChecked() else 1.2
        painter.setPen(pens.pen(theme.accent if strong else theme.rule, line))
        painter.setBrush(pens.brush(theme.card))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5), 6, 6)
        if self.hasFocus():
            painter.setPen(pens.pen(theme.accent, 1.0, Qt.PenStyle.DotLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(4.5, 4.5, -4.5, -4.5), 4, 4)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _paint_sheets(self, painter: QPainter, room: QRectF) -> None:
        rects = [rect for rect, _ in self._sheets]
        scale, corners = laid_small(rects, room.width(), room.height())
        for (rect, boxes), corner in zip(self._sheets, corners, strict=True):
            self._paint_sheet(painter, rect, boxes, room.topLeft() + corner, scale)

    def _paint_sheet(
        self,
        painter: QPainter,
        rect: Rect,
        boxes: list[Box],
        corner: QPointF,
        scale: float,
    ) -> None:
        theme = self._theme
        whole = QRectF(corner.x(), corner.y(), rect.length * scale, rect.width * scale)
        painter.fillRect(whole, pens.brush(theme.waste))
        for box in boxes:
            small = QRectF(box.rect.x * scale, box.rect.y * scale, 0, 0)
            small.setWidth(box.rect.length * scale)
            small.setHeight(box.rect.width * scale)
            self._paint_box(painter, box, small.translated(corner))
        painter.setPen(pens.pen(theme.graphite, 1.2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(whole)

    def _paint_box(self, painter: QPainter, box: Box, small: QRectF) -> None:
        theme = self._theme
        if box.role is Role.PART:
            painter.fillRect(small, pens.brush(pens.tint(theme, box.tint)))
            painter.setPen(pens.pen(theme.pencil, 1.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(small)
        elif box.role is Role.KEEPER:
            painter.fillRect(small, pens.brush(theme.keeper))

    def _write(
        self,
        painter: QPainter,
        box: QRectF,
        words: str,
        *,
        size: int,
        bold: bool = False,
        faint: bool = False,
        align: int = int(_LEFT),
    ) -> None:
        painter.setFont(pens.font(size, bold=bold))
        painter.setPen(pens.colour(self._theme.pencil if faint else self._theme.graphite))
        if align == int(_LEFT):
            mode = Qt.TextElideMode.ElideRight
            words = painter.fontMetrics().elidedText(words, mode, int(box.width()) + 1)
        painter.drawText(box, align, words)


def small_boxes(plan: Plan, sheet: PlanSheet) -> list[Box]:
    """Return what is drawn of a sheet in small: its parts by rip width, and its keepers."""
    falls = [offcut_box(one) for one in plan.offcuts if one.sheet == sheet.id]
    return [*falls, *part_boxes(plan, sheet)]


def laid_small(sheets: list[Rect], width: float, height: float) -> tuple[float, list[QPointF]]:
    """Lay sheets out in rows; return pixels a tick, as many as fit, and their corners."""
    long = max((rect.length for rect in sheets), default=1)
    wide = max((rect.width for rect in sheets), default=1)
    best, columns = 0.0, 1
    for across in range(1, len(sheets) + 1):
        down = -(-len(sheets) // across)
        scale = min(
            (width - GAP * (across - 1)) / across / long, (height - GAP * (down - 1)) / down / wide
        )
        if scale > best:
            best, columns = scale, across
    step_x, step_y = long * best + GAP, wide * best + GAP
    places = (divmod(number, columns) for number in range(len(sheets)))
    return best, [QPointF(column * step_x, row * step_y) for row, column in places]
