"""Cards dragged and moved by keys: where they may go lights up, elsewhere the reason is said."""

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.look.theme import Theme
from layout_app.model.words.order_words import MODES
from layout_app.panels.sequence import SequenceView
from layout_app.panels.sequence_panel import SequencePanel
from shared.plan import Plan
from shared.saw import verify
from shared.shop import SawingOrder
from tests.layout_app.small_job import document


@pytest.fixture
def panel(qtbot: QtBot) -> SequencePanel:
    """Return the region of the sequence with the plan of the small job."""
    made = SequencePanel(document(), Theme.light())
    qtbot.addWidget(made)
    made.resize(3000, 330)
    made.show()
    made.cards.setFocus()
    return made


@pytest.fixture
def doc(panel: SequencePanel) -> Document:
    """Return the document of the region."""
    return panel._document


def plan_of(doc: Document) -> Plan:
    """Return the plan that is shown."""
    assert doc.plan is not None
    return doc.plan


def mouse(view: SequenceView, kind: QEvent.Type, point: QPoint) -> None:
    """Send a mouse event with the left button to the cards."""
    button = Qt.MouseButton.LeftButton
    where = QPointF(view.viewport().mapToGlobal(point))
    none = Qt.KeyboardModifier.NoModifier
    event = QMouseEvent(kind, QPointF(point), where, button, button, none)
    QApplication.sendEvent(view.viewport(), event)


def drag(view: SequenceView, number: int, gap: int) -> None:
    """Take a card up and carry it to a gap."""
    start = view.card_rect(number).center()
    mouse(view, QEvent.Type.MouseButtonPress, start)
    mouse(view, QEvent.Type.MouseMove, start + QPoint(30, 0))
    mouse(view, QEvent.Type.MouseMove, view.gap_point(gap))


def drop(view: SequenceView, gap: int) -> None:
    """Let go of a card at a gap."""
    mouse(view, QEvent.Type.MouseButtonRelease, view.gap_point(gap))


def test_dragging_a_rip_moves_its_strip(panel: SequencePanel, doc: Document) -> None:
    """The second rip dropped before the first: the strips change place, all is numbered anew."""
    view = panel.cards
    first, second = plan_of(doc).cuts[:2]
    assert (first.off, second.off) == ("1a", "1b")
    sizes = (first.size, second.size)
    rows = [one for one in plan_of(doc).placements if one.y == 0]
    drag(view, 2, 0)
    assert view.dragging is not None
    assert view.dragging.may_drop
    assert view.dragging.words == "Cut 2 becomes cut 1"
    assert doc.gestures.under_way
    drop(view, 0)
    assert not doc.gestures.under_way
    after = plan_of(doc)
    assert verify(after) == ()
    assert (after.cuts[0].size, after.cuts[1].size) == sizes[::-1]
    assert [cut.number for cut in after.cuts] == list(range(1, len(after.cuts) + 1))
    moved = {one.key: one.y for one in after.placements}
    assert all(moved[one.key] > 0 for one in rows)
    assert doc.selection.cut == 1
    assert doc.undo_stack.undoText() == "cut 2 earlier, as cut 1"
    doc.undo_stack.undo()
    assert plan_of(doc).cuts[0].size == sizes[0]


def test_the_card_that_was_pressed_is_taken_up(panel: SequencePanel, doc: Document) -> None:
    """Selecting it may scroll the view: what lies under the mouse then is another card."""
    view = panel.cards
    panel.resize(900, 330)
    QApplication.processEvents()
    view.horizontalScrollBar().setValue(view.card_rect(2).left() - view.viewport().width() + 60)
    start = QPoint(view.viewport().width() - 20, view.card_rect(2).center().y())
    number = view.card_at(start)
    assert number is not None
    before = view.horizontalScrollBar().value()
    mouse(view, QEvent.Type.MouseButtonPress, start)
    assert view.horizontalScrollBar().value() > before
    mouse(view, QEvent.Type.MouseMove, start - QPoint(40, 0))
    assert view.dragging is not None
    assert view.dragging.number == number == doc.selection.cut


