"""The line above the rows of a pasted list, in the window: choices, questions, keys."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton

from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.model.project import Project
from layout_app.panels.left_region import LeftRegion
from layout_app.panels.paste_line import ARROW_PX, PasteLine
from shared.job import Job
from shared.lengths import MM
from shared.parts import Part
from tests.layout_app.tables import doc_of


def paste(left: LeftRegion, text: str) -> PasteLine:
    """Paste a text into the parts, and return the line above them."""
    QGuiApplication.clipboard().setText(text)
    left.parts.setFocus()
    left.parts.paste()
    return left.pasted_parts


def new_parts(left: LeftRegion) -> tuple[Part, ...]:
    """Return the parts behind the two there were."""
    return doc_of(left).job.parts[2:]


def test_another_choice_reads_the_list_anew_as_one_step(left: LeftRegion) -> None:
    """A column that was not used becomes the note: the same step, with the new choice."""
    line, doc = paste(left, "Part,L,W,Edge\nRail,20,2,left\nPost,9,2,right"), doc_of(left)
    assert line.isVisible()
    assert line.sentence.startswith("2 rows pasted: Part; L; W; “Edge” not used.")
    box = line.choosers[3]
    box.setCurrentText("note")
    box.activated.emit(box.currentIndex())
    assert [one.note for one in new_parts(left)] == ["left", "right"]
    assert doc.undo_stack.count() == 1
    doc.undo()
    assert new_parts(left) == ()
    assert not line.isVisible()


def test_rows_that_may_not_go_again_stay(left: LeftRegion, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a cut that is made bars taking the rows back, nothing is pasted a second time."""
    line, doc = paste(left, "Part,L,W,Edge\nRail,20,2,left"), doc_of(left)
    monkeypatch.setattr(doc, "undo", lambda: None)
    line.choosers[3].activated.emit(0)
    assert len(new_parts(left)) == 1
    assert not line.isVisible()


def test_a_question_is_answered_with_keys(left: LeftRegion) -> None:
    """The first answer has the keys; Enter takes it, the rows come, and the table has the keys."""
    line = paste(left, "#,Part,L,W\n2,Rail,20,2\n4,Post,9,2")
    assert new_parts(left) == ()
    assert line.buttons[0].hasFocus()
    QTest.keyClick(line.buttons[0], Qt.Key.Key_Return)
    assert [one.copies for one in new_parts(left)] == [2, 4]
    assert left.parts.hasFocus()


def test_esc_puts_the_line_away_and_keeps_the_rows(left: LeftRegion) -> None:
    """Tab reaches the line from the table's first cell; Esc leaves it."""
    line = paste(left, "Part,L,W\nRail,20,2")
    left.parts.setCurrentIndex(left.parts.rows.index(1, 0))
    QTest.keyClick(left.parts, Qt.Key.Key_Backtab)
    assert line.isAncestorOf(QApplication.focusWidget())
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    assert not line.isVisible()
    assert left.parts.hasFocus()
    assert len(new_parts(left)) == 1


def test_the_line_goes_with_the_next_change(left: LeftRegion) -> None:
    """Once something else is changed a choice would undo that, so there is none."""
    line = paste(left, "Part,L,W\nRail,20,2")
    model = left.parts.rows
    model.change(model.index(1, 0), "Cheek")
    assert not line.isVisible()
    assert len(new_parts(left)) == 1


def test_a_question_ends_with_its_project(left: LeftRegion) -> None:
    """Another project is opened while it is open how many are needed: nothing is pasted there."""
    line = paste(left, "#,Part,L,W\n2,Rail,20,2\n4,Post,9,2")
    doc_of(left).open(Project(job=Job()), None)
    assert not line.isVisible()
    assert doc_of(left).job.parts == ()


def test_a_question_after_a_question_has_the_keys_too(left: LeftRegion) -> None:
    """How many, and then which unit: Enter answers both, one after the other."""
    line = paste(left, "No.,Part,L,W\n4,Rail,600,50\n2,Post,700,50")
    QTest.keyClick(line.buttons[0], Qt.Key.Key_Return)
    assert "Which unit" in line.sentence
    assert QApplication.focusWidget() is line.buttons[0]
    QTest.keyClick(line.buttons[0], Qt.Key.Key_Return)
    assert [(one.copies, one.length) for one in new_parts(left)] == [(4, 600 * MM), (2, 700 * MM)]


@pytest.mark.parametrize("wide", [300, 400, 700])
def test_no_choice_is_cut_off(left: LeftRegion, wide: int) -> None:
    """Fewer stand side by side where their words are long: 7 of a list of sheets."""
    left.resize(wide, 700)
    left.tabs.setCurrentIndex(1)
    QGuiApplication.clipboard().setText(
        "Sheet,Length,Width,Thickness,Material,Qty,Price\n4 x 8,96,48,0.72,birch,2,84"
    )
    left.stock.paste()
    QApplication.processEvents()
    boxes = left.pasted_stock.choosers
    assert len(boxes) == 7
    for box in boxes:
        words = box.fontMetrics().horizontalAdvance(box.currentText())
        assert words + ARROW_PX - 4 <= box.width(), box.currentText()


def test_what_puts_the_line_away_is_a_link(left: LeftRegion, qapp: QApplication) -> None:
    """Under the program's style sheet it has no frame, so it is smaller than a button."""
    dress(qapp, Theme.light())
    away = paste(left, "Part,L,W\nRail,20,2").buttons[-1]
    plain = QPushButton(away.text(), left)
    plain.show()
    assert away.sizeHint().width() < plain.sizeHint().width()
