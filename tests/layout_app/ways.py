"""Two ways to do the same: a gesture on the bench, and an edit in a table or an action."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from itertools import product

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.bench.repairing import Repairing
from layout_app.document import edit_layout, edit_locks
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.panels import placement_rows as lying
from layout_app.panels.in_place import InPlace
from layout_app.window.main_window import MainWindow
from shared.layout import Scope
from shared.lengths import INCH, format_with_remainder
from shared.parts import Copy
from shared.plan import ASIDE
from tests.layout_app.bench.conftest import LEFT, NONE, Maker
from tests.layout_app.bench.two_sheets import inches
from tests.layout_app.monkey import rows_of
from tests.layout_app.placements import choose, said_in, type_in

Key = Qt.Key
ALT, SHIFT, CONTROL = (
    Qt.KeyboardModifier.AltModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
)
SIDE_1, SIDE_2, RAIL = ("side", 1), ("side", 2), ("rail", 1)
SHELF_1, SHELF_2 = ("shelf", 1), ("shelf", 2)
ON_SIDE_1, ON_SHELF_1 = ("1", 10, 6), ("1", 15, 17)


class Writer:
    """Works on the tables of the window, and with its actions."""

    def __init__(self, window: MainWindow) -> None:
        self.window, self.doc = window, window.document
        self.table = window.left.placements

    def set(self, key: Copy, name: str, text: str) -> None:
        """Choose or type something in a cell of the bench as a table."""
        (choose if name in {"sheet", "turned", "locked"} else type_in)(self.table, key, name, text)

    def lay(self, key: Copy, like: Project) -> None:
        """Lay a copy as it lies in another project: its sheet, then its running position."""
        lies = like.layout.find(key)
        assert lies is not None
        trims = like.job.stock_row(like.layout.sheet(lies.sheet).stock).trims
        self._write(key, "sheet", lies.sheet)
        self._write(key, "x", format_with_remainder(lies.x - trims.start, like.job.style))
        self._write(key, "y", format_with_remainder(lies.y - trims.near, like.job.style))

    def _write(self, key: Copy, name: str, text: str) -> None:
        if said_in(self.table, key, name) != text:
            self.set(key, name, text)

    def part(self, part: str, field: str, text: str) -> None:
        """Type something in a row of the take-off."""
        rows = self.window.left.parts.rows
        column = [one.field for one in rows.columns].index(field)
        rows.change(rows.index(rows.line_of(part), column), text)

    def resize(self, key: Copy, like: Project) -> None:
        """Give a part the size that it has in another project."""
        part = like.job.part(key[0])
        for name, side in (("L", part.length), ("W", part.width)):
            self._write(key, name, format_with_remainder(side, like.job.style))

    def use(self, name: str) -> None:
        """Use an action."""
        assert self.window.menus.actions[name].isEnabled(), name
        self.window.menus.actions[name].trigger()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ways:
    """One change of the document, done in two ways.

    Attributes
    ----------
    name
        What is done.
    given
        What is done to the document first.
    bench, twin
        By hand on the bench; in a table or with an action, which is given the project that
        the hand has made.
    actions
        Ids of the actions of the bench that do it too.
    """

    name: str
    bench: Callable[[Maker], None]
    twin: Callable[[Writer, Project], None]
    actions: tuple[str, ...] = ()
    given: Callable[[Document], object] = lambda document: None


def over_waiting(maker: Maker) -> QPoint:
    """Return a point of the bench over the tray."""
    return QPoint(maker.port.width() + 40, 300)


def beside_sheets(maker: Maker) -> QPoint:
    """Show all sheets; return a point of the ground in sight, well away from each of them."""
    maker.view.fit_all()
    floor, away, port = maker.view.bench.floor, 40 / maker.view.scale_px, maker.port.rect()
    near = [one.rect.adjusted(-away, -away, away, away) for one in floor.stands]
    for y, x in product(range(port.bottom() - 30, 0, -20), range(30, port.right() - 30, 20)):
        there = maker.view.mapToScene(x, y)
        if floor.at(there) is None and not any(rect.contains(there) for rect in near):
            return QPoint(x, y)
    raise AssertionError("sheets lie everywhere")


def keys(
    selected: Copy, *pressed: Qt.Key, modifiers: Qt.KeyboardModifier = NONE
) -> Callable[[Maker], None]:
    """Return the gesture of selecting a copy and pressing keys on the bench."""

    def do(maker: Maker) -> None:
        maker.doc.selection.select_parts([selected])
        maker.view.setFocus()
        for key in pressed:
            maker.key(key, modifiers)

    return do


def _drag_waiting(maker: Maker) -> None:
    """Drag the rail from where it waits onto sheet 2."""
    tokens = maker.view.shelf.tokens
    start = tokens.visualItemRect(tokens.item(0)).center()
    end = tokens.viewport().mapFromGlobal(maker.port.mapToGlobal(maker.at("2", 40.7, 0.5)))
    QTest.mousePress(tokens.viewport(), LEFT, NONE, start)
    for step in range(1, 9):
        QTest.mouseMove(tokens.viewport(), start + (end - start) * step / 8)
    QTest.mouseRelease(tokens.viewport(), LEFT, NONE, end)


def _drag_beside(maker: Maker) -> None:
    """Drag a shelf to the ground beside the sheets."""
    ground = beside_sheets(maker)
    maker.drag(ON_SHELF_1, ground)
    maker.view.fit_width()


def _drag_some(maker: Maker) -> None:
    """Take one more of the sides with the button of their slip, and drag both onto sheet 2."""
    tokens = maker.view.shelf.tokens
    row = next(n for n in range(tokens.count()) if tokens.item(n).text().startswith("Side"))
    slip = tokens.visualItemRect(tokens.item(row))
    QTest.mouseClick(tokens.viewport(), LEFT, NONE, slip.bottomRight() - QPoint(14, 14))
    end = tokens.viewport().mapFromGlobal(maker.port.mapToGlobal(maker.at("2", 3, 26)))
    QTest.mousePress(tokens.viewport(), LEFT, NONE, slip.topLeft() + QPoint(20, 15))
    for step in range(1, 9):
        QTest.mouseMove(tokens.viewport(), slip.topLeft() + (end - slip.topLeft()) * step / 8)
    QTest.mouseRelease(tokens.viewport(), LEFT, NONE, end)


def _put_all_back(maker: Maker) -> None:
    QTest.mouseClick(maker.view.shelf.back, LEFT)


def _resize(maker: Maker) -> None:
    maker.click(*ON_SHELF_1)
    maker.drag(("1", 30, 17), ("1", 39.6, 17))


def _drag_edge(
    maker: Maker, key: Copy, start: tuple[str, float, float], end: tuple[str, float, float]
) -> None:
    """Drag an edge of a part with Ctrl held."""
    maker.doc.selection.select_parts([key])
    maker.drag(start, end, held=CONTROL)


def _push_by_keys(maker: Maker) -> None:
    """Carry the shelf to the reference corner, the sides giving way."""
    keys(SHELF_1, Key.Key_Return, Key.Key_P)(maker)
    for _ in range(9):
        maker.key(Key.Key_Up, SHIFT)
    maker.key(Key.Key_Return)


def _resize_near(maker: Maker) -> None:
    """Draw the top edge of the shelf 2 in down."""
    maker.doc.selection.select_parts([SHELF_1])
    maker.drag(("1", 15, 97 / 8), ("1", 15, 97 / 8 + 2))


def _lay_and_resize(writer: Writer, like: Project) -> None:
    writer.lay(SHELF_1, like)
    writer.resize(SHELF_1, like)


def _strip_later(maker: Maker) -> None:
    maker.click(*ON_SIDE_1)
    maker.key(Key.Key_Down, ALT)


def _rip_later(writer: Writer, like: Project) -> None:
    del like
    writer.doc.selection.select_cut(1)
    writer.use("cuts.rip_later")


def _set(key: Copy, *cells: tuple[str, str]) -> Callable[[Writer, Project], None]:
    def do(writer: Writer, like: Project) -> None:
        del like
        for name, text in cells:
            writer.set(key, name, text)

    return do


def _lay(key: Copy) -> Callable[[Writer, Project], None]:
    return lambda writer, like: writer.lay(key, like)


def _lay_all(*copies: Copy) -> Callable[[Writer, Project], None]:
    def do(writer: Writer, like: Project) -> None:
        for key in copies:
            writer.lay(key, like)

    return do


def _to_where_it_fits(maker: Maker) -> None:
    """Drag the shelf over a side, where nothing is free in reach, and on to the nearest place."""
    maker.drag(ON_SHELF_1, ("1", 60, 6), drop=False)
    maker.key(Key.Key_N)
    maker.release(maker.at("1", 60, 6))


def _drag_two(maker: Maker) -> None:
    maker.doc.selection.select_parts([SHELF_1, SIDE_2])
    maker.drag(ON_SHELF_1, ("2", 15, 17 + 24))


def _nudge_two(maker: Maker) -> None:
    maker.doc.selection.select_parts([SHELF_1, SIDE_2])
    maker.view.setFocus()
    maker.key(Key.Key_Right)


def _grain(rule: str) -> Callable[[Writer, Project], None]:
    return lambda writer, _: writer.part("side", "grain_rule", rule)


def _type_in_place(maker: Maker) -> None:
    """Type other sizes over the first shelf where it lies."""
    maker.doc.selection.select_parts([SHELF_1])
    maker.view.twins.edit()
    editor = maker.view.findChild(InPlace)
    for field, text in ((editor.length, "31 1/2"), (editor.width_of, "9.5")):
        field.selectAll()
        QTest.keyClicks(field, text)
    QTest.keyClick(editor.width_of, Key.Key_Return)


def _press_of_clipboard(*pressed: Qt.Key, copy: Copy) -> Callable[[Maker], None]:
    """Return the use of keys with Ctrl while a copy is selected on the bench."""

    def do(maker: Maker) -> None:
        maker.view.activateWindow()
        keys(copy, *pressed, modifiers=CONTROL)(maker)

    return do


def _fewer(writer: Writer, like: Project) -> None:
    """Take the second shelf from its sheet in the table, and one shelf off the list."""
    writer.set(SHELF_2, "sheet", ASIDE)
    writer.part(SHELF_2[0], "copies", str(like.job.part(SHELF_2[0]).copies))


def _menu(place: tuple[str, float, float], text: str) -> Callable[[Maker], None]:
    """Return the use of a row of the right button's menu at a place."""

    def do(maker: Maker) -> None:
        menu = maker.view.menu_at(maker.at(*place))
        next(row for row in rows_of(menu) if row.text().split("\t")[0] == text).trigger()

    return do


