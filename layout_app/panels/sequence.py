"""The cut sequence: cards from left to right in time, in one painted strip."""

from functools import partial

from PySide6.QtCore import QPoint, QRect, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QFrame, QWidget

from layout_app.document.document import Document
from layout_app.document.edit_cut_order import move_cut
from layout_app.look import pens
from layout_app.look.theme import Theme
from layout_app.model.move_cut import Moving
from layout_app.panels.card_painter import BRACKET_HEIGHT, CARD_HEIGHT, CARD_WIDTH, CardPainter
from layout_app.panels.card_row import (
    BREAK,
    FADE_PX,
    GAP,
    CardDrag,
    CardRow,
    fade,
    nearest,
    paint_in_hand,
    paint_places,
    paint_words,
)
from layout_app.panels.cards import NONE_CHOSEN, Bracket, Card, brackets
from layout_app.panels.no_cards import in_the_way, paint_no_cards
from layout_app.panels.ticks import STAMP, KeptCards, next_number, paint_tick, spoken
from layout_app.panels.widgets import bar_below

SCROLL_MS, SCROLL_PX = 30, 18
"""How the view scrolls while a card is held near an end."""


class SequenceView(QAbstractScrollArea):
    """Shows the cards of the document's plan; only those in view are painted.

    Left and right go from cut to cut, Home and End to the first and last, Space ticks, Esc leaves.
    With Alt, Home and End move the selected cut as far as it may go; a card can be dragged.
    """

    tick_asked = Signal(int)
    """The maker wants a cut ticked, or its tick taken away."""
    field_asked = Signal(str)
    """The maker wants the field of what stands in the way of all cuts."""

    def __init__(self, document: Document, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._theme = theme
        self._painter = CardPainter(theme)
        self._brackets: tuple[Bracket, ...] = ()
        self._cards: tuple[Card, ...] = ()
        self._kept = KeptCards(document)
        self._row = CardRow()
        self._places: dict[int, int] = {}
        self._stale = True
        self._pressed: tuple[int, QPoint] | None = None
        self._drag: CardDrag | None = None
        self._pointer = QPoint()
        self._scroll = QTimer(self, interval=SCROLL_MS)
        self._scroll.timeout.connect(self._scroll_along)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Cut sequence")
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        bar_below(self, document.plan is not None)
        self.setMinimumHeight(120)
        self.horizontalScrollBar().setSingleStep(CARD_WIDTH + GAP)
        document.layout_changed.connect(self.refresh)
        document.leaving.connect(self.begin)
        document.job_changed.connect(self.refresh)
        document.selection.changed.connect(self._show_selected)
        document.progress_changed.connect(self._show_progress)

    def begin(self) -> None:
        """Show the first card, as for a project that is opened."""
        self.horizontalScrollBar().setValue(0)

    def set_theme(self, theme: Theme) -> None:
        """Paint with other colours."""
        self._theme, self._painter = theme, CardPainter(theme)
        self.viewport().update()

    def refresh(self) -> None:
        """Show the plan as it is now, as soon as there is time to paint."""
        self._stale = True
        bar_below(self, self._document.plan is not None)
        self.viewport().update()
        QTimer.singleShot(0, self, self._read)

    def _show_progress(self) -> None:
        """Show which cuts are made, and bring the next one into view."""
        self._bring(next_number(self.cards, self._document))
        self.viewport().update()
        self._say_selected()

    @property
    def cards(self) -> tuple[Card, ...]:
        """The cards, in sawing order."""
        self._read()
        return self._cards

    def step(self, by: int) -> None:
        """Select the card so many cuts on, or back."""
        if not self.cards:
            return
        now = self._places.get(self._document.selection.cut or 0)
        place = now + by if now is not None else (0 if by > 0 else len(self._cards) - 1)
        self._select(place)

    # --- where things are --------------------------------------------------------------

    def _read(self) -> None:
        """Lay the cards out if the plan has changed."""
        if not self._stale:
            return
        self._stale = False
        self._cards = self._kept.now()
        self._places = {card.number: place for place, card in enumerate(self._cards)}
        self._brackets = brackets(self._cards)
        self._row = CardRow.of(self._brackets)
        self._set_range(self._row.width)
        self._say_selected()

    def _set_range(self, width: int) -> None:
        bar, page = self.horizontalScrollBar(), self.viewport().width()
        bar.setPageStep(page)
        bar.setRange(0, max(0, width - page))

    def card_rect(self, number: int) -> QRect:
        """Return where a card is in the viewport, in pixels."""
        self._read()
        left = self._row.lefts[self._places[number]] - self.horizontalScrollBar().value()
        return QRect(left, BRACKET_HEIGHT, CARD_WIDTH, CARD_HEIGHT)

    def card_at(self, point: QPoint) -> int | None:
        """Return the number of the card at a point of the viewport."""
        self._read()
        place = self._row.at(point.x() + self.horizontalScrollBar().value())
        if place < 0:
            return None
        number = self._cards[place].number
        return number if self.card_rect(number).contains(point) else None

    # --- the maker ---------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Select the card under the mouse, or none; a left press on its stamp ticks it."""
        point = event.position().toPoint()
        number = self.card_at(point)
        if not self._cards:
            self.ask_field()
        left = event.button() is Qt.MouseButton.LeftButton
        done = self._document.saved_state.is_done(number or 0)
        shown = done or number == self._document.selection.cut
        self._document.selection.select_cut(number)
        if number is None or not left:
            return
        on_card = (point - self.card_rect(number).topLeft()).toPointF()
        if shown and STAMP.contains(on_card):
            self.tick_asked.emit(number)
        else:
            self._pressed = number, point

    def ask_field(self) -> None:
        """Lead to what stands in the way of all cuts, if something does."""
        if wrong := in_the_way(self._document.job):
            self.field_asked.emit(wrong.field)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Take the card in hand once the mouse has gone far enough, and carry it."""
        self._pointer = event.position().toPoint()
        if self._drag is not None:
            self._carry()
        elif self._pressed is not None:
            number, point = self._pressed
            if (self._pointer - point).manhattanLength() >= QApplication.startDragDistance():
                self._take_up(number)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of the card; selecting happened on press."""
        self._pressed = None
        if self._drag is not None:
            self._let_go(drop=True)
        event.accept()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A card in the hand goes back when something else takes over."""
        self._let_go(drop=False)
        super().focusOutEvent(event)

    # --- a card in the hand --------------------------------------------------------------

    @property
    def dragging(self) -> CardDrag | None:
        """The card in the hand, if there is one."""
        return self._drag

    def gap_point(self, gap: int) -> QPoint:
        """Return the middle of the gap in front of a place, in the viewport's pixels."""
        x = self._row.edges[gap] - self.horizontalScrollBar().value()
        return QPoint(round(x), BRACKET_HEIGHT + CARD_HEIGHT // 2)

    def _take_up(self, number: int) -> None:
        plan = self._document.plan
        if plan is None or not plan.has_cut(number) or self._document.gestures.under_way:
            return
        self._document.gestures.under_way = True
        numbers = [card.number for card in self._cards if plan.has_cut(card.number)]
        self._drag = CardDrag(self._document, numbers, numbers.index(number))
        self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        self._scroll.start()
        self._carry()

    @property
    def _past(self) -> int:
        """How many cards stand for cuts made before the plan."""
        plan = self._document.plan
        return sum(plan is None or not plan.has_cut(card.number) for card in self._cards)

    def _carry(self) -> None:
        """Find the gap nearest to the pointer."""
        if self._drag is not None:
            x = self._pointer.x() + self.horizontalScrollBar().value()
            self._drag.gap = nearest(self._row.edges[self._past :], x)
            self.viewport().update()

    def _let_go(self, *, drop: bool) -> None:
        """Put the card down where it is, or back where it was."""
        drag, self._drag, self._pressed = self._drag, None, None
        if drag is None:
            return
        self._scroll.stop()
        self.viewport().unsetCursor()
        self._document.gestures.under_way = False
        number = drag.drop() if drop else None
        if number is not None:
            self._document.selection.select_cut(number)
        self.viewport().update()

    def _scroll_along(self) -> None:
        """Scroll while a card is held near an end of the view."""
        x, width, bar = self._pointer.x(), self.viewport().width(), self.horizontalScrollBar()
        reach = CARD_WIDTH // 3
        by = -1 if x < reach else 1 if x > width - reach else 0
        if by:
            bar.setValue(bar.value() + by * SCROLL_PX)
            self._carry()

    def _move_selected(self, key: Qt.Key) -> None:
        """Move the selected cut as far as it may go."""
        number, plan = self._document.selection.cut, self._document.plan
        if number is None or plan is None or not plan.has_cut(number):
            return
        allowed = Moving(self._document.project, plan).places(number)
        to = allowed[0] if key == Qt.Key.Key_Home else allowed[-1]
        if to == number:  # then the next place says why
            to += -1 if key == Qt.Key.Key_Home else 1
        if plan.has_cut(to) and move_cut(self._document, number, to):
            self._document.selection.select_cut(to)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk through the sequence."""
        steps = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1}
        ends = {Qt.Key.Key_Home: 0, Qt.Key.Key_End: len(self.cards) - 1}
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape and self._drag is not None:
            self._let_go(drop=False)
        elif event.modifiers() & Qt.KeyboardModifier.AltModifier and key in ends:
            self._move_selected(key)
        elif key in steps:
            self.step(steps[key])
        elif key in ends:
            self._select(ends[key])
        elif key == Qt.Key.Key_Space:
            if self._document.selection.cut is None:
                self._document.said.emit(NONE_CHOSEN)
            elif not event.isAutoRepeat():  # a key that is held ticks once
                self.tick_asked.emit(self._document.selection.cut)
        elif key == Qt.Key.Key_Escape:
            self._document.selection.clear()
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll sideways with either wheel."""
        delta = event.angleDelta()
        bar = self.horizontalScrollBar()
        bar.setValue(bar.value() - (delta.x() or delta.y()))
        event.accept()

    def _select(self, place: int) -> None:
        if self._cards:
            place = max(0, min(len(self._cards) - 1, place))
            self._document.selection.select_cut(self._cards[place].number)

    def _show_selected(self) -> None:
        """Bring the selected card into view."""
        self._read()
        self._bring(self._document.selection.cut)
        self._say_selected()
        self.viewport().update()

    def _bring(self, number: int | None) -> None:
        """Scroll as far as needed to have a card in sight."""
        place, bar = self._places.get(number or 0), self.horizontalScrollBar()
        if place is not None:
            bar.setValue(self._row.brought(place, bar.value(), self.viewport().width()))

    def _say_selected(self) -> None:
        place = self._places.get(self._document.selection.cut or 0)
        text = "" if place is None else spoken(self._cards[place], self._document)
        self.setAccessibleDescription(text)

    # --- painting ----------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the scroll bar true."""
        super().resizeEvent(event)
        self._set_range(self._row.width)

    def scrollContentsBy(self, dx: int, dy: int) -> None:
        """Move what is painted already."""
        del dy
        port, faded = self.viewport(), FADE_PX + abs(dx)
        port.scroll(dx, 0)
        port.update(0, 0, port.width(), BRACKET_HEIGHT)
        port.update(0, 0, faded, port.height())
        port.update(port.width() - faded, 0, faded, port.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint what is in view."""
        self._read()
        painter = QPainter(self.viewport())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(event.rect(), pens.brush(self._theme.panel))
        offset = self.horizontalScrollBar().value()
        painter.translate(-offset, 0)
        low, high = event.rect().left() + offset, event.rect().right() + offset
        if self._cards:
            self._paint_cards(painter, low, high)
            self._fade(painter)
        else:
            paint_no_cards(painter, self._theme, self.viewport().rect(), self._document.project)
        if self._drag is not None:
            edges = self._row.edges[self._past :]
            card, x = self._cards[self._past + self._drag.place], self._pointer.x() + offset
            paint_places(painter, self._theme, self._drag, edges)
            face = partial(self._painter.card, card=card, selected=False)
            paint_in_hand(painter, self._theme, self._drag, x, face)
            painter.translate(offset, 0)
            paint_words(painter, self._theme, self._drag, QRectF(self.viewport().rect()))
        painter.end()

    def _paint_cards(self, painter: QPainter, low: int, high: int) -> None:
        selected, place = self._document.selection.cut, 0
        for bracket in self._brackets:
            left = self._row.lefts[place]
            right = self._row.lefts[place + len(bracket.cards) - 1] + CARD_WIDTH
            if right + BREAK >= low and left - BREAK <= high:
                self._painter.bracket(painter, bracket, left, right, self._seen)
                for index, card in enumerate(bracket.cards):
                    self._paint_card(painter, card, self._row.lefts[place + index], selected)
            place += len(bracket.cards)

    def _fade(self, painter: QPainter) -> None:
        """Let cards that go on beyond the view fade out at its edges."""
        bar = self.horizontalScrollBar()
        view = self.viewport().rect().translated(bar.value(), 0)
        more = bar.value() < bar.maximum()
        fade(painter, view, self._theme.panel, left=bar.value() > 0, right=more)

    def _paint_card(self, painter: QPainter, card: Card, left: int, selected: int | None) -> None:
        low, high = self._seen
        if not painter.hasClipping() and not low - CARD_WIDTH <= left <= high:
            return
        painter.save()
        painter.translate(left, BRACKET_HEIGHT)
        chosen = card.number == selected
        self._painter.card(painter, card, selected=chosen)
        paint_tick(painter, self._theme, card.number, self._document, selected=chosen)
        painter.restore()

    @property
    def _seen(self) -> tuple[int, int]:
        """What is in view of the strip of cards, in pixels from its start."""
        offset = self.horizontalScrollBar().value()
        return offset, offset + self.viewport().width()
