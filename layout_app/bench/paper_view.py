"""A view of the sheets that can be zoomed about a point, fitted and panned."""

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGestureEvent, QGraphicsView, QPinchGesture, QWidget

from layout_app.bench.scene import BenchScene

ZOOM_STEP = 1.2
LEAST_SCALE, MOST_SCALE = 0.02, 20.0
"""Pixels a millimetre."""
MARGIN_PX, WHEEL_PX = 30, 72
"""What is kept about what is brought into sight, and how far a notch of the wheel scrolls."""
SHARP_MS = 120
"""So long after the last step of a zoom the sheets are painted sharp again."""


class PaperView(QGraphicsView):
    """Shows the scene as wide as the view until the maker zooms."""

    looked = Signal()
    """Another part of the scene is in sight, or at another scale."""

    def __init__(self, bench: BenchScene, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bench = bench
        self._fitted = True
        self._panned_from: QPoint | None = None
        self._space = False
        self._scroll_rest = QPointF()
        self._sharpening = QTimer(self, singleShot=True)
        self._sharpening.timeout.connect(self._sharpen)
        self.setScene(bench)
        self.viewport().grabGesture(Qt.GestureType.PinchGesture)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        bench.rebuilt.connect(self.refit)

    @property
    def scale_px(self) -> float:
        """Pixels a millimetre."""
        return self.transform().m11()

    def fit_width(self) -> None:
        """Show the sheets as wide as the view, and keep to that when the view changes size.

        What is at the top of the view stays there; of sheets beside each other, the sheet in
        the middle.
        """
        top, was = self.mapToScene(QPoint()), self.bench.floor
        middle = was.nearest(self.mapToScene(self.viewport().rect().center()))
        self.bench.stand_below()
        self._fitted = True
        self._set_scale(self.viewport().width() / self.bench.floor.bounds.width())
        if was.columns > 1 and middle is not None:
            self.reveal_sheet(middle.sheet)
        else:
            self.scroll_by(QPoint(0, self.mapFromScene(top).y()))

    def begin(self) -> None:
        """Show the first sheets as wide as the view, as for a project that is opened."""
        self.fit_width()
        self.verticalScrollBar().setValue(self.verticalScrollBar().minimum())

    def fit_all(self) -> None:
        """Show all sheets at once, beside each other where they are larger so."""
        self._fitted = False
        self.bench.stand_beside(self.viewport().size())
        bounds, port = self.bench.floor.bounds, self.viewport()
        self._set_scale(min(port.width() / bounds.width(), port.height() / bounds.height()))

    def zoom(self, factor: float, at: QPoint | None = None) -> None:
        """Zoom by a factor about a point of the view, its middle if none is given."""
        self._fitted = False
        self.bench.darkroom.hold()
        self._sharpening.start(SHARP_MS)
        at = at or self.viewport().rect().center()
        before = self.mapToScene(at)
        self._set_scale(self.scale_px * factor)
        self.scroll_by(self.mapFromScene(before) - at)

    def zoom_to_selection(self) -> None:
        """Zoom to the selected parts, or back to all of the width."""
        around = QRectF()
        for rect in self.bench.selected_rects():
            around = around.united(rect)
        if around.isNull():
            self.fit_width()
            return
        self._fitted = False
        port = self.viewport()
        room = min(port.width() / around.width(), port.height() / around.height())
        self._set_scale(room * 0.7)
        self.centerOn(around.center())

    def reveal(self, rect: QRectF) -> None:
        """Scroll so that a rectangle of the scene is in sight."""
        self.ensureVisible(rect, MARGIN_PX, MARGIN_PX)

    def reveal_sheet(self, sheet: str) -> None:
        """Scroll so that a sheet is in sight from its title down, as far as there is room."""
        stand = self.bench.floor.of(sheet)
        if stand is not None:
            room = self.bench.floor.room(stand)
            port = self.viewport().height() - 2 * MARGIN_PX
            room.setHeight(min(room.height(), port / self.transform().m11()))
            self.reveal(room)

    @property
    def sheet_in_sight(self) -> str:
        """The sheet of which most is in sight, the first of several; ``""`` if none is."""
        port = self.mapToScene(self.viewport().rect()).boundingRect()
        seen = {one.sheet: one.rect.intersected(port) for one in self.bench.floor.stands}
        areas = {sheet: rect.width() * rect.height() for sheet, rect in seen.items()}
        most = max(areas, key=areas.__getitem__, default="")
        return most if areas.get(most) else ""

    def refit(self) -> None:
        """Fit the width again, unless the maker has zoomed; bars stand beside sheets only."""
        policy = Qt.ScrollBarPolicy
        empty = not self.bench.floor.stands
        # A bar that comes and goes changes the width that the sheets are fitted to, for ever.
        self.setVerticalScrollBarPolicy(
            policy.ScrollBarAlwaysOff if empty else policy.ScrollBarAlwaysOn
        )
        self.setHorizontalScrollBarPolicy(
            policy.ScrollBarAlwaysOff if empty else policy.ScrollBarAsNeeded
        )
        if self._fitted:
            self.fit_width()

    def scroll_by(self, by: QPoint) -> None:
        """Scroll by so many pixels."""
        for bar, step in ((self.horizontalScrollBar(), by.x()), (self.verticalScrollBar(), by.y())):
            bar.setValue(bar.value() + step)

    def settle(self) -> None:
        """Paint all that is in sight sharp, now."""
        self._sharpening.stop()
        self.bench.darkroom.release()
        self.bench.darkroom.patient = True
        self.viewport().grab()
        self.bench.darkroom.patient = False
        self.viewport().update()

    @property
    def panning(self) -> bool:
        """Whether the paper is in the hand, or would be at the next press."""
        return self._space or self._panned_from is not None

    @property
    def pan_cursor(self) -> Qt.CursorShape | None:
        """The open or closed hand while the paper would be, or is, in the hand; else ``None``."""
        if self._panned_from is not None:
            return Qt.CursorShape.ClosedHandCursor
        return Qt.CursorShape.OpenHandCursor if self._space else None

    def show_cursor(self, shape: Qt.CursorShape) -> None:
        """Give the pointer a shape."""
        if self.viewport().cursor().shape() != shape:
            self.viewport().setCursor(shape)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint what there is time for; the rest is painted sharp in the frames that follow."""
        room = self.bench.darkroom
        room.begin(self.mapToScene(self.viewport().rect()).boundingRect())
        super().paintEvent(event)
        if room.owing and not self._sharpening.isActive():
            self._sharpening.start(0)

    def scrollContentsBy(self, dx: int, dy: int) -> None:
        """Scroll, and tell who shows where."""
        super().scrollContentsBy(dx, dy)
        self.looked.emit()

    def viewportEvent(self, event: QEvent) -> bool:
        """Zoom by two fingers, on the pad or on the screen."""
        if isinstance(event, QNativeGestureEvent):
            if event.gestureType() is Qt.NativeGestureType.ZoomNativeGesture:
                self.zoom(1.0 + event.value(), event.position().toPoint())
                return True
        elif isinstance(event, QGestureEvent):
            pinch = event.gesture(Qt.GestureType.PinchGesture)
            if isinstance(pinch, QPinchGesture):
                at = self.viewport().mapFromGlobal(pinch.centerPoint().toPoint())
                self.zoom(pinch.scaleFactor() or 1.0, at)
                event.accept(Qt.GestureType.PinchGesture)
                return True
        return super().viewportEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the paper with the middle button, or with space and the left."""
        middle = event.button() == Qt.MouseButton.MiddleButton
        if middle or (self._space and event.button() == Qt.MouseButton.LeftButton):
            self._panned_from = event.position().toPoint()
            self.show_cursor(Qt.CursorShape.ClosedHandCursor)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Let the paper follow the pointer."""
        at = event.position().toPoint()
        if self._panned_from is not None:
            self.scroll_by(self._panned_from - at)
            self._panned_from = at
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of the paper."""
        self._panned_from = None
        event.accept()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """With Ctrl zoom to the pointer; else scroll, with Shift sideways.

        A trackpad says in pixels how far the fingers went, and the paper goes just as far.
        """
        turned, keys = QPointF(event.angleDelta()), event.modifiers()
        if keys & Qt.KeyboardModifier.ControlModifier:
            self.zoom(ZOOM_STEP ** (turned.y() / 120), event.position().toPoint())
        else:
            exact = event.pixelDelta()
            by = QPointF(exact) if not exact.isNull() else turned * (WHEEL_PX / 120)
            if keys & Qt.KeyboardModifier.AltModifier:  # Qt tells of it as a turn sideways
                by = by.transposed() if not by.y() else by
            if keys & Qt.KeyboardModifier.ShiftModifier and not by.x():
                by = by.transposed()
            self._scroll_rest -= by
            whole = self._scroll_rest.toPoint()
            self._scroll_rest -= QPointF(whole)
            self.scroll_by(whole)
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Hold space to take the paper."""
        if event.key() == Qt.Key.Key_Space:
            self._space = True
            self.show_cursor(self.pan_cursor or Qt.CursorShape.OpenHandCursor)
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let space go."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self.show_cursor(self.pan_cursor or Qt.CursorShape.ArrowCursor)
        super().keyReleaseEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Forget a held key."""
        self._space = False
        super().focusOutEvent(event)

    def _set_scale(self, scale: float) -> None:
        scale = min(MOST_SCALE, max(LEAST_SCALE, scale))
        self.resetTransform()
        self.scale(scale, scale)
        self.bench.outline()
        self.looked.emit()

    def _sharpen(self) -> None:
        self.bench.darkroom.release()
        self.viewport().update()
