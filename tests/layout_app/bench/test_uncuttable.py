"""A sheet that can't be cut keeps its drawing, and none of its old cuts can be taken for one."""

from dataclasses import replace

from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from layout_app.bench.repairing import Repairing
from layout_app.document import edit_layout
from shared.drawing import Role
from shared.drawing.words import cant_be_cut
from shared.layout import Hold, Scope
from tests.layout_app.bench.two_sheets import JOB, KERF, inches

SHELF, SIDE = ("shelf", 1), ("side", 1)


def spoil(maker) -> None:
    """Lay the shelf of sheet 1 over its sides: 30 in along, 5 in across; they end at 12."""
    edit_layout.move_part(maker.doc, *SHELF, "1", inches(30), inches(5))


def drawn(maker, sheet="1"):
    """Return what is drawn of a sheet."""
    return maker.view.bench.sheet_item(sheet).drawing


def boxes(maker, *roles):
    """Return the rectangles of some roles on sheet 1."""
    return [box.rect for box in drawn(maker).boxes if box.role in roles]


def test_last_cuts_and_offcuts_stay_and_the_place_in_the_way_is_marked(maker) -> None:
    """The kerfs of before are there without a tag; the shelf lies 10 and 20 in over the sides."""
    kerfs, falls = boxes(maker, Role.KERF), boxes(maker, Role.KEEPER, Role.WASTE)
    tints = {box.key: box.tint for box in drawn(maker).boxes if box.role is Role.PART}
    spoil(maker)
    assert sorted(map(str, boxes(maker, Role.LAST_CUT))) == sorted(map(str, kerfs))
    assert boxes(maker, Role.LAST_KEEPER, Role.LAST_WASTE) == falls
    assert not drawn(maker).tags
    assert not drawn(maker).marks
    for box in drawn(maker).boxes:
        if box.role is Role.PART and box.copy_key != SHELF:
            assert box.tint == tints[box.key]
    found = {(one.x, one.y, one.length, one.width) for one in boxes(maker, Role.IN_THE_WAY)}
    five, seven = inches(5), inches(7)
    side_2 = inches("321/8")
    assert found == {
        (inches(30), five, inches(10), seven),
        (side_2, five, inches(60) - side_2, seven),
    }


def test_words_say_who_overlaps_whom_and_how_far(maker) -> None:
    """Below the sheet, and in the tip of what is in the way: 7 in across is the shorter way out."""
    spoil(maker)
    said = "Sheet 1 can't be cut yet: Shelf 1 overlaps Side 1 by 7 in."
    assert cant_be_cut(drawn(maker)) == said
    stand = maker.view.hand.sheets.stand("1")
    at = QPointF(stand.x + 25.4 * 35, stand.y + 25.4 * 8)
    assert maker.view.bench.tip_at(at).endswith(f"{said} R shows a repair.")


def test_an_old_cut_is_no_cut_and_an_old_offcut_no_size(maker) -> None:
    """Where a kerf was nothing is hit, and the readout tells the gap there is now."""
    spoil(maker)
    dust = boxes(maker, Role.LAST_CUT)[0]
    stand = maker.view.hand.sheets.stand("1")
    at = stand.x + 25.4 * 90, stand.y + (dust.y + dust.width / 2) * 25.4 / inches(1)
    assert maker.view.hand.spot(QPointF(*at)).tag is None
    maker.view.around.point_at(maker.at("1", 90, 40))
    assert maker.view.around.readout.told.name == "gap"


def test_undo_redo_and_the_way_back_bring_the_same_cuts(maker) -> None:
    """The cuts of before are looked at first when the part is laid back where it was."""
    before = maker.doc.layout.sheet("1").tree
    spoil(maker)
    assert maker.doc.layout.sheet("1").known_cuts == before
    edit_layout.move_part(maker.doc, *SIDE, "1", inches(1), 0)
    assert maker.doc.layout.sheet("1").known_cuts == before
    maker.doc.undo()
    maker.doc.undo()
    assert maker.doc.layout.sheet("1").last is None
    maker.doc.redo()
    assert maker.doc.layout.sheet("1").tree is None
    assert maker.doc.layout.sheet("1").known_cuts == before
    edit_layout.move_part(maker.doc, *SHELF, "1", 0, JOB.part("side").cut_width + KERF)
    assert maker.doc.layout.sheet("1").tree == before


def wait_for(repairing, *, more_than: int) -> None:
    """Wait until so many repairs are known."""
    for _ in range(2000):
        if len(repairing.found) > more_than:
            return
        QTest.qWait(5)
    raise AssertionError("no repair was found")


def test_r_shows_a_repair_then_the_next_and_esc_leaves_all_as_it_is(maker) -> None:
    """Nothing is moved while repairs are shown, and words say what each would do."""
    spoil(maker)
    maker.view.setFocus()
    before, steps = maker.doc.sawn, maker.steps
    maker.key(Qt.Key.Key_R)
    repairing = maker.view.hand.interaction
    assert isinstance(repairing, Repairing)
    wait_for(repairing, more_than=1)
    first, words = repairing.shown, repairing.words
    assert "sheet 1 can be cut." in words
    maker.key(Qt.Key.Key_R)
    assert repairing.shown != first
    assert repairing.words != words
    maker.key(Qt.Key.Key_R, Qt.KeyboardModifier.ShiftModifier)
    assert repairing.shown == first
    maker.key(Qt.Key.Key_Escape)
    assert maker.view.hand.interaction is None
    assert (maker.doc.sawn, maker.steps) == (before, steps)


def test_a_click_beside_a_repair_leaves_it(maker) -> None:
    """Only a click on what is shown takes it; here one on the bare wood of sheet 2."""
    spoil(maker)
    steps = maker.steps
    maker.view.hand.repair("1")
    wait_for(maker.view.hand.interaction, more_than=0)
    maker.click("2", 80, 40)
    assert maker.view.hand.interaction is None
    assert maker.steps == steps


def test_where_all_can_be_cut_r_says_so(maker) -> None:
    """There is nothing to repair."""
    maker.view.setFocus()
    maker.key(Qt.Key.Key_R)
    assert maker.said == ["Every sheet can be cut: there is nothing to repair."]


def test_where_there_is_no_repair_that_and_the_locks_are_said(maker) -> None:
    """As read from a file: the sheet is locked whole, and its shelf lies over its sides."""
    spoil(maker)
    sheet = replace(maker.doc.layout.sheet("1"), last=None)
    whole = Hold(scope=Scope.SHEET, sheet="1", lies=sheet.placements[0])
    layout = replace(maker.doc.layout.with_sheet(sheet), holds=(whole,))
    maker.doc.open(replace(maker.doc.project, layout=layout), None)
    maker.view.hand.repair("1")
    repairing = maker.view.hand.interaction
    for _ in range(2000):
        if "No repair" in repairing.words:
            break
        QTest.qWait(5)
    assert "No repair of sheet 1 was found" in repairing.words
    assert "unlock" in repairing.words
    steps = maker.steps
    maker.key(Qt.Key.Key_Return)
    assert maker.steps == steps
