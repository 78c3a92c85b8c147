"""The regions of the window, and the keys that go round them."""

from collections.abc import Iterable, Iterator
from typing import Final

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtGui import QFocusEvent, QRegion
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QFrame, QTabWidget, QWidget

LINE_PX: Final = 3
"""Width of the ring round what has the keys."""
REASON: Final = Qt.FocusReason.TabFocusReason
TABS: Final = (REASON, Qt.FocusReason.BacktabFocusReason)
MOVES: Final = (QEvent.Type.Resize, QEvent.Type.Move)


class Regions(QObject):
    """Goes from region to region; a ring shows which one has the keys.

    So it does round what scrolls, once Tab has come there: fields and buttons show it themselves.
    A region may lie in another one, before it in their order: the tray in the bench.
    """

    def __init__(self, window: QWidget, regions: tuple[QWidget, ...], tabs: QTabWidget) -> None:
        """Know the regions from top to bottom; where there are ``tabs``, their page comes first.

        A region that lies in another one comes behind it.
        """
        super().__init__(window)
        self._window, self._regions, self._tabs = window, regions, tabs
        self.line = QFrame(window)
        self.line.setObjectName("region")
        self.line.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.line.hide()
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        app.focusChanged.connect(self._follow)
        for place in window.findChildren(QAbstractScrollArea):
            place.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Show what Tab has come to."""
        if isinstance(event, QFocusEvent) and event.gotFocus() and event.reason() in TABS:
            assert isinstance(watched, QWidget)
            self._show(watched)
        elif event.type() in MOVES and watched is self.line.property("region"):
            assert isinstance(watched, QWidget)
            self._place(watched)
        return super().eventFilter(watched, event)

    def all(self) -> tuple[QWidget, ...]:
        """Return what can take the keys now, from the top to the bottom of the window."""
        return tuple(one for one in self._regions if next(self._places(one), None))

    def of(self, widget: QWidget | None) -> QWidget | None:
        """Return the region a widget belongs to, if it is in one: the innermost."""
        if widget is None:
            return None
        holding = [one for one in self._regions if widget is one or one.isAncestorOf(widget)]
        return next((one for one in reversed(holding) if next(self._places(one), None)), None)

    def _holding(self, widget: QWidget, regions: Iterable[QWidget]) -> QWidget | None:
        found = [one for one in regions if widget is one or one.isAncestorOf(widget)]
        return found[-1] if found else None

    def go(self, way: int) -> None:
        """Give the keys to the next region, or to the one before where ``way`` is -1."""
        every, now = self.all(), self.of(QApplication.focusWidget())
        at = every.index(now) + way if now in every else min(way, 0)
        self.enter(every[at % len(every)])

    def enter(self, region: QWidget) -> None:
        """Give the keys to where they were in a region, or to its first place."""
        before = region.focusWidget()
        places = list(self._places(region))
        if before not in places:
            page = self._tabs.currentWidget()
            before = next((one for one in places if page.isAncestorOf(one)), places[0])
        before.setFocus(REASON)
        self._show(region)

    def _places(self, region: QWidget) -> Iterator[QWidget]:
        """Yield what Tab can reach in a region, in its order, without the regions within it."""
        for place in _places(region):
            if self._holding(place, self._regions) is region:
                yield place

    def _place(self, region: QWidget) -> None:
        """Put the ring round a region; within it nothing is covered."""
        corner = region.mapTo(self._window, QPoint(0, 0))
        self.line.setGeometry(QRect(corner, region.size()))
        inner = self.line.rect().adjusted(LINE_PX, LINE_PX, -LINE_PX, -LINE_PX)
        self.line.setMask(QRegion(self.line.rect()).subtracted(QRegion(inner)))

    def _show(self, region: QWidget) -> None:
        self._place(region)
        region.installEventFilter(self)
        self.line.setProperty("region", region)
        self.line.show()
        self.line.raise_()

    def _follow(self, old: QWidget | None, new: QWidget | None) -> None:
        """Take the ring away once the keys are elsewhere, or fell there as what had them went."""
        region = self.line.property("region")
        inside = isinstance(region, QWidget) and (
            region is new or region.isAncestorOf(new or self.line)
        )
        if not inside or (old is not None and not old.isVisible()):
            self.line.hide()


def _places(region: QWidget) -> Iterator[QWidget]:
    """Yield what Tab can reach in a region, in its order."""
    here: QWidget | None = region
    while here is not None:
        takes = bool(here.focusPolicy() & Qt.FocusPolicy.TabFocus)
        mine = here is region or region.isAncestorOf(here)
        if takes and mine and here.isVisible() and here.isEnabled() and here.focusProxy() is None:
            yield here
        here = here.nextInFocusChain()
        here = None if here is region else here