def _draw(maker: Maker) -> None:
    """Draw a part of L 10 x W 10 in free stock of sheet 2."""
    maker.view.hand.draw_on("2")
    maker.drag(("2", 60, 30), ("2", 70, 40))


def _draw_by_keys(maker: Maker) -> None:
    """Draw a part with keys: begun, moved to a stop, sized to a stop and by the finest step."""
    maker.view.setFocus()
    maker.view.hand.draw_on("2")
    maker.key(Key.Key_Return)
    maker.key(Key.Key_Down, SHIFT)
    maker.key(Key.Key_E)
    maker.key(Key.Key_Right, SHIFT)
    maker.key(Key.Key_Down)
    maker.key(Key.Key_Return)


def _type_and_lay(writer: Writer, like: Project) -> None:
    """Type a row of the take-off as another project has it last, and lay it in the table."""
    new, rows = like.job.parts[-1], writer.window.left.parts.rows
    fields = [one.field for one in rows.columns]
    style, row = like.job.style, rows.draft_line
    said = {
        "name": new.name,
        "length": format_with_remainder(new.length, style),
        "width": format_with_remainder(new.width, style),
        "material": new.material,
        "grain_rule": str(new.grain_rule),
    }
    for field, text in said.items():
        rows.change(rows.index(row, fields.index(field)), text)
    assert rows.finish_draft()
    QApplication.processEvents()
    writer.lay((new.id, 1), like)


