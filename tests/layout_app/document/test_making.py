"""Parts drawn and duplicated on the bench, sheets taken away, and plans that are made aside."""

import gc
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu
from pytestqt.qtbot import QtBot

from layout_app.bench.carrying import Carrying
from layout_app.bench.drawing_part import DrawingPart
from layout_app.document import edit_layout, edit_locks, edit_parts
from layout_app.document.document import Document
from layout_app.planner import aside
from layout_app.planner.aside import without_sheet
from layout_app.planner.run import Work
from layout_app.window.main_window import MainWindow
from shared.geometry import Rect
from shared.lengths import MM
from shared.parts import GrainRule
from solver.budget.stop import Budget
from tests.layout_app.bench.two_sheets import document
from tests.layout_app.doing import SHELF_1
from tests.layout_app.monkey import close, silent_planner
from tests.layout_app.turns import take_turns

WAIT_MS = 30_000


@pytest.fixture
def doc() -> Iterator[Document]:
    """Return a document with two sheets."""
    made = document()
    yield made
    made.undo_stack.clear()


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window on it whose planner never answers."""
    made = MainWindow(document(), planner=silent_planner())
    made.resize(1440, 900)
    made.show()
    qtbot.waitUntil(made.isVisible)
    yield made
    close(made)


def free_corner(doc: Document) -> tuple[str, Rect]:
    """Return a sheet, and a rectangle of 80 x 60 mm in its last corner, where nothing lies."""
    sheet = doc.layout.sheets[0]
    usable = doc.job.stock_row(sheet.stock).usable
    rect = Rect(x=usable.right - 80 * MM, y=usable.bottom - 60 * MM, length=80 * MM, width=60 * MM)
    assert not any(rect.overlaps(one.rect) for one in sheet.placements)
    return sheet.id, rect


def test_a_drawn_part_is_a_row_and_lies_there(doc: Document) -> None:
    """One step adds the row, of the sheet's material, and its copy; undo takes both."""
    before = doc.project
    sheet, rect = free_corner(doc)
    new = edit_parts.draw_part(doc, sheet, rect)
    part, lies = doc.job.part(new), doc.layout.find((new, 1))
    stock = doc.job.stock_row(doc.layout.sheets[0].stock)
    assert (part.length, part.width, part.copies) == (80 * MM, 60 * MM, 1)
    assert part.material == stock.material
    assert part.grain_rule is edit_parts.RULES[stock.grain]
    assert lies is not None
    assert lies.rect == rect
    assert doc.undo_stack.count() == 1
    doc.undo()
    assert doc.project == before


def test_the_grain_of_a_drawn_part_runs_as_it_lies() -> None:
    """A rule for each grain of a sheet, and none where there is no grain."""
    assert set(edit_parts.RULES.values()) == set(GrainRule)


def test_a_duplicate_is_one_more_copy_where_it_fits(doc: Document) -> None:
    """The number needed goes up by one, and the new copy lies on a sheet that can be cut."""
    before = doc.project
    part = SHELF_1[0]
    copies = doc.job.part(part).copies
    assert edit_parts.duplicate(doc, [SHELF_1])
    assert doc.job.part(part).copies == copies + 1
    new = doc.layout.find((part, copies + 1))
    waits = (part, copies + 1) in {one.key for one in doc.layout.waiting}
    assert (new is None) == waits
    if new is not None:
        assert new.sheet not in doc.problems
        assert doc.selection.parts == {(part, copies + 1)}
    doc.undo()
    assert doc.project == before


def test_what_lay_on_a_sheet_that_is_removed_waits(doc: Document) -> None:
    """The sheet is gone, its parts wait as if they had been sent; undo lays them again."""
    before, sheet = doc.project, doc.layout.sheets[0]
    assert edit_layout.remove_sheet(doc, sheet.id)
    assert sheet.id not in {one.id for one in doc.layout.sheets}
    sent = {one.key for one in doc.layout.waiting if one.sent}
    assert {one.key for one in sheet.placements} <= sent
    doc.undo()
    assert doc.project == before


def test_a_sheet_with_something_held_is_not_removed(doc: Document) -> None:
    """It is said what holds it, and nothing changes."""
    edit_locks.hold_sheet(doc, doc.layout.sheets[0].id)
    before, said = doc.project, []
    doc.said.connect(said.append)
    assert not edit_layout.remove_sheet(doc, doc.layout.sheets[0].id)
    assert doc.project == before
    assert said


def test_an_empty_sheet_is_removed(doc: Document) -> None:
    """A sheet laid out by mistake goes again."""
    edit_layout.add_sheet(doc, doc.job.stock[0].id)
    empty = doc.layout.sheets[-1].id
    assert edit_layout.remove_sheet(doc, empty)
    assert empty not in {one.id for one in doc.layout.sheets}


