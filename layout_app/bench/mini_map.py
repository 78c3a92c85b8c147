"""A small map of all sheets while the bench is looked at from near: what is seen, and a way there.

It stands below the tray, beside the sheets, so that it covers none of them.
"""

from collections.abc import Iterator

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt, QTimer, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QWidget

from layout_app.bench.frame import Stand, to_rectf
from layout_app.bench.paper_view import PaperView
from layout_app.document.document import Document
from layout_app.look import pens
from layout_app.look.theme import Theme

LARGEST_PX, LEAST_PX, SHARE = QSizeF(116, 150), 40, 0.5
"""Room that the sheets fill as far as they have its shape, of the view's height no more than a
share; no side is smaller."""
EDGE_PX = 6
"""Between the sheets and the edges of the map."""
SETTLE_MS = 140
"""So long after the view last moved it is shown, put away, or told of."""
SEEN_ALL = 0.985
"""The share of the sheets' width from which on all is taken to be in sight."""


class MiniMap(QWidget):
    """Shows all sheets and what is seen of them; a press or a drag on it goes elsewhere."""

    changed = Signal()
    """It takes another room than before, or none."""

    def __init__(self, view: PaperView, document: Document, theme: Theme) -> None:
        super().__init__(view)
        self._view, self._document, self.theme, self._wanted = view, document, theme, True
        self._picture: QPixmap | None = None
        self.room = QSize()
        """How wide and high it has to be; nothing while it is not shown."""
        self._settling = QTimer(self, singleShot=True, interval=SETTLE_MS)
        self._settling.timeout.connect(self.settle)
        self.setAccessibleName("Map of all sheets")
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.hide()
        view.looked.connect(self.follow)
        document.gestures.changed.connect(self._settling.start)
        for anew in (view.bench.rebuilt, document.layout_changed, document.job_changed):
            anew.connect(self._draw_anew)

    @property
    def wanted(self) -> bool:
        """Whether the maker wants it while the bench is looked at from near."""
        return self._wanted

    @wanted.setter
    def wanted(self, wanted: bool) -> None:
        if wanted != self._wanted:
            self._wanted = wanted
            self.settle()

    def set_theme(self, theme: Theme) -> None:
        """Draw in other colours."""
        self.theme, self._picture = theme, None
        self.update()

    def settle(self) -> None:
        """Show it or put it away, and say what is seen; not while something is in the hand."""
        self._settling.stop()
        if self._document.gestures.under_way:
            return
        room = self._needed() if self._wanted and self._is_near else QSize()
        if room != self.room:
            self.room, self._picture = room, None
            self.setVisible(not room.isEmpty())
            self.changed.emit()
        self.setAccessibleDescription(self._told())

    def put_away(self) -> None:
        """Leave its room to the sheets, which are about to be shown whole."""
        if not self.room.isEmpty():
            self.room = QSize()
            self.hide()
            self.changed.emit()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Go where it is pressed."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._go(event.position())
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Go on with the pointer."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._go(event.position())
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Keep the release from what stands around."""
        event.accept()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Take a second press as the first."""
        self.mousePressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw for the room there is now."""
        super().resizeEvent(event)
        self._picture = None

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the sheets, and a frame round what is seen."""
        if self._picture is None:
            self._picture = self._drawn()
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._picture)
        inside = QRectF(self.rect()).adjusted(2, 2, -2, -2)
        seen = self.on_map(self._sight).intersected(inside)
        painter.fillRect(seen, pens.brush(self.theme.accent, 36))
        painter.setPen(pens.pen(self.theme.accent, 2.0))
        painter.drawRect(seen)
        painter.end()

    @property
    def scale(self) -> float:
        """Pixels of the map a millimetre."""
        size, edges = self._view.bench.floor.bounds.size(), 2 * EDGE_PX
        wide, high = self.width() - edges, self.height() - edges
        return max(min(wide / size.width(), high / size.height()), 1e-6)

    def on_map(self, rect: QRectF) -> QRectF:
        """Return where a rectangle of the scene lies on the map."""
        scale = self.scale
        return QRectF(rect.topLeft() * scale + self._corner, rect.size() * scale)

    @property
    def _corner(self) -> QPointF:
        """Where the corner of the scene lies on the map."""
        bounds, scale = self._view.bench.floor.bounds, self.scale
        return QPointF(
            (self.width() - bounds.width() * scale) / 2 - bounds.left() * scale,
            (self.height() - bounds.height() * scale) / 2 - bounds.top() * scale,
        )

    @property
    def _is_near(self) -> bool:
        """Whether the bench is looked at from so near that the sheets are wider than the view."""
        floor = self._view.bench.floor
        return bool(floor.stands) and self._sight.width() < SEEN_ALL * floor.bounds.width()

    @property
    def _sight(self) -> QRectF:
        return self._view.mapToScene(self._view.viewport().rect()).boundingRect()

    def _needed(self) -> QSize:
        bounds = self._view.bench.floor.bounds.size()
        high = SHARE * self._view.height() - 2 * EDGE_PX
        if high < LEAST_PX:
            return QSize()
        most = LARGEST_PX.boundedTo(QSizeF(LARGEST_PX.width(), high))
        size = bounds.scaled(most, Qt.AspectRatioMode.KeepAspectRatio)
        size = size.expandedTo(QSizeF(LEAST_PX, LEAST_PX))
        return size.toSize() + QSize(2 * EDGE_PX, 2 * EDGE_PX)

    def _go(self, at: QPointF) -> None:
        self._view.centerOn((at - self._corner) / self.scale)

    def follow(self) -> None:
        """Show what is seen now; once the view is at rest, in the room there is."""
        self.update()
        self._settling.start()

    def _draw_anew(self) -> None:
        """Forget the picture; it is painted when it is next shown."""
        self._picture = None
        self.follow()

    def _told(self) -> str:
        """Say what is seen, for who does not see it."""
        bounds, sight = self._view.bench.floor.bounds, self._sight
        across = min(100, round(100 * sight.width() / bounds.width()))
        sheet = self._view.sheet_in_sight
        where = f"Sheet {sheet} is in sight" if sheet else "No sheet is in sight"
        return f"{where}, {across} % of the width."

    def _parts_on(self, stand: Stand) -> Iterator[QRectF]:
        """Yield where parts lie in the scene."""
        sheets = self._document.layout.sheets
        for one in next((sheet.placements for sheet in sheets if sheet.id == stand.sheet), ()):
            yield to_rectf(one.rect).translated(stand.x, stand.y)

    def _drawn(self) -> QPixmap:
        """Paint all sheets with their parts, small."""
        ratio, theme = self.devicePixelRatio(), self.theme
        picture = QPixmap(self.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(pens.colour(theme.paper))
        painter = QPainter(picture)
        painter.setPen(pens.pen(theme.rule))
        painter.drawLine(QPointF(0.5, 0), QPointF(0.5, self.height()))
        painter.drawLine(QPointF(0, 0.5), QPointF(self.width(), 0.5))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for stand in self._view.bench.floor.stands:
            painter.fillRect(self.on_map(stand.rect), pens.brush(theme.wood))
            painter.setPen(pens.pen(theme.pencil, 0.6))
            for rect in self._parts_on(stand):
                painter.fillRect(self.on_map(rect), pens.brush(theme.tints[0]))
                painter.drawRect(self.on_map(rect))
            painter.setPen(pens.pen(theme.graphite))
            painter.drawRect(self.on_map(stand.rect))
        painter.end()
        return picture
