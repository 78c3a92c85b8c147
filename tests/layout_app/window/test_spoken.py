"""The window speaks to a screen reader, and nothing that takes the keys there is mute."""

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QApplication

from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.window.main_window import MainWindow
from tests.layout_app.bench.two_sheets import document
from tests.layout_app.closing import close
from tests.layout_app.spoken import mute
from tests.layout_app.window.test_both_ways import silent_planner

SIDE_1 = ("side", 1)
OPEN = ("bench.advice", "cuts.table", "paper.save", "edit.card", "cuts.mistake", "edit.in_place")
"""Actions that show something to be read or filled in."""


@pytest.fixture(scope="module")
def window(qapp: QApplication) -> Iterator[MainWindow]:
    """Return a window whose planner never answers."""
    made = MainWindow(Document(), planner=silent_planner())
    made.resize(1440, 900)
    made.document.open(document().project, None)
    made.show()
    made.activateWindow()
    qapp.processEvents()
    yield made
    close(made)


class Heard:
    """Hears what a window speaks."""

    def __init__(self, window: MainWindow) -> None:
        self.voice = window.bench.speaking.voice
        window.document.selection.clear()
        QApplication.processEvents()
        self.voice.speak()
        self.said: list[str] = []
        self.voice.said.connect(self.said.append)

    def now(self) -> list[str]:
        """Return what is spoken since the last time."""
        QApplication.processEvents()
        self.voice.speak()
        said, self.said[:] = list(self.said), []
        return said


def test_nothing_that_takes_keys_is_mute(window: MainWindow) -> None:
    """On every tab, with a part and a cut selected, and with what actions open."""
    tabs, found = window.left.tabs, list[str]()
    for page in range(tabs.count()):
        tabs.setCurrentIndex(page)
        QApplication.processEvents()
        found += mute(window)
    tabs.setCurrentIndex(0)
    for name in OPEN:
        window.document.selection.select_parts([SIDE_1])
        if name.startswith("cuts."):
            window.document.selection.select_cut(1)
        action = window.menus.actions[name]
        if action.isEnabled():
            action.trigger()
            QApplication.processEvents()
            found += mute(window)
    window.drawers.lying.put_away()
    assert found == []


def test_plans_refusals_and_steps_taken_back_are_spoken(window: MainWindow) -> None:
    """Each sentence that the status line shows; an undone step is named."""
    heard, doc = Heard(window), window.document
    edit_layout.set_aside(doc, [SIDE_1])
    plans = [said for said in heard.now() if "1 part set aside" in said]
    assert len(plans) == 1
    doc.undo()
    assert "Undone: set Side 1 aside." in heard.now()
    doc.redo()
    assert "Redone: set Side 1 aside." in heard.now()
    doc.undo()
    heard.now()
    doc.said.emit("Side 2 cannot turn here.")
    doc.said.emit("Side 2 cannot turn here.")
    assert heard.now() == ["Side 2 cannot turn here."]


def test_the_selected_cut_and_its_tick_are_spoken(window: MainWindow) -> None:
    """All that its card says; then that it is ticked."""
    heard, doc = Heard(window), window.document
    doc.selection.select_cut(1)
    (cut,) = heard.now()
    assert cut.startswith("Cut 1, ")
    tick = window.menus.actions["cuts.tick"]
    assert tick.isEnabled()
    tick.trigger()
    said = heard.now()
    assert said[0] == "Cut 1 ticked."


def test_a_question_is_spoken(window: MainWindow) -> None:
    """Also one that may not take the keys."""
    heard = Heard(window)
    window.bar.ask("Plan everything anew?", [("No", lambda: None)], keys=False)
    assert heard.now() == ["Plan everything anew?"]
    window.bar.hide()
