"""What hands, keys and tables do on the bench, for `tests.layout_app.ways` to compare."""

import time
from collections.abc import Callable
from itertools import product

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.bench.repairing import Repairing
from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.panels.in_place import InPlace
from layout_app.window.main_window import MainWindow
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


def drag_waiting(maker: Maker) -> None:
    """Drag the rail from where it waits onto sheet 2."""
    tokens = maker.view.shelf.tokens
    start = tokens.visualItemRect(tokens.item(0)).center()
    end = tokens.viewport().mapFromGlobal(maker.port.mapToGlobal(maker.at("2", 40.7, 0.5)))
    QTest.mousePress(tokens.viewport(), LEFT, NONE, start)
    for step in range(1, 9):
        QTest.mouseMove(tokens.viewport(), start + (end - start) * step / 8)
    QTest.mouseRelease(tokens.viewport(), LEFT, NONE, end)


def drag_beside(maker: Maker) -> None:
    """Drag a shelf to the ground beside the sheets."""
    ground = beside_sheets(maker)
    maker.drag(ON_SHELF_1, ground)
    maker.view.fit_width()


def drag_some(maker: Maker) -> None:
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


def put_all_back(maker: Maker) -> None:
    """Press the button of the tray that puts all back."""
    QTest.mouseClick(maker.view.shelf.back, LEFT)


def resize(maker: Maker) -> None:
    """Drag the right edge of the shelf."""
    maker.click(*ON_SHELF_1)
    maker.drag(("1", 30, 17), ("1", 39.6, 17))


def drag_edge(
    maker: Maker, key: Copy, start: tuple[str, float, float], end: tuple[str, float, float]
) -> None:
    """Drag an edge of a part with Ctrl held."""
    maker.doc.selection.select_parts([key])
    maker.drag(start, end, held=CONTROL)


def push_by_keys(maker: Maker) -> None:
    """Carry the shelf to the reference corner, the sides giving way."""
    keys(SHELF_1, Key.Key_Return, Key.Key_P)(maker)
    for _ in range(9):
        maker.key(Key.Key_Up, SHIFT)
    maker.key(Key.Key_Return)


def resize_near(maker: Maker) -> None:
    """Draw the top edge of the shelf 2 in down."""
    maker.doc.selection.select_parts([SHELF_1])
    maker.drag(("1", 15, 97 / 8), ("1", 15, 97 / 8 + 2))


def lay_and_resize(writer: Writer, like: Project) -> None:
    """Lay the shelf, and give it the size, that it has in another project."""
    writer.lay(SHELF_1, like)
    writer.resize(SHELF_1, like)


def strip_later(maker: Maker) -> None:
    """Make the strip of a side later with its key."""
    maker.click(*ON_SIDE_1)
    maker.key(Key.Key_Down, ALT)


def rip_later(writer: Writer, like: Project) -> None:
    """Make the first rip later with its action."""
    del like
    writer.doc.selection.select_cut(1)
    writer.use("cuts.rip_later")


def set_cells(key: Copy, *cells: tuple[str, str]) -> Callable[[Writer, Project], None]:
    """Return the writing of cells of a copy in the table of the bench."""

    def do(writer: Writer, like: Project) -> None:
        del like
        for name, text in cells:
            writer.set(key, name, text)

    return do


def lay_like(key: Copy) -> Callable[[Writer, Project], None]:
    """Return the laying of a copy as it lies in another project."""
    return lambda writer, like: writer.lay(key, like)


def lay_all_like(*copies: Copy) -> Callable[[Writer, Project], None]:
    """Return the laying of copies as they lie in another project."""

    def do(writer: Writer, like: Project) -> None:
        for key in copies:
            writer.lay(key, like)

    return do


def to_where_it_fits(maker: Maker) -> None:
    """Drag the shelf over a side, where nothing is free in reach, and on to the nearest place."""
    maker.drag(ON_SHELF_1, ("1", 60, 6), drop=False)
    maker.key(Key.Key_N)
    maker.release(maker.at("1", 60, 6))


def drag_two(maker: Maker) -> None:
    """Drag two selected parts to the other sheet."""
    maker.doc.selection.select_parts([SHELF_1, SIDE_2])
    maker.drag(ON_SHELF_1, ("2", 15, 17 + 24))


