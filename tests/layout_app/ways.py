"""Two ways to do the same: a gesture on the bench, and an edit in a table or an action."""

from collections.abc import Callable
from dataclasses import dataclass

from layout_app.document import edit_layout, edit_locks
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.panels import placement_rows as lying
from shared.layout import Scope
from shared.plan import ASIDE
from tests.layout_app import doing
from tests.layout_app.bench.conftest import Maker
from tests.layout_app.bench.two_sheets import inches
from tests.layout_app.doing import (
    ALT,
    CONTROL,
    ON_SHELF_1,
    ON_SIDE_1,
    RAIL,
    SHELF_1,
    SHELF_2,
    SHIFT,
    SIDE_1,
    SIDE_2,
    Key,
    Writer,
)


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


WAYS = (
    Ways(name="draw a part", bench=doing.draw, twin=doing.type_and_lay, actions=("bench.draw",)),
    Ways(name="draw a part by keys", bench=doing.draw_by_keys, twin=doing.type_and_lay),
    Ways(
        name="duplicate", bench=doing.duplicate, twin=doing.one_more, actions=("bench.duplicate",)
    ),
    Ways(
        name="copy and paste",
        bench=doing.press_of_clipboard(Key.Key_C, Key.Key_V, copy=SHELF_1),
        twin=doing.one_more,
    ),
    Ways(
        name="cut",
        bench=doing.press_of_clipboard(Key.Key_X, copy=SHELF_2),
        twin=doing.fewer,
    ),
    Ways(
        name="remove a sheet",
        bench=doing.by_menu(("2", 60, 40), "Remove sheet"),
        twin=doing.remove_sheet,
        actions=("bench.remove_sheet",),
    ),
    Ways(
        name="drag within a sheet",
        bench=lambda maker: maker.drag(ON_SHELF_1, ("1", 15 + 39.4, 17)),
        twin=doing.lay_like(SHELF_1),
    ),
    Ways(
        name="drag without snapping, over others",
        bench=lambda maker: maker.drag(ON_SHELF_1, ("1", 22, 11)),
        twin=doing.lay_like(SHELF_1),
    ),
    Ways(
        name="drag to another sheet",
        bench=lambda maker: maker.drag(ON_SHELF_1, ("2", 15 + 30, 17)),
        twin=doing.lay_like(SHELF_1),
    ),
    Ways(
        name="drag to the tray",
        bench=lambda maker: maker.drag(ON_SHELF_1, doing.over_waiting(maker)),
        twin=doing.set_cells(SHELF_1, ("sheet", ASIDE)),
        actions=("bench.wait",),
    ),
    Ways(name="drag from the tray", bench=doing.drag_waiting, twin=doing.lay_like(RAIL)),
    Ways(
        name="drag beside the sheets, which opens one",
        bench=doing.drag_beside,
        twin=doing.open_sheet,
        actions=("bench.sheet",),
    ),
    Ways(
        name="carry past the last sheet, which opens one",
        bench=doing.keys(SHELF_1, Key.Key_Return, *3 * [Key.Key_PageDown], Key.Key_Return),
        twin=doing.open_sheet,
    ),
    Ways(
        name="drag several of a part from the tray",
        given=lambda document: edit_layout.set_aside(document, [SIDE_1, SIDE_2]),
        bench=doing.drag_some,
        twin=doing.lay_all_like(SIDE_1, SIDE_2),
    ),
    Ways(
        name="put all back",
        given=lambda document: edit_layout.set_aside(document, [SIDE_1, SHELF_1]),
        bench=doing.put_all_back,
        twin=lambda writer, _: writer.use("bench.put_all_back"),
        actions=("bench.put_all_back",),
    ),
    Ways(
        name="carry to another sheet",
        bench=doing.keys(SIDE_2, Key.Key_Return, Key.Key_PageDown, Key.Key_Return),
        twin=doing.set_cells(SIDE_2, ("sheet", "2")),
    ),
    Ways(
        name="carry from the tray",
        bench=doing.keys(RAIL, Key.Key_Return, Key.Key_PageDown, Key.Key_Return),
        twin=doing.set_cells(RAIL, ("sheet", "1")),
    ),
    Ways(
        name="drag several parts to another sheet",
        bench=doing.drag_two,
        twin=doing.lay_all_like(SHELF_1, SIDE_2),
    ),
    Ways(
        name="several parts by the finest step",
        bench=doing.nudge_two,
        twin=doing.lay_all_like(SHELF_1, SIDE_2),
    ),
    Ways(
        name="to the nearest place that fits",
        bench=doing.to_where_it_fits,
        twin=doing.lay_like(SHELF_1),
    ),
    Ways(
        name="to the nearest place that fits, by keys",
        bench=doing.keys(
            SHELF_1, Key.Key_Return, Key.Key_PageDown, Key.Key_Up, Key.Key_N, Key.Key_Return
        ),
        twin=doing.lay_like(SHELF_1),
    ),
    Ways(
        name="to the next stop",
        bench=doing.keys(SHELF_1, Key.Key_Down, modifiers=SHIFT),
        twin=doing.lay_like(SHELF_1),
    ),
    Ways(
        name="push aside",
        bench=lambda maker: maker.drag(ON_SHELF_1, ("1", 15, 5), held=CONTROL),
        twin=doing.lay_all_like(SHELF_1, SIDE_1, SIDE_2),
    ),
    Ways(
        name="push aside by keys",
        bench=doing.push_by_keys,
        twin=doing.lay_all_like(SHELF_1, SIDE_1, SIDE_2),
    ),
    Ways(
        name="move an edge that pushes what lies behind",
        bench=lambda maker: doing.drag_edge(maker, SIDE_1, ("1", 40, 6), ("1", 45, 6)),
        twin=lambda writer, like: writer.resize(SIDE_1, like),
    ),
    Ways(
        name="move an edge over a neighbour that cannot give way",
        bench=lambda maker: doing.drag_edge(maker, SIDE_1, ("1", 40, 6), ("1", 70, 6)),
        twin=lambda writer, like: writer.resize(SIDE_1, like),
    ),
    Ways(
        name="take edges with keys that push what lies behind",
        bench=doing.keys(SIDE_1, Key.Key_E, Key.Key_P, Key.Key_Right, Key.Key_Down, Key.Key_Return),
        twin=lambda writer, like: writer.resize(SIDE_1, like),
    ),
    Ways(
        name="repair a sheet",
        given=doing.spoil,
        bench=doing.repair,
        twin=doing.lay_like(SHELF_1),
        actions=("bench.repair",),
    ),
    Ways(
        name="repair a sheet by keys",
        given=doing.spoil,
        bench=doing.repair_by_keys,
        twin=doing.lay_like(SHELF_1),
    ),
    Ways(
        name="by the finest step",
        bench=doing.keys(SHELF_1, Key.Key_Right),
        twin=doing.lay_like(SHELF_1),
    ),
    Ways(
        name="turn",
        bench=doing.keys(SHELF_1, Key.Key_T),
        twin=doing.set_cells(SHELF_1, ("turned", "yes")),
        actions=("bench.turn",),
    ),
    Ways(
        name="set aside",
        bench=doing.keys(SIDE_2, Key.Key_W),
        twin=doing.set_cells(SIDE_2, ("sheet", ASIDE)),
        actions=("bench.wait",),
    ),
    Ways(
        name="lock a part",
        bench=doing.keys(SIDE_2, Key.Key_L),
        twin=doing.set_cells(SIDE_2, ("locked", "part")),
        actions=("bench.hold",),
    ),
    Ways(
        name="lock a strip",
        bench=doing.keys(SIDE_2, Key.Key_L, modifiers=SHIFT),
        twin=doing.set_cells(SIDE_2, ("locked", "strip")),
        actions=("bench.hold_strip",),
    ),
    Ways(
        name="lock a sheet",
        bench=doing.by_menu(ON_SHELF_1, "Lock sheet"),
        twin=doing.set_cells(SHELF_1, ("locked", "sheet")),
        actions=("bench.hold_sheet",),
    ),
    Ways(
        name="next grain rule",
        bench=doing.keys(SIDE_1, Key.Key_G),
        twin=doing.grain("along width"),
        actions=("bench.grain", "bench.grain_width"),
    ),
    Ways(
        name="either way",
        bench=doing.by_menu(ON_SIDE_1, "Either"),
        twin=doing.grain("either"),
        actions=("bench.grain_either",),
    ),
    Ways(
        name="along length",
        bench=doing.by_menu(ON_SHELF_1, "Along length"),
        twin=lambda writer, _: writer.part("shelf", "grain_rule", "along length"),
        actions=("bench.grain_length",),
    ),
    Ways(
        name="unlock",
        given=lambda document: edit_locks.hold(document, Scope.STRIP, [SIDE_2]),
        bench=doing.by_menu(ON_SIDE_1, "Unlock"),
        twin=doing.set_cells(SIDE_1, ("locked", lying.NOT_HELD)),
        actions=("bench.release",),
    ),
    Ways(
        name="move an edge",
        bench=doing.resize,
        twin=lambda writer, like: writer.resize(SHELF_1, like),
    ),
    Ways(
        name="type sizes in place",
        bench=doing.type_in_place,
        twin=lambda writer, like: writer.resize(SHELF_1, like),
    ),
    Ways(
        name="move a near edge",
        bench=doing.resize_near,
        twin=doing.lay_and_resize,
    ),
    Ways(
        name="take edges with keys",
        bench=doing.keys(SHELF_1, Key.Key_E, Key.Key_Down, Key.Key_Right, Key.Key_Return),
        twin=lambda writer, like: writer.resize(SHELF_1, like),
    ),
    Ways(
        name="move an edge by the finest step",
        bench=doing.keys(SHELF_1, Key.Key_Down, modifiers=ALT | SHIFT),
        twin=lambda writer, like: writer.resize(SHELF_1, like),
    ),
    Ways(
        name="move a near edge by the finest step",
        given=lambda document: edit_layout.move_part(
            document, *SHELF_1, "1", inches(5), inches(20)
        ),
        bench=doing.keys(SHELF_1, Key.Key_Left, modifiers=CONTROL | SHIFT),
        twin=doing.lay_and_resize,
    ),
    Ways(name="move a strip later", bench=doing.strip_later, twin=doing.rip_later),
)
"""Each from `tests.layout_app.bench.two_sheets`; one that changes nothing there is a mistake."""
