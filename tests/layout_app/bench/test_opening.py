"""Parts let go beside the sheets open one, and an empty bench says how to go on."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from layout_app.document import edit_layout
from layout_app.model.cost import Costing
from layout_app.model.words.cost_words import cost_lines
from tests.layout_app.bench.two_sheets import inches
from tests.layout_app.doing import beside_sheets

Key = Qt.Key
SHELF_1 = ("1", 15, 17)
OPENS = "let go here: opens a sheet of birch ply"


def all_aside(maker):
    """Set every part aside, as Ctrl+A and W do."""
    maker.view.twins.select_all()
    maker.key(Key.Key_W)


def with_at_hand(maker, number):
    """Let so many full sheets be at hand."""
    project = maker.doc.project
    (row,) = project.job.stock
    job = replace(project.job, stock=(replace(row, at_hand=number),))
    maker.doc.open(replace(project, job=job), None)


def test_let_go_beside_the_sheets_a_sheet_opens(maker, qtbot):
    """One step, at the reference corner; what was said it costs is what it costs.

    A sheet of 52.00 for one shelf of 30 by 10 in: the new sheet is named and priced.
    """
    ground = beside_sheets(maker)
    maker.drag(SHELF_1, ground, drop=False)
    assert maker.words == OPENS
    carrying = maker.view.hand.interaction
    qtbot.waitUntil(lambda: bool(carrying.cost.lines))
    told, before = carrying.cost.lines, maker.doc.sawn
    assert "opens sheet 3, +52.00" in told
    maker.release(ground)
    assert maker.corner("shelf", 1) == ("3", 0, 0)
    assert maker.steps == 1
    assert maker.doc.undo_stack.undoText() == "open a sheet of full sheet for Shelf 1"
    assert cost_lines(Costing(before).done(maker.doc.sawn), maker.doc.job.style) == told
    maker.doc.undo_stack.undo()
    assert len(maker.doc.layout.sheets) == 2


def test_page_down_past_the_last_sheet_opens_one(maker):
    """On an empty bench at once; Page Up goes back to the last sheet, Escape opens none."""
    all_aside(maker)
    maker.doc.selection.select_parts([("side", 1)])
    for pressed in (Key.Key_Return, Key.Key_PageDown):
        maker.key(pressed)
    assert maker.words == OPENS
    maker.key(Key.Key_Return)
    assert maker.corner("side", 1) == ("1", 0, 0)
    for pressed in (Key.Key_Return, Key.Key_PageDown, Key.Key_PageDown):
        maker.key(pressed)
    assert maker.words == OPENS
    maker.key(Key.Key_PageUp)
    assert maker.view.hand.interaction.held.sheet == "1"
    maker.key(Key.Key_PageDown)
    maker.key(Key.Key_Escape)
    assert len(maker.doc.layout.sheets) == 1


def test_where_none_is_left_it_says_so_and_the_part_stays(maker):
    """Both sheets at hand are on the bench already."""
    with_at_hand(maker, 2)
    before = maker.doc.layout
    ground = beside_sheets(maker)
    maker.drag(SHELF_1, ground, drop=False)
    why = "no further sheet of full sheet can be laid out: all 2 at hand are on the bench already"
    assert maker.words == why
    assert maker.view.hand.interaction.cursor is Qt.CursorShape.ForbiddenCursor
    maker.release(ground)
    assert maker.said == [f"Shelf 1 stays: {why}."]
    assert maker.doc.layout is before


def test_the_other_way_round_is_the_maker_s_to_turn(maker):
    """T turns the shelf in the hand, and it lies so on the sheet that opens."""
    ground = beside_sheets(maker)
    maker.drag(SHELF_1, ground, drop=False)
    maker.key(Key.Key_T)
    maker.release(ground)
    lies = maker.doc.layout.find(("shelf", 1))
    assert (lies.sheet, lies.length, lies.width) == ("3", inches(10), inches(30))


@pytest.mark.parametrize("going", [[("side", 1), ("side", 2)], [("side", 1)]])
def test_of_several_set_aside_none_stays_selected(maker, going):
    """One slip is pulled alone then; one part set aside stays selected. Tab goes on from there."""
    maker.doc.selection.select_parts(going)
    maker.key(Key.Key_W)
    assert maker.doc.selection.parts == (set() if len(going) > 1 else set(going))
    assert maker.view.twins.select_next(1)
    assert maker.doc.selection.parts == {("shelf", 1) if len(going) > 1 else ("side", 2)}


def test_an_empty_bench_says_how_to_go_on(maker):
    """It is there once all is set aside, is gone while a part is carried, and with a sheet."""
    assert not maker.view.empty.isVisible()
    all_aside(maker)
    assert maker.view.empty.isVisible()
    maker.doc.selection.select_parts([("side", 1)])
    maker.key(Key.Key_Return)
    assert not maker.view.empty.isVisible()
    maker.key(Key.Key_Escape)
    assert maker.view.empty.isVisible()
    edit_layout.add_sheet(maker.doc, "full")
    assert not maker.view.empty.isVisible()


def test_the_parts_of_a_sheet_removed_are_not_selected(maker):
    """They go to the tray together, as if they were set aside."""
    maker.doc.selection.select_parts([("side", 3), ("shelf", 2)])
    assert edit_layout.remove_sheet(maker.doc, "2")
    assert not maker.doc.selection.parts