def nudge_two(maker: Maker) -> None:
    """Move two selected parts by keys."""
    maker.doc.selection.select_parts([SHELF_1, SIDE_2])
    maker.view.setFocus()
    maker.key(Key.Key_Right)


def grain(rule: str) -> Callable[[Writer, Project], None]:
    """Return the choice of a grain rule for the side."""
    return lambda writer, _: writer.part("side", "grain_rule", rule)


def type_in_place(maker: Maker) -> None:
    """Type other sizes over the first shelf where it lies."""
    maker.doc.selection.select_parts([SHELF_1])
    maker.view.twins.edit()
    editor = maker.view.findChild(InPlace)
    for field, text in ((editor.length, "31 1/2"), (editor.width_of, "9.5")):
        field.selectAll()
        QTest.keyClicks(field, text)
    QTest.keyClick(editor.width_of, Key.Key_Return)


def press_of_clipboard(*pressed: Qt.Key, copy: Copy) -> Callable[[Maker], None]:
    """Return the use of keys with Ctrl while a copy is selected on the bench."""

    def do(maker: Maker) -> None:
        maker.view.activateWindow()
        keys(copy, *pressed, modifiers=CONTROL)(maker)

    return do


def fewer(writer: Writer, like: Project) -> None:
    """Take the second shelf from its sheet in the table, and one shelf off the list."""
    writer.set(SHELF_2, "sheet", ASIDE)
    writer.part(SHELF_2[0], "copies", str(like.job.part(SHELF_2[0]).copies))


def by_menu(place: tuple[str, float, float], text: str) -> Callable[[Maker], None]:
    """Return the use of a row of the right button's menu at a place."""

    def do(maker: Maker) -> None:
        menu = maker.view.menu_at(maker.at(*place))
        next(row for row in rows_of(menu) if row.text().split("\t")[0] == text).trigger()

    return do


def draw(maker: Maker) -> None:
    """Draw a part of L 10 x W 10 in free stock of sheet 2."""
    maker.view.hand.draw_on("2")
    maker.drag(("2", 60, 30), ("2", 70, 40))


def draw_by_keys(maker: Maker) -> None:
    """Draw a part with keys: begun, moved to a stop, sized to a stop and by the finest step."""
    maker.view.setFocus()
    maker.view.hand.draw_on("2")
    maker.key(Key.Key_Return)
    maker.key(Key.Key_Down, SHIFT)
    maker.key(Key.Key_E)
    maker.key(Key.Key_Right, SHIFT)
    maker.key(Key.Key_Down)
    maker.key(Key.Key_Return)


def type_and_lay(writer: Writer, like: Project) -> None:
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


def spoil(document: Document) -> None:
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


def repair(maker: Maker) -> None:
    """Ask for a repair with the right button, and take it with a click upon it."""
    by_menu(("1", 60, 40), "Repair this sheet")(maker)
    at = shown_repair(maker)
    maker.press(at)
    maker.release(at)


def repair_by_keys(maker: Maker) -> None:
    """Ask for a repair with R, and take it with Return."""
    maker.view.setFocus()
    maker.key(Key.Key_R)
    shown_repair(maker)
    maker.key(Key.Key_Return)


def one_more(writer: Writer, like: Project) -> None:
    """Raise the number needed in the take-off, and lay the new copy in the table."""
    copies = like.job.part(SHELF_1[0]).copies
    writer.part(SHELF_1[0], "copies", str(copies))
    writer.lay((SHELF_1[0], copies), like)


def duplicate(maker: Maker) -> None:
    """Duplicate the shelf by its menu."""
    maker.doc.selection.select_parts([SHELF_1])
    by_menu(ON_SHELF_1, "Duplicate")(maker)


def remove_sheet(writer: Writer, like: Project) -> None:
    """Remove the sheet of a shelf with its action."""
    del like
    writer.doc.selection.select_parts([("shelf", 2)])
    writer.use("bench.remove_sheet")


def open_sheet(writer: Writer, like: Project) -> None:
    """Lay out a sheet with the action, and lay the shelf there in the table."""
    writer.doc.selection.select_parts([SHELF_1])
    writer.use("bench.sheet")
    writer.lay(SHELF_1, like)
