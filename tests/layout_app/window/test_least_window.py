"""At its least size the window hides no tool, and cuts through no word of a button."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtWidgets import QPushButton, QToolBar, QWidget
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout, edit_parts
from layout_app.document.ticks import tick
from layout_app.look.as_typed import Label
from layout_app.look.elided_label import Cutting
from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.model.sawing import saw
from layout_app.panels.advice import NARROW_PX
from layout_app.planner.process import PlannerProcess
from layout_app.window.frame import Tools
from layout_app.window.main_window import MainWindow
from shared.lengths import INCH
from tests.layout_app.adopting import adopt
from tests.layout_app.closing import close
from tests.layout_app.small_job import document, planned
from tests.layout_app.turns import take_turns


@pytest.fixture
def window(qtbot: QtBot, qapp) -> Iterator[MainWindow]:
    """Return a dressed window at its least size; its planner is never started."""
    sheet, palette = qapp.styleSheet(), qapp.palette()
    dress(qapp, Theme.light())
    made = MainWindow(document(), planner=PlannerProcess())
    qtbot.addWidget(made)
    made.resize(made.minimumSize())
    made.show()
    qtbot.waitExposed(made)
    yield made
    close(made)
    qapp.setPalette(palette)
    qapp.setStyleSheet(sheet)


def squeezed(within: QWidget) -> list[str]:
    """Return the words of buttons and lines that have less room than they take."""
    lines = [one for one in within.findChildren(Label) if not isinstance(one, Cutting)]
    shown = [one for one in lines if one.isVisible() and not one.wordWrap()]
    buttons = [one for one in within.findChildren(QPushButton) if one.isVisible()]
    return [one.text() for one in (*shown, *buttons) if one.width() < one.sizeHint().width()]


def test_the_bar_of_tools_shows_all_it_has(window: MainWindow) -> None:
    """What is planned for gives way first: units and all buttons stay, nothing folds away."""
    bar = next(one for one in window.findChildren(QToolBar))
    folded = bar.findChild(QWidget, "qt_toolbar_ext_button")
    assert folded is None or not folded.isVisible()
    assert window.findChild(Tools).units.isVisible()
    assert squeezed(bar) == []


def test_the_drawer_of_advice_shows_its_words_whole(window: MainWindow, qtbot: QtBot) -> None:
    """Title and buttons take two lines where one has no room, and one where it has."""
    window.drawers.advice.show()
    window.drawers.advice.refresh()
    qtbot.waitUntil(lambda: window.drawers.advice.width() < NARROW_PX)
    take_turns()
    assert squeezed(window.drawers.advice) == []
    two = window.drawers.advice.limit.y()
    window.resize(1440, 900)
    qtbot.waitUntil(lambda: window.drawers.advice.width() >= NARROW_PX)
    take_turns()
    assert squeezed(window.drawers.advice) == []
    assert window.drawers.advice.limit.y() < two


def test_an_offer_beside_a_sheet_that_cannot_be_cut_compares_no_counts(
    window: MainWindow,
) -> None:
    """The count beside it leaves that sheet out, so that "2 sheets, not 1" would sound worse."""
    doc = window.document
    edit_layout.move_part(doc, "shelf", 1, doc.layout.sheets[0].id, INCH, INCH)
    window.offers.offering._offered = saw(document().project)
    assert (
        window.offers.offering.sentence
        == "Better plan: 1 sheet, all can be cut; replans sheet 1, laid out by hand"
    )


def test_the_drawer_of_what_lies_there_shows_its_words_whole(
    window: MainWindow, qtbot: QtBot
) -> None:
    """Its links and buttons take a second line where there is no room; L is in sight."""
    doc = window.document
    part = doc.job.part("side")
    edit_parts.edit_part(doc, replace(part, name="Side of the tall chest of drawers " * 4))
    adopt(doc, planned(doc.job))
    tick(doc, [1, 2, 4])
    window.drawers.lying.open_for_mistake()
    for width in (760, 1024, 1440):
        window.resize(width, 700)
        take_turns()
        assert squeezed(window.drawers.lying) == []
        table = window.drawers.lying.table
        assert table.columnViewportPosition(2) + table.columnWidth(2) <= table.viewport().width()
    foot = window.drawers.lying.rest, window.drawers.lying.length
    assert foot[0].geometry().center().y() == pytest.approx(foot[1].geometry().center().y(), abs=3)
