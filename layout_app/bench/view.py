"""The bench on the screen: gives mouse and keys to the maker's hand, and shows the tray."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSizeF, Qt, QTimer
from PySide6.QtGui import (
    QAction,
    QContextMenuEvent,
    QCursor,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QApplication, QMenu, QToolTip, QWidget

from layout_app.bench.accessible import show_as_drawing_area
from layout_app.bench.around import READOUT_PX, BenchSurround
from layout_app.bench.band import Press
from layout_app.bench.edge_scrolling import EdgeScrolling
from layout_app.bench.empty_bench import EmptyBench
from layout_app.bench.hand import Hand
from layout_app.bench.keys_and_menus import (
    act_on,
    ground_menu,
    part_menu,
    rip_menu,
    sheet_menu,
    strip_menu,
)
from layout_app.bench.mini_map import MiniMap
from layout_app.bench.paper_view import PaperView
from layout_app.bench.rulers import RULER_PX
from layout_app.bench.scene import BenchScene
from layout_app.bench.shelf import Shelf
from layout_app.bench.speaking import BenchVoice
from layout_app.bench.tray_menu import tray_menu
from layout_app.bench.twins import Twins
from layout_app.bench.words_place import place
from layout_app.document.document import Document
from layout_app.look import pens
from layout_app.look.as_typed import tip
from layout_app.look.theme import Theme
from shared.parts import Copy

SELECTING = {
    Qt.KeyboardModifier.ControlModifier: Press.TOGGLE,
    Qt.KeyboardModifier.ShiftModifier: Press.ADD,
}
"""What a key that is held at a press means for the selection; the first that is held counts."""
PUSH = Qt.KeyboardModifier.ControlModifier
"""Held while dragging, it pushes what lies in the way aside."""
FREE = Qt.KeyboardModifier.AltModifier | Qt.KeyboardModifier.ShiftModifier
"""Held while dragging, either does without snapping; window managers may take a press with Alt."""


class BenchView(PaperView):
    """Shows every sheet of the document to scale, under the maker's hands."""

    def __init__(self, document: Document, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(BenchScene(document, theme), parent)
        self.bench.setParent(self)
        self._document = document
        self.hand = Hand(document, self.bench, self)
        self.twins = Twins(self.hand)
        self.shelf = Shelf(document, theme, self)
        self.empty = EmptyBench(document, self.shelf, theme, self)
        self.around = BenchSurround(self, document, theme)
        self.mini_map = MiniMap(self, document, theme)
        self.speaking = BenchVoice(self, self.hand, self.shelf)
        self.ground_actions: Sequence[QAction] = ()
        """Actions of the window that the menu of the ground offers."""
        self.part_actions: Sequence[QAction] = ()
        """Those that the menu of a part offers."""
        self._free = False
        self._held_at = QPoint()
        self._edges = EdgeScrolling(self, self._stay_with_pointer)
        self.setAccessibleName("Bench")
        self.setBackgroundBrush(pens.brush(theme.paper))
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._measuring = QTimer(self, singleShot=True, interval=0)
        """Where sheets stand is known once the view has taken its new measures."""
        self._connect()

    def _connect(self) -> None:
        self._document.gestures.changed.connect(self._follow_gesture)
        self.mini_map.changed.connect(self._place_shelf)
        self._document.selection.changed.connect(self._show_selected)
        self._document.leaving.connect(self.begin)
        self._measuring.timeout.connect(self.around.look)
        self.bench.sceneRectChanged.connect(self._measuring.start)
        for signal in (self.looked, self._document.layout_changed, self._document.job_changed):
            signal.connect(self.around.look)
        tokens = self.shelf.tokens
        tokens.chosen.connect(self._document.selection.select_parts)
        tokens.taken.connect(self._take_token)
        tokens.lifted.connect(self._lift_token)
        tokens.moved.connect(self._move_token)
        tokens.let_go.connect(self.hand.release)
        self.shelf.resized.connect(self._place_shelf)
        self.shelf.asked.connect(self._show_tray_menu)

    def set_theme(self, theme: Theme) -> None:
        """Draw everything again in other colours."""
        self.setBackgroundBrush(pens.brush(theme.paper))
        self.bench.set_theme(theme)
        self.shelf.set_theme(theme)
        self.empty.set_theme(theme)
        self.around.set_theme(theme)
        self.mini_map.set_theme(theme)

    def over_shelf(self, point: QPointF) -> bool:
        """Say whether a point of the scene lies over the tray."""
        return self.mapFromScene(point).x() >= self.shelf.x() - self.viewport().x()

    def show_on_tray(self, name: str, words: str, point: QPointF | None) -> None:
        """Show what is in the hand over the tray, at a point of the scene."""
        at = None
        if point is not None:
            at = self.shelf.mapFromGlobal(self.viewport().mapToGlobal(self.mapFromScene(point)))
        self.shelf.show_ghost(name, words, at)

    def clear_tray(self) -> None:
        """Show that nothing is in the hand over the tray."""
        self.shelf.hide_ghost()

    @property
    def sight(self) -> QRectF:
        """What is seen of the scene."""
        return self.mapToScene(self.viewport().rect()).boundingRect()

    @property
    def room(self) -> QSizeF:
        """How large the view is, in pixels."""
        return QSizeF(self.viewport().size())

    def words_at(
        self, point: QPointF, size: QRectF, way: QPointF, taken: Sequence[QRectF] = ()
    ) -> QPointF:
        """Return where words stand beside a point, behind the way of a drag, off what is taken."""
        at, port = QPointF(self.mapFromScene(point)), QRectF(self.viewport().rect())
        boxes = [QRectF(self.mapFromScene(one).boundingRect()) for one in taken]
        return self.mapToScene(place(at, size, port, way, boxes).toPoint())

    def menu_at(self, at: QPoint) -> QMenu:
        """Return the menu for a point of the view; the part or cut there is selected."""
        point = self.mapToScene(at)
        spot = self.hand.spot(point)
        if spot.part is not None:
            if spot.part not in self._document.selection.parts:
                self._document.selection.select_parts([spot.part])
            return self._menu_of(spot.part)
        if spot.tag is not None:
            self._document.selection.select_cut(spot.tag.number)
            return rip_menu(self.twins, self)
        if spot.stand is None:
            return ground_menu(self.hand, self.ground_actions, self)
        sheet = spot.stand.sheet
        index = self.hand.sheets.rip_at(sheet, *spot.stand.point(point))
        if index is None:
            return sheet_menu(self.hand, sheet, self.ground_actions, self)
        return strip_menu(self.hand, sheet, index, self.ground_actions, self)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Select what lies there and be ready to drag it, or take the paper."""
        super().mousePressEvent(event)
        if event.button() == Qt.MouseButton.LeftButton and not self.panning:
            twice = event.type() == QEvent.Type.MouseButtonDblClick
            point = self.mapToScene(event.position().toPoint())
            self.hand.press(point, press_of(event.modifiers()), twice=twice)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Take a second press for what it is: a click that asks for more, or a drag."""
        self.mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the pointer."""
        super().mouseMoveEvent(event)
        at = event.position().toPoint()
        self.around.point_at(at)
        if self.panning:
            return
        self._heed(event.modifiers())
        self.hand.move(self.mapToScene(at), free=self._free)
        self._creep_from(at)
        self._show_cursor(at)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of the part or the paper."""
        if event.button() == Qt.MouseButton.LeftButton and not self.panning:
            self._edges.stop()
            self.hand.release()
        super().mouseReleaseEvent(event)
        self._show_cursor(event.position().toPoint())

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll or zoom; what is in the hand, and what is said of it, stays at the pointer."""
        super().wheelEvent(event)
        if self.hand.busy:
            self.hand.move(self.mapToScene(event.position().toPoint()), free=self._free)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Give the key to the gesture under way, else to the selection."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Control:
            self.hand.push_aside(True)
        if self.hand.key(key, event.modifiers()) or act_on(
            self, self.twins, key, event.modifiers()
        ):
            event.accept()
            self._show_cursor(self.viewport().mapFromGlobal(QCursor.pos()))
        else:
            super().keyPressEvent(event)

    def focusNextPrevChild(self, onward: bool) -> bool:
        """Let Tab go from part to part, and leave the bench after the last."""
        if self.hand.busy or (self.hasFocus() and self.twins.select_next(1 if onward else -1)):
            return True
        return super().focusNextPrevChild(onward)

    def event(self, event: QEvent) -> bool:
        """Keep keys from shortcuts, and Alt from the menu bar, while a gesture is under way."""
        if event.type() == QEvent.Type.ShortcutOverride and (self.hand.busy or self.hand.pressed):
            event.accept()
            return True
        return super().event(event)

    def viewportEvent(self, event: QEvent) -> bool:
        """Show in a tip what had no room on the sheet; forget the pointer when it leaves."""
        if event.type() == QEvent.Type.Leave:
            self.around.point_at(None)
            self._edges.stop()
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            at = self.viewport().mapFromGlobal(event.globalPos())
            said = self.bench.tip_at(self.mapToScene(at))
            QToolTip.showText(event.globalPos(), tip(said), self)
            return True
        return super().viewportEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Show what can be done to what lies there."""
        if self.hand.busy or self.hand.pressed:
            return
        at, menu = event.globalPos(), None
        if event.reason() == QContextMenuEvent.Reason.Keyboard:
            at, menu = self.menu_of_keys()
        menu = menu or self.menu_at(event.pos())
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(at)

    def _menu_of(self, copy: Copy) -> QMenu:
        menu = part_menu(self.hand, self.twins, copy, self)
        menu.addSeparator()
        menu.addActions(self.part_actions)
        return menu

    def menu_of_keys(self) -> tuple[QPoint, QMenu]:
        """Return the menu of what is selected, else that of the ground, and where it is shown."""
        chosen, port = self.twins.selected, self.viewport()
        rects = self.bench.rects_of(chosen[:1])
        at = self.mapFromScene(rects[0].center()) if rects else port.rect().center()
        if chosen:
            menu = self._menu_of(chosen[0])
        elif self._document.selection.cut is not None:
            menu = rip_menu(self.twins, self)
        else:
            menu = ground_menu(self.hand, self.ground_actions, self)
        return port.mapToGlobal(at), menu

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the sheets as wide as the view, beside the tray."""
        super().resizeEvent(event)
        self._place_shelf()
        if not self.hand.busy:
            self.bench.suit(self.viewport().width() + self._map_takes)
        self.mini_map.follow()
        self.refit()

    @property
    def _map_takes(self) -> int:
        """How much narrower the map makes the view, for which no sheet has to stand elsewhere."""
        return max(0, self.mini_map.room.width() - self.shelf.width_beside(self.width()))

    def fit_width(self) -> None:
        """Show the sheets as wide as the view without a map, which is not needed then."""
        self.mini_map.put_away()
        super().fit_width()

    def fit_all(self) -> None:
        """Show all sheets at once, and no map."""
        self.mini_map.put_away()
        super().fit_all()

    def _place_shelf(self) -> None:
        """Stand the tray beside the sheets; opened for what is dragged, it stands over them."""
        shelf = self.shelf
        room = self.mini_map.room
        beside = max(shelf.width_beside(self.width()), room.width())
        if shelf.is_open:
            beside = self.viewportMargins().right()
        if not shelf.is_open:
            self.setViewportMargins(RULER_PX, RULER_PX, beside, READOUT_PX)
        port = self.viewport().geometry()
        width = max(beside, shelf.width_beside(self.width()))
        left, high = port.right() + 1 + beside, self.height() - room.height()
        shelf.setGeometry(left - width, 0, width, high)
        self.mini_map.setGeometry(left - beside, high, beside, room.height())
        shelf.raise_()
        self.around.place(port)
        self.empty.place(port)
        self._measuring.start()

    def _show_cursor(self, at: QPoint) -> None:
        """Show what a press there would do, or what is being done."""
        self.show_cursor(self.pan_cursor or self.hand.cursor_at(self.mapToScene(at)))

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let a held key go, and show what a press would do now."""
        if event.key() == Qt.Key.Key_Control:
            self.hand.push_aside(False)
        super().keyReleaseEvent(event)
        self._show_cursor(self.viewport().mapFromGlobal(QCursor.pos()))

    def _heed(self, modifiers: Qt.KeyboardModifier) -> None:
        """Take the keys that are held for what they wish of a drag."""
        self._free = bool(modifiers & FREE)
        self.hand.push_aside(bool(modifiers & PUSH))

    def _show_selected(self) -> None:
        """Bring the selected cut's sheet, or the selected part, into sight."""
        rect = None if self.hand.busy else self.bench.selected_rect()
        if rect is not None:
            self.reveal(rect)

    def _creep_from(self, at: QPoint) -> None:
        """Scroll on while something is held near an edge of the view."""
        self._held_at = at
        if self.hand.busy and not self.over_shelf(self.mapToScene(at)):
            self._edges.follow(at)
        else:
            self._edges.stop()

    def _stay_with_pointer(self) -> None:
        """Let what is held follow the pointer, which something else lies under now."""
        if self.hand.busy:
            self.hand.move(self.mapToScene(self._held_at), free=self._free)
        else:
            self._edges.stop()

    def _follow_gesture(self) -> None:
        """Show the cursor of a gesture that keys have begun or ended, and scroll no further."""
        if not self.hand.busy:
            self._edges.stop()
        self._show_cursor(self.viewport().mapFromGlobal(QCursor.pos()))

    def _lift_token(self) -> None:
        """Carry what is selected in the tray with keys, which are the bench's from now on."""
        self.setFocus()
        self.twins.carry()

    def _show_tray_menu(self, at: QPoint) -> None:
        if self.hand.busy or self.hand.pressed:
            return
        menu = tray_menu(self.shelf, self.twins, self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(at)

    def _take_token(self, copies: list[Copy]) -> None:
        self._document.selection.select_parts(copies)
        self.hand.carry(copies)
        self.setFocus()

    def _move_token(self, at: QPoint) -> None:
        here = self.viewport().mapFromGlobal(at)
        self._heed(QApplication.keyboardModifiers())
        self.hand.move(self.mapToScene(here), free=self._free)
        self._creep_from(here)


show_as_drawing_area(BenchView)


def press_of(modifiers: Qt.KeyboardModifier) -> Press:
    """Return what a press means for the selection by the keys that are held."""
    return next((how for key, how in SELECTING.items() if modifiers & key), Press.ONE)
