"""What lies there, by keys: Tab goes along the row to the chief button, Enter does what it does."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from layout_app.document.document import Document
from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.panels.lying import LyingDrawer
from shared.lengths import INCH
from tests.layout_app.small_job import begun_document

RETURN = Qt.Key.Key_Return


@pytest.fixture
def doc(qtbot: QtBot) -> Document:
    """Return the small job, the first side sawn off."""
    del qtbot
    return begun_document()


@pytest.fixture
def drawer(doc: Document, qtbot: QtBot) -> LyingDrawer:
    """Return the drawer, opened for a mistake with strip 1b chosen."""
    made = LyingDrawer(doc)
    qtbot.addWidget(made)
    made.resize(900, 260)
    made.open_for_mistake()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    made.choose("1b")
    return made


def test_tab_goes_to_the_chief_button_before_copying(drawer: LyingDrawer) -> None:
    """From W over the buttons beside it to what plans the rest; links above the table come last."""
    drawer.length.setFocus()
    drawer.length.setText("80")
    seen = []
    for _ in range(6):
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        seen.append(QApplication.focusWidget())
    assert seen[:5] == [
        *(drawer.width_field, drawer.ruined, drawer.right, drawer.rest, drawer.copy),
    ]


def test_enter_takes_a_size_and_goes_on_to_the_button_that_plans(
    drawer: LyingDrawer, doc: Document
) -> None:
    """From L to W to the button; only Enter there plans the rest, and one undo takes it back."""
    before, field = doc.project, drawer.width_field
    drawer.length.setFocus()
    QTest.keyClick(drawer.length, RETURN)
    assert QApplication.focusWidget() is field
    field.setText("11 1/2")
    QTest.keyClick(field, RETURN)
    assert doc.project == before
    assert QApplication.focusWidget() is drawer.rest
    QTest.keyClick(drawer.rest, RETURN)
    (row,) = (row for row in doc.job.stock if row.piece == "1b")
    assert row.width == 23 * INCH // 2
    assert not drawer.isVisible()
    doc.undo()
    assert doc.project == before


def test_enter_plans_nothing_while_a_size_is_asked_about(
    drawer: LyingDrawer, doc: Document
) -> None:
    """What cannot be stays typed, with its sentence, and the plan stays."""
    before, field = doc.project, drawer.width_field
    field.setFocus()
    field.setText("twelve")
    for _ in range(2):
        QTest.keyClick(field, RETURN)
    assert field.question is not None
    assert drawer.isVisible()
    assert doc.project == before


def test_enter_plans_nothing_where_nothing_was_said_to_be_wrong(
    drawer: LyingDrawer, doc: Document
) -> None:
    """Enter in a size that stays does nothing, whatever the drawer was opened for."""
    before = doc.project
    for show in (drawer.open_for_mistake, drawer.open_to_go_on):
        show()
        drawer.width_field.setFocus()
        QTest.keyClick(drawer.width_field, RETURN)
        assert QApplication.focusWidget() is drawer.width_field
        assert doc.project == before
        assert drawer.isVisible()


@pytest.mark.parametrize("theme", [Theme.light(), Theme.dark()], ids=["light", "dark"])
def test_the_keys_on_the_chief_button_can_be_seen(drawer: LyingDrawer, theme: Theme) -> None:
    """With them its picture differs from the one without in more than a line's colour."""
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    dress(app, theme)
    drawer.ruined.setFocus()
    without = drawer.rest.grab().toImage()
    drawer.rest.setFocus()
    with_keys = drawer.rest.grab().toImage()
    dress(app, Theme.light())
    ground = without.pixelColor(4, without.height() // 2)
    lit = sum(
        abs(with_keys.pixelColor(x, y).lightness() - ground.lightness()) > 80
        and without.pixelColor(x, y) == ground
        for x in range(without.width())
        for y in range(without.height())
    )
    assert lit > 2 * (without.width() - 8)
