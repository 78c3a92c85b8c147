"""The bench with a document laid out by hand, and a mouse that knows inches."""

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.bench.view import BenchView
from layout_app.look.theme import Theme
from tests.layout_app.bench.two_sheets import document, inches

LEFT = Qt.MouseButton.LeftButton
NONE = Qt.KeyboardModifier.NoModifier


class Maker:
    """Works on the bench with real mouse and key events; places are sheet, x and y in inches."""

    def __init__(self, view, doc):
        self.view, self.doc = view, doc
        self.port = view.viewport()
        self.said, self.held = [], NONE
        doc.said.connect(self.said.append)

    def at(self, sheet, x, y):
        """Return the point of the view over a place on a sheet."""
        stand = self.view.hand.sheets.stand(sheet)
        return self.view.mapFromScene(QPointF(stand.x + 25.4 * x, stand.y + 25.4 * y))

    def press(self, point, modifiers=NONE):
        """Press the left button."""
        QTest.mousePress(self.port, LEFT, modifiers, point)

    def go(self, point, steps=4):
        """Move the pointer to a point, button held, in some steps."""
        start = getattr(self, "_pointer", point)
        for step in range(1, steps + 1):
            between = start + (point - start) * (step / steps)
            self._send_move(between if isinstance(between, QPoint) else between.toPoint())
        self._pointer = point

    def _send_move(self, point):
        if self.held == NONE:
            QTest.mouseMove(self.port, point)
            return
        spot, place = QPointF(point), QPointF(self.port.mapToGlobal(point))
        event = QMouseEvent(QEvent.Type.MouseMove, spot, place, LEFT, LEFT, self.held)
        QApplication.sendEvent(self.port, event)

    def release(self, point):
        """Let the left button go."""
        QTest.mouseRelease(self.port, LEFT, NONE, point)

    def drag(self, start, end, *, drop=True, held=NONE):
        """Drag between places, a key held; each is (sheet, x, y) or a point of the view."""
        self.held = held
        start, end = (self.at(*p) if isinstance(p, tuple) else p for p in (start, end))
        self.press(start)
        self._pointer = start
        self.go(end)
        if drop:
            self.release(end)

    def click(self, sheet, x, y):
        """Click on a place."""
        self.press(self.at(sheet, x, y))
        self.release(self.at(sheet, x, y))

    def key(self, key, modifiers=NONE):
        """Press a key on the bench."""
        QTest.keyClick(self.view, key, modifiers)

    def corner(self, part, copy):
        """Return sheet and corner of a copy in ticks, or ``None`` when it waits."""
        lies = self.doc.layout.find((part, copy))
        return None if lies is None else (lies.sheet, lies.x, lies.y)

    @property
    def words(self):
        """Return what is said beside the pointer."""
        return self.view.hand.interaction.verdict.words

    @property
    def steps(self):
        """Return how many steps can be undone."""
        return self.doc.undo_stack.index()


@pytest.fixture
def maker(qtbot):
    """Return a maker at a shown bench."""
    doc = document()
    view = BenchView(doc, Theme.light())
    qtbot.addWidget(view)
    view.resize(1000, 900)
    view.show()
    qtbot.waitExposed(view)
    return Maker(view, doc)


@pytest.fixture
def ticks():
    """Return the function that turns inches into ticks."""
    return inches
