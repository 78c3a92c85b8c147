"""The bench on the screen: zooms, scrolls, and gives mouse and keys to the maker's hand."""

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPixmapCache,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsView, QListWidgetItem, QMenu, QToolTip, QWidget

from layout_app.bench import ink
from layout_app.bench.hand import Hand
from layout_app.bench.keys import act_on
from layout_app.bench.menus import part_menu, rip_menu, strip_menu
from layout_app.bench.scene import BenchScene
from layout_app.bench.sheet_item import rect_of
from layout_app.bench.shelf import PART, WIDTH_PX, Shelf
from layout_app.bench.twins import Twins
from layout_app.document import Document
from layout_app.theme import Theme

ZOOM_STEP = 1.2
LEAST_SCALE, MOST_SCALE = 0.02, 20.0
"""Pixels a millimetre."""
MARGIN_PX = 30
PICTURES_KB = 96 * 1024
"""Room for the painted sheets, so that a drag need not paint them again."""


class BenchView(QGraphicsView):
    """Shows every sheet of the document to scale, under the maker's hands."""

    def __init__(self, document: Document, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._bench = BenchScene(document, theme, self)
        self.hand = Hand(document, self._bench, self)
        self.twins = Twins(self.hand)
        self.shelf = Shelf(document, theme, self)
        self._fitted = True
        self._panned_from: QPoint | None = None
        self._space = False
        self._set_up(theme)
        self._connect()

    def _set_up(self, theme: Theme) -> None:
        QPixmapCache.setCacheLimit(max(QPixmapCache.cacheLimit(), PICTURES_KB))
        self.setScene(self._bench)
        self.setAccessibleName("Bench")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setBackgroundBrush(ink.brush(theme.paper))
        self.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setViewportMargins(0, 0, WIDTH_PX, 0)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def _connect(self) -> None:
        self._bench.rebuilt.connect(self._refit)
        self._document.selection.changed.connect(self._show_selected)
        self.shelf.tokens.itemClicked.connect(self._select_token)
        self.shelf.taken.connect(self._take_token)
        self.shelf.moved.connect(self._move_token)
        self.shelf.let_go.connect(self.hand.release)

    # --- what the window asks for -------------------------------------------------

    def set_theme(self, theme: Theme) -> None:
        """Draw everything again in other colours."""
        self.setBackgroundBrush(ink.brush(theme.paper))
        self._bench.set_theme(theme)
        self.shelf.set_theme(theme)

    def fit_width(self) -> None:
        """Show the sheets as wide as the view, and keep to that when the view changes size."""
        self._fitted = True
        self._set_scale(self.viewport().width() / self._bench.floor.bounds.width())

    def fit_all(self) -> None:
        """Show all sheets at once."""
        bounds, port = self._bench.floor.bounds, self.viewport()
        self._fitted = False
        self._set_scale(min(port.width() / bounds.width(), port.height() / bounds.height()))

    def zoom(self, factor: float, at: QPoint | None = None) -> None:
        """Zoom by a factor about a point of the view, its middle if none is given."""
        self._fitted = False
        at = at or self.viewport().rect().center()
        before = self.mapToScene(at)
        self._set_scale(self.scale_px * factor)
        moved = self.mapFromScene(before) - at
        self._scroll(moved)

    def close_up(self) -> None:
        """Zoom to the selected parts, or back to all of the width."""
        chosen = self._document.selection.parts
        found = (rect_of(item, copy) for item in self._bench.sheet_items for copy in chosen)
        around = QRectF()
        for rect in found:
            around = around.united(rect) if rect is not None else around
        if around.isNull():
            self.fit_width()
            return
        self._fitted = False
        port = self.viewport()
        room = min(port.width() / around.width(), port.height() / around.height())
        self._set_scale(room * 0.7)
        self.centerOn(around.center())

    # --- what the hand asks for ---------------------------------------------------

    @property
    def scale_px(self) -> float:
        """Pixels a millimetre."""
        return self.transform().m11()

    def over_shelf(self, point: QPointF) -> bool:
        """Say whether a point of the scene lies where parts wait."""
        return self.mapFromScene(point).x() >= self.viewport().width()

    def words_at(self, point: QPointF, size: QRectF) -> QPointF:
        """Return where words of a size in pixels stand beside a point, all in sight."""
        at, port = self.mapFromScene(point), self.viewport().rect()
        x = min(at.x(), round(port.right() - size.right()))
        y = at.y()
        if y + size.bottom() > port.bottom():
            y = round(y - size.bottom() - 8)
        return self.mapToScene(QPoint(max(x, 0), max(y, -10)))

    def reveal(self, rect: QRectF) -> None:
        """Scroll so that a rectangle of the scene is in sight."""
        self.ensureVisible(rect, MARGIN_PX, MARGIN_PX)

    # --- Qt's events --------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Press: select and be ready to drag; middle button or space: take the paper."""
        middle = event.button() == Qt.MouseButton.MiddleButton
        if middle or (self._space and event.button() == Qt.MouseButton.LeftButton):
            self._panned_from = event.position().toPoint()
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        elif event.button() == Qt.MouseButton.LeftButton:
            adding = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
            self.hand.press(self.mapToScene(event.position().toPoint()), adding=adding)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Follow the pointer."""
        at = event.position().toPoint()
        if self._panned_from is not None:
            self._scroll(self._panned_from - at)
            self._panned_from = at
            return
        free = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        self.hand.move(self.mapToScene(at), free=free)
        self._show_cursor(at)
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Let go of the part or the paper."""
        if self._panned_from is not None:
            self._panned_from = None
        elif event.button() == Qt.MouseButton.LeftButton:
            self.hand.release()
        self._show_cursor(event.position().toPoint())
        event.accept()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take a second press for what it is."""
        self.mousePressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """With Ctrl zoom to the pointer; else scroll."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.zoom(ZOOM_STEP ** (event.angleDelta().y() / 120), event.position().toPoint())
            event.accept()
        else:
            super().wheelEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Give the key to the gesture under way, else to the selection."""
        key = Qt.Key(event.key())
        if self.hand.key(key, event.modifiers()):
            event.accept()
        elif key == Qt.Key.Key_Space:
            self._space = True
            self.viewport().setCursor(Qt.CursorShape.OpenHandCursor)
        elif act_on(self, key, event.modifiers()):
            event.accept()
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Let go of the paper."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self.viewport().unsetCursor()
        super().keyReleaseEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Forget a held key."""
        self._space = False
        super().focusOutEvent(event)

    def focusNextPrevChild(self, onward: bool) -> bool:  # noqa: N802 - Qt's name
        """Let Tab go from part to part, and leave the bench after the last."""
        if self.hand.busy or self.twins.select_next(1 if onward else -1):
            return True
        return super().focusNextPrevChild(onward)

    def event(self, event: QEvent) -> bool:
        """Keep keys from the window's shortcuts while a gesture is under way."""
        if event.type() == QEvent.Type.ShortcutOverride and self.hand.busy:
            event.accept()
            return True
        return super().event(event)

    def viewportEvent(self, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Show in a tip what had no room on the sheet."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            self._show_tip(event)
            return True
        return super().viewportEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:  # noqa: N802 - Qt's name
        """Show what can be done to what lies there."""
        menu = None if self.hand.busy else self.menu_at(event.pos())
        if menu is not None:
            menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
            menu.popup(event.globalPos())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the sheets as wide as the view, until the maker zooms."""
        super().resizeEvent(event)
        port = self.viewport().geometry()
        self.shelf.setGeometry(port.right() + 1, port.top(), WIDTH_PX, port.height())
        self._refit()

    def menu_at(self, at: QPoint) -> QMenu | None:
        """Return the menu for a point of the view; the part or cut there is selected."""
        point = self.mapToScene(at)
        spot = self.hand.spot(point)
        if spot.part is not None:
            if spot.part not in self._document.selection.parts:
                self._document.selection.select_parts([spot.part])
            return part_menu(self.hand, self.twins, spot.part, self)
        if spot.tag is not None:
            self._document.selection.select_cut(spot.tag.number)
            return rip_menu(self.twins, self)
        if spot.stand is None:
            return None
        sheet = spot.stand.sheet
        index = self.hand.sheets.rip_at(sheet, *spot.stand.point(point))
        return None if index is None else strip_menu(self.hand, sheet, index, self)

    # --- helpers ------------------------------------------------------------------

    def _set_scale(self, scale: float) -> None:
        scale = min(MOST_SCALE, max(LEAST_SCALE, scale))
        self.resetTransform()
        self.scale(scale, scale)
        self._bench.outline()

    def _scroll(self, by: QPoint) -> None:
        for bar, step in ((self.horizontalScrollBar(), by.x()), (self.verticalScrollBar(), by.y())):
            bar.setValue(bar.value() + step)

    def _refit(self) -> None:
        if self._fitted:
            self.fit_width()

    def _show_cursor(self, at: QPoint) -> None:
        cursor = Qt.CursorShape.OpenHandCursor
        if not self._space:
            cursor = self.hand.cursor_at(self.mapToScene(at))
        if self.viewport().cursor().shape() != cursor:
            self.viewport().setCursor(cursor)

    def _show_tip(self, event: QHelpEvent) -> None:
        at = self.viewport().mapFromGlobal(event.globalPos())
        QToolTip.showText(event.globalPos(), self._bench.tip_at(self.mapToScene(at)), self)

    def _show_selected(self) -> None:
        """Bring the selected cut's sheet, or the selected part, into sight."""
        if self.hand.busy:
            return
        rect = self._bench.selected_rect()
        if rect is not None:
            self.reveal(rect)

    def _select_token(self, item: QListWidgetItem) -> None:
        copy = self.shelf.copy_of(item.data(PART))
        if copy is not None:
            self._document.selection.select_parts([copy])

    def _take_token(self, part: str, copy: int) -> None:
        self._document.selection.select_parts([(part, copy)])
        self.hand.carry((part, copy))

    def _move_token(self, at: QPoint) -> None:
        self.hand.move(self.mapToScene(self.viewport().mapFromGlobal(at)))
