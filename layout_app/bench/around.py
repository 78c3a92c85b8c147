"""What stands around the sheets: two rulers, and the readout below them."""

from PySide6.QtCore import QPoint, QPointF, QRect, Qt

from layout_app.bench.frame import Stand
from layout_app.bench.paper_view import PaperView
from layout_app.bench.readout import READOUT_PX, Readout, Told, placed, tell
from layout_app.bench.rulers import RULER_PX, Reading, Ruler
from layout_app.document.document import Document
from layout_app.look.as_typed import Label
from layout_app.look.theme import Theme
from shared.lengths import MM, Length
from shared.stock import Stock


class Around:
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
        stock = None if stand is None else self._stock(stand.sheet)
        style = self._document.job.style
        self._corner.setText(str(style.unit))
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

    def _stock(self, sheet: str) -> Stock | None:
        document = self._document
        rows = (one.stock for one in document.layout.sheets if one.id == sheet)
        return next((document.job.stock_row(row) for row in rows), None)