def test_a_rectangle_dragged_after_d_becomes_a_part(window: MainWindow) -> None:
    """D, a drag on free stock: a row in the take-off whose name is open to be typed."""
    doc, hand = window.document, window.bench.hand
    sheet, rect = free_corner(doc)
    rows = len(doc.job.parts)
    window.menus.actions["bench.draw"].trigger()
    stand = hand.sheets.stand(sheet)

    def scene(x: int, y: int) -> QPointF:
        return QPointF(stand.x + x / MM, stand.y + y / MM)

    hand.press(scene(rect.x, rect.y))
    hand.move(scene(rect.right - 5 * MM, rect.bottom - 5 * MM), free=True)
    assert isinstance(hand.interaction, DrawingPart)
    hand.move(scene(rect.right, rect.bottom))
    assert hand.interaction.good
    hand.release()
    assert len(doc.job.parts) == rows + 1
    assert not hand.draws
    assert QApplication.focusWidget() is not window.bench


def test_esc_leaves_drawing(window: MainWindow) -> None:
    """Esc before or while a rectangle is drawn changes nothing."""
    doc, hand = window.document, window.bench.hand
    before = doc.project
    window.menus.actions["bench.draw"].trigger()
    assert hand.draws
    QTest.keyClick(window.bench, Qt.Key.Key_Escape)
    assert not hand.draws
    assert doc.project == before


def test_a_free_place_of_a_sheet_has_a_menu(window: MainWindow) -> None:
    """Draw, tidy and remove are there where no part lies."""
    sheet, rect = free_corner(window.document)
    stand = window.bench.hand.sheets.stand(sheet)
    x, y = rect.x + rect.length // 2, rect.y + rect.width // 2
    at = window.bench.mapFromScene(QPointF(stand.x + x / MM, stand.y + y / MM))
    menu = window.bench.menu_at(at)
    assert isinstance(menu, QMenu)
    texts = [action.text().split("\t")[0] for action in menu.actions()]
    assert {"Draw a part", "Tidy this sheet", "Remove sheet"} <= set(texts)


def test_the_ground_has_a_menu(window: MainWindow) -> None:
    """Where no sheet lies a sheet can be laid out and the rest planned; by the menu key too."""
    doc, view = window.document, window.bench
    stand = view.hand.sheets.stand(doc.layout.sheets[-1].id)
    stock = doc.job.stock_row(doc.layout.sheets[-1].stock)
    below = QPointF(stand.x + 10, stand.y + stock.width / MM + 5)
    doc.selection.clear()
    for menu in (view.menu_at(view.mapFromScene(below)), view.menu_of_keys()[1]):
        texts = [action.text().split("\t")[0].replace("&", "") for action in menu.actions()]
        assert texts[0] == "Draw a part"
        assert {"Lay out a sheet", "Plan everything anew", "Whole width"} <= set(texts)
        count = len(doc.layout.sheets)
        next(one for one in menu.actions() if "out a sheet" in one.text()).trigger()
        assert len(doc.layout.sheets) == count + 1


def test_the_menu_key_shows_the_menu_of_the_selection(window: MainWindow) -> None:
    """A selected part has its own menu, wherever the pointer is, and stays selected."""
    window.document.selection.select_parts([SHELF_1])
    menu = window.bench.menu_of_keys()[1]
    assert menu.actions()[0].text().startswith("Turn")
    assert window.document.selection.parts == {SHELF_1}


def test_esc_leaves_a_part_drawn_with_keys(window: MainWindow) -> None:
    """D, Return, arrows, Esc: nothing changes and nothing is left on the bench."""
    before = window.document.project
    window.menus.actions["bench.draw"].trigger()
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Right, Qt.Key.Key_PageDown, Qt.Key.Key_Escape):
        QTest.keyClick(window.bench, key)
    assert window.document.project == before
    assert not window.bench.hand.busy


