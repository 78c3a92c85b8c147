"""The drawer in which plans are compared, in place of the cut sequence while it is open."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QSizePolicy,
    QWidget,
)

from layout_app.document.document import Document
from layout_app.look import pens
from layout_app.look.elided_label import Cutting
from layout_app.look.theme import Theme
from layout_app.model.choices import is_shown, with_shown
from layout_app.model.words.choice_words import difference, figures_of, order_of_choices
from layout_app.panels.widgets import BARE, Drawer, across, button, down, label, scrolled
from layout_app.planner.choices import take_choice
from layout_app.planner.live import Planning
from shared.drawing.records import Box, Role
from shared.drawing.sheet import offcut_box, part_boxes
from shared.geometry import Rect
from shared.plan import Plan, PlanSheet
from solver.outcome import Choice, choice_of

WIDTH: Final = 196
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
    for abreast in range(1, len(sheets) + 1):
        rows = -(-len(sheets) // abreast)
        scale = min(
            (width - GAP * (abreast - 1)) / abreast / long,
            (height - GAP * (rows - 1)) / rows / wide,
        )
        if scale > best:
            best, columns = scale, abreast
    step_x, step_y = long * best + GAP, wide * best + GAP
    places = (divmod(number, columns) for number in range(len(sheets)))
    return best, [QPointF(column * step_x, row * step_y) for row, column in places]


SHOWN = "on the bench"
HEADING = "Compare plans: cost against minutes"
HINT = "Undo goes back"
_STEPS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Up: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Down: 1}


class ChoicesDrawer(Drawer):
    """Closed until it is opened; closes by itself when what it shows is void."""

    def __init__(
        self, document: Document, planning: Planning, theme: Theme, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._document, self._planning, self._theme = document, planning, theme
        self.setObjectName("choices")
        self.cards: list[ChoiceCard] = []
        self._made_of: tuple[object, ...] = ()
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self.refresh)
        self._arrange()
        for signal in (document.layout_changed, document.job_changed, planning.changed):
            signal.connect(self._refresh_soon)
        document.leaving.connect(self._leave)
        self.hide()

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What can be chosen now, the one on the bench always included."""
        offered, plan = self._planning.choices, self._document.plan
        if not offered or plan is None:
            return offered
        return with_shown(offered, plan, self._document.job, self._document.takes)

    def toggle(self) -> None:
        """Open it and give it the keys, or put it away."""
        if self.isVisible():
            self.put_away()
        elif self.choices:
            self.show()
            self.opened.emit()
            self.refresh()
            self._focus_shown()

    def _leave(self) -> None:
        """Put it away with the project that its choices are of."""
        if self.isVisible():
            self.put_away()
        old, self.cards, self._made_of = self.cards, [], ()
        self._forget(old)

    def set_theme(self, theme: Theme) -> None:
        """Paint the cards in other colours."""
        self._theme, self._made_of = theme, ()
        self.refresh()

    def refresh(self) -> None:
        """Lay out the cards of what can be chosen now."""
        if not self.isVisible():
            return
        if not self.choices or self._document.plan is None:
            self.put_away()
            return
        made_of = (self._planning.choices, self._document.plan)
        if self._made_of and all(a is b for a, b in zip(made_of, self._made_of, strict=True)):
            return
        self._made_of = made_of
        self._lay_cards()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go from card to card with the arrows, put it away with Esc."""
        step = _STEPS.get(Qt.Key(event.key()))
        if step is not None and self.cards:
            card = self.cards[((self._focused() or 0) + step) % len(self.cards)]
            card.setFocus()
            self._area.ensureWidgetVisible(card)
        else:
            super().keyPressEvent(event)

    def _refresh_soon(self) -> None:
        if self.isVisible():
            self._soon.start()

    def _lay_cards(self) -> None:
        focused, old = self._focused(), self.cards
        self.cards = []
        plan = self._document.plan
        assert plan is not None
        now = choice_of(plan, self._document.job, self._document.takes)
        others = [one for one in self.choices if not is_shown(one, plan)]
        said = [f"other {order_of_choices(others)}"] * bool(others) + [HINT]
        self._hint.setText("; ".join(said))
        for number, choice in enumerate(self.choices):
            shown = is_shown(choice, plan)
            words = SHOWN if shown else difference(choice, now)
            card = ChoiceCard(choice, words, self._theme, self)
            card.setChecked(shown)
            card.clicked.connect(self._take)
            self._row.insertWidget(number, card)
            card.show()
            self.cards.append(card)
        if focused is not None:
            self.cards[min(focused, len(self.cards) - 1)].setFocus()
        self._forget(old)

    def _take(self) -> None:
        card = self.sender()
        if isinstance(card, ChoiceCard) and card in self.cards:
            take_choice(self._document, card.choice)
            card.setChecked(is_shown(card.choice, self._document.plan))

    def _focused(self) -> int | None:
        """Return the place of the card that has the keys."""
        focused = self.window().focusWidget()
        return next((n for n, card in enumerate(self.cards) if card is focused), None)

    def _focus_shown(self) -> None:
        shown = (card for card in self.cards if card.isChecked())
        next(shown, self.cards[0]).setFocus()

    def _forget(self, cards: list[ChoiceCard]) -> None:
        for card in cards:
            self._row.removeWidget(card)
            card.hide()
            card.deleteLater()

    def _arrange(self) -> None:
        heading = label(HEADING, self, "strong")
        self._hint = Cutting(parent=self)
        self._hint.setObjectName("quiet")
        tip = "Show the cut sequence again (Esc)"
        back = button("back to the cuts", self, self.put_away, tip, look="link")
        inside = QWidget(self)
        self._row = across(None, on=inside, edges=BARE, gap=10)
        self._area = scrolled(inside, self)
        self._area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._area.setFixedHeight(HEIGHT + 14)
        head = across(heading, (self._hint, 1), back)
        down(head, self._area, None, on=self, edges=(14, 4, 14, 4), gap=4)
