"""One stray key on the bench never replans all sheets for good: one undo brings all of it back."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from layout_app.document.document import Document
from layout_app.document.edit import Consequence
from layout_app.window.main_window import MainWindow
from tests.layout_app.monkey import close, silent_planner
from tests.layout_app.small_job import document

NONE, SHIFT = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier
LETTERS = [Qt.Key(code) for code in range(ord("A"), ord("Z") + 1)]
OTHERS = [Qt.Key(code) for code in range(ord("0"), ord("9") + 1)] + [
    *(Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space, Qt.Key.Key_Delete),
    *(Qt.Key.Key_Backspace, Qt.Key.Key_Plus, Qt.Key.Key_Minus, Qt.Key.Key_Asterisk),
]
KEYS = [
    *((key, NONE) for key in (*LETTERS, *OTHERS)),
    *((key, SHIFT) for key in (Qt.Key.Key_L, Qt.Key.Key_W, Qt.Key.Key_G, Qt.Key.Key_C)),
]


@pytest.fixture(scope="module")
def window(qapp: QApplication) -> Iterator[MainWindow]:
    """Return a window whose planner never answers, the first side selected on the bench."""
    made = MainWindow(document(), planner=silent_planner())
    made.resize(1100, 760)
    made.show()
    made.activateWindow()
    qapp.processEvents()
    yield made
    close(made)


def test_a_stray_key_is_taken_back_by_one_undo(window: MainWindow) -> None:
    """Whatever letter or digit is pressed, with a part selected: lay, plan and cuts come back."""
    doc, heard = window.document, list[Consequence]()
    doc.edited.connect(heard.append)
    doing: list[str] = []
    for key, modifiers in KEYS:
        before, steps = doc.sawn, doc.undo_stack.index()
        heard.clear()
        window.bench.setFocus()
        doc.selection.select_parts([("side", 1)])
        QTest.keyClick(window.bench, key, modifiers)
        QTest.keyClick(window.bench, Qt.Key.Key_Escape)
        made = doc.undo_stack.index() - steps
        assert made <= 1, key
        assert made or Consequence.PLAN_ANEW not in heard, key
        if made:
            doing.append(key.name)
            doc.undo()
        assert doc.project == before.project, key
        assert doc.plan == before.plan, key
    assert {"Key_G", "Key_W", "Key_L", "Key_Delete"} <= set(doing)


def test_the_grain_rule_replans_what_it_touches(window: MainWindow) -> None:
    """G asks for those sheets only on which the part cannot stay."""
    doc, heard = window.document, list[Consequence]()
    doc.edited.connect(heard.append)
    doc.selection.select_parts([("shelf", 1)])
    QTest.keyClick(window.bench, Qt.Key.Key_G)
    assert heard == [Consequence.PLAN_TOUCHED]
    doc.undo()


def test_unlocking_is_taken_back_too(window: MainWindow) -> None:
    """L once more unlocks, after which all is planned that was around the lock: one step."""
    doc: Document = window.document
    doc.selection.select_parts([("side", 1)])
    QTest.keyClick(window.bench, Qt.Key.Key_L)
    before = doc.sawn
    assert doc.held.in_force
    QTest.keyClick(window.bench, Qt.Key.Key_L)
    assert not doc.held.in_force
    doc.undo()
    assert doc.project == before.project
    assert doc.plan == before.plan
