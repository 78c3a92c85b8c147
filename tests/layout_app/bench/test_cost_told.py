"""What a gesture costs is said beside it once it is still, and is what it does."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from layout_app.bench.telling_cost import STILL_MS
from layout_app.model.cost import Costing
from layout_app.model.words.cost_words import cost_lines


def lines_said(maker, qtbot):
    """Return what is said of the cost, once it is known."""
    cost = maker.view.hand.interaction.cost
    qtbot.waitUntil(lambda: bool(cost.lines))
    return cost.lines


def lines_found(maker, before):
    """Return the same, from what is shown before and after."""
    return cost_lines(Costing(before).of(maker.doc.project), maker.doc.job.style)


def test_a_resized_part(maker, qtbot):
    """A side of sheet 2 shortened by hand: what is said comes true."""
    maker.click("2", 10, 6)
    before = maker.doc.sawn
    edge = maker.at("2", 40, 6)
    maker.drag(edge, maker.at("2", 33, 6), drop=False)
    said = lines_said(maker, qtbot)
    assert said[0] in maker.view.hand.interaction._bubble.words
    maker.release(maker.at("2", 33, 6))
    assert maker.doc.sawn is not before
    assert said == lines_found(maker, before)


def test_a_drawn_part(maker, qtbot):
    """A part drawn on free stock costs cuts, and they are told before it is there."""
    before = maker.doc.sawn
    maker.view.hand.draw_on("2")
    maker.drag(("2", 60, 30), ("2", 80, 40), drop=False)
    said = lines_said(maker, qtbot)
    assert any("cut" in line for line in said)
    maker.release(maker.at("2", 80, 40))
    assert said == lines_found(maker, before)


def test_nothing_is_said_of_another_place(maker, qtbot):
    """What was said goes with the place it was said of, and comes again for the next."""
    maker.view.hand.draw_on("2")
    maker.drag(("2", 60, 30), ("2", 80, 40), drop=False)
    lines_said(maker, qtbot)
    maker.go(maker.at("2", 84, 43))
    assert maker.view.hand.interaction.cost.lines == ()
    assert "cut" not in maker.view.hand.interaction._bubble.words.replace("can be cut", "")
    lines_said(maker, qtbot)
    maker.key(Qt.Key.Key_Escape)
    QTest.qWait(2 * STILL_MS)


def carried(maker, qtbot, end):
    """Drag the side of sheet 2 to a place and drop it; return what was said and found."""
    before = maker.doc.sawn
    maker.drag(("2", 5, 6), end, drop=False)
    said = lines_said(maker, qtbot)
    assert said[0] in maker.view.hand.interaction._shows._bubble.words
    maker.release(maker.at(*end))
    assert maker.doc.sawn is not before
    return said, lines_found(maker, before)


def test_a_part_moved_within_its_sheet(maker, qtbot):
    """What is said of the place it snaps to is found there."""
    said, found = carried(maker, qtbot, ("2", 45, 30))
    assert said == found


def test_a_part_moved_to_another_sheet(maker, qtbot):
    """Cuts of both sheets count."""
    said, found = carried(maker, qtbot, ("1", 45, 35))
    assert said == found
    assert maker.corner("side", 3)[0] == "1"


def test_a_part_carried_by_keys(maker, qtbot):
    """Arrows and Return do as the mouse does; W says what setting aside saves."""
    maker.click("2", 10, 6)
    before = maker.doc.sawn
    maker.key(Qt.Key.Key_Return)
    maker.key(Qt.Key.Key_W)
    said = lines_said(maker, qtbot)
    assert said[0].startswith("-")
    maker.key(Qt.Key.Key_Return)
    assert said == lines_found(maker, before)


def test_where_it_was_taken_up_nothing_is_said(maker):
    """Letting go there changes nothing, so that there is nothing to say."""
    maker.drag(("2", 5, 6), ("2", 7, 6), drop=False)
    maker.go(maker.at("2", 5, 6))
    QTest.qWait(3 * STILL_MS)
    assert maker.view.hand.interaction.cost.lines == ()
