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