def _spoil(document: Document) -> None:
    """Lay the shelf half an inch over the sides, so that sheet 1 can't be cut."""
    edit_layout.move_part(document, *SHELF_1, "1", inches(3), inches("23/2"))


def shown_repair(maker: Maker) -> QPoint:
    """Wait until a repair is shown; return a point of the view upon it."""
    repairing = maker.view.hand.interaction
    assert isinstance(repairing, Repairing)
    until = time.monotonic() + 10
    while repairing.shown is None and time.monotonic() < until:
        QTest.qWait(5)
    assert repairing.shown is not None
    to = repairing.shown.moved[0].rect
    return maker.at("1", (to.x + to.length / 2) / INCH, (to.y + to.width / 2) / INCH)


def _repair(maker: Maker) -> None:
    """Ask for a repair with the right button, and take it with a click upon it."""
    _menu(("1", 60, 40), "Repair this sheet")(maker)
    at = shown_repair(maker)
    maker.press(at)
    maker.release(at)


def _repair_by_keys(maker: Maker) -> None:
    """Ask for a repair with R, and take it with Return."""
    maker.view.setFocus()
    maker.key(Key.Key_R)
    shown_repair(maker)
    maker.key(Key.Key_Return)


def _one_more(writer: Writer, like: Project) -> None:
    """Raise the number needed in the take-off, and lay the new copy in the table."""
    copies = like.job.part(SHELF_1[0]).copies
    writer.part(SHELF_1[0], "copies", str(copies))
    writer.lay((SHELF_1[0], copies), like)