def test_a_part_begun_with_keys_fits(window: MainWindow) -> None:
    """It begins in free stock, on the sheet that is meant, and is never less than can be meant."""
    hand = window.bench.hand
    hand.draw_on("2")
    QTest.keyClick(window.bench, Qt.Key.Key_Return)
    drawing = hand.interaction
    assert isinstance(drawing, DrawingPart)
    assert drawing.good
    for _ in range(40):
        QTest.keyClick(window.bench, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
        QTest.keyClick(window.bench, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert drawing.is_large_enough
    hand.cancel()


def test_only_one_sheet_is_left_to_plan_when_it_is_tidied(doc: Document) -> None:
    """Its parts wait, all other sheets are kept, and there is stock for one more like it."""
    sheet = doc.layout.sheets[0]
    project = without_sheet(doc.project, sheet)
    wanted = {one.key for one in project.layout.waiting if not one.sent}
    assert wanted == {one.key for one in sheet.placements}
    assert all(one.yours for one in project.layout.sheets)
    assert sheet.id not in {one.id for one in project.layout.sheets}


def tidied_while_held(window: MainWindow) -> str:
    """Drag a part, and let the planner answer meanwhile for a sheet that can be tidied."""
    doc = window.document
    edit_layout.add_sheet(doc, doc.layout.sheets[0].stock)
    sheet = doc.layout.sheets[-1].id
    usable = doc.job.stock_row(doc.layout.sheets[-1].stock).usable
    assert edit_layout.move_part(doc, *SHELF_1, sheet, usable.x + 100 * MM, usable.y + 100 * MM)
    assert edit_layout.move_part(doc, *SHELF_1, sheet, usable.x, usable.y)
    better = doc.sawn
    doc.undo()
    assert window.offers.tidying.tidy(sheet)
    view = window.bench
    other = doc.layout.sheets[0].placements[0]
    rect = view.bench.rects_of([other.key])[0]
    view.hand.press(rect.center())
    view.hand.move(rect.center() + QPointF(60, 40))
    window.planner.tried.emit(better)
    window.planner.tried_all.emit()
    return sheet


def test_a_tidied_sheet_waits_for_the_hand(window: MainWindow, qtbot: QtBot) -> None:
    """What comes during a drag neither ends it nor is lost: it is a step when the drag is over."""
    doc, view = window.document, window.bench
    sheet = tidied_while_held(window)
    assert isinstance(view.hand.interaction, Carrying)
    assert not doc.undo_stack.undoText().startswith("tidy")
    view.hand.cancel()
    qtbot.waitUntil(lambda: doc.undo_stack.undoText() == f"tidy sheet {sheet}")
    lies = doc.layout.find(SHELF_1)
    usable = doc.job.stock_row(doc.layout.sheet(sheet).stock).usable
    assert lies is not None
    assert (lies.x, lies.y) == (usable.x, usable.y)


def test_tidying_is_said_and_can_be_ended(window: MainWindow) -> None:
    """Stop is there while it runs; Esc leaves the sheet and the selected cut as they are."""
    doc, said = window.document, list[str]()
    doc.said.connect(said.append)
    doc.selection.select_cut(1)
    before = doc.sawn
    assert window.offers.tidying.tidy("1")
    take_turns()
    assert "Esc leaves it as it lies" in said[-1]
    assert not window.status.stop.isHidden()
    QTest.keyClick(window.bench, Qt.Key.Key_Escape)
    take_turns()
    assert window.planner.work is not Work.ASIDE
    assert not window.offers.tidying.under_way
    assert said[-1] == "Sheet 1 stays as it lies."
    assert window.status.stop.isHidden()
    window.planner.tried_all.emit()
    assert doc.sawn is before
    assert doc.selection.cut == 1


def test_a_tidied_sheet_is_dropped_when_the_hand_changes_something(
    window: MainWindow, qtbot: QtBot
) -> None:
    """The planner's answer is about a layout that is gone: only the maker's step is taken."""
    doc, view = window.document, window.bench
    tidied_while_held(window)
    assert edit_layout.set_aside(doc, [SHELF_1])
    project = doc.project
    view.hand.cancel()
    take_turns()
    stack = doc.undo_stack
    assert not any("tidy" in stack.text(step) for step in range(stack.count()))
    assert doc.project == project


def test_a_closed_window_starts_no_planner(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was to be looked for when all is quiet is not looked for any more."""
    monkeypatch.setattr(aside, "QUIET_MS", 0)
    window = MainWindow(document(), planner=silent_planner())
    qtbot.addWidget(window)
    window.show()
    edit_layout.add_sheet(window.document, window.document.job.stock[0].id)
    close(window)
    window.document.layout_changed.emit()
    take_turns()
    assert not window.planner.running
    assert window.planner.pid is None


def test_tidying_and_the_offer_in_the_real_window(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A part moved to a sheet of its own: planning it all anew is offered, taken, and undone."""
    monkeypatch.setattr(aside, "OFFER", Budget(time_s=1.0, workers=1))
    gc.collect()  # windows of other tests, else collected by the planner's thread
    window = MainWindow(document(), limits=Budget(time_s=2.0, workers=1))
    window.show()
    doc = window.document
    least = len(doc.layout.sheets)
    edit_layout.add_sheet(doc, doc.layout.sheets[0].stock)
    extra = doc.layout.sheets[-1].id
    usable = doc.job.stock_row(doc.layout.sheets[-1].stock).usable
    assert edit_layout.move_part(doc, *SHELF_1, extra, usable.x + 100 * MM, usable.y + 100 * MM)
    qtbot.waitUntil(lambda: bool(window.offers.offering.sentence), timeout=WAIT_MS)
    assert window.status.offer.isVisible()
    before = doc.project
    window.status.offer.click()
    assert len(doc.layout.sheets) <= least
    assert not any(sheet.yours for sheet in doc.layout.sheets)
    doc.undo()
    assert doc.layout.sheets == before.layout.sheets
    assert window.offers.tidying.tidy(extra)
    qtbot.waitUntil(lambda: not window.offers.aside.busy, timeout=WAIT_MS)
    lies = doc.layout.find(SHELF_1)
    assert lies is not None
    assert (lies.x, lies.y) == (usable.x, usable.y)
    close(window)
