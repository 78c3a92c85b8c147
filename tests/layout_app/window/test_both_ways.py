"""What is done by hand on the bench can be done in a table too, and comes to the same."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QKeyCombination, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from layout_app.document import edit_layout
from layout_app.document.document import Document
from layout_app.model.project import Project
from layout_app.panels.entry import Entry
from layout_app.panels.left_region import PLACES
from layout_app.panels.widgets import Chooser
from layout_app.window.actions.layout import LAYING, LayoutContext
from layout_app.window.actions.plan import PLANNING
from layout_app.window.actions.repair import REPAIRING
from layout_app.window.actions.row import BENCH, ActionRow
from layout_app.window.actions.view import VIEWING
from layout_app.window.main_window import MainWindow
from shared.parts import Copy
from tests.layout_app.bench.conftest import Maker
from tests.layout_app.bench.two_sheets import document, inches
from tests.layout_app.doing import SHELF_1, SIDE_2, Writer
from tests.layout_app.monkey import close, silent_planner
from tests.layout_app.placements import open_cell
from tests.layout_app.ways import WAYS, Ways

ASKS = "asks the planner, from wherever the keys are; no gesture does it"
ONLY_ACTION = "no gesture does it: the action is the only way, from wherever the keys are"
LOOKS = "changes how the bench is shown, not what lies on it"
NO_TWIN = {
    "bench.plan": ASKS,
    "bench.anew": ASKS,
    "bench.again": ASKS,
    "bench.choices": ASKS,
    "bench.stop": ASKS,
    "bench.advice": ASKS,
    "bench.release_suspended": ONLY_ACTION,
    "bench.tidy": ASKS,
    "bench.offer": ASKS,
    "bench.whole": LOOKS,
    "bench.zoom_in": LOOKS,
    "bench.zoom_out": LOOKS,
    "bench.all": LOOKS,
    "bench.zoom_selection": LOOKS,
    "bench.lamplight": LOOKS,
    "bench.overview": LOOKS,
}
"""Actions of the bench that are not done to what is selected there, and why."""
KEYED = [
    row
    for row in LAYING
    if row.where == BENCH and row.shortcut and row.id not in {*NO_TWIN, "bench.draw"}
]
SELECTED: dict[str, tuple[Copy, ...]] = {
    "bench.hold": (SIDE_2,),
    "bench.swap": (SHELF_1, SIDE_2),
}
"""What is selected for an action, where it is not the first shelf alone."""


@pytest.fixture(scope="module")
def window(qapp: QApplication) -> Iterator[MainWindow]:
    """Return a window whose planner never answers, the bench as a table in front."""
    made = MainWindow(Document(), planner=silent_planner())
    made.resize(1440, 900)
    made.left.tabs.setCurrentIndex(PLACES)
    made.show()
    made.activateWindow()
    qapp.processEvents()
    yield made
    close(made)


def begin(window: MainWindow) -> None:
    """Show the two sheets as they are at first."""
    window.left.tabs.setCurrentIndex(PLACES)
    window.document.open(document().project, None)
    window.bench.fit_width()
    QApplication.processEvents()


@pytest.mark.parametrize("ways", WAYS, ids=lambda ways: ways.name.replace(" ", "-"))
def test_both_ways_come_to_the_same(window: MainWindow, ways: Ways) -> None:
    """The gesture, and its twin after it from the same start, make the same document."""
    by_hand = after(window, ways, lambda: ways.bench(Maker(window.bench, window.document)))
    written = after(window, ways, lambda: ways.twin(Writer(window), by_hand))
    assert written == by_hand


def after(window: MainWindow, ways: Ways, do) -> Project:
    """Return what a project becomes, which has to be another one than before."""
    begin(window)
    ways.given(window.document)
    before = window.document.project
    do()
    assert window.document.project != before
    assert not window.document.gestures.under_way
    return window.document.project


@pytest.mark.parametrize("row", KEYED, ids=lambda row: row.id)
def test_keys_of_the_bench_work_in_the_table(
    window: MainWindow, row: ActionRow[LayoutContext]
) -> None:
    """With the same copies selected, a key does in the table what it does on the bench."""
    made = [pressed(window, row, place) for place in (window.bench, window.left.placements)]
    assert made[0] == made[1]


def pressed(window: MainWindow, row: ActionRow[LayoutContext], place) -> Project:
    """Return what becomes of the two sheets when a key is pressed somewhere."""
    begin(window)
    prepare(row.id, window.document)
    before = window.document.project
    window.document.selection.select_parts(SELECTED.get(row.id, (SHELF_1,)))
    place.setFocus()
    key: QKeyCombination = QKeySequence(row.shortcut)[0]
    QTest.keyClick(place, key.key(), key.keyboardModifiers())
    assert window.document.project != before
    return window.document.project


def prepare(name: str, doc: Document) -> None:
    """Do what has to be done before an action makes sense."""
    if name == "bench.call_back":
        edit_layout.set_aside(doc, [SHELF_1])
    if name == "bench.close_up":
        edit_layout.move_part(doc, *SHELF_1, "1", inches(4), inches(20))


def test_every_action_of_the_bench_has_a_twin() -> None:
    """An action is done by a gesture with a twin, by a key that the table has too, or says why."""
    twins = {name for ways in WAYS for name in ways.actions} | {row.id for row in KEYED}
    names = {row.id for row in (*PLANNING, *LAYING, *REPAIRING, *VIEWING)}
    assert twins | set(NO_TWIN) == names
    assert not twins & set(NO_TWIN)


@pytest.mark.parametrize("name", [name for name, why in NO_TWIN.items() if why == LOOKS])
def test_what_only_looks_changes_nothing(window: MainWindow, name: str) -> None:
    """Actions said to change only what is shown leave the project as it is."""
    begin(window)
    before = window.document.project
    for _ in range(2):
        window.menus.actions[name].trigger()
    assert window.document.project == before


def test_keys_in_an_open_cell_are_the_cell_s(window: MainWindow, qtbot: QtBot) -> None:
    """S chooses "set aside" in an open list and is typed in an open field; no parts swap."""
    begin(window)
    table = window.left.placements
    before = window.document.project
    for name, kind in (("sheet", Chooser), ("x", Entry)):
        editor = open_cell(table, SHELF_1, name)
        assert isinstance(editor, kind)
        QApplication.processEvents()
        if isinstance(editor, Chooser):
            qtbot.waitUntil(editor.view().isVisible)
            QTest.keyClick(editor.view(), Qt.Key.Key_S)
            assert editor.view().currentIndex().data() == "set aside"
            editor.hidePopup()
        QTest.keyClick(editor, Qt.Key.Key_S)
        assert window.document.project == before
        QTest.keyClick(editor, Qt.Key.Key_Escape)
        QApplication.processEvents()
    assert window.document.project == before
