"""Space ticks the selected cut, and no other key ticks; what was ticked is said and taken back."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from layout_app.document.ticks import tick, untick
from layout_app.walk.view import Walk
from layout_app.window.main_window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier


def copies(window: MainWindow) -> list[int]:
    """Return how many copies there are of each part: at first four sides and three shelves."""
    return [part.copies for part in window.document.job.parts]


@pytest.mark.parametrize("place", ["bench", "cards"])
def test_ctrl_d_duplicates_and_ticks_nothing(window: MainWindow, place: str) -> None:
    """With a part selected there is one more copy of it, wherever the keys are."""
    focus: QWidget = window.bench if place == "bench" else window.sequence.cards
    focus.setFocus()
    window.document.selection.select_parts([("side", 1)])
    QTest.keyClick(focus, Qt.Key.Key_D, CTRL)
    assert window.document.progress.made == ()
    assert copies(window) == [5, 3]


def test_ctrl_d_in_the_take_off_makes_one_more_of_the_row(window: MainWindow) -> None:
    """A row stands for all its copies; duplicated, it is one copy more, and undo takes it back."""
    parts = window.left.parts
    parts.setFocus()
    parts.selectRow(2)  # below the row to type in, and that of the sides
    assert len(window.document.selection.parts) == 3
    QTest.keyClick(parts, Qt.Key.Key_D, CTRL)
    assert copies(window) == [4, 4]
    window.document.undo()
    assert copies(window) == [4, 3]
    assert window.document.progress.made == ()


@pytest.mark.parametrize("view", ["cards", "table"])
def test_space_ticks_the_selected_cut_only(window: MainWindow, view: str) -> None:
    """With no cut selected Space ticks none, though one was current; a held key ticks once."""
    if view == "table":
        window.sequence.switch()
    shown: QWidget = window.sequence.table if view == "table" else window.sequence.cards
    shown.setFocus()
    window.document.selection.select_cut(1)
    window.document.selection.clear()
    QTest.keyClick(shown, Qt.Key.Key_Space)
    assert window.document.progress.made == ()
    window.document.selection.select_cut(1)
    QTest.keyClick(shown, Qt.Key.Key_Space)
    kind, none = QKeyEvent.Type.KeyPress, Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(shown, QKeyEvent(kind, Qt.Key.Key_Space, none, " ", True))
    assert window.document.progress.made == (1,)


@pytest.mark.parametrize("by_mouse", [True, False])
def test_a_tick_is_said_and_taken_back(window: MainWindow, by_mouse: bool) -> None:
    """The line at the bottom says it; its button and its key untick the cut, and only that."""
    window.document.selection.select_cut(1)
    window.sequence.cards.setFocus()
    QTest.keyClick(window.sequence.cards, Qt.Key.Key_Space)
    assert window.status.doing.text() == "Cut 1 ticked."
    if by_mouse:
        QTest.mouseClick(window.status.back, Qt.MouseButton.LeftButton)
    else:
        QTest.keyClick(window.sequence.cards, Qt.Key.Key_U, CTRL)
    assert window.document.progress.made == ()
    assert window.status.doing.text() == "Cut 1 not ticked any more."
    assert not window.status.back.isVisible()
    assert not window.menus.actions["cuts.take_back"].isEnabled()
    assert window.focusWidget() is window.sequence.cards


def test_ticks_are_taken_back_newest_first_and_never_set(window: MainWindow) -> None:
    """What was unticked stays so; several presses go back through what was ticked together."""
    document, cards = window.document, window.sequence.cards
    cards.setFocus()
    for numbers in ([1], [2], [3, 4], [5]):
        tick(document, numbers)
    untick(document, [5])
    left = []
    for _ in range(5):
        QTest.keyClick(cards, Qt.Key.Key_U, CTRL)
        left.append(document.progress.made)
    assert left == [(1, 2), (1,), (), (), ()]


def test_a_tick_set_again_is_the_newest(window: MainWindow) -> None:
    """Unticked and ticked once more, a cut is taken back before those ticked meanwhile."""
    document = window.document
    tick(document, [1])
    tick(document, [2])
    untick(document, [2])
    tick(document, [3])
    tick(document, [2])
    window.offers.taking_back.do()
    assert document.progress.made == (1, 3)


def test_only_ticks_of_this_opening_are_taken_back(window: MainWindow) -> None:
    """Those a project is opened with stand."""
    tick(window.document, [1, 2])
    window.projects.show(window.document.project, None)
    assert not window.menus.actions["cuts.take_back"].isEnabled()
    tick(window.document, [3])
    for _ in range(2):
        window.offers.taking_back.do()
    assert window.document.progress.made == (1, 2)


def test_unticked_in_the_walk_a_cut_stays_unticked(window: MainWindow) -> None:
    """Ctrl+U after the walk takes the tick before back, not the untick."""
    tick(window.document, [1])
    tick(window.document, [2])
    walk = Walk(window.document, dark=False, parent=window)
    walk.next()
    walk.untick()
    walk.close()
    assert window.document.progress.made == (1,)
    window.offers.taking_back.do()
    assert window.document.progress.made == ()


def test_no_key_ticks_behind_the_walk(window: MainWindow) -> None:
    """While the walk is open Space on the cards ticks nothing; then the keys are on the bench."""
    window.document.selection.select_cut(1)
    cards = window.sequence.cards
    cards.setFocus()
    window.menus.actions["cuts.walk"].trigger()
    QTest.keyClick(cards, Qt.Key.Key_Space)
    assert window.document.progress.made == ()
    cards.setFocus()
    for walk in QApplication.topLevelWidgets():
        if walk.objectName() == "walk":
            walk.close()
    del walk
    QApplication.sendPostedEvents(None, 52)
    assert window.focusWidget() is window.bench


def test_space_pressed_twice_answers_nothing_unseen(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A second press at once leaves the question standing; later one answers it."""
    window.document.selection.select_cut(3)
    cards = window.sequence.cards
    cards.setFocus()
    for _ in range(2):
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
    question = window.sequence.ticking.question(cards)
    assert question is not None
    assert window.document.progress.made == ()
    monkeypatch.setattr("layout_app.look.unseen.UNSEEN_S", 0.0)
    QTest.keyClick(question.buttons[0], Qt.Key.Key_Space)
    assert 3 in window.document.progress.made


@pytest.mark.parametrize("key", [Qt.Key.Key_Space, Qt.Key.Key_Return])
def test_a_key_held_down_answers_nothing(
    window: MainWindow, key: Qt.Key, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Repeated by itself, a key leaves what is asked across the window as it is."""
    monkeypatch.setattr("layout_app.look.unseen.UNSEEN_S", 0.0)
    answered: list[str] = []
    window.bar.ask("Well?", [("Yes", lambda: answered.append("yes"))])
    button = window.bar.answers[0]
    for repeats in (True, False):
        press = QKeyEvent(QKeyEvent.Type.KeyPress, key, Qt.KeyboardModifier.NoModifier, "", repeats)
        QApplication.sendEvent(button, press)
        QTest.keyRelease(button, key)
        assert bool(answered) is not repeats