def _duplicate(maker: Maker) -> None:
    maker.doc.selection.select_parts([SHELF_1])
    _menu(ON_SHELF_1, "Duplicate")(maker)


def _remove_sheet(writer: Writer, like: Project) -> None:
    del like
    writer.doc.selection.select_parts([("shelf", 2)])
    writer.use("bench.remove_sheet")


def _open_sheet(writer: Writer, like: Project) -> None:
    """Lay out a sheet with the action, and lay the shelf there in the table."""
    writer.doc.selection.select_parts([SHELF_1])
    writer.use("bench.sheet")
    writer.lay(SHELF_1, like)


WAYS = (
    Ways(name="draw a part", bench=_draw, twin=_type_and_lay, actions=("bench.draw",)),
    Ways(name="draw a part by keys", bench=_draw_by_keys, twin=_type_and_lay),
    Ways(name="duplicate", bench=_duplicate, twin=_one_more, actions=("bench.duplicate",)),
    Ways(
        name="copy and paste",
        bench=_press_of_clipboard(Key.Key_C, Key.Key_V, copy=SHELF_1),
        twin=_one_more,
    ),
    Ways(
        name="cut",
        bench=_press_of_clipboard(Key.Key_X, copy=SHELF_2),
        twin=_fewer,
    ),
    Ways(
        name="remove a sheet",
        bench=_menu(("2", 60, 40), "Remove sheet"),
        twin=_remove_sheet,
        actions=("bench.remove_sheet",),
    ),
    Ways(
        name="drag within a sheet",
        bench=lambda maker: maker.drag(ON_SHELF_1, ("1", 15 + 39.4, 17)),
        twin=_lay(SHELF_1),
    ),
    Ways(
        name="drag without snapping, over others",
        bench=lambda maker: maker.drag(ON_SHELF_1, ("1", 22, 11)),
        twin=_lay(SHELF_1),
    ),
    Ways(
        name="drag to another sheet",
        bench=lambda maker: maker.drag(ON_SHELF_1, ("2", 15 + 30, 17)),
        twin=_lay(SHELF_1),
    ),
    Ways(
        name="drag to the tray",
        bench=lambda maker: maker.drag(ON_SHELF_1, over_waiting(maker)),
        twin=_set(SHELF_1, ("sheet", ASIDE)),
        actions=("bench.wait",),
    ),
    Ways(name="drag from the tray", bench=_drag_waiting, twin=_lay(RAIL)),
    Ways(
        name="drag beside the sheets, which opens one",
        bench=_drag_beside,
        twin=_open_sheet,
        actions=("bench.sheet",),
    ),
    Ways(
        name="carry past the last sheet, which opens one",
        bench=keys(SHELF_1, Key.Key_Return, *3 * [Key.Key_PageDown], Key.Key_Return),
        twin=_open_sheet,
    ),
    Ways(
        name="drag several of a part from the tray",
        given=lambda document: edit_layout.set_aside(document, [SIDE_1, SIDE_2]),
        bench=_drag_some,
        twin=_lay_all(SIDE_1, SIDE_2),
    ),
    Ways(
        name="put all back",
        given=lambda document: edit_layout.set_aside(document, [SIDE_1, SHELF_1]),
        bench=_put_all_back,
        twin=lambda writer, _: writer.use("bench.put_all_back"),
        actions=("bench.put_all_back",),
    ),
    Ways(
        name="carry to another sheet",
        bench=keys(SIDE_2, Key.Key_Return, Key.Key_PageDown, Key.Key_Return),
        twin=_set(SIDE_2, ("sheet", "2")),
    ),
    Ways(
        name="carry from the tray",
        bench=keys(RAIL, Key.Key_Return, Key.Key_PageDown, Key.Key_Return),
        twin=_set(RAIL, ("sheet", "1")),
    ),
    Ways(
        name="drag several parts to another sheet",
        bench=_drag_two,
        twin=_lay_all(SHELF_1, SIDE_2),
    ),
    Ways(
        name="several parts by the finest step",
        bench=_nudge_two,
        twin=_lay_all(SHELF_1, SIDE_2),
    ),
    Ways(name="to the nearest place that fits", bench=_to_where_it_fits, twin=_lay(SHELF_1)),
    Ways(
        name="to the nearest place that fits, by keys",
        bench=keys(
            SHELF_1, Key.Key_Return, Key.Key_PageDown, Key.Key_Up, Key.Key_N, Key.Key_Return
        ),
        twin=_lay(SHELF_1),
    ),
    Ways(
        name="to the next stop",
        bench=keys(SHELF_1, Key.Key_Down, modifiers=SHIFT),
        twin=_lay(SHELF_1),
    ),
    Ways(
        name="push aside",
        bench=lambda maker: maker.drag(ON_SHELF_1, ("1", 15, 5), held=CONTROL),
        twin=_lay_all(SHELF_1, SIDE_1, SIDE_2),
    ),
    Ways(name="push aside by keys", bench=_push_by_keys, twin=_lay_all(SHELF_1, SIDE_1, SIDE_2)),
    Ways(
        name="move an edge that pushes what lies behind",
        bench=lambda maker: _drag_edge(maker, SIDE_1, ("1", 40, 6), ("1", 45, 6)),
        twin=lambda writer, like: writer.resize(SIDE_1, like),
    ),
    Ways(
        name="move an edge over a neighbour that cannot give way",
        bench=lambda maker: _drag_edge(maker, SIDE_1, ("1", 40, 6), ("1", 70, 6)),
        twin=lambda writer, like: writer.resize(SIDE_1, like),
    ),
    Ways(
        name="take edges with keys that push what lies behind",
        bench=keys(SIDE_1, Key.Key_E, Key.Key_P, Key.Key_Right, Key.Key_Down, Key.Key_Return),
        twin=lambda writer, like: writer.resize(SIDE_1, like),
    ),
    Ways(
        name="repair a sheet",
        given=_spoil,
        bench=_repair,
        twin=_lay(SHELF_1),
        actions=("bench.repair",),
    ),
    Ways(name="repair a sheet by keys", given=_spoil, bench=_repair_by_keys, twin=_lay(SHELF_1)),
    Ways(name="by the finest step", bench=keys(SHELF_1, Key.Key_Right), twin=_lay(SHELF_1)),
    Ways(
        name="turn",
        bench=keys(SHELF_1, Key.Key_T),
        twin=_set(SHELF_1, ("turned", "yes")),
        actions=("bench.turn",),
    ),
    Ways(
        name="set aside",
        bench=keys(SIDE_2, Key.Key_W),
        twin=_set(SIDE_2, ("sheet", ASIDE)),
        actions=("bench.wait",),
    ),
    Ways(
        name="lock a part",
        bench=keys(SIDE_2, Key.Key_L),
        twin=_set(SIDE_2, ("locked", "part")),
        actions=("bench.hold",),
    ),
    Ways(
        name="lock a strip",
        bench=keys(SIDE_2, Key.Key_L, modifiers=SHIFT),
        twin=_set(SIDE_2, ("locked", "strip")),
        actions=("bench.hold_strip",),
    ),
    Ways(
        name="lock a sheet",
        bench=_menu(ON_SHELF_1, "Lock sheet"),
        twin=_set(SHELF_1, ("locked", "sheet")),
        actions=("bench.hold_sheet",),
    ),
    Ways(
        name="next grain rule",
        bench=keys(SIDE_1, Key.Key_G),
        twin=_grain("along width"),
        actions=("bench.grain", "bench.grain_width"),
    ),
    Ways(
        name="either way",
        bench=_menu(ON_SIDE_1, "Either"),
        twin=_grain("either"),
        actions=("bench.grain_either",),
    ),
    Ways(
        name="along length",
        bench=_menu(ON_SHELF_1, "Along length"),
        twin=lambda writer, _: writer.part("shelf", "grain_rule", "along length"),
        actions=("bench.grain_length",),
    ),
    Ways(
        name="unlock",
        given=lambda document: edit_locks.hold(document, Scope.STRIP, [SIDE_2]),
        bench=_menu(ON_SIDE_1, "Unlock"),
        twin=_set(SIDE_1, ("locked", lying.NOT_HELD)),
        actions=("bench.release",),
    ),
    Ways(
        name="move an edge",
        bench=_resize,
        twin=lambda writer, like: writer.resize(SHELF_1, like),
    ),
    Ways(
        name="type sizes in place",
        bench=_type_in_place,
        twin=lambda writer, like: writer.resize(SHELF_1, like),
    ),
    Ways(
        name="move a near edge",
        bench=_resize_near,
        twin=_lay_and_resize,
    ),
    Ways(
        name="take edges with keys",
        bench=keys(SHELF_1, Key.Key_E, Key.Key_Down, Key.Key_Right, Key.Key_Return),
        twin=lambda writer, like: writer.resize(SHELF_1, like),
    ),
    Ways(
        name="move an edge by the finest step",
        bench=keys(SHELF_1, Key.Key_Down, modifiers=ALT | SHIFT),
        twin=lambda writer, like: writer.resize(SHELF_1, like),
    ),
    Ways(
        name="move a near edge by the finest step",
        given=lambda document: edit_layout.move_part(
            document, *SHELF_1, "1", inches(5), inches(20)
        ),
        bench=keys(SHELF_1, Key.Key_Left, modifiers=CONTROL | SHIFT),
        twin=_lay_and_resize,
    ),
    Ways(name="move a strip later", bench=_strip_later, twin=_rip_later),
)
"""Each from `tests.layout_app.bench.two_sheets`; one that changes nothing there is a mistake."""
