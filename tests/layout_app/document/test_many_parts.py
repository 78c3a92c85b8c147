"""Several parts at once: turned as one step, and two that change places."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_locks, edit_parts
from layout_app.document.document import Document
from layout_app.document.swapping import swap_parts
from layout_app.window.main_window import MainWindow
from shared.parts import GrainRule
from tests.layout_app.bench.two_sheets import document, inches
from tests.layout_app.doing import SHELF_1, SIDE_2
from tests.layout_app.monkey import close, silent_planner

SIDE_1 = ("side", 1)


@pytest.fixture
def doc() -> Iterator[Document]:
    """Return a document with two sheets, no part of it held to the grain."""
    made = document()
    for part in made.job.parts:
        edit_parts.set_grain_rules(made, [part.id], GrainRule.EITHER)
    made.undo_stack.clear()
    yield made
    made.undo_stack.clear()


def lies(doc: Document, key: tuple[str, int]) -> tuple[str, int, int, bool]:
    """Return where a copy lies."""
    one = doc.layout.find(key)
    assert one is not None
    return one.sheet, one.x, one.y, one.turned


def test_several_parts_turn_as_one_step(doc: Document) -> None:
    """Both lie the other way, and one step takes both back."""
    before = doc.project
    assert edit_layout.turn_parts(doc, [SHELF_1, SIDE_2])
    assert lies(doc, SHELF_1)[3]
    assert lies(doc, SIDE_2)[3]
    assert doc.undo_stack.count() == 1
    doc.undo()
    assert doc.project == before


def test_parts_that_may_not_turn_leave_no_step(doc: Document) -> None:
    """Nothing is turned, nothing is to be undone, and it is said why."""
    for part in ("side", "shelf"):
        edit_parts.set_grain_rules(doc, [part], GrainRule.ALONG_LENGTH)
    count, said = doc.undo_stack.count(), []
    doc.said.connect(said.append)
    assert not edit_layout.turn_parts(doc, [SHELF_1, SIDE_2])
    assert doc.undo_stack.count() == count
    assert said


def test_two_parts_change_places(doc: Document) -> None:
    """Each lies at the other's corner; doing it twice is as if nothing had been done."""
    one, other = lies(doc, SHELF_1), lies(doc, SIDE_2)
    placements = [sheet.placements for sheet in doc.layout.sheets]
    assert swap_parts(doc, SHELF_1, SIDE_2)
    assert lies(doc, SHELF_1)[:3] == other[:3]
    assert lies(doc, SIDE_2)[:3] == one[:3]
    assert swap_parts(doc, SHELF_1, SIDE_2)
    assert [set(some) for some in placements] == [
        set(sheet.placements) for sheet in doc.layout.sheets
    ]


def test_swapped_parts_turn_where_they_fit_only_so(doc: Document) -> None:
    """A side of 40 x 12 stands at the far end, where it fits across only: the shelf's place.

    The shelf lies turned at the end of the sheet, 96 - 12 = 84, alone in its column; the side that
    takes its place would reach over the edge as it lies.
    """
    edit_layout.set_aside(doc, [SIDE_2])
    edit_layout.move_part(doc, *SHELF_1, "1", inches(84), 0, True)
    assert swap_parts(doc, SHELF_1, SIDE_1)
    assert lies(doc, SIDE_1) == ("1", inches(84), 0, True)
    assert doc.problems == {}


def test_a_part_that_waits_changes_no_place(doc: Document) -> None:
    """What lies nowhere has no place to give."""
    edit_layout.set_aside(doc, [SHELF_1])
    assert not swap_parts(doc, SHELF_1, SIDE_2)
    assert not swap_parts(doc, SIDE_2, SIDE_2)


def test_a_held_part_changes_no_place(doc: Document) -> None:
    """It is said what holds it."""
    edit_locks.hold_sheet(doc, lies(doc, SIDE_2)[0])
    before, said = doc.project, []
    doc.said.connect(said.append)
    assert not swap_parts(doc, SHELF_1, SIDE_2)
    assert doc.project == before
    assert said


@pytest.mark.parametrize(
    "key", [Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ShiftModifier]
)
def test_alt_or_shift_does_without_snapping(qtbot: QtBot, key: Qt.KeyboardModifier) -> None:
    """The view hands it on to the gesture."""
    window = MainWindow(document(), planner=silent_planner())
    window.show()
    qtbot.waitUntil(window.isVisible)
    told = []
    window.bench.hand.move = lambda point, *, free=False: told.append(free)
    for modifiers in (Qt.KeyboardModifier.NoModifier, key):
        at, none = QPointF(200, 200), Qt.MouseButton.NoButton
        event = QMouseEvent(QEvent.Type.MouseMove, at, at, none, none, modifiers)
        window.bench.mouseMoveEvent(event)
    assert told == [False, True]
    close(window)