def test_a_card_goes_back_from_where_it_may_not_go(panel: SequencePanel, doc: Document) -> None:
    """A crosscut dropped before the rip that frees its strip: the chain is said, nothing moves."""
    view, said = panel.cards, list[str]()
    doc.said.connect(said.append)
    before = doc.project
    crosscut = next(cut for cut in plan_of(doc).cuts if cut.piece == "1a")
    drag(view, crosscut.number, 0)
    assert view.dragging is not None
    assert not view.dragging.may_drop
    assert 0 not in view.dragging.lit()
    expected = f"Cut {crosscut.number} cannot become cut 1: piece 1a does not exist before cut 1."
    assert view.dragging.words == expected
    drop(view, 0)
    assert doc.project == before
    assert said == [expected]


def test_escape_puts_a_card_back(panel: SequencePanel, doc: Document) -> None:
    """Esc in mid-drag leaves everything as it was."""
    view, before = panel.cards, doc.project
    drag(view, 2, 0)
    QTest.keyClick(view, Qt.Key.Key_Escape)
    assert view.dragging is None
    assert not doc.gestures.under_way
    drop(view, 0)
    assert doc.project == before


def test_every_lit_place_takes_the_card(panel: SequencePanel, doc: Document) -> None:
    """Wherever a place lights up, letting go there gives a sequence that the saw takes."""
    view = panel.cards
    for number in range(1, len(plan_of(doc).cuts) + 1):
        drag(view, number, number - 1)
        assert view.dragging is not None
        lit = view.dragging.lit()
        drop(view, number - 1)
        for gap in lit:
            drag(view, number, gap)
            drop(view, gap)
            assert verify(plan_of(doc)) == ()
            assert doc.undo_stack.canUndo()
            doc.undo_stack.undo()


def test_alt_and_home_move_as_far_as_may_be(panel: SequencePanel, doc: Document) -> None:
    """Alt+Home brings the selected rip to the front, Alt+End behind the last it is free of."""
    doc.selection.select_cut(2)
    QTest.keyClick(panel.cards, Qt.Key.Key_Home, Qt.KeyboardModifier.AltModifier)
    assert doc.selection.cut == 1
    assert doc.undo_stack.undoText() == "cut 2 earlier, as cut 1"


def test_a_cut_that_cannot_go_earlier_says_why(panel: SequencePanel, doc: Document) -> None:
    """Alt+Home on the first crosscut of a strip names the rip that frees it."""
    said: list[str] = []
    doc.said.connect(said.append)
    crosscut = next(cut for cut in plan_of(doc).cuts if cut.piece == "1a")
    doc.selection.select_cut(crosscut.number)
    for _ in range(2):
        QTest.keyClick(panel.cards, Qt.Key.Key_Home, Qt.KeyboardModifier.AltModifier)
    assert doc.selection.cut == 2
    assert said == ["Cut 2 cannot become cut 1: piece 1a does not exist before cut 1."]


def test_words_follow_the_order(panel: SequencePanel, doc: Document) -> None:
    """The heading names the mode, changes it, and takes a hand-set order back."""
    assert "sheet by sheet" in panel._words.text()
    assert not panel._restore.isVisible()
    drag(panel.cards, 2, 0)
    drop(panel.cards, 0)
    assert panel._restore.isVisible()
    panel._restore.click()
    assert not panel._restore.isVisible()
    assert doc.layout.before == ()
    for mode in (SawingOrder.BY_SETUP, SawingOrder.LEAST_WALKING, SawingOrder.LEAST_WALKING):
        panel._modes[mode].trigger()
        assert doc.job.shop.sawing is mode
        assert [one for one, action in panel._modes.items() if action.isChecked()] == [mode]
        assert f"; {MODES[mode]}" in panel._words.text()
    doc.undo_stack.undo()
    assert doc.job.shop.sawing is SawingOrder.BY_SETUP
    assert "; set-up by set-up" in panel._words.text()


def test_the_card_in_the_hand_shows_what_the_card_says(panel: SequencePanel) -> None:
    """Below the pointer the same words are painted as on the card that stays in the row."""
    view = panel.cards
    rect = view.card_rect(2)
    painted: list[int] = []
    paint = view._painter.card
    view._painter.card = lambda painter, card, *, selected: (
        painted.append(card.number),
        paint(painter, card, selected=selected),
    )
    view.grab()
    once = painted.count(2)
    drag(view, 2, 3)
    painted.clear()
    view.grab()
    assert rect.isValid()
    assert painted.count(2) == once + 1
    QTest.keyClick(view, Qt.Key.Key_Escape)
